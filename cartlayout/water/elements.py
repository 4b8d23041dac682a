"""Heaters, filters and regulators over the cases: what passes them, and what that does to them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ..build import Appliance, Build, Filter, Heater, Load, Regulator, Service
from ..network.results import Node
from .cases import Solved
from .element_results import FilterState, HeaterPoint, HeaterState, RegulatorState
from .hydraulics import State
from .mixing import Mix, mix
from .model import Model, PassedPlace
from .taking import per_drink

_TRICKLE = 1e-8
"""m3/s below which nothing runs."""
_SLACK_PA = 20.0
_SLACK_FLOW = 1e-3
_MORE = 1.001
"""Times an earlier case's flow that a later one must have to be named instead."""
_S_PER_HOUR = 3600.0
_LEAST_HARDNESS = 1e-3
"""kg/m3; softer water than 1 mg/L is told as that."""

HEAT_J_KG_K = 4181.0
"""Of water, 15 to 60 degC, within 0.2 % (IAPWS-95)."""

Cases = Sequence[tuple[str, Solved]]


@dataclass(frozen=True, slots=True)
class ElementSide:
    """What an island's heaters, filters and regulators have to put up with."""

    heaters: tuple[HeaterState, ...] = ()
    filters: tuple[FilterState, ...] = ()
    regulators: tuple[RegulatorState, ...] = ()
    mix: Mix = field(default_factory=Mix)


def element_side(model: Model, cases: Cases, uses: "Uses") -> ElementSide:
    """All of an island; the first case is the one with everything shut."""
    heaters, filters, regulators = [], [], []
    for place in model.passed:
        if isinstance(place.role, Heater):
            heaters.append(_heater(model, place, place.role, cases))
        elif isinstance(place.role, Filter):
            filters.append(_filter(place, place.role, cases, uses))
        else:
            regulators.append(_regulator(place, place.role, cases))
    mixed = mix(model, (solved for _, solved in cases))
    return ElementSide(tuple(heaters), tuple(filters), tuple(regulators), mixed)


# --- heaters -----------------------------------------------------------------------------------


def _heater(model: Model, place: PassedPlace, role: Heater, cases: Cases) -> HeaterState:
    least_pa = role.least_pressure.si if role.least_pressure is not None else None
    least_flow = role.least_flow.si if role.least_flow is not None else None
    points = []
    for name, solved in cases:
        state = solved.low
        flow = state.flows.get(place.key, 0.0)
        if not (state.converged and solved.high.converged) or flow <= _TRICKLE:
            continue
        pressure_pa = state.pressures_pa.get(place.inlet, 0.0)
        points.append(
            HeaterPoint(
                name,
                flow,
                pressure_pa,
                least_pa is None or pressure_pa >= least_pa - _SLACK_PA,
                least_flow is None or flow >= least_flow * (1.0 - _SLACK_FLOW),
                _reaches_k(model, place, role, flow),
            )
        )
    static = _at_rest(cases)
    return HeaterState(
        item=place.item.id,
        outlet_k=role.outlet.si,
        least_pa=least_pa,
        least_flow=least_flow,
        greatest_pa=role.greatest_pressure.si if role.greatest_pressure is not None else None,
        static_pa=static.pressures_pa.get(place.inlet, 0.0) if static is not None else 0.0,
        fed=static is not None and place.inlet in static.pressures_pa,
        points=tuple(points),
        taps=place.taps,
    )


def _reaches_k(model: Model, place: PassedPlace, role: Heater, flow: float) -> float | None:
    """How warm [K] water gets that a heater warms while it runs through.

    None where it is warmed beforehand, in a tank, or where nothing says with how many watts.
    """
    load = place.item.specification.electrical
    stores = role.least_flow is None
    if stores or not isinstance(load, Load) or load.power is None or load.power.si <= 0.0:
        return None
    comes_k = model.warm_nodes_k.get(place.inlet, model.temperature_k)
    lift_k = load.power.si / (model.fluid.density_kg_m3 * HEAT_J_KG_K * flow)
    return min(max(role.outlet.si, comes_k), comes_k + lift_k)


