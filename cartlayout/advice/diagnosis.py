"""Which single cause explains what the gauges show.

The inverse problem: every suspect's one number is fitted by least squares, the line solved anew
for each value tried, and the suspects are ranked by what is left over. Readings are only as good
as the gauges: causes that all come within their error cannot be told apart, and then it is said
which further reading would.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..analysis import Analysis
from ..build import Accumulator, Build, Gauge, TubeRun
from ..network import make_network
from ..units import Phrase
from ..water.gauge_results import beyond
from ..water.gauges import gauge_error_pa, gauge_node
from ..water.islands import Island, find_islands
from .causes import suspects
from .further import Further, Line, further_readings
from .suspect import Kind, Suspect

Watch = Callable[[float], bool]
"""Told the share that is done; says whether to go on."""
Spot = tuple[str, str]
"""Id of a gauge and name of a case."""
Range = tuple[float, float]

_GRID = 12
_REFINED = 18
_LEAST_ERROR_PA = 500.0
"""No needle is read closer."""
_STAYS = 1e-3
"""What moving a suspect all over its span counts for, so that of values that explain alike
the one nearest to the drawing is taken."""
_NEVER = 1e6
_ALIKE = 2.0
"""Causes whose surprise differs by less are not told apart: the likelier is so by e at most."""
_BETTER = 0.9
"""A cause explains something if it leaves less than this share of what was off."""
_FLOWING = 1e-8


@dataclass(frozen=True, slots=True)
class Read:
    """A reading that was typed in."""

    gauge: str
    case: str
    pressure_pa: float
    error_pa: float


@dataclass(frozen=True, slots=True)
class Explained:
    """What a gauge would show if a cause were true, beside what it does."""

    read: Read
    low_pa: float
    high_pa: float

    @property
    def beyond_pa(self) -> float:
        """How far the needle is outside it."""
        return beyond(self.read.pressure_pa, self.low_pa, self.high_pa)

    @property
    def holds(self) -> bool:
        """Whether what is left can be put down to the gauge."""
        return abs(self.beyond_pa) <= self.read.error_pa

    @property
    def sways(self) -> bool:
        """Whether the needle would go to and fro by more than the gauge's own error."""
        return self.high_pa - self.low_pa > 2.0 * self.read.error_pa


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may be wrong, with the value that explains the readings best."""

    kind: Kind
    items: tuple[str, ...]
    runs: tuple[str, ...]
    """To look at; several tubes where the readings cannot say which of them."""
    value: float
    words: Phrase
    """A sentence without its full stop."""
    taken: Phrase
    """Name of the edit that takes it over."""
    build: Build
    """With the value in it."""
    readings: tuple[Explained, ...]
    misfit: float
    """Root mean square of what is left over, in gauge errors."""
    surprise: float
    """What is left over, squared and added up, and how little it commits itself: twice the
    negative logarithm of how likely the readings are, were it true."""

    @property
    def sways(self) -> bool:
        """Whether a needle would go to and fro where one number was read."""
        return any(one.sways for one in self.readings)

    @property
    def explains(self) -> int:
        """How many readings it leaves nothing to explain of."""
        return sum(one.holds for one in self.readings)

    @property
    def explains_all(self) -> bool:
        """Whether nothing is left that the gauges' own error does not cover."""
        return self.explains == len(self.readings)


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """What the readings say."""

    build: Build
    """The one they were read for."""
    readings: tuple[Explained, ...]
    """As drawn."""
    causes: tuple[Cause, ...] = ()
    """Those that explain anything, best first."""
    likely: tuple[Cause, ...] = ()
    """The best, and all that the readings cannot tell from it."""
    further: tuple[Further, ...] = ()
    """What to read next to tell the likely apart, the best first."""
    unseen: tuple[str, ...] = ()
    """Ids of accumulators: a needle at rest says nothing of their pre-charge."""

    @property
    def off(self) -> int:
        """How many readings are not as drawn."""
        return sum(not one.holds for one in self.readings)

    @property
    def tellable(self) -> bool:
        """Whether the readings point at one cause alone."""
        return len(self.likely) == 1


