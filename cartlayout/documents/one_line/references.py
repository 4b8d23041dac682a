"""A diagram parted in two: numbered references stand where lines are cut.

A number stands for one net: all that leaves one part, or all that joins into one. So whatever goes
on from a panel says the same number, on however many pages it does.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace

from .model import Diagram, Link, Part, Words

_MOST_NAMED = 1
_ROOM = 99
"""So many more are thought of when a piece is measured: its words may only get shorter."""


def is_reference(part: Part) -> bool:
    """Whether a part only says where a line goes on."""
    return part.symbol.startswith("reference")


def severed_count(diagram: Diagram, first: frozenset[str]) -> int:
    """How many references a cut asks for; those there are already cost nothing."""
    own = {part.key for part in diagram.parts if not is_reference(part)}
    lines = [link for link in diagram.links
             if (link.a in first) != (link.b in first) and {link.a, link.b} <= own]  # fmt: skip
    return len(_grouped(lines))


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


@dataclass(slots=True)
class _Side:
    """One of the two pieces while it is made."""

    parts: dict[str, Part] = field(default_factory=dict)
    links: list[Link] = field(default_factory=list)

    def diagram(self) -> Diagram:
        """Without references that nothing leads to any more."""
        used = {key for link in self.links for key in (link.a, link.b)}
        kept = (one for one in self.parts.values() if not is_reference(one) or one.key in used)
        return Diagram(tuple(kept), tuple(self.links))

    def goes_on(self, key: str) -> Part | None:
        """The reference by which what leaves a part goes on already."""
        for link in self.links:
            if link.a == key and link.b.startswith("out "):
                return self.parts[link.b]
        return None


def parted(
    diagram: Diagram, first: frozenset[str], number: Callable[[], int]
) -> tuple[Diagram, Diagram]:
    """The two pieces of a diagram.

    Args:
        diagram: anything.
        first: keys of the parts that stay in the first piece.
        number: gives a number that no reference has yet.
    """
    known = {part.key: part for part in diagram.parts}
    sides = _Side(), _Side()
    for part in diagram.parts:
        sides[part.key not in first].parts[part.key] = part
    severed = []
    for link in diagram.links:
        if (link.a in first) == (link.b in first):
            sides[link.a not in first].links.append(link)
        elif is_reference(known[link.a]) or is_reference(known[link.b]):
            _with_its_reference(link, known, first, sides)
        else:
            severed.append(link)
    for group in _grouped(severed):
        start = sides[group[0].a not in first]
        _refer(known, group, start, sides[start is sides[0]], number)
    return sides[0].diagram(), sides[1].diagram()


def _with_its_reference(
    link: Link, known: dict[str, Part], first: frozenset[str], sides: tuple[_Side, _Side]
) -> None:
    """A reference goes with what it is at; with two pieces at it, both have it."""
    key, reference = (link.b, link.a) if is_reference(known[link.a]) else (link.a, link.b)
    side = sides[key not in first]
    side.parts.setdefault(reference, known[reference])
    side.links.append(link)


def _refer(
    known: dict[str, Part],
    group: list[Link],
    start: _Side,
    stop: _Side,
    number: Callable[[], int],
) -> None:
    """References where lines leave a piece, and where they go on in the other."""
    one = len({link.a for link in group}) == 1
    out = start.goes_on(group[0].a) if one else None
    at = out.words[0].text if out is not None else str(number())
    leaves, enters = (f"out {at}", f"from {at}") if one else (f"join {at}", f"met {at}")
    colour = group[0].colour if len({link.colour for link in group}) == 1 else "ink"
    bare = replace(group[0], above=(), below=(), colour=colour)
    here = [replace(link, key=f"{link.key} {leaves}", b=leaves) for link in group]
    there = [replace(link, key=f"{link.key} {enters}", a=enters) for link in group]
    # A line that one part leaves by keeps its words where it goes on; where several go on as one,
    # each keeps them where it begins.
    if one:
        here = [replace(bare, key=here[0].key, b=leaves)] if out is None else []
    else:
        there = [replace(bare, key=there[0].key, a=enters)]
    start.parts.setdefault(leaves, _reference(leaves, at, [known[link.b] for link in group]))
    stop.parts.setdefault(
        enters,
        replace(
            _reference(enters, at, [known[link.a] for link in group]),
            bar=one and known[group[0].a].bar,
        ),
    )
    start.links += here
    stop.links += there


def _reference(key: str, number: str, others: Sequence[Part]) -> Part:
    out = key.startswith(("out ", "join "))
    names = [part.name for part in others]
    named = _words("to" if out else "from", names, _ROOM if len(names) > _MOST_NAMED else 0)
    symbol = "reference out" if out else "reference in"
    return Part(key, symbol, (Words(number, 600), *named))  # type: ignore[arg-type]


def _words(word: str, names: Iterable[str], more: int = 0) -> tuple[Words, ...]:
    """Who is on the other side: the first, and how many more."""
    every = [name for name in dict.fromkeys(names) if name]
    if not every:
        return ()
    count = more or len(every) - _MOST_NAMED
    rest = f" and {count} more" if count > 0 else ""
    return (Words(f"{word} {', '.join(every[:_MOST_NAMED])}{rest}"),)


# --- numbers and names, once all is cut -----------------------------------------------------------


def told(pieces: Sequence[Diagram]) -> list[Diagram]:
    """Pieces whose references are numbered as they come, and say who is on the other side."""
    numbers: dict[str, str] = {}
    sources: dict[str, list[str]] = {}
    targets: dict[str, list[str]] = {}
    for piece in pieces:
        known = {part.key: part for part in piece.parts}
        for part in piece.parts:
            if is_reference(part):
                numbers.setdefault(part.words[0].text, str(len(numbers) + 1))
        for link in piece.links:
            a, b = known[link.a], known[link.b]
            if is_reference(a):
                targets.setdefault(a.words[0].text, []).append(b.name)
            if is_reference(b):
                sources.setdefault(b.words[0].text, []).append(a.name)
    return [
        replace(
            piece,
            parts=tuple(
                _told(part, numbers, sources, targets) if is_reference(part) else part
                for part in piece.parts
            ),
        )
        for piece in pieces
    ]


def _told(
    part: Part,
    numbers: dict[str, str],
    sources: dict[str, list[str]],
    targets: dict[str, list[str]],
) -> Part:
    at = part.words[0].text
    if part.symbol == "reference out":
        named = _words("to", targets.get(at, ()))
    else:
        named = _words("from", sources.get(at, ()))
    return replace(part, words=(replace(part.words[0], text=numbers[at]), *named))
