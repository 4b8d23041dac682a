"""Diagrams larger than a page cut into pieces, with numbered references where a line goes on."""

from dataclasses import dataclass
from itertools import count

import networkx as nx

from .model import Diagram
from .places import Laid, laid
from .references import is_reference, parted, severed_count, told

_REFERENCE = 26.0
"""Room that a reference with its line takes at the side of a piece, millimetres."""
_MOST_CUTS = 200


@dataclass(frozen=True, slots=True)
class Room:
    """Millimetres that a piece may take."""

    width: float
    height: float

    def holds(self, one: Laid) -> bool:
        """Whether a piece fits as it is."""
        return one.width <= self.width + 1e-6 and one.height <= self.height + 1e-6


def pieces(diagram: Diagram, room: Room) -> list[Laid]:
    """What hangs together laid out by itself, cut where it has no room.

    Args:
        diagram: anything; links whose parts it has not got are left out.
        room: of a page. A piece that cannot be cut any further may be larger.
    """
    numbers = count(1)
    waiting = _together(diagram)
    found: list[Diagram] = []
    for _ in range(_MOST_CUTS):
        if not waiting:
            break
        one = waiting.pop(0)
        placed = laid(one)
        cut = None if room.holds(placed) else _cut(placed, room)
        if cut is None:
            found.append(one)
            continue
        first, rest = parted(one, cut, lambda: next(numbers))
        waiting[:0] = [*_together(first), *_together(rest)]
    return [laid(one) for one in _in_order(found + waiting, diagram)]


def _in_order(cut: list[Diagram], whole: Diagram) -> list[Diagram]:
    """Pieces in the order of what is in them, their references numbered and named."""
    place = {part.key: at for at, part in enumerate(whole.parts)}
    last = len(place)
    ordered = sorted(cut, key=lambda one: min(place.get(part.key, last) for part in one.parts))
    return told(ordered)


def _together(diagram: Diagram) -> list[Diagram]:
    """Its parts by what hangs together, in their order."""
    graph = nx.Graph()
    keys = [part.key for part in diagram.parts]
    graph.add_nodes_from(keys)
    known = set(keys)
    links = [one for one in diagram.links if one.a in known and one.b in known and one.a != one.b]
    graph.add_edges_from((one.a, one.b) for one in links)
    found = []
    for group in sorted(nx.connected_components(graph), key=lambda one: min(map(keys.index, one))):
        parts = tuple(part for part in diagram.parts if part.key in group)
        found.append(Diagram(parts, tuple(one for one in links if one.a in group)))
    return found


# --- where to cut ---------------------------------------------------------------------------------


def _cut(one: Laid, room: Room) -> frozenset[str] | None:
    """Keys of the parts that stay in the first piece; None where nothing can be cut off."""
    if one.width > room.width:
        across = _upright(one, room)
        if across is not None:
            return across
    if one.height > room.height:
        return _level(one, room)
    return None


def _upright(one: Laid, room: Room) -> frozenset[str] | None:
    """A cut between two columns: as few lines as can be, then as far right as there is room."""
    best: tuple[tuple[int, int], frozenset[str]] | None = None
    for rank in range(len(one.columns) - 1):
        first = frozenset(key for key, at in one.ranks.items() if key in one.middles and at <= rank)
        if not _is_cut(one, first) or one.columns[rank].right + _REFERENCE > room.width:
            continue
        price = (severed_count(one.diagram, first), -rank)
        if best is None or price < best[0]:
            best = (price, first)
    if best is not None:
        return best[1]
    first = frozenset(key for key, at in one.ranks.items() if key in one.middles and at == 0)
    return first if _is_cut(one, first) else None


def _level(one: Laid, room: Room) -> frozenset[str] | None:
    """A cut between two heights: the upper piece fits, and is no less than a third of it."""
    order = sorted(one.middles, key=lambda key: one.middles[key][1])
    best: tuple[tuple[int, int], frozenset[str]] | None = None
    fallback: frozenset[str] | None = None
    for at in range(1, len(order)):
        above, below = one.middles[order[at - 1]][1], one.middles[order[at]][1]
        if below - above < 1e-6:
            continue
        first = frozenset(order[:at])
        if not _is_cut(one, first):
            continue
        middle = (above + below) / 2
        if fallback is None or middle <= one.height / 2:
            fallback = first
        if not room.height / 3 <= middle <= room.height:
            continue
        price = (severed_count(one.diagram, first), -at)
        if best is None or price < best[0]:
            best = (price, first)
    found = best[1] if best is not None else fallback
    return _with_what_feeds(one, found) if found is not None else None


def _with_what_feeds(one: Laid, first: frozenset[str]) -> frozenset[str]:
    """A cut that leaves a panel with its first branches, or what all lead to with the first."""
    graph = nx.DiGraph((link.a, link.b) for link in one.diagram.links)
    graph.add_nodes_from(one.middles)
    for reach in (nx.ancestors, nx.descendants):
        more = first.union(*(reach(graph, key) for key in first))
        cheap = severed_count(one.diagram, more) <= severed_count(one.diagram, first)
        if more != first and cheap and _is_cut(one, more):
            return more
    return first


def _is_cut(one: Laid, first: frozenset[str]) -> bool:
    """Whether both sides have something of their own: references alone do not count."""
    own = {part.key for part in one.diagram.parts if not is_reference(part)}
    return bool(own & first) and bool(own - first)
