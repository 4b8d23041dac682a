"""The clearance overlay: the spaces that things need, how far hands go, where water may drip."""

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF
from PySide6.QtGui import QPainter, QPainterPath

from ...analysis import Analysis
from ...body.results import Drip
from ...body.solids import Solid, Space
from ...limits import body_practice
from ...units import UnitSystem, show
from ..lettering import draw_text
from .ink import Ink, brush, no_brush, no_pen, polygon
from .picture import XY, Box, Note, State

MM = 1000.0
LETTERS = {"ventilation": "V", "hot": "H", "service": "S", "lid": "L", "work": "W"}
MEANINGS = {
    "V": "air",
    "H": "hot or steaming",
    "S": "service",
    "L": "a lid or a door opens",
    "W": "hands at work",
}
LETTER_PT = 6.4
LEAST_SPACE_MM = 1.0


@dataclass(frozen=True, slots=True)
class SpaceShape:
    """One space that must be free: which body's, what for, and whether something is in it."""

    item: str
    letter: str
    corners: tuple[XY, XY, XY, XY]
    blocked: bool


@dataclass(frozen=True, slots=True)
class AboveShape:
    """Room that a body needs above it, shown by letters in its corner."""

    item: str
    text: str
    at: XY
    """The body's upper left corner as it stands."""
    blocked: bool


@dataclass(frozen=True, slots=True)
class ReachLine:
    """A line across the cart at a depth from the operator's edge."""

    a: XY
    b: XY
    least: bool
    """The comfortable depth; False: the greatest."""


@dataclass(frozen=True, slots=True)
class FarHand:
    """From the operator's edge to something that is far to reach."""

    edge: XY
    hand: XY
    too_far: bool
    """Farther than the greatest depth; False: than the comfortable one."""


@dataclass(frozen=True, slots=True)
class DripMark:
    """Where water would fall on something that others plug into."""

    at: XY
    shielded: bool


@dataclass(frozen=True, slots=True)
class ClearanceOverlay:
    """Everything to draw of it, in millimetres of the plan."""

    spaces: tuple[SpaceShape, ...] = ()
    above: tuple[AboveShape, ...] = ()
    reach: tuple[ReachLine, ...] = ()
    far: tuple[FarHand, ...] = ()
    drips: tuple[DripMark, ...] = ()

    @property
    def box(self) -> Box | None:
        """Around all of it."""
        points = [corner for space in self.spaces for corner in space.corners]
        points += [point for line in self.reach for point in (line.a, line.b)]
        points += [point for one in self.far for point in (one.edge, one.hand)]
        points += [one.at for one in self.above] + [one.at for one in self.drips]
        return Box.around(points) if points else None


def clearance_overlay(analysis: Analysis, level: str) -> ClearanceOverlay:
    """Prepare the overlay for the level that is shown; drips wherever they fall."""
    body = analysis.body
    blocked = {
        (clash.items[0], clash.purpose, clash.side) for clash in body.clashes if clash.purpose
    }
    here = [one for one in body.solids.values() if one.item.level == level]
    shown = {solid.item.id for solid in here}
    practice = body_practice()
    return ClearanceOverlay(
        spaces=tuple(
            _space(solid, space, (solid.item.id, space.purpose, space.side) in blocked)
            for solid in here
            for space in solid.spaces
            if space.side != "top" and space.need_m * MM >= LEAST_SPACE_MM
        ),
        above=tuple(one for solid in here if (one := _above(solid, blocked)) is not None),
        reach=_reach_lines(analysis),
        far=tuple(
            FarHand(_mm(one.edge), _mm(one.hand), one.depth_m > practice.reach_limit_m.value)
            for one in body.reaches
            if one.depth_m > practice.reach_easy_m.value and one.item in shown
        ),
        drips=tuple(_drip(one) for one in body.drips if one.places),
    )


def _mm(point: XY) -> XY:
    return point[0] * MM, point[1] * MM


def _space(solid: Solid, space: Space, blocked: bool) -> SpaceShape:
    a, b, c, d, *_ = (_mm((x, y)) for x, y in space.shape.exterior.coords)
    return SpaceShape(solid.item.id, LETTERS[space.purpose], (a, b, c, d), blocked)


