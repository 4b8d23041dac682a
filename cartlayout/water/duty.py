"""What a demand pump has to do: where it works, how often it starts, what its vessel saves it.

While less is drawn than a pump gives, its switch lets it fill the line up to cut-out and waits
until the line has fallen to cut-in. What the line takes in between the two is the vessel's
(Boyle, absolute pressures) and, far less, the stretch of the tubes. With s(p) the water stored
at a pressure, Q(p) what the pump gives and q(p) what is drawn,

    time on  = integral of s'(p) / (Q(p) - q(p)) from cut-in to cut-out,
    time off = integral of s'(p) / q(p),

which for an even pump and an even draw are V / (Q - q) and V / q.
"""

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from ..build import Accumulator, Appliance, Item, Pump, Regulator, TubeRun
from ..network.results import Network, Node
from . import parts
from .accumulator import useful_volume_m3
from .cases import Solved
from .hydraulics import PumpCurve
from .model import Model, PumpPlace
from .pump_results import DutyPoint, Plan, PumpDuty, Swing, starts_per_hour
from .results import PumpState
from .stretch import taken_in_m3_pa

_STEPS = 8
"""Of Simpson's rule over the switch's band."""
_DRAWS = (0.3, 0.4, 0.5, 0.6, 0.7, 0.8)
"""Shares of what a pump gives at cut-out, tried as the worst draw."""
_HALVINGS = 24
_TRICKLE = 1e-8
"""m3/s below which nobody draws."""


def current_at(role: Pump, pressure_pa: float) -> float | None:
    """Current [A] of a pump that adds a pressure, between the rows of its table."""
    rows = sorted(
        (row.pressure.si, row.current.si) for row in role.curve if row.current is not None
    )
    if not rows:
        return None
    for (p0, i0), (p1, i1) in itertools.pairwise(rows):
        if pressure_pa <= p1:
            share = (max(pressure_pa, p0) - p0) / (p1 - p0) if p1 > p0 else 1.0
            return i0 + (i1 - i0) * share
    return rows[-1][1]


def cycle(
    stored: Callable[[float], float],
    given: Callable[[float], float],
    drawn: Callable[[float], float],
    low_pa: float,
    high_pa: float,
) -> tuple[float, float]:
    """Time on and time off [s] of one cycle of a pump's switch.

    Args:
        stored: slope of what the line holds against its pressure [m3/Pa] at a pressure [Pa].
        given: what the pump gives [m3/s] at a pressure.
        drawn: what is drawn [m3/s] at a pressure.
        low_pa: cut-in.
        high_pa: cut-out.
    """
    on = off = 0.0
    step = (high_pa - low_pa) / _STEPS
    for at in range(_STEPS + 1):
        pressure = low_pa + at * step
        weight = (1 if at in (0, _STEPS) else 4 if at % 2 else 2) * step / 3.0
        slope, flow = stored(pressure), drawn(pressure)
        gain = given(pressure) - flow
        on = on + weight * slope / gain if gain > 0.0 else math.inf
        off = off + weight * slope / flow if flow > 0.0 else math.inf
    return on, off


@dataclass(slots=True)
class Behind:
    """What a pump pushes into up to the next regulator."""

    vessels: list[Item] = field(default_factory=list)
    tubes: list[TubeRun] = field(default_factory=list)
    nodes: set[Node] = field(default_factory=set)


def behind(items: Mapping[str, Item], network: Network, pump: PumpPlace) -> Behind:
    """Walk from a pump's outlet to whatever shares its pressure, the nearest first."""
    found = Behind(nodes={pump.outlet})
    seen, queue = {pump.inlet, pump.outlet}, [pump.outlet]
    supply, runs = network.supply, set()
    while queue:
        node = queue.pop(0)
        item = items.get(node[0])
        is_vessel = item is not None and isinstance(item.specification.water, Accumulator)
        if item is not None and is_vessel and item not in found.vessels:
            found.vessels.append(item)
        for _, other, data in supply.edges(node, data=True):
            run, within = data.get("run"), data.get("item")
            if isinstance(run, TubeRun) and run.id not in runs:
                runs.add(run.id)
                found.tubes.append(run)
            stops = within is not None and isinstance(within.specification.water, Regulator)
            if other not in seen and not stops:
                seen.add(other)
                found.nodes.add(other)
                queue.append(other)
    return found


@dataclass(frozen=True, slots=True)
class _Vessel:
    """A vessel in plain numbers."""

    volume_m3: float
    charge_pa: float
    """Gauge."""
    air_pa: float

    def useful(self, low_pa: float, high_pa: float) -> float:
        """Water that it gives back between two pressures [m3]."""
        return useful_volume_m3(self.volume_m3, self.charge_pa, low_pa, high_pa, self.air_pa)

    @property
    def air(self) -> float:
        """Pressure times volume of its air, which stays the same [J]."""
        return max(self.volume_m3 * (self.charge_pa + self.air_pa), 0.0)


