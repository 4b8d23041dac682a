"""A sketch made solvable: what is not fed dropped, chains drawn together, places numbered."""

import math
from collections import Counter, defaultdict, deque
from dataclasses import dataclass

from .characteristic import Characteristic, in_series
from .elimination import Elimination
from .limiter import Limiter
from .sketch import Key, Sketch

_LIKELY_PA = 1e5
_LIKELY_FLOW = 1e-4


@dataclass(frozen=True, slots=True)
class Member:
    """One link of the sketch as part of a chain, seen in the chain's direction."""

    key: Key
    forward: bool
    characteristic: Characteristic
    """In the chain's direction."""
    end: Key
    """Root of the node it leads to."""


@dataclass(slots=True)
class Chain:
    """Everything between two places where flow can divide or pressure is set."""

    tail: int
    head: int
    curve: Characteristic
    members: tuple[Member, ...]
    tap: Key | None = None
    likely_flow: float = 0.0
    """Of a tap [m^3/s]: what a solution starts from."""


@dataclass(slots=True)
class Valve:
    """A limiter between two numbered places, with the one line that leads to it."""

    key: Key
    tail: int
    head: int
    limiter: Limiter
    outlet: Key
    ahead: Characteristic | None = None
    """What lies between its tail and its inlet, where nothing else hangs there."""
    ahead_members: tuple[Member, ...] = ()


@dataclass(frozen=True, slots=True)
class _Link:
    key: Key
    a: Key
    b: Key
    characteristic: Characteristic
    is_tap: bool = False

    def other(self, node: Key) -> Key:
        return self.b if node == self.a else self.a


