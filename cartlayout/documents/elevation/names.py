"""Names of bodies and letters of circuits on an elevation, each in a place of its own."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from shapely.geometry import Polygon, box

from ..labels import Field, Label, Obstacle, PlacedLabel, place
from ..lettering import Face, wrapped
from ..plan.picture import XY, Box
from ..sheet.elements import SMALL, BoxItem, Element, LineItem, RoundItem, TextItem
from ..theme import LIGHT
from .layout import Place
from .model import SEEN_SHARE, Elevation, Piece, RunPiece

FACE = Face(SMALL, 600)
TAG_FACE = Face(SMALL, 700)
GAP = 0.8
_MOST_EDGES = 14
_TAG_ROOM = 7.0
"""Millimetres of straight cord that have room for its letter."""
_LINES = 3


@dataclass(frozen=True, slots=True)
class Placed:
    """Labels with their boxes, and what they are drawn with."""

    boxes: tuple[tuple[str, Box], ...]
    elements: tuple[Element, ...]


def named(drawn: Elevation) -> tuple[Piece, ...]:
    """What has a name on the drawing: what is hardly seen has none."""
    return tuple(
        one
        for one in drawn.pieces
        if one.kind == "venue"
        or (one.is_behind_panel and one.kind == "body")
        or (one.kind in ("body", "leaf", "panel") and one.seen_share >= SEEN_SHARE)
    )


def place_names(drawn: Elevation, where: Place, frame: Box, keep_out: Sequence[Box]) -> Placed:
    """Find room for every name and every circuit's letter.

    Args:
        drawn: what is looked at.
        where: its place on the sheet.
        frame: labels stay in it.
        keep_out: what they never cover.
    """
    pieces = named(drawn)
    ways = {one.key: _ways(one.name) for one in pieces}
    labels = [_name_label(one, ways[one.key], where) for one in pieces]
    tags = [one for one in drawn.runs if one.medium == "power" and one.letter]
    wanted = [label for run in tags if (label := _tag_label(run, where)) is not None]
    found = place([*labels, *wanted], _field(drawn, where, frame, keep_out))
    by_key = {one.key: one for one in found}
    boxes: list[tuple[str, Box]] = []
    elements: list[Element] = []
    for piece in pieces:
        name = by_key[piece.key]
        lines = ways[piece.key][name.size]
        boxes.append((" ".join(lines), name.box))
        elements += _leader(name)
        elements += _name(piece, name.box, lines, _ground(piece, name.box, where))
    for run in tags:
        if (tag := by_key.get(f"tag {run.key}")) is not None:
            boxes.append((run.letter, tag.box))
            elements += _leader(tag)
            elements += _tag(run, tag.box)
    return Placed(tuple(boxes), tuple(elements))


def _ways(name: str) -> tuple[tuple[str, ...], ...]:
    natural = FACE.width(name)
    widest = max((FACE.width(word) for word in name.split()), default=0.0)
    ways: list[tuple[str, ...]] = []
    for lines in range(1, _LINES + 1):
        way = tuple(wrapped(name, FACE, max(natural / lines * 1.15, widest) + 0.01))
        if way and way not in ways:
            ways.append(way)
    return tuple(ways or [("",)])


def _size(lines: Sequence[str]) -> tuple[float, float]:
    return max(FACE.width(line) for line in lines) + 1.2, len(lines) * FACE.line + 0.4


def _name_label(piece: Piece, ways: Sequence[Sequence[str]], where: Place) -> Label:
    room = _room(piece, where)
    whole = where.box_on_sheet(piece.left_m, piece.right_m, piece.bottom_m, piece.top_m)
    target = room if room is not None else whole
    return Label(
        key=piece.key,
        sizes=tuple(_size(way) for way in ways),
        target=target,
        anchor=target.centre,
        inside=True,
        belongs=piece.key,
        priority=1.0 + (target.width * target.height) ** 0.5 / 1000.0,
    )


def _room(piece: Piece, where: Place) -> Box | None:
    """The largest upright rectangle of what is in sight, or None where nothing is."""
    best: Box | None = None
    for shell, *holes in piece.areas:
        places = [at for ring in (shell, *holes) for at in ring]
        us, zs = sorted({u for u, _ in places}), sorted({z for _, z in places})
        found = [(us[0], us[-1], zs[0], zs[-1])]
        if len(us) + len(zs) <= _MOST_EDGES and len(places) > 4:
            shape = Polygon(shell, holes).buffer(1e-6)
            found = [
                (a, b, c, d)
                for a, b in combinations(us, 2)
                for c, d in combinations(zs, 2)
                if shape.contains(box(a, c, b, d))
            ] or found
        for one in found:
            made = where.box_on_sheet(*one)
            if best is None or _worth(made) > _worth(best):
                best = made
    return best


def _worth(room: Box) -> float:
    """A wide room holds a name better than a high one of the same area."""
    return min(room.width, 4.0 * room.height) * min(room.height, 3.0 * room.width)


def _tag_label(run: RunPiece, where: Place) -> Label | None:
    """The letter of a circuit, on the longest straight pieces of a cord."""
    side = TAG_FACE.size * 1.4
    pieces = []
    for rank, lines in enumerate((run.seen, run.unseen)):
        for line in lines:
            for a, b in pairwise(where.on_sheet(at) for at in line):
                length = abs(a[0] - b[0]) + abs(a[1] - b[1])
                if length >= _TAG_ROOM:
                    pieces.append((rank, -length, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), a, b))
    if not pieces:
        return None
    pieces.sort()
    along: list[XY] = []
    for _, _, middle, a, b in pieces[:4]:
        along.append(middle)
        along += [(a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s) for s in (0.3, 0.7)]
    x, y = along[0]
    width = max(side, TAG_FACE.width(run.letter) + 0.7 * TAG_FACE.size)
    return Label(
        key=f"tag {run.key}",
        sizes=((width, side),),
        target=Box(x, y, 0.0, 0.0),
        anchor=(x, y),
        along=tuple(along),
        priority=0.5,
    )


def _field(drawn: Elevation, where: Place, frame: Box, keep_out: Sequence[Box]) -> Field:
    bodies = []
    for piece in drawn.pieces:
        if piece.kind in ("body", "venue") and piece.areas and not piece.is_behind_panel:
            room = _room(piece, where)
            if room is not None:
                bodies.append(Obstacle(piece.key, room, 1.0))
    lines: list[tuple[tuple[XY, ...], float]] = [
        (tuple(where.on_sheet(at) for at in line), 1.0 if is_seen else 0.3)
        for run in drawn.runs
        for is_seen, many in ((True, run.seen), (False, run.unseen))
        for line in many
    ]
    lines += [
        (tuple(where.on_sheet(at) for at in line), 0.6)
        for piece in drawn.pieces
        if piece.kind
        not in ("opening", "caster")  # a rim is many short pieces, and in nobody's way
        for line in piece.seen
    ]
    return Field(
        frame=frame, bodies=tuple(bodies), lines=tuple(lines), keep_out=tuple(keep_out), gap=GAP
    )


def _leader(label: PlacedLabel) -> Iterator[Element]:
    if len(label.leader) < 2:
        return
    (ax, ay), (bx, by) = label.leader
    yield LineItem(ax, ay, bx, by, 0.5, "ink_muted")
    yield RoundItem(bx, by, 0.35, 0.35, "ink_muted", "")


def _ground(piece: Piece, room: Box, where: Place) -> str:
    """The colour under a name: of its body where it stands in that, of the paper elsewhere."""
    whole = where.box_on_sheet(piece.left_m, piece.right_m, piece.bottom_m, piece.top_m)
    if not whole.holds(room):
        return "#ffffff"
    if piece.is_behind_panel or piece.kind == "panel":
        return "paper"
    return "body" if piece.kind == "body" else "#ffffff"


def _name(piece: Piece, room: Box, lines: Sequence[str], ground: str) -> Iterator[Element]:
    """A body's name strong; the cart's parts and what is behind the panel plain."""
    plain = piece.kind in ("leaf", "panel") or piece.is_behind_panel
    weight, colour = (400, "ink_muted") if plain else (600, "ink")
    yield BoxItem(room.grown(-0.15), ground, "", 0.6)
    top = room.y + 0.2
    for line in lines:
        baseline = top + (FACE.line + FACE.cap) / 2
        yield TextItem(room.centre[0], baseline, line, SMALL, weight, colour, 0.5)
        top += FACE.line


def _tag(run: RunPiece, area: Box) -> Iterator[Element]:
    accent = LIGHT.circuit(run.letter)
    x, y = area.centre
    yield BoxItem(area, accent.fill, "#ffffff", area.height / 2, 0.6)
    yield TextItem(x, y + TAG_FACE.cap / 2, run.letter, SMALL, 700, accent.on_fill, 0.5)