def diagnose(analysis: Analysis, watch: Watch | None = None) -> Diagnosis | None:
    """Find the single cause that explains the readings of a build best.

    Args:
        analysis: of the build with the readings in its gauges.
        watch: told how far it is; None is returned where it says to stop.
    """
    bench = _Bench(analysis)
    now = bench.explained(analysis.water.islands)
    found = Diagnosis(analysis.build, now, unseen=bench.accumulators())
    if not found.off:
        return found
    all_suspects = bench.suspects()
    causes: list[Cause] = []
    for at, suspect in enumerate(all_suspects):
        if watch is not None and not watch(at / (len(all_suspects) + 1)):
            return None
        causes.append(_fitted(bench, suspect))
    left = _misfit(now)
    causes = [one for one in causes if one.misfit < _BETTER * left]
    causes.sort(key=lambda one: (-one.explains, one.surprise, one.kind, one.items, one.runs))
    lines = {id(one.build): bench.line(one.build) for one in causes}
    causes = list(_merged(causes, lines, bench))
    likely = tuple(_likely(causes))
    further: tuple[Further, ...] = ()
    if len(likely) > 1:
        further = further_readings(
            [lines[id(one.build)] for one in likely],
            analysis.build,
            {(one.gauge, one.case) for one in bench.reads},
        )
    return replace(found, causes=tuple(causes), likely=likely, further=further)


class _Bench:
    """The lines of a build on the bench: solved again and again, for the cases that were read."""

    def __init__(self, analysis: Analysis) -> None:
        self.analysis = analysis
        build = analysis.build
        self.opened = dict(analysis.water.opened)
        self.gauges = {
            item.id: (item, item.specification.water)
            for item in build.items
            if isinstance(item.specification.water, Gauge)
        }
        states = {one.item: one for one in analysis.water.gauges}
        self.reads = tuple(
            Read(item.id, one.case, one.read_pa, max(gauge_error_pa(role), _LEAST_ERROR_PA))
            for item, role in self.gauges.values()
            if item.id in states
            for one in states[item.id].readings
            if one.read_pa is not None
        )
        read = {one.gauge for one in self.reads}
        self.islands = [one for one in analysis.water.islands if read & set(one.gauges)]
        self._here = {one.read[1] for one in self.islands}

    def suspects(self) -> list[Suspect]:
        """What may be wrong in the lines that were read."""
        build = self.analysis.build
        items = [item for item in build.items if self._concerns(item.id)]
        flowing = {
            run_id
            for island in self.islands
            for case in {one.case for one in self.reads}
            for run_id, state in island.told(self.opened[case] & island.taps).runs.items()
            if abs(state.flow) > _FLOWING
        }
        tubes = [run for run in build.tubes if run.id in flowing]
        return suspects(items, tubes, {run.id: _tube_name(build, run) for run in tubes})

    def _concerns(self, item_id: str) -> bool:
        return any(island.holds(item_id) for island in self.islands)

    def accumulators(self) -> tuple[str, ...]:
        """Vessels in the lines that were read."""
        return tuple(
            item.id
            for item in self.analysis.build.items
            if isinstance(item.specification.water, Accumulator) and self._concerns(item.id)
        )

    def solved(self, build: Build) -> list[Island]:
        """The islands of a copy, those that are untouched taken over."""
        network = make_network(build, self.analysis.network)
        return find_islands(build, network, self.analysis.water.islands)

    def explained(self, islands: Sequence[Island]) -> tuple[Explained, ...]:
        """What the gauges would show where they were read."""
        return tuple(
            Explained(one, *self._range(islands, one.gauge, one.case)) for one in self.reads
        )

    def _range(self, islands: Sequence[Island], gauge: str, case: str) -> Range:
        node = gauge_node(self.gauges[gauge][0])
        island = next(one for one in islands if gauge in one.gauges)
        solved = island.solved(self.opened[case] & island.taps)
        if node is None or not (solved.high.converged and solved.low.converged):
            return math.nan, math.nan
        low_pa, high_pa = (
            max(state.pressures_pa.get(node, 0.0), 0.0) for state in (solved.low, solved.high)
        )
        return min(low_pa, high_pa), max(low_pa, high_pa)

    def line(self, build: Build) -> Line:
        """Every place of the lines in every case, as a copy has it."""
        islands = [one for one in self.solved(build) if one.read[1] in self._here]
        return Line.of(islands, self.opened)