class System:
    """A network with its junctions numbered; fixed places come after the free ones.

    Attributes:
        fed: Roots of the nodes that water can reach.
        chains, valves: What carries flow.
        free: Number of junctions with unknown pressure.
        places: Root keys by number.
    """

    def __init__(self, sketch: Sketch) -> None:
        self.sketch = sketch
        self.fluid = sketch.fluid
        self._air: dict[Key, tuple[str, Key]] = {("air", key): ("air", key) for key in sketch.taps}
        self.fed = self._reach()
        links = self._links()
        incident: dict[Key, list[_Link]] = defaultdict(list)
        for link in links:
            incident[link.a].append(link)
            incident[link.b].append(link)
        ends = {sketch.root(key) for key in sketch.fixed_pa} | set(self._air)
        limiters = {
            key: (root_in, root_out, limiter)
            for key, (a, b, limiter) in sketch.limiters.items()
            if (root_in := sketch.root(a)) in self.fed
            and (root_out := sketch.root(b)) in self.fed
            and root_in != root_out
        }
        for root_in, root_out, _ in limiters.values():
            ends |= {root_in, root_out}
        ends |= {node for node in self.fed if len(incident[node]) != 2}
        self._number(ends)
        self.chains = self._draw_together(links, incident, ends)
        self.valves = [
            Valve(key, self.number[a], self.number[b], limiter, sketch.limiters[key][1])
            for key, (a, b, limiter) in limiters.items()
        ]
        self._lead_to_valves()
        free = self.free
        joins: list[Chain | Valve] = [*self.chains, *self.valves]
        self.elimination = Elimination(
            free,
            (
                (j.tail, j.head)
                for j in joins
                if j.tail < free and j.head < free and j.tail != j.head
            ),
        )
        self.spread = self._spread()
        self.inside = self._insides()
        root, head_pa = sketch.root, sketch.fluid.head_pa
        self.heads: dict[Key, tuple[Key, float]] = {
            key: (own, head_pa(height_m))
            for key, height_m in sketch.heights_m.items()
            if (own := root(key)) in self.fed and (own in self.number or own in self.inside)
        }
        """Every fed node with its root and the pressure of its height."""
        self.carriers = self._carriers()

    def _insides(self) -> dict[Key, int]:
        """Root of every node inside a chain, or before a limiter, to the number of that."""
        inside = {
            member.end: at for at, chain in enumerate(self.chains) for member in chain.members[:-1]
        }
        for at, valve in enumerate(self.valves, len(self.chains)):
            inside |= dict.fromkeys((member.end for member in valve.ahead_members), at)
        return inside

    def _carriers(self) -> list[tuple[Key, int, bool]]:
        """Whatever carries flow: key, number of the flow, whether in its direction."""
        carriers = [
            (member.key, at, member.forward)
            for at, chain in enumerate(self.chains)
            for member in chain.members
        ]
        for at, valve in enumerate(self.valves, len(self.chains)):
            carriers.append((valve.key, at, True))
            carriers += [(member.key, at, member.forward) for member in valve.ahead_members]
        return carriers

    def _reach(self) -> set[Key]:
        """Roots that water from some fixed place can reach, one-way parts respected."""
        root = self.sketch.root
        onward: dict[Key, list[Key]] = defaultdict(list)
        for a, b, characteristic in self.sketch.lines.values():
            if characteristic.lets_forward:
                onward[root(a)].append(root(b))
            if characteristic.lets_back:
                onward[root(b)].append(root(a))
        for a, b, _ in self.sketch.limiters.values():
            onward[root(a)].append(root(b))
        reached = {root(key) for key in self.sketch.fixed_pa}
        queue = deque(reached)
        while queue:
            for node in onward[queue.popleft()]:
                if node not in reached:
                    reached.add(node)
                    queue.append(node)
        return reached

    def _links(self) -> list[_Link]:
        root = self.sketch.root
        links = [
            _Link(key, root(a), root(b), characteristic)
            for key, (a, b, characteristic) in self.sketch.lines.items()
            if root(a) in self.fed and root(b) in self.fed and root(a) != root(b)
        ]
        links += [
            _Link(key, root(node), ("air", key), characteristic, is_tap=True)
            for key, (node, characteristic, _) in self.sketch.taps.items()
            if root(node) in self.fed
        ]
        return links

    def _number(self, ends: set[Key]) -> None:
        fixed = [key for key in self.sketch.fixed_pa if self.sketch.root(key) == key]
        pinned = set(fixed) | set(self._air)
        # In the order of the sketch, so that equal builds give equal results to the last bit.
        free = [key for key in self.sketch.heights_m if key in ends and key not in pinned]
        self.free = len(free)
        self.places: list[Key] = [*free, *fixed, *self._air]
        self.number = {key: at for at, key in enumerate(self.places)}

    def _draw_together(
        self, links: list[_Link], incident: dict[Key, list[_Link]], ends: set[Key]
    ) -> list[Chain]:
        chains: list[Chain] = []
        used: set[Key] = set()
        for first in links:
            for start in (first.a, first.b):
                if start in ends and (first.key, first.is_tap) not in used:
                    chains.append(self._walk(first, start, incident, ends, used))
        return chains

    def _walk(
        self,
        link: _Link,
        start: Key,
        incident: dict[Key, list[_Link]],
        ends: set[Key],
        used: set[Key],
    ) -> Chain:
        walked: list[tuple[_Link, Key]] = []
        node = start
        while True:
            used.add((link.key, link.is_tap))
            node = link.other(node)
            walked.append((link, node))
            if node in ends:
                break
            link = next(one for one in incident[node] if one is not link)
        if walked[0][0].is_tap and start in self._air:
            places = [start, *(end for _, end in walked)]
            walked = [(one, places[at]) for at, (one, _) in enumerate(walked)][::-1]
            start = places[-1]
        members = tuple(
            Member(
                one.key,
                one.b == end,
                one.characteristic if one.b == end else one.characteristic.reversed(),
                end,
            )
            for one, end in walked
        )
        last, end = walked[-1]
        return Chain(
            self.number[start],
            self.number[end],
            in_series(tuple(member.characteristic for member in members)),
            members,
            last.key if last.is_tap else None,
            _likely_flow(last.characteristic) if last.is_tap else 0.0,
        )

    def _lead_to_valves(self) -> None:
        """Make a line that leads to one limiter and nothing else part of that limiter.

        A pump and the tube it draws through are then one thing that gives less the more it
        gives, and no place between them is left for the two to disagree about.
        """
        lines: dict[int, list[Chain]] = defaultdict(list)
        for chain in self.chains:
            lines[chain.tail].append(chain)
            lines[chain.head].append(chain)
        limited = Counter(place for valve in self.valves for place in (valve.tail, valve.head))
        gone: set[int] = set()
        kept_ends: set[int] = set()
        for valve in self.valves:
            inlet = valve.tail
            if inlet >= self.free or limited[inlet] != 1 or len(lines[inlet]) != 1:
                continue
            chain = lines[inlet][0]
            source = chain.tail if chain.head == inlet else chain.head
            if chain.tap is not None or source in (inlet, valve.head) or inlet in kept_ends:
                continue
            if source in gone:
                continue
            valve.ahead_members = self._towards(chain, inlet)
            valve.ahead = in_series(tuple(one.characteristic for one in valve.ahead_members))
            valve.tail = source
            kept_ends.add(source)
            gone.add(inlet)
            self.chains.remove(chain)
        if gone:
            self._renumber(gone)

    def _towards(self, chain: Chain, place: int) -> tuple[Member, ...]:
        """The members of a chain in the direction that ends at a place."""
        if chain.head == place:
            return chain.members
        ends = [self.places[chain.tail], *(member.end for member in chain.members[:-1])]
        return tuple(
            Member(member.key, not member.forward, member.characteristic.reversed(), end)
            for member, end in zip(reversed(chain.members), reversed(ends), strict=True)
        )

    def _renumber(self, gone: set[int]) -> None:
        kept = [at for at in range(len(self.places)) if at not in gone]
        new = {old: at for at, old in enumerate(kept)}
        links: list[Chain | Valve] = [*self.chains, *self.valves]
        for link in links:
            link.tail, link.head = new[link.tail], new[link.head]
        self.places = [self.places[at] for at in kept]
        self.free -= len(gone)
        self.number = {key: at for at, key in enumerate(self.places)}

    def outlet(self, key: Key) -> tuple[Key, float]:
        """The node at whose height a tap's water gets out, and the gauge pressure there."""
        _, tap = self._air[key]
        return self.sketch.taps[tap][0], self.sketch.taps[tap][2]

    def _spread(self) -> list[tuple[int, int, bool]]:
        """A tree along which water spreads: (chain or valve, place it feeds, with its direction).

        Nearest to a source first. Valves are numbered after the chains.
        """
        by_place: dict[int, list[tuple[int, int, bool]]] = defaultdict(list)
        for at, chain in enumerate(self.chains):
            if chain.curve.lets_forward:
                by_place[chain.tail].append((at, chain.head, True))
            if chain.curve.lets_back:
                by_place[chain.head].append((at, chain.tail, False))
        for at, valve in enumerate(self.valves, len(self.chains)):
            by_place[valve.tail].append((at, valve.head, True))
        sources = [self.number[key] for key in self.sketch.fixed_pa if key in self.number]
        seen = set(sources)
        queue = deque(sources)
        tree: list[tuple[int, int, bool]] = []
        while queue:
            for at, node, forward in by_place[queue.popleft()]:
                if node not in seen:
                    seen.add(node)
                    queue.append(node)
                    tree.append((at, node, forward))
        return tree


def _likely_flow(characteristic: Characteristic) -> float:
    """What a tap gives at one bar, or what it is made for."""
    if characteristic.square:
        return min(math.sqrt(_LIKELY_PA / characteristic.square), characteristic.greatest)
    return characteristic.greatest if characteristic.greatest < math.inf else _LIKELY_FLOW
