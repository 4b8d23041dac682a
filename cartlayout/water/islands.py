"""The supply side falls into islands that no tube joins: each is solved for itself, once.

A cart with two tanks has two islands, a hall of stands has dozens. Water in one
knows nothing of the others, so a case that opens a tap here leaves every other
island as it is, and moving a tube here solves this one alone.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Generic, TypeVar

from ..build import Build, Gauge
from ..network.results import Network, Node
from .cases import Case, Solved, solve_case, solve_low
from .duty import Duty
from .fixed_source import Starts as TrialStarts
from .hydraulics import Key, Start, State, laid_together
from .ladder import Ways
from .model import Model, TapPlace, make_model
from .parting import Part, at_a_glance, reads, same, split
from .pump_results import Plan, PumpDuty, Suction, Surge
from .results import LadderStep
from .statics import tube_statics
from .suction import suction
from .supply_results import TubeStatic
from .surge import Lines
from .tap_state import is_fed, left
from .telling import Teller, Told
from .together import Meeting, Together
from .window import Line, Supply, supplies

T = TypeVar("T")
Taps = frozenset[Key]
Starts = dict[Taps, tuple[Start, Start]]


class Kept(Generic[T]):
    """The last answer, for as long as the same is asked."""

    def __init__(self) -> None:
        self._last: tuple[object, T] | None = None

    @property
    def last(self) -> T | None:
        """What was answered last; None: nothing was asked."""
        return None if self._last is None else self._last[1]

    def of(self, asked: object, answer: Callable[[], T]) -> T:
        """The answer to what is asked, worked out if the last time something else was."""
        last = self._last
        if last is None or last[0] != asked:
            last = self._last = asked, answer()
        return last[1]


@dataclass(frozen=True, slots=True)
class PumpSide:
    """What an island's pumps and valves have to put up with."""

    duties: tuple[PumpDuty, ...] = ()
    suctions: tuple[Suction, ...] = ()
    surges: tuple[Surge, ...] = ()