def _above(solid: Solid, blocked: set[tuple[str, str, str]]) -> AboveShape | None:
    tops = [space for space in solid.spaces if space.side == "top"]
    if not tops:
        return None
    letters = "".join(dict.fromkeys(LETTERS[space.purpose] for space in tops))
    shut = any((solid.item.id, space.purpose, "top") in blocked for space in tops)
    x1, y1, _, _ = solid.bounds
    return AboveShape(solid.item.id, f"↑{letters}", _mm((x1, y1)), shut)


def _reach_lines(analysis: Analysis) -> tuple[ReachLine, ...]:
    frame = analysis.body.frame
    surface = frame.surfaces.get(frame.counter) if frame is not None else None
    if frame is None or surface is None:
        return ()
    x1, y1, x2, y2 = surface.bounds
    practice = body_practice()
    found = []
    for depth_m, least in (
        (practice.reach_easy_m.value, True),
        (practice.reach_limit_m.value, False),
    ):
        a, b = {
            "front": ((x1, y2 - depth_m), (x2, y2 - depth_m)),
            "rear": ((x1, y1 + depth_m), (x2, y1 + depth_m)),
            "left": ((x1 + depth_m, y1), (x1 + depth_m, y2)),
            "right": ((x2 - depth_m, y1), (x2 - depth_m, y2)),
        }[frame.cart.operator_side]
        if x1 <= a[0] <= x2 and y1 <= a[1] <= y2:
            found.append(ReachLine(_mm(a), _mm(b), least))
    return tuple(found)


def _drip(one: Drip) -> DripMark:
    count = len(one.places)
    x, y = sum(x for x, _ in one.places) / count, sum(y for _, y in one.places) / count
    return DripMark(_mm((x, y)), bool(one.shield))


def clearance_notes(
    analysis: Analysis, overlay: ClearanceOverlay, system: UnitSystem
) -> list[Note]:
    """Numbers of the overlay: how deep the two reaches are, and what lies beyond them."""
    practice = body_practice()
    notes = []
    for line in overlay.reach:
        depth_m = (practice.reach_easy_m if line.least else practice.reach_limit_m).value
        words = "reach" if line.least else "farthest"
        text = f"{words} {show(depth_m, 'length', system, 0)}"
        notes.append(_note(f"reach {line.least}", text, line.b, ""))
    depths = {_mm(one.hand): one.depth_m for one in analysis.body.reaches}
    for at, far in enumerate(overlay.far):
        text = show(depths.get(far.hand, 0.0), "length", system)
        middle = ((far.edge[0] + far.hand[0]) / 2, (far.edge[1] + far.hand[1]) / 2)
        notes.append(_note(f"far {at}", text, middle, "care" if far.too_far else ""))
    return notes


def _note(key: str, text: str, at: XY, state: State) -> Note:
    return Note(key, "weight", text, at, Box(at[0], at[1], 0.0, 0.0), state=state)


def draw_spaces(painter: QPainter, overlay: ClearanceOverlay, ink: Ink) -> None:
    """What lies under the bodies: the spaces with their hatch and letter, the reach."""
    painter.save()
    for line in overlay.reach:
        painter.setPen(
            ink.pen(ink.theme.link, 0.8 if line.least else 1.4, (5.0, 3.0) if line.least else ())
        )
        painter.drawLine(QPointF(*line.a), QPointF(*line.b))
    for space in overlay.spaces:
        _draw_space(painter, space, ink)
    painter.restore()


def _draw_space(painter: QPainter, space: SpaceShape, ink: Ink) -> None:
    theme = ink.theme
    colour = theme.care.ink if space.blocked else theme.ink_muted
    painter.setPen(ink.pen(colour, 1.2 if space.blocked else 0.6))
    painter.setBrush(brush(theme.care.tint) if space.blocked else no_brush())
    painter.drawPolygon(polygon(space.corners))
    painter.setPen(ink.pen(colour, 0.45))
    painter.drawPath(_hatching(space, ink))
    _draw_letter(painter, space, colour, ink)


def _draw_letter(painter: QPainter, space: SpaceShape, colour: str, ink: Ink) -> None:
    face = ink.face(LETTER_PT, 700)
    box = Box.around(list(space.corners))
    if min(box.width, box.height) < face.cap + 1.0 * ink.unit:
        return
    x, y = box.centre
    painter.setPen(no_pen())
    painter.setBrush(brush(ink.theme.cart))
    painter.drawEllipse(QPointF(x, y), 0.62 * face.size, 0.62 * face.size)
    draw_text(painter, x, y + face.cap / 2, space.letter, face, colour, 0.5)


