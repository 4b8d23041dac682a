"""Diagrams larger than a page cut into pieces, with numbered references where a line goes on."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from itertools import count

import networkx as nx

from .model import Diagram, Link, Part, Words
from .places import Laid, laid

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
        first, rest = _parted(one, cut, lambda: next(numbers))
        waiting[:0] = [*_together(first), *_together(rest)]
    return [laid(one) for one in _in_order(found + waiting, diagram)]


def _in_order(cut: list[Diagram], whole: Diagram) -> list[Diagram]:
    """Pieces in the order of what is in them, references numbered as they come."""
    place = {part.key: at for at, part in enumerate(whole.parts)}
    last = len(place)
    ordered = sorted(cut, key=lambda one: min(place.get(part.key, last) for part in one.parts))
    numbers: dict[str, str] = {}
    for one in ordered:
        for part in one.parts:
            if part.symbol.startswith("reference"):
                numbers.setdefault(part.words[0].text, str(len(numbers) + 1))
    return [replace(one, parts=tuple(_numbered(part, numbers) for part in one.parts))
            for one in ordered]  # fmt: skip


def _numbered(part: Part, numbers: dict[str, str]) -> Part:
    if not part.symbol.startswith("reference"):
        return part
    title = replace(part.words[0], text=numbers[part.words[0].text])
    return replace(part, words=(title, *part.words[1:]))


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
        price = (_severed(one, first), -rank)
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
        price = (_severed(one, first), -at)
        if best is None or price < best[0]:
            best = (price, first)
    return best[1] if best is not None else fallback


def _is_cut(one: Laid, first: frozenset[str]) -> bool:
    """Whether both sides have something of their own: references alone do not count."""
    own = {part.key for part in one.diagram.parts if not part.symbol.startswith("reference")}
    return bool(own & first) and bool(own - first)


def _severed(one: Laid, first: frozenset[str]) -> int:
    """How many references a cut asks for."""
    lines = [link for link in one.diagram.links if (link.a in first) != (link.b in first)]
    return len(_grouped(lines))


# --- the cut --------------------------------------------------------------------------------------


def _grouped(links: Iterable[Link]) -> list[list[Link]]:
    """Links that one reference can stand for: all from one part, or else all into one."""
    every = list(links)
    by_start: dict[str, list[Link]] = {}
    for link in every:
        by_start.setdefault(link.a, []).append(link)
    groups: dict[tuple[str, str], list[Link]] = {}
    for link in every:
        key = ("from", link.a) if len(by_start[link.a]) > 1 else ("into", link.b)
        groups.setdefault(key, []).append(link)
    return list(groups.values())


def _parted(
    diagram: Diagram, first: frozenset[str], number: Callable[[], int]
) -> tuple[Diagram, Diagram]:
    """The two pieces, with references in the place of the lines between them."""
    severed = [link for link in diagram.links if (link.a in first) != (link.b in first)]
    sides: tuple[list[Part], list[Part]] = ([], [])
    lines: tuple[list[Link], list[Link]] = ([], [])
    for part in diagram.parts:
        sides[0 if part.key in first else 1].append(part)
    for link in diagram.links:
        if link not in severed:
            lines[0 if link.a in first else 1].append(link)
    for group in _grouped(severed):
        _refer(diagram, first, group, number(), sides, lines)
    return (
        Diagram(tuple(sides[0]), tuple(lines[0])),
        Diagram(tuple(sides[1]), tuple(lines[1])),
    )


def _refer(
    diagram: Diagram,
    first: frozenset[str],
    group: list[Link],
    number: int,
    sides: tuple[list[Part], list[Part]],
    lines: tuple[list[Link], list[Link]],
) -> None:
    """Two references of one number for lines that are cut: where they leave, where they go on."""
    starts = {link.a: None for link in group}
    stops = {link.b: None for link in group}
    start = 0 if group[0].a in first else 1
    leaves, enters = f"to {number}", f"from {number}"
    title = Words(str(number), 600)
    sides[start].append(Part(leaves, "reference out", (title, *_named(diagram, "to ", stops))))
    sides[1 - start].append(
        Part(
            enters,
            "reference in",
            (title, *_named(diagram, "from ", starts)),
            bar=len(starts) == 1 and any(diagram.part(key).bar for key in starts),
        )
    )
    whole = len(starts) == 1
    colour = group[0].colour if len({link.colour for link in group}) == 1 else "ink"
    # A line that one part leaves by keeps its words where it goes on; where several go on as one,
    # each keeps them where it begins.
    bare = replace(group[0], above=(), below=(), colour=colour)
    there = [replace(link, key=f"{link.key} {enters}", a=enters) for link in group]
    here = [replace(link, key=f"{link.key} {leaves}", b=leaves) for link in group]
    if whole:
        here = [replace(bare, key=here[0].key, b=leaves)]
    else:
        there = [replace(bare, key=there[0].key, a=enters)]
    lines[start].extend(here)
    lines[1 - start].extend(there)


_MOST_NAMED = 2


def _named(diagram: Diagram, word: str, keys: Iterable[str]) -> tuple[Words, ...]:
    """Who is on the other side, the first of them."""
    names = []
    for key in keys:
        part = diagram.part(key)
        if part.name and not part.symbol.startswith("reference"):
            names.append(part.name)
    if not names:
        return ()
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    return (Words(word + ", ".join(names[:_MOST_NAMED]) + more),)
