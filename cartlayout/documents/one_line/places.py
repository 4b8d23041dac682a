"""A diagram laid out: every part, line and word in its place, millimetres from the upper left.

Between two columns there is, from the left: room for the words of lines that join, tracks for what
runs up and down, room for the words of lines that part. Words stand where only level lines pass,
each at its own height, and parts keep room for them: so nothing can lie on anything else.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from ..sheet.elements import Element
from .heights import heights
from .layers import Layers, Step, layered
from .lines import BESIDE, JOINED, TRACK, arrow_room, lines
from .model import LINE, Diagram, link_words, words_width
from .shapes import Shape, elements, shape
from .tracks import Net, ends, lay_tracks, merges, net_key

GAP = 3.0
"""Least distance between what stands one above the other."""
_EDGE = 1.8
"""Level part of a line at both sides of its tracks; room for an arrow."""
_ARROW = 3.0
"""Level part before a part where a line has no words."""
_STAND_IN = 1.0
_PORT = 4.0


@dataclass(frozen=True, slots=True)
class Column:
    """Where a column and the room to the right of it begin and end."""

    left: float
    right: float
    tracks: float
    """Where the first track is."""
    words: float
    """Where the words of lines begin that go into the next column."""


@dataclass(slots=True)
class Laid:
    """A diagram in its places."""

    diagram: Diagram
    width: float
    height: float
    elements: tuple[Element, ...]
    middles: dict[str, tuple[float, float]]
    """Part to the middle of its body."""
    columns: tuple[Column, ...]
    ranks: dict[str, int]
    nets: tuple[tuple[Net, ...], ...] = field(default=(), repr=False)


class _Layout:
    """One layout; consumed by `laid`."""

    def __init__(self, diagram: Diagram) -> None:
        self.diagram = diagram
        self.layers: Layers = layered(diagram)
        self.parts = {part.key: part for part in diagram.parts}
        firsts = [step for step in self.layers.steps if step.is_first]
        self.leaving = Counter(ends(step)[0] for step in firsts)
        self.entering = Counter(ends(step)[1] for step in firsts)
        self.ports = self._ports()
        self.shapes = {key: shape(part, self._span(key)) for key, part in self.parts.items()}
        self.extents = self._extents()

    def merges(self, step: Step) -> bool:
        return merges(step, self.leaving, self.entering)

    def _net(self, step: Step) -> str:
        return net_key(step, self.leaving, self.entering)

    def port(self, step: Step) -> str:
        """Lines that join on the way come in as one, all others each by itself."""
        return self._net(step) if self.merges(step) else step.link.key

    def _ports(self) -> dict[str, dict[str, float]]:
        """Part to the lines that come in apart from each other, and how high each does."""
        order = {key: at for keys in self.layers.columns for at, key in enumerate(keys)}
        coming: dict[str, list[str]] = {}
        above: dict[str, int] = {}
        below: dict[str, int] = {}
        for step in sorted(self.layers.steps, key=lambda one: order[one.a]):
            if not step.is_last:
                continue
            lines_in = coming.setdefault(step.b, [])
            if self.port(step) not in lines_in:
                lines_in.append(self.port(step))
            if not self.merges(step):
                over, under = link_words(step.link)
                above[step.b] = max(above.get(step.b, 0), len(over))
                below[step.b] = max(below.get(step.b, 0), len(under))
        found = {}
        for key, lines_in in coming.items():
            rows = above.get(key, 0) + below.get(key, 0)
            apart = max(_PORT, rows * LINE + 1.8)
            middle = (len(lines_in) - 1) / 2
            found[key] = {one: (at - middle) * apart for at, one in enumerate(lines_in)}
        return found

    def _span(self, key: str) -> float:
        places = self.ports.get(key, {}).values()
        return max(places, default=0.0) - min(places, default=0.0)

    def _extents(self) -> dict[str, tuple[float, float]]:
        """How far each part, with the words of its lines, reaches over and under its middle."""
        found = {key: (one.up, one.down) for key, one in self.shapes.items()}
        for step in self.layers.steps:
            for key in (step.a, step.b):
                found.setdefault(key, (_STAND_IN, _STAND_IN))
            merging = self.merges(step)
            key = step.a if merging and step.is_first else step.b if step.is_last else ""
            if not key or merging != (key == step.a):
                continue
            above, below = link_words(step.link)
            port = 0.0 if merging else self.ports[step.b][self.port(step)]
            up, down = found[key]
            found[key] = (
                max(up, len(above) * LINE + 0.8 - port),
                max(down, len(below) * LINE + 0.8 + port),
            )
        return found

    # --- across ----------------------------------------------------------------------------------

    def columns(self, nets: list[list[Net]]) -> list[Column]:
        found = []
        x = 0.0
        for at, keys in enumerate(self.layers.columns):
            width = max((self.shapes[key].width for key in keys if key in self.shapes), default=0.0)
            left, right = x, x + width
            steps = [step for net in nets[at] for step in net.steps] if at < len(nets) else []
            joining = _widest(step for step in steps if step.is_first and self.merges(step))
            parting = _widest(step for step in steps if step.is_last and not self.merges(step))
            count = lay_tracks(nets[at]) if at < len(nets) else 0
            tracks = right + joining + _EDGE
            words = tracks + max(count - 1, 0) * TRACK + _EDGE * 0.6
            x = words + parting + (_EDGE if parting else _ARROW)
            found.append(Column(left, right, tracks, words))
        return found

    def nets(self, ys: dict[str, float]) -> list[list[Net]]:
        """Between each two columns the lines that hang together."""
        rank = {key: at for at, keys in enumerate(self.layers.columns) for key in keys}
        found: list[dict[str, Net]] = [{} for _ in self.layers.columns]
        for step in self.layers.steps:
            key = self._net(step)
            net = found[rank[step.a]].setdefault(key, Net(key))
            net.steps.append(step)
            net.left.append(ys[step.a])
            port = self.ports[step.b][self.port(step)] if step.is_last else 0.0
            net.right.append(ys[step.b] + port)
        return [list(one.values()) for one in found]

    def middle(self, key: str, column: Column) -> float:
        """Boxes begin where their line comes in, or end where it leaves; the rest is centred."""
        one: Shape = self.shapes[key]
        if not one.is_boxed:
            return (column.left + column.right) / 2
        half = one.body[0] / 2
        return column.left + half if self.entering[key] else column.right - half


def _widest(steps: Iterable[Step]) -> float:
    width = max(
        (wide + arrow_room(step) for step in steps if (wide := words_width(step.link))),
        default=0.0,
    )
    return width + BESIDE + JOINED if width else 0.0


def laid(diagram: Diagram) -> Laid:
    """Lay out a diagram whose parts all hang together."""
    layout = _Layout(diagram)
    pairs = [(step.a, step.b) for step in layout.layers.steps]
    ports = {
        (step.a, step.b): layout.ports[step.b][layout.port(step)]
        for step in layout.layers.steps
        if step.is_last
    }
    ys = heights(layout.layers.columns, pairs, layout.extents, GAP, ports)
    top = min((y - layout.extents[key][0] for key, y in ys.items()), default=0.0)
    ys = {key: y - top for key, y in ys.items()}
    nets = layout.nets(ys)
    columns = layout.columns(nets)
    ranks = {key: at for at, keys in enumerate(layout.layers.columns) for key in keys}
    middles = {key: (layout.middle(key, columns[ranks[key]]), ys[key]) for key in layout.parts}
    found: list[Element] = []
    for at, between in enumerate(nets):
        for net in between:
            after = columns[at + 1] if at + 1 < len(columns) else columns[at]
            found += lines(net, columns[at], after, middles, layout.shapes, layout.merges)
    for key, (x, y) in middles.items():
        found += elements(layout.shapes[key], x, y)
    height = max((y + layout.extents[key][1] for key, y in ys.items()), default=0.0)
    width = columns[-1].right if columns else 0.0
    return Laid(diagram, width, height, tuple(found), middles, tuple(columns), ranks,
                tuple(map(tuple, nets)))  # fmt: skip