class Island:
    """One island, solved for every set of open taps that is asked for, and no more."""

    def __init__(
        self,
        build: Build,
        network: Network,
        part: Part,
        read: tuple[Any, ...],
        similar: "Island | None" = None,
    ) -> None:
        """Take a part of a build.

        Args:
            build: the whole.
            network: made from it.
            part: what is joined by tubes.
            read: everything that it depends on.
            similar: another that solutions may start from.
        """
        self.read = read
        self.glance: tuple[object, ...] = ()
        """What is compared first of another build's island."""
        self.model: Model = make_model(build, network, part.items)
        self.taps: Taps = frozenset(tap.node for tap in self.model.taps)
        self._starts = similar.starts if similar is not None else {}
        self._trials = similar.trials if similar is not None else {}
        self._solved: dict[Taps, Solved] = {}
        self._lows: dict[Taps, State] = {}
        self._told: dict[Taps, Told] = {}
        self._names = {item.id: item.name for item in part.items}
        self._names |= {run.id: run.tube.name for run in part.tubes}
        self.gives = {*self.model.sources, *(pump.item.id for pump in self.model.pumps)}
        """Ids of what water comes from: tanks, mains taps, pumps."""
        self.gauges = tuple(
            item.id for item in part.items if isinstance(item.specification.water, Gauge)
        )
        self._teller = Teller(self.model, part.tubes)
        self._ladders = Ways(self.model, self._names)
        self._items = {item.id: item for item in part.items}
        self._tubes = part.tubes
        self._network = network
        self._duties = [Duty(self._items, network, self.model, pump) for pump in self.model.pumps]
        self._pump_side = Kept[PumpSide]()
        self._together = Kept[Together]()
        self._supplies = Kept[tuple[Supply, ...]]()
        self.pumps = tuple(duty.state for duty in self._duties)

    def holds(self, item_id: str) -> bool:
        """Whether an item is part of it."""
        return item_id in self._items

    @property
    def starts(self) -> Starts:
        """What the solutions of a similar island may start from."""
        # Another thread may ask for a case meanwhile: the list is taken at once.
        starts = {taps: (low.start, low.start) for taps, low in [*self._lows.items()]}
        solved = [*self._solved.items()]
        return starts | {taps: (one.high.start, one.low.start) for taps, one in solved}

    @property
    def trials(self) -> dict[object, TrialStarts]:
        """What trials of a similar island's supplies may start from."""
        trials = dict(self._trials)
        for supply in self._supplies.last or ():
            trials |= supply.starts
        return trials

    def solved(self, open_taps: Taps) -> Solved:
        """The island with these of its taps open."""
        found = self._solved.get(open_taps)
        if found is None:
            found = self._solved[open_taps] = solve_case(
                self.model, Case("", open_taps), self._start(open_taps)
            )
        return found

    def low(self, open_taps: Taps) -> State:
        """Where the sources push least, with these of its taps open."""
        found = self._solved.get(open_taps)
        if found is not None or self.model.pumps:
            return self.solved(open_taps).low
        low = self._lows.get(open_taps)
        if low is None:
            start = self._start(open_taps)[1]
            low = self._lows[open_taps] = solve_low(self.model, open_taps, start)
        return low

    def _start(self, open_taps: Taps) -> tuple[Start | None, Start | None]:
        """From the same taps of a similar island; for two taps, from both alone laid together."""
        known = self._starts.get(open_taps)
        if known is not None:
            return known
        if len(open_taps) == 2:
            a, b = (self._solved.get(frozenset({tap})) for tap in open_taps)
            if a is not None and b is not None:
                return laid_together(a.high, b.high), laid_together(a.low, b.low)
        return None, None

    def fastest(self, cases: Iterable[Taps]) -> dict[str, float]:
        """Tube id to the greatest velocity in these cases [m/s]."""
        fastest: dict[str, float] = {}
        for taps in cases:
            for run_id, state in self.told(taps).runs.items():
                if state.velocity_m_s > fastest.get(run_id, 0.0):
                    fastest[run_id] = state.velocity_m_s
        return fastest

    def told(self, open_taps: Taps) -> Told:
        """The same in items and runs; nothing where it did not converge."""
        told = self._told.get(open_taps)
        if told is None:
            told = self._told[open_taps] = self._teller.told(self.solved(open_taps))
        return told

    def pump_side(
        self, cases: tuple[tuple[str, Taps], ...], names: dict[Node, str], plan: Plan
    ) -> PumpSide:
        """Duty and suction of its pumps, and the knock of its taps, over some cases."""
        asked = (cases, tuple(names.get(tap.node, "") for tap in self.model.taps), plan)
        return self._pump_side.of(asked, lambda: self._pump_side_of(cases, names, plan))

    def _pump_side_of(
        self, cases: tuple[tuple[str, Taps], ...], names: dict[Node, str], plan: Plan
    ) -> PumpSide:
        solved = [(name, self.solved(opened)) for name, opened in cases]
        model, items, network = self.model, self._items, self._network
        static = self.solved(frozenset()).high.pressures_pa
        suctions = (
            suction(items, network, model, pump, [one for _, one in solved], plan)
            for pump in model.pumps
        )
        lines = Lines(items, network, model, static)
        knocks = (
            lines.surge(
                replace(tap, name=names.get(tap.node, tap.name)),
                self.solved(frozenset({tap.node})),
            )
            for tap in model.taps
            if tap.node in static
        )
        return PumpSide(
            duties=tuple(duty.told(solved, names, plan) for duty in self._duties),
            suctions=tuple(one for one in suctions if one is not None),
            surges=tuple(one for one in knocks if one is not None),
        )

    def together(self, taps: tuple[TapPlace, ...], cases: tuple[tuple[str, Taps], ...]) -> Together:
        """What its taps do to each other.

        Args:
            taps: its own, by the names they have in the whole build.
            cases: that open any of them.
        """
        asked = tuple(tap.name for tap in taps), cases
        return self._together.of(asked, lambda: self._together_of(taps, cases))

    def _together_of(
        self, taps: tuple[TapPlace, ...], cases: tuple[tuple[str, Taps], ...]
    ) -> Together:
        at_rest = self.solved(frozenset())
        meeting = Meeting(
            [tap for tap in taps if is_fed(tap, at_rest)],
            lambda tap, opened: left(tap, self.low(opened)),
            self.is_steady,
        )
        return meeting.told(cases)

    @cached_property
    def not_starved(self) -> Taps:
        """Those of its taps that no other starves, found without trying any company.

        One has not enough even alone; or it has enough with everything open and the sources
        giving their least, and each that is shut only leaves it more. Where something is not fed,
        or pumps run through, that is not sure; but two taps have no other company.
        """
        at_rest, low, taps = self.solved(frozenset()), self.low(self.taps), self.model.taps
        fed = [tap for tap in taps if is_fed(tap, at_rest)]
        sure = len(fed) == len(taps) and (len(taps) == 2 or self.is_steady(self.taps))
        starved = {
            tap.node
            for tap in fed
            if not (sure and left(tap, low).suffices)
            and left(tap, self.low(frozenset({tap.node}))).suffices
        }
        return self.taps - starved

    def is_steady(self, opened: Taps) -> bool:
        """Whether its pumps all go on and off with these of its taps open."""
        low = self.low(opened)
        return all(low.modes.get(pump.item.id) == "holding" for pump in self.model.pumps)

    @cached_property
    def statics(self) -> tuple[TubeStatic, ...]:
        """How high each of its tubes goes."""
        pressures = self.solved(frozenset()).high.pressures_pa
        return tuple(tube_statics(self.model, self._tubes, pressures))

    def supplies(
        self, names: Mapping[Node, str], cases: tuple[tuple[str, Taps, bool], ...]
    ) -> tuple[Supply, ...]:
        """Its pumps and mains taps, each with what hangs on it.

        Args:
            names: of its taps in the whole build.
            cases: that open any of them; whether each is the person's own.
        """
        taps = tuple(
            tap if names[tap.node] == tap.name else replace(tap, name=names[tap.node])
            for tap in self.model.taps
            if tap.node in names
        )
        asked = tuple(tap.name for tap in taps), cases
        return self._supplies.of(asked, lambda: tuple(supplies(self._line(taps, cases))))

    def _line(self, taps: tuple[TapPlace, ...], cases: tuple[tuple[str, Taps, bool], ...]) -> Line:
        tubes = {
            run.id: (run.tube.name, (run.a.item, run.a.port), (run.b.item, run.b.port))
            for run in self._tubes
            if run.b is not None
        }
        solved, statics, lent = self._solved, self.statics, self._trials
        return Line(self.model, self._items, taps, statics, tubes, cases, solved, lent)

    def ladder(self, tap: TapPlace, opened: Taps | None = None) -> tuple[LadderStep, ...]:
        """Who eats the pressure on the way to a tap, by default while it alone is open."""
        low = self.low(opened or frozenset({tap.node}))
        return self._ladders.ladder(tap, low) if low.converged else ()

    def place(self, item_id: str, port_id: str) -> TapPlace | None:
        """A tap of it, or None."""
        return next((tap for tap in self.model.taps if tap.node == (item_id, port_id)), None)

    def way(self, tap: TapPlace, state: State) -> list[tuple[Key, Key, Key]]:
        """Links from the source to an open tap, each with the ends that water comes to in turn."""
        return self._ladders.way(tap, state)

    def duty(self, item_id: str) -> Duty | None:
        """One of its pumps, ready to be asked."""
        return next((one for one in self._duties if one.pump.item.id == item_id), None)

    def lines(self) -> Lines:
        """Its tubes, to be asked what happens when a tap shuts."""
        static = self.solved(frozenset()).high.pressures_pa
        return Lines(self._items, self._network, self.model, static)

    def name(self, of: str) -> str:
        """Of an item or a tube of it."""
        return self._names.get(of, of)


def find_islands(build: Build, network: Network, previous: tuple[Island, ...]) -> list[Island]:
    """The islands of a build; those that are as they were are taken over, solutions and all."""
    known = {island.read[1]: island for island in previous}
    found = []
    for part in split(build, network):
        quick = at_a_glance(build, network, part)
        old = known.get(part.items[0].id)
        if old is None or old.glance != quick:
            read = reads(build, network, part)
            if old is None or not same(old.read, read):
                old = Island(build, network, part, read, old)
            old.glance = quick
        found.append(old)
    return found