def _hatching(space: SpaceShape, ink: Ink) -> QPainterPath:
    """Each purpose has lines of its own: slanted one way or the other, crossed, level, dotted."""
    a, b, _, d = space.corners
    wide, high = _length(a, b), _length(a, d)
    step = 4.5 * ink.unit
    path = QPainterPath()
    if wide < 1e-6 or high < 1e-6:
        return path
    for line in _lines(space.letter, wide, high, step):
        path.moveTo(_within(space, line.x1() / wide, line.y1() / high))
        path.lineTo(_within(space, line.x2() / wide, line.y2() / high))
    return path


def _lines(letter: str, wide: float, high: float, step: float) -> list[QLineF]:
    lines: list[QLineF] = []
    if letter in ("V", "H"):
        lines += _slanted(wide, high, step)
    if letter in ("L", "H"):
        lines += [
            QLineF(wide - one.x1(), one.y1(), wide - one.x2(), one.y2())
            for one in _slanted(wide, high, step)
        ]
    if letter in ("S", "W"):
        dash = 0.35 * step if letter == "W" else wide
        y = step / 2
        while y < high:
            x = 0.0
            while x < wide:
                lines.append(QLineF(x, y, min(wide, x + dash), y))
                x += step if letter == "W" else wide
            y += step
    return lines


def _slanted(wide: float, high: float, step: float) -> list[QLineF]:
    lines = []
    at = step
    while at < wide + high:
        over, under = max(0.0, at - wide), max(0.0, at - high)
        lines.append(QLineF(at - over, over, under, at - under))
        at += step
    return lines


def _within(space: SpaceShape, along: float, across: float) -> QPointF:
    (ax, ay), (bx, by), _, (dx, dy) = space.corners
    return QPointF(
        ax + along * (bx - ax) + across * (dx - ax), ay + along * (by - ay) + across * (dy - ay)
    )


def _length(a: XY, b: XY) -> float:
    return float(((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5)


def draw_over(painter: QPainter, overlay: ClearanceOverlay, ink: Ink) -> None:
    """What lies over the bodies: letters of the room above, far reaches, drips."""
    painter.save()
    face = ink.face(LETTER_PT, 700)
    for one in overlay.above:
        x, y = one.at
        colour = ink.theme.care.ink if one.blocked else ink.theme.ink_muted
        draw_text(
            painter, x + 2.5 * ink.unit, y + 2.5 * ink.unit + face.cap, one.text, face, colour
        )
    for far in overlay.far:
        mark = ink.theme.mark("care" if far.too_far else "note")
        painter.setPen(ink.pen(mark.ink, 1.2, (4.0, 2.0)))
        painter.drawLine(QPointF(*far.edge), QPointF(*far.hand))
        painter.setBrush(brush(mark.fill))
        painter.drawEllipse(QPointF(*far.hand), 2.4 * ink.unit, 2.4 * ink.unit)
    for drip in overlay.drips:
        _draw_drop(painter, drip, ink)
    painter.restore()


def _draw_drop(painter: QPainter, drip: DripMark, ink: Ink) -> None:
    """A drop: full where it falls, an outline with a bar over it where a board keeps it off."""
    theme, (x, y), size = ink.theme, drip.at, 5.0 * ink.unit
    path = QPainterPath(QPointF(x, y - 1.3 * size))
    path.cubicTo(x + 0.3 * size, y - 0.5 * size, x + 0.8 * size, y, x + 0.8 * size, y + 0.35 * size)
    path.cubicTo(
        x + 0.8 * size,
        y + 1.3 * size,
        x - 0.8 * size,
        y + 1.3 * size,
        x - 0.8 * size,
        y + 0.35 * size,
    )
    path.cubicTo(x - 0.8 * size, y, x - 0.3 * size, y - 0.5 * size, x, y - 1.3 * size)
    painter.setPen(ink.pen(theme.water_ink if drip.shielded else theme.care.ink, 1.3))
    painter.setBrush(brush(theme.panel_raised if drip.shielded else theme.care.fill))
    painter.drawPath(path)
    if drip.shielded:
        painter.setPen(ink.pen(theme.water_ink, 1.6, flat=True))
        bar = y - 1.7 * size
        painter.drawLine(QPointF(x - 1.1 * size, bar), QPointF(x + 1.1 * size, bar))
