"""How high every place goes at rest behind one source, and what limits that source.

With everything shut nothing is lost on the way, so a place stands as high as the source less the
height between them, or as the highest regulator on its way lets it: the widest path, found as
Dijkstra finds the shortest. A pump on the way is pushed through where the source stands higher.
"""

import heapq
import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from .hydraulics import Key, Sketch


@dataclass(frozen=True, slots=True)
class Limit:
    """The greatest pressure that something on the line may see."""

    node: Key
    greatest_pa: float
    name: str
    item: str = ""
    port: str = ""
    run: str = ""


class AtRest:
    """What stands behind a source at rest, as a function of its pressure."""

    def __init__(
        self, sketch: Sketch, outlets: Iterable[Key], set_pa: Mapping[Key, float] | None = None
    ) -> None:
        """Walk from a source to all that it feeds.

        Args:
            sketch: the line.
            outlets: nodes of the source, all at one pressure.
            set_pa: set points of regulators where not their own.
        """
        self._sketch = sketch
        self.outlets = tuple(outlets)
        self._set_pa = set_pa or {}
        self._onward: dict[Key, list[tuple[Key, Key | None]]] = defaultdict(list)
        root = sketch.root
        for a, b, characteristic in sketch.lines.values():
            if characteristic.lets_forward:
                self._onward[root(a)].append((root(b), None))
            if characteristic.lets_back:
                self._onward[root(b)].append((root(a), None))
        for key, (a, b, _) in sketch.limiters.items():
            self._onward[root(a)].append((root(b), key))
        self._caps, self._regulator = self._walk()

    def _walk(self) -> tuple[dict[Key, float], dict[Key, Key | None]]:
        """Root of each place to the highest total that regulators let by, and the one that does."""
        order = itertools.count()
        queue: list[tuple[float, int, Key, Key | None]] = [
            (-math.inf, next(order), self._sketch.root(one), None) for one in self.outlets
        ]
        caps: dict[Key, float] = {}
        held_by: dict[Key, Key | None] = {}
        while queue:
            cap, _, node, regulator = heapq.heappop(queue)
            if node in caps:
                continue
            caps[node], held_by[node] = -cap, regulator
            for other, limiter in self._onward[node]:
                if other in caps:
                    continue
                behind, last = -cap, regulator
                if limiter is not None and self._sketch.limiters[limiter][2].passing is None:
                    behind, last = min(-cap, self._set_total_pa(limiter)), limiter
                heapq.heappush(queue, (-behind, next(order), other, last))
        return caps, held_by

    def _set_total_pa(self, key: Key) -> float:
        _, outlet, limiter = self._sketch.limiters[key]
        set_pa = self._set_pa.get(key, limiter.set_pa) + limiter.creep_pa
        return set_pa + self._head_pa(outlet)

    def _head_pa(self, node: Key) -> float:
        return self._sketch.fluid.head_pa(self._sketch.heights_m[node])

    def __contains__(self, node: Key) -> bool:
        """Whether the source feeds a place."""
        return self._sketch.root(node) in self._caps

    def regulator(self, node: Key) -> Key | None:
        """The last regulator on the way to a place."""
        return self._regulator.get(self._sketch.root(node))

    def pressure_pa(self, node: Key, outlet_pa: float) -> float:
        """What a place stands at while the source stands at a pressure, both gauge."""
        total_pa = outlet_pa + self._head_pa(self.outlets[0])
        return min(total_pa, self._caps[self._sketch.root(node)]) - self._head_pa(node)

    def greatest_pa(self, limit: Limit) -> float:
        """The highest the source may stand at for the sake of one limit; infinite if any."""
        if limit.node not in self:
            return math.inf
        most_pa = limit.greatest_pa + self._head_pa(limit.node)
        if self._caps[self._sketch.root(limit.node)] <= most_pa:
            return math.inf
        return most_pa - self._head_pa(self.outlets[0])

    def lowest(self, limits: Iterable[Limit]) -> Iterator[tuple[float, Limit]]:
        """The limits that the source can break, the first to be broken first."""
        found = [(self.greatest_pa(one), at, one) for at, one in enumerate(limits)]
        for pressure_pa, _, limit in sorted(found, key=lambda one: one[:2]):
            if pressure_pa < math.inf:
                yield pressure_pa, limit
