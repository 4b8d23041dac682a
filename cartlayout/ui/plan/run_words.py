"""What stands beside a run that is selected, pointed at or being led: sort, length, bends, spare.

It is read from the analysis that is shown, so it goes along with every step of a drag.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from ...analysis import Analysis
from ...build import Build, Cord, Run, Wire
from ...documents.fonts import font
from ...documents.plan import Box
from ...documents.theme import SPACE, TYPE, Theme
from ...network import tight_bends
from ...units import UnitSystem, show
from .handles import XY
from .overlay import Layer

if TYPE_CHECKING:
    from .view import PlanView

MOST = 6
"""Beside more runs than these nothing is said: one would not know which is which."""
AWAY_PX = 14.0


def run_words(analysis: Analysis, run_id: str, system: UnitSystem) -> str:
    """Such as "8 mm tube · 1.42 m · 4 bends · 0.10 m spare"; empty for no such run."""
    build = analysis.build
    run = build.run(run_id)
    if run is None:
        return ""
    cord = _cord(build, run) if isinstance(run, Wire) else None
    if isinstance(run, Wire):
        words = [cord.size.text if cord is not None else "wire"]
    else:
        words = [run.tube.name]
    route = analysis.network.routes.get(run_id)
    if route is None:
        return f"{words[0]} · free end"
    words.append(_length(route.length_m, system))
    if route.bends:
        words.append("1 bend" if route.bends == 1 else f"{route.bends} bends")
    words += _spare(run, cord, route.length_m, system)
    tight = tight_bends(run, route)
    if tight:
        words.append("1 too tight" if tight == 1 else f"{tight} too tight")
    return " · ".join(words)


def is_short(analysis: Analysis, run_id: str) -> bool:
    """Whether a run does not reach, or bends tighter than it can."""
    run, route = analysis.build.run(run_id), analysis.network.routes.get(run_id)
    if run is None or route is None:
        return False
    whole = _whole_m(run, _cord(analysis.build, run) if isinstance(run, Wire) else None)
    return (whole is not None and whole < route.length_m) or tight_bends(run, route) > 0


def _spare(run: Run, cord: Cord | None, way_m: float, system: UnitSystem) -> list[str]:
    whole_m = _whole_m(run, cord)
    if whole_m is None:
        spare_m = 0.0 if isinstance(run, Wire) else run.spare.si
        return [f"{_length(spare_m, system)} spare"] if spare_m > 0 else []
    left_m = whole_m - way_m
    return [f"{_length(abs(left_m), system)} {'spare' if left_m >= 0 else 'short'}"]


def _length(length_m: float, system: UnitSystem) -> str:
    return show(length_m, "distance", system, 2 if system is UnitSystem.METRIC else None)


def _whole_m(run: Run, cord: Cord | None) -> float | None:
    """The length that was given, where it does not follow from the way."""
    if isinstance(run, Wire):
        return cord.length.si if cord is not None else None
    return run.length.si if run.length is not None else None


def _cord(build: Build, wire: Run) -> Cord | None:
    if not isinstance(wire, Wire):
        return None
    if wire.cord is not None:
        return wire.cord
    for end in (wire.a, wire.b):
        item = build.item(end.item) if end is not None else None
        port = item.specification.port(end.port) if item is not None and end is not None else None
        if port is not None and port.cord is not None:
            return port.cord
    return None


@dataclass(frozen=True, slots=True)
class Said:
    """A text and the run it belongs to."""

    text: str
    points: tuple[XY, ...]
    """Millimetres."""
    warns: bool


class RunWords(Layer):
    """Pills beside runs."""

    def __init__(self, theme: Theme, z: float) -> None:
        super().__init__(theme, z)
        self.said: tuple[Said, ...] = ()
        self.obstacles: tuple[Box, ...] = ()
        """What had better not be covered, millimetres."""
        self.font = font(TYPE.caption, 600)
        self._pills: list[tuple[QRectF, str, bool]] = []

    @property
    def boxes(self) -> list[QRectF]:
        """Where the pills stand, millimetres."""
        return [box for box, *_ in self._pills]

    def show_words(self, said: tuple[Said, ...], obstacles: tuple[Box, ...]) -> None:
        """Say these."""
        if said != self.said or (said and obstacles != self.obstacles):
            self.said, self.obstacles = said, obstacles
            self.prepare()

    def prepare(self) -> None:
        """A box for every text, beside its run, off the others and off bodies where it can be."""
        px = 1.0 / self.scale_px
        metrics = QFontMetricsF(self.font)
        self._pills = []
        whole = QRectF()
        for one in self.said:
            wide = (metrics.horizontalAdvance(one.text) + 2 * SPACE.medium) * px
            high = (metrics.height() + SPACE.small) * px
            spots = list(_spots(one.points, wide, high, AWAY_PX * px))
            box = min(spots, key=self._covers)
            while any(box.intersects(other) for other in self.boxes):
                box.translate(0.0, high + 2 * px)
            self._pills.append((box, one.text, one.warns))
            whole |= box.adjusted(-2 * px, -2 * px, 2 * px, 2 * px)
        self.set_bounds(whole)

    def _covers(self, box: QRectF) -> float:
        """Square millimetres of bodies and of other pills that a box would hide."""
        others = [QRectF(*obstacle) for obstacle in self.obstacles] + self.boxes
        shared = [box.intersected(other) for other in others]
        return sum(part.width() * part.height() for part in shared if not part.isEmpty())

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,
        widget: QWidget | None = None,
    ) -> None:
        theme = self.theme
        for box, text, warns in self._pills:
            painter.save()
            painter.translate(box.center())
            painter.scale(1.0 / self.scale_px, 1.0 / self.scale_px)
            wide, high = box.width() * self.scale_px, box.height() * self.scale_px
            pill = QRectF(-wide / 2, -high / 2, wide, high)
            painter.setPen(QPen(QColor(theme.care.ink if warns else theme.selection), 1.4))
            painter.setBrush(QColor(theme.panel_raised))
            painter.drawRoundedRect(pill, SPACE.small, SPACE.small)
            painter.setPen(QColor(theme.care.ink if warns else theme.ink))
            painter.setFont(self.font)
            painter.drawText(pill, Qt.AlignmentFlag.AlignCenter, text)
            painter.restore()


def _spots(points: Sequence[XY], wide: float, high: float, away: float) -> Iterator[QRectF]:
    """Boxes beside the longest parts of a run, best first."""
    legs = sorted(itertools.pairwise(points), key=lambda leg: -round(math.dist(*leg), 3))
    for (ax, ay), (bx, by) in legs[:3]:
        for share in (0.5, 0.25, 0.75):
            x, y = ax + (bx - ax) * share, ay + (by - ay) * share
            if abs(by - ay) > abs(bx - ax):
                yield QRectF(x + away, y - high / 2, wide, high)
                yield QRectF(x - away - wide, y - high / 2, wide, high)
            else:
                yield QRectF(x - wide / 2, y - high - away, wide, high)
                yield QRectF(x - wide / 2, y + away, wide, high)


def refresh_words(view: "PlanView") -> None:
    """Say what there is to say beside the runs that are selected or pointed at."""
    analysis, system = view.session.analysis, view.session.system
    picture = view.plan.picture
    chosen = [*view.session.selection.runs]
    pointed = view.mouse.hovered.run
    if pointed and pointed not in chosen and view.gesture is None:
        chosen.append(pointed)
    said: list[Said] = []
    for run_id in chosen if len(chosen) <= MOST else ():
        points = tuple((x * 1000.0, y * 1000.0) for x, y in view.plan.lines.get(run_id, ()))
        text = run_words(analysis, run_id, system)
        if text and len(points) > 1:
            said.append(Said(text, points, is_short(analysis, run_id)))
    bodies = picture.bodies if picture is not None and said else ()
    obstacles = tuple(body.box for body in bodies if not body.ghosted)
    if said:
        obstacles += tuple(note.box for note in view.plan.arranged.notes)
    view.plan.run_words.show_words(tuple(said), obstacles)