def _fitted(bench: _Bench, suspect: Suspect) -> Cause:
    from scipy.optimize import minimize_scalar  # takes a while to load, and few ask

    build = bench.analysis.build
    least, now, most = suspect.span
    width = max(most - least, 1e-12)
    known: dict[float, float] = {}

    def left(value: float) -> float:
        value = float(value)
        if value not in known:
            readings = bench.explained(bench.solved(suspect.put(build, value)))
            known[value] = _surprise(readings) + _STAYS * ((value - now) / width) ** 2
        return known[value]

    grid = sorted({now, *(least + width * at / _GRID for at in range(_GRID + 1))})
    best = min(range(len(grid)), key=lambda at: left(grid[at]))
    low, high = grid[max(best - 1, 0)], grid[min(best + 1, len(grid) - 1)]
    minimize_scalar(
        left,
        bounds=(low, high),
        method="bounded",
        options={"maxiter": _REFINED, "xatol": 1e-4 * width},
    )
    value = min(known, key=lambda one: known[one])
    changed = suspect.put(build, value)
    readings = bench.explained(bench.solved(changed))
    return Cause(
        kind=suspect.kind,
        items=suspect.items,
        runs=suspect.runs,
        value=value,
        words=suspect.words(value),
        taken=suspect.taken(value),
        build=changed,
        readings=readings,
        misfit=_misfit(readings),
        surprise=_surprise(readings),
    )


def _squares(readings: Sequence[Explained]) -> float:
    total = 0.0
    for one in readings:
        if math.isnan(one.low_pa):
            return _NEVER
        total += (one.beyond_pa / one.read.error_pa) ** 2
    return total


def _surprise(readings: Sequence[Explained]) -> float:
    """Of two causes that allow a reading, the one that allows little else is the likelier."""
    vague = sum(
        math.log1p((one.high_pa - one.low_pa) / (2.0 * one.read.error_pa))
        for one in readings
        if not math.isnan(one.low_pa)
    )
    return _squares(readings) + 2.0 * vague


def _misfit(readings: Sequence[Explained]) -> float:
    return math.sqrt(_squares(readings) / len(readings)) if readings else 0.0


def _likely(causes: Sequence[Cause]) -> Iterator[Cause]:
    """The best, and those the readings cannot tell from it."""
    for one in causes:
        best = causes[0]
        if one.explains == best.explains and one.surprise - best.surprise < _ALIKE:
            yield one


def _merged(causes: Sequence[Cause], lines: Mapping[int, Line], bench: _Bench) -> Iterator[Cause]:
    """Tubes that no gauge can tell apart in any case are one cause."""
    kept: list[Cause] = []
    for one in causes:
        twin = None
        if one.kind == "tube pinched":
            twin = next(
                (
                    at
                    for at, other in enumerate(kept)
                    if other.kind == one.kind
                    and lines[id(one.build)].alike(lines[id(other.build)], bench.analysis.build)
                ),
                None,
            )
        if twin is None:
            kept.append(one)
        else:
            kept[twin] = replace(kept[twin], runs=(*kept[twin].runs, *one.runs))
    yield from kept


def _tube_name(build: Build, run: TubeRun) -> str:
    ends = [build.item(end.item) for end in (run.a, run.b) if end is not None]
    return f"the tube from {' to '.join(item.name for item in ends if item is not None)}"
