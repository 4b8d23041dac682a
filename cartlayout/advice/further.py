"""What to read next: the gauge and the case in which rival causes would show most apart."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..build import Build, Gauge
from ..network.results import Node
from ..water.gauges import gauge_error_pa, gauge_node
from ..water.hydraulics import Key
from ..water.islands import Island
from ..water.results import ALL_SHUT

Range = tuple[float, float]
_MOST = 3
_USUAL_ERROR_PA = 0.025 * 10e5
"""Of a gauge that is not there yet."""


@dataclass(frozen=True, slots=True)
class Further:
    """A reading nobody has taken yet."""

    node: Node
    """Of a gauge, or of a place where one would have to be put."""
    gauge: str
    """Id of the gauge; empty where there is none yet."""
    case: str
    shows: tuple[Range, ...]
    """What it would show for each of the likely causes, in their order [Pa]."""
    told: int
    """How many of the others it would tell from the first."""


@dataclass(frozen=True, slots=True)
class Line:
    """Every place of some lines in every case: least and greatest pressure [Pa]."""

    ranges: Mapping[tuple[Node, str], Range]

    @classmethod
    def of(cls, islands: Sequence[Island], opened: Mapping[str, frozenset[Key]]) -> "Line":
        """Of islands in all their cases."""
        ranges: dict[tuple[Node, str], Range] = {}
        for island in islands:
            for case, taps in opened.items():
                mine = taps & island.taps
                if not mine and case != ALL_SHUT:
                    continue
                solved = island.solved(mine)
                low, high = solved.low.pressures_pa, solved.high.pressures_pa
                for node, low_pa in low.items():
                    if isinstance(node, tuple) and len(node) == 2 and node in high:
                        a, b = max(low_pa, 0.0), max(high[node], 0.0)
                        ranges[node, case] = (min(a, b), max(a, b))
        return cls(ranges)

    def alike(self, other: "Line", build: Build) -> bool:
        """Whether no gauge of a build would show the two apart in any case."""
        nodes = dict(_gauges(build))
        return all(
            _gap(shown, other.ranges.get(spot, shown)) <= nodes[spot[0]][1]
            for spot, shown in self.ranges.items()
            if spot[0] in nodes
        )


def further_readings(
    lines: Sequence[Line], build: Build, known: Collection[tuple[str, str]]
) -> tuple[Further, ...]:
    """What would tell causes apart, the best first: gauges that are there before new places.

    Args:
        lines: as each of the likely causes would have it, the best first.
        build: with its gauges.
        known: gauges and cases that were read already.
    """
    gauges = dict(_gauges(build))
    mine = [
        found
        for node, (gauge, error_pa) in gauges.items()
        for found in _at(lines, node, gauge, error_pa)
        if (gauge, found.case) not in known
    ]
    if any(one.told for one in mine):
        return _best(mine, {node: error for node, (_, error) in gauges.items()})
    error_pa = max((error for _, error in gauges.values()), default=_USUAL_ERROR_PA)
    ends = {
        (end.item, end.port) for run in build.tubes for end in (run.a, run.b) if end is not None
    }
    new = [found for node in sorted(ends - set(gauges)) for found in _at(lines, node, "", error_pa)]
    return _best(new, dict.fromkeys(ends, error_pa))


def _gauges(build: Build) -> Iterator[tuple[Node, tuple[str, float]]]:
    for item in build.items:
        role = item.specification.water
        node = gauge_node(item) if isinstance(role, Gauge) else None
        if node is not None and isinstance(role, Gauge):
            yield node, (item.id, gauge_error_pa(role))


def _at(lines: Sequence[Line], node: Node, gauge: str, error_pa: float) -> Iterator[Further]:
    first = lines[0].ranges
    for at, case in first:
        if at != node or any((at, case) not in line.ranges for line in lines):
            continue
        shows = tuple(line.ranges[at, case] for line in lines)
        told = sum(_gap(shows[0], one) > 2.0 * error_pa for one in shows[1:])
        yield Further(node, gauge, case, shows, told)


def _best(found: Sequence[Further], errors: Mapping[Node, float]) -> tuple[Further, ...]:
    def worth(one: Further) -> tuple[int, float]:
        gaps = [_gap(one.shows[0], other) for other in one.shows[1:]]
        return one.told, sum(gaps) / max(errors[one.node], 1.0)

    told = [one for one in found if one.told]
    return tuple(sorted(told, key=worth, reverse=True)[:_MOST])


def _gap(a: Range, b: Range) -> float:
    """Between two ranges; nothing where they overlap."""
    return max(a[0] - b[1], b[0] - a[1], 0.0)