class Duty:
    """One pump of an island, ready to be asked about any solved case."""

    def __init__(
        self, items: Mapping[str, Item], network: Network, model: Model, pump: PumpPlace
    ) -> None:
        self.pump, self.model, self._items = pump, model, items
        self.cut_in_pa, self.cut_out_pa = pump.role.cut_in.si, pump.role.cut_out.si
        self.curve: PumpCurve | None = parts.pump_curve(pump.role)
        around = behind(items, network, pump)
        self.nodes = around.nodes
        self.vessel_ids = tuple(item.id for item in around.vessels)
        air_pa = model.fluid.air_pa
        self.vessels = [
            _Vessel(role.volume.si, role.pre_charge.si, air_pa)
            for item in around.vessels
            if isinstance(role := item.specification.water, Accumulator)
        ]
        self.stretch_m3_pa = sum(
            taken_in_m3_pa(run.tube, parts.length_m(run, network.routes.get(run.id)))
            for run in around.tubes
        )

    @property
    def state(self) -> PumpState:
        """Its switch and its vessel in short."""
        return PumpState(
            self.pump.item.id,
            self.cut_in_pa,
            self.cut_out_pa,
            self.vessel_ids[0] if self.vessel_ids else None,
            self._useful(self.cut_in_pa),
        )

    def _useful(self, down_to_pa: float) -> float:
        """What its vessels give back from cut-out down to a pressure [m3]."""
        return sum((one.useful(down_to_pa, self.cut_out_pa) for one in self.vessels), 0.0)

    def told(
        self,
        cases: Sequence[tuple[str, Solved]],
        names: Mapping[Node, str],
        plan: Plan,
    ) -> PumpDuty:
        """What it does over some cases.

        Args:
            cases: name and solution of each.
            names: of the taps that open in them.
            plan: what the service plan draws through it, at most.
        """
        low, high = self.cut_in_pa, self.cut_out_pa
        useful = self._useful(low)
        stretch = self.stretch_m3_pa * max(high - low, 0.0)
        points = tuple(
            point for name, solved in cases if (point := self._point(name, solved)) is not None
        )
        cycling = [one for one in points if one.cycles]
        worst = max(cycling, key=lambda one: one.starts_per_hour, default=None)
        shortest, most = self._extremes()
        held = useful + stretch
        return PumpDuty(
            item=self.pump.item.id,
            accumulator=self.vessel_ids[0] if self.vessel_ids else None,
            pre_charge_pa=self.vessels[0].charge_pa if self.vessels else 0.0,
            cut_in_pa=low,
            cut_out_pa=high,
            useful_volume=useful,
            stretch=stretch,
            reaches_cut_out=self._reaches(cases),
            points=points,
            worst_case=worst.case if worst is not None else "",
            shortest_run_s=shortest,
            most_starts_per_hour=most,
            service_starts_per_hour=plan.hourly / held if held > 0.0 else 0.0,
            vessels=self.vessel_ids,
            swings=tuple(self._swings(cases, points, names, plan)),
        )

    # --- one case --------------------------------------------------------------------------------

    def _point(self, name: str, solved: Solved) -> DutyPoint | None:
        high, low, key = solved.high, solved.low, self.pump.item.id
        demand = high.flows.get(key, 0.0)
        if not (high.converged and low.converged) or demand <= _TRICKLE or self.curve is None:
            return None
        if high.modes.get(key) == "passing":  # it stands, and water is pushed through it
            return None
        added_high = self._added(solved, top=True)
        if high.modes.get(key) != "holding" or self.cut_out_pa <= self.cut_in_pa:
            end = (demand, added_high)
            return DutyPoint(name, demand, False, (end,), current_at(self.pump.role, added_high))
        added_low = self._added(solved, top=False)
        # Water that is pushed in with pressure of its own takes that much off the pump's work.
        aid = self.cut_out_pa - added_high
        draws = self._draw(solved)
        gives = self._gives(aid)
        on, off = self._cycle(gives, draws)
        bare = cycle(self._bare, gives, draws, self.cut_in_pa, self.cut_out_pa)
        ends = ((gives(self.cut_in_pa), added_low), (gives(self.cut_out_pa), added_high))
        amps = [current_at(self.pump.role, pressure) for _, pressure in ends]
        known = [one for one in amps if one is not None]
        return DutyPoint(name, demand, True, ends, max(known, default=None), on, off, *bare)

    def _added(self, solved: Solved, *, top: bool) -> float:
        pressures = (solved.high if top else solved.low).pressures_pa
        return pressures.get(self.pump.outlet, 0.0) - pressures.get(self.pump.inlet, 0.0)

    def _draw(self, solved: Solved) -> Callable[[float], float]:
        """What is drawn between cut-in and cut-out, on the straight line between both ends."""
        key = self.pump.item.id
        q1, q0 = solved.high.flows.get(key, 0.0), solved.low.flows.get(key, 0.0)
        span = self.cut_out_pa - self.cut_in_pa
        return lambda pressure: max(q0 + (q1 - q0) * (pressure - self.cut_in_pa) / span, 0.0)

    def _gives(self, aid_pa: float) -> Callable[[float], float]:
        curve = self.curve
        assert curve is not None
        return lambda pressure: curve.flow_at(pressure - aid_pa)

    def _cycle(
        self, gives: Callable[[float], float], draws: Callable[[float], float]
    ) -> tuple[float, float]:
        """On and off with its vessels, each of which takes part above its own charge only."""
        low, high = self.cut_in_pa, self.cut_out_pa
        steps = sorted({one.charge_pa for one in self.vessels if low < one.charge_pa < high})
        on = off = 0.0
        for start, end in itertools.pairwise([low, *steps, high]):
            part = cycle(self._slope_above(start), gives, draws, start, end)
            on, off = on + part[0], off + part[1]
        return on, off

    def _bare(self, pressure_pa: float) -> float:
        return self.stretch_m3_pa

    def _slope_above(self, start_pa: float) -> Callable[[float], float]:
        """What the line takes in for each pascal more: tubes, and vessels charged no higher."""
        bare, air_pa = self.stretch_m3_pa, self.model.fluid.air_pa
        air = sum(one.air for one in self.vessels if one.charge_pa <= start_pa)

        def slope(pressure_pa: float) -> float:
            absolute = max(pressure_pa + air_pa, 1.0)
            return bare + air / (absolute * absolute)

        return slope

    # --- all of them -----------------------------------------------------------------------------

    def _extremes(self) -> tuple[float, float]:
        """The shortest run [s], and the most starts an hour that any draw could ask for."""
        if self.curve is None or self.cut_out_pa <= self.cut_in_pa:
            return math.inf, 0.0
        gives = self._gives(0.0)
        least = gives(self.cut_out_pa)
        if least <= 0.0:
            return math.inf, 0.0
        fill = self._cycle(gives, lambda _: 0.0)[0]
        # An even pump starts most often at half of what it gives; others near to it.
        most = 0.0
        for share in _DRAWS:
            draw = share * least
            most = max(most, starts_per_hour(*self._cycle(gives, _even(draw))))
        return fill, most

    def _reaches(self, cases: Sequence[tuple[str, Solved]]) -> bool:
        """Whether it pushes as high as its switch with every tap shut."""
        key = self.pump.item.id
        shut = [solved for _, solved in cases if not solved.case.open_taps]
        return all(
            solved.high.modes.get(key) != "wide open"
            or solved.high.pressures_pa.get(self.pump.outlet, 0.0) >= self.cut_out_pa - 1.0
            for solved in shut
            if solved.high.converged
        )

    def _swings(
        self,
        cases: Sequence[tuple[str, Solved]],
        points: tuple[DutyPoint, ...],
        names: Mapping[Node, str],
        plan: Plan,
    ) -> list[Swing]:
        told = {one.case: one for one in points if one.cycles}
        found: dict[Node, Swing] = {}
        for name, solved in cases:
            point = told.get(name)
            if point is None or len(solved.case.open_taps) != 1:
                continue
            node = next(iter(solved.case.open_taps))
            if not isinstance(node, tuple) or node not in names or node in found:
                continue
            high_pa = solved.high.pressures_pa.get(node, 0.0)
            low_pa = min(solved.low.pressures_pa.get(node, 0.0), high_pa)
            drink = self._drink(node[0], plan)
            span = self.cut_out_pa - self.cut_in_pa
            lows = [
                low_pa + (high_pa - low_pa) * (after - self.cut_in_pa) / span
                for after in (self.after_pa(drink), self.after_pa(drink, with_vessel=False))
            ]
            found[node] = Swing(
                node[0],
                node[1],
                names[node],
                high_pa,
                low_pa,
                point.off_s,
                point.bare_off_s,
                drink,
                *lows,
            )
        return [*found.values()]

    def _drink(self, item_id: str, plan: Plan) -> float:
        """Water that a tap gives for one drink [m3]."""
        item = self._items.get(item_id)
        role = item.specification.water if item is not None else None
        if isinstance(role, Appliance) and role.per_drink is not None:
            return max(role.per_drink.si, 0.0)
        rinses = isinstance(role, Appliance) and role.drained_share >= 1.0
        return plan.rinse if rinses else plan.drink

    def after_pa(self, taken: float, *, with_vessel: bool = True) -> float:
        """What a full line falls to when so much water [m3] is taken, not below cut-in [Pa]."""
        high, low = self.cut_out_pa, self.cut_in_pa
        if taken >= self._given_back(low, with_vessel):
            return low
        for _ in range(_HALVINGS):  # what is given back grows as the pressure falls
            middle = 0.5 * (high + low)
            if self._given_back(middle, with_vessel) > taken:
                low = middle
            else:
                high = middle
        return 0.5 * (high + low)

    def _given_back(self, pressure_pa: float, with_vessel: bool) -> float:
        """Water [m3] that leaves the line while it falls from cut-out to a pressure."""
        given = self.stretch_m3_pa * (self.cut_out_pa - pressure_pa)
        return given + (self._useful(pressure_pa) if with_vessel else 0.0)


def _even(flow: float) -> Callable[[float], float]:
    return lambda _: flow