def _at_rest(cases: Cases) -> State | None:
    """Where the line stands highest with everything shut."""
    for _, solved in cases:
        if not solved.case.open_taps:
            return solved.high if solved.high.converged else None
    return None


# --- filters -----------------------------------------------------------------------------------


class Uses:
    """The water that each tap takes for a drink of the service plan; two inlets of one share it."""

    def __init__(self, build: Build) -> None:
        service: Service = build.service
        self.drinks_per_day = (
            max(service.hours.si, 0.0) / _S_PER_HOUR * max(service.drinks_per_hour, 0.0)
        )
        self._items = per_drink(build)
        self._inlets = {
            item.id: len(item.specification.water.inlets)
            for item in build.items
            if isinstance(item.specification.water, Appliance)
        }
        hardness = build.venue.hardness
        self.hardness = max(hardness.si, _LEAST_HARDNESS) if hardness is not None else None

    def per_drink(self, taps: Iterable[Node]) -> float:
        """Water [m^3] that some taps take together for a drink."""
        return sum(
            self._items.get(item_id, 0.0) / max(self._inlets.get(item_id, 1), 1)
            for item_id, _ in taps
        )


def _filter(place: PassedPlace, role: Filter, cases: Cases, uses: Uses) -> FilterState:
    flow, case, state = _most(place, cases)
    loss_pa = _across(place, state)[0] if state is not None else 0.0
    life, missing = _life(role, uses.hardness)
    per_drink = uses.per_drink(place.taps)
    left = drinks = days = None
    if life is not None:
        left = life * (1.0 - min(max(role.used, 0.0), 1.0))
        if per_drink > 0.0:
            drinks = left / per_drink
            days = drinks / uses.drinks_per_day if uses.drinks_per_day > 0.0 else None
    return FilterState(
        item=place.item.id,
        rated_flow=role.rated_flow.si,
        flow=flow,
        case=case,
        loss_pa=loss_pa,
        life=life,
        left=left,
        hardness_missing=missing,
        per_drink=per_drink,
        drinks_left=drinks,
        days_left=days,
        taps=place.taps,
    )


def _life(role: Filter, hardness: float | None) -> tuple[float | None, bool]:
    """What a cartridge treats in its life, and whether hardness is missing to say it well.

    A cartridge that takes hardness out takes out so much in all: what it treats and the hardness
    of the water make a constant product.
    """
    if role.capacity is None:
        return None, False
    stated = max(role.capacity.si, 0.0)
    if not role.softens:
        return stated, False
    if role.capacity_hardness is None or hardness is None:
        return stated, True
    return stated * max(role.capacity_hardness.si, 0.0) / hardness, False


# --- regulators --------------------------------------------------------------------------------


def _regulator(place: PassedPlace, role: Regulator, cases: Cases) -> RegulatorState:
    flow, case, state = _most(place, cases)
    static = _at_rest(cases)
    shut_pa = static.pressures_pa.get(place.outlet, 0.0) if static is not None else 0.0
    return RegulatorState(
        item=place.item.id,
        set_pa=role.set_point.si,
        rated_flow=role.rated_flow.si if role.rated_flow is not None else None,
        flow=flow,
        case=case,
        outlet_pa=_across(place, state)[1] if state is not None else shut_pa,
        shut_pa=shut_pa,
        holds=state is not None and state.modes.get(place.key) == "holding",
    )


def _most(place: PassedPlace, cases: Cases) -> tuple[float, str, State | None]:
    """The greatest flow through something, the case it happens in, and its solution."""
    most, where, found = 0.0, "", None
    for name, solved in cases:
        for state in (solved.high, solved.low):
            flow = state.flows.get(place.key, 0.0)
            if state.converged and flow > max(most * _MORE, _TRICKLE):
                most, where, found = flow, name, state
    return most, where, found


def _across(place: PassedPlace, state: State) -> tuple[float, float]:
    """What is lost from inlet to outlet, and what is left there [Pa]."""
    before = state.pressures_pa.get(place.inlet, 0.0)
    after = state.pressures_pa.get(place.outlet, 0.0)
    return before - after, after
