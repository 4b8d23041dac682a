"""Workings of heaters, cartridges and regulators: what passes them and what that does to them."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..build import Filter, Heater, Item, Load, Regulator
from ..units import Phrase, Value
from ..water.element_results import FilterState, HeaterPoint, HeaterState, RegulatorState
from ..water.elements import HEAT_J_KG_K
from .model import Held, Number, Step, Working
from .water_parts import (
    cited,
    density,
    origin,
    place_of,
    step,
    symbol,
    temperature_k,
    typical_phrase,
)


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Warmth behind heaters, life of cartridges, pressure behind regulators."""
    water = analysis.water
    for heater in water.heaters:
        for point in heater.points:
            if point.reaches_k is not None:
                yield Number("heater", heater.item, "reaches", point.case)
    for one in water.filters:
        if one.flow > 0.0 and one.rated_flow > 0.0:
            yield Number("filter", one.item, "flow", one.case)
        if one.life is not None:
            yield Number("filter", one.item, "left")
            if one.drinks_left is not None:
                yield Number("filter", one.item, "drinks")
    for regulator in water.regulators:
        yield Number("regulator", regulator.item, "shut")
        if regulator.holds:
            yield Number("regulator", regulator.item, "outlet")


def working(analysis: Analysis, number: Number) -> Working | None:
    """One number of a heater, a cartridge or a regulator."""
    item = analysis.build.item(number.of)
    if item is None:
        return None
    water = analysis.water
    if number.subject == "heater":
        heater = next((one for one in water.heaters if one.item == item.id), None)
        return _reaches(analysis, item, heater, number) if heater is not None else None
    if number.subject == "filter":
        cartridge = next((one for one in water.filters if one.item == item.id), None)
        if cartridge is not None and number.what == "flow":
            return _passes(item, cartridge, number)
        return _life(analysis, item, cartridge, number) if cartridge is not None else None
    regulator = next((one for one in water.regulators if one.item == item.id), None)
    return _regulated(analysis, item, regulator, number) if regulator is not None else None


# --- heaters ----------------------------------------------------------------------------------


def _reaches(analysis: Analysis, item: Item, heater: HeaterState, number: Number) -> Working | None:
    point = next((one for one in heater.points if one.case == number.case), None)
    role, load = item.specification.water, item.specification.electrical
    place = place_of(analysis, item.id, number.case)
    if point is None or point.reaches_k is None or place is None or not isinstance(role, Heater):
        return None
    if not isinstance(load, Load) or load.power is None:
        return None
    comes_k = _comes_k(analysis, item)
    steps = tuple(_warming(analysis, item, point, comes_k, load.power.si, role.outlet.si))
    return Working(
        number,
        Phrase.of("How warm {heater} makes its water, {case}", heater=item.name, case=number.case),
        steps[-1].result,
        steps,
        (
            Held(
                Value(role.outlet.si, "temperature"),
                "what it is set to",
                cited(item, "outlet temperature", "temperature"),
                point.reaches_k >= role.outlet.si,
                is_least=True,
            ),
        ),
        typical_phrase("outlet temperature", item, "outlet temperature"),
        (Phrase.of("All its watts go into the water that runs through it."),),
    )


def _comes_k(analysis: Analysis, item: Item) -> float:
    """How warm water comes to a heater."""
    for island in analysis.water.islands:
        for place in island.model.passed:
            if place.item.id == item.id:
                return island.model.warm_nodes_k.get(place.inlet, island.model.temperature_k)
    return temperature_k(analysis)


def _warming(
    analysis: Analysis,
    item: Item,
    point: HeaterPoint,
    comes_k: float,
    power_w: float,
    outlet_k: float,
) -> Iterator[Step]:
    place = place_of(analysis, item.id, point.case)
    assert place is not None
    assert point.reaches_k is not None
    rho = place.fluid.density_kg_m3
    lift_k = power_w / (rho * HEAT_J_KG_K * point.flow)
    yield step(
        "warmed by",
        "Delta_T",
        "P/(rho*c*Q)",
        (
            symbol("P", "watts of the heater", power_w, "power", origin(item, "electrical")[0]),
            density(place.fluid, temperature_k(analysis)),
            symbol("c", "heat of water", HEAT_J_KG_K, "specific heat", "IAPWS-95, 15 to 60 °C"),
            symbol("Q", "flow through it", point.flow, "flow"),
        ),
        lift_k,
        "warming",
    )
    yield step(
        "and no warmer than it is set",
        "T",
        "min(max(T_set, T_0), T_0 + Delta_T)",
        (
            symbol("T_set", "set to", outlet_k, "temperature"),
            symbol("T_0", "as the water comes to it", comes_k, "temperature"),
            symbol("Delta_T", "warmed by", lift_k, "warming"),
        ),
        point.reaches_k,
        "temperature",
    )


# --- cartridges -------------------------------------------------------------------------------


def _passes(item: Item, told: FilterState, number: Number) -> Working | None:
    """The most that passes it; only the case in which that is has a working."""
    if number.case != told.case or told.flow <= 0.0:
        return None
    read = step("passes it, as the line is solved in this case", "Q", "", (), told.flow, "flow")
    return Working(
        number,
        Phrase.of("Most that passes {filter}, {case}", filter=item.name, case=told.case),
        read.result,
        (read,),
        (
            Held(
                Value(told.rated_flow, "flow"),
                "the flow it is rated for",
                cited(item, "rated flow", "flow", "loss"),
                told.flow <= told.rated_flow * 1.001,
            ),
        ),
        typical_phrase("rated flow", item, "rated flow", "flow", "loss"),
    )


def _life(analysis: Analysis, item: Item, told: FilterState, number: Number) -> Working | None:
    role = item.specification.water
    if not isinstance(role, Filter) or told.life is None or told.left is None:
        return None
    steps = [*_treats(analysis, item, role, told)]
    assumptions = typical_phrase("life", item, "life", "capacity")
    title = Phrase.of("What {filter} still treats", filter=item.name)
    if number.what == "drinks":
        if told.drinks_left is None:
            return None
        title = Phrase.of("Drinks until {filter} is used up", filter=item.name)
        steps.append(
            step(
                "drinks",
                "n",
                "V_left/V_d",
                (
                    symbol("V_left", "it still treats", told.left, "volume"),
                    symbol(
                        "V_d", "that pass it for a drink", told.per_drink, "small volume", "plan"
                    ),
                ),
                told.drinks_left,
                "count",
            )
        )
    elif number.what != "left":
        return None
    missing = (
        Phrase.of(
            "Its life goes by hardness, and either its own or the venue's is not known: the "
            "stated volume is taken."
        ),
    )
    return Working(
        number,
        title,
        steps[-1].result,
        tuple(steps),
        assumptions=(*assumptions, *(missing if told.hardness_missing else ())),
    )


def _treats(analysis: Analysis, item: Item, role: Filter, told: FilterState) -> Iterator[Step]:
    if told.life is None or told.left is None or role.capacity is None:
        return
    basis, typical = origin(item, "life", "capacity")
    stated = max(role.capacity.si, 0.0)
    hardness = analysis.build.venue.hardness
    if role.softens and not told.hardness_missing and role.capacity_hardness and hardness:
        yield step(
            "it takes out so much hardness in all",
            "V",
            "V_0*c_0/c",
            (
                symbol("V_0", "life that is stated", stated, "volume", basis, typical=typical),
                symbol(
                    "c_0", "at this hardness", max(role.capacity_hardness.si, 0.0), "concentration"
                ),
                symbol(
                    "c", "hardness of the venue's water", max(hardness.si, 1e-3), "concentration"
                ),
            ),
            told.life,
            "volume",
        )
    else:
        yield Step("life that is stated", "V", "", (), Value(told.life, "volume"))
    yield step(
        "what is left of it",
        "V_left",
        "V*(1 - u)",
        (
            symbol("V", "life", told.life, "volume", basis, typical=typical),
            symbol("u", "share that is used up", min(max(role.used, 0.0), 1.0), "share"),
        ),
        told.left,
        "volume",
    )


# --- regulators -------------------------------------------------------------------------------


def _regulated(
    analysis: Analysis, item: Item, told: RegulatorState, number: Number
) -> Working | None:
    role = item.specification.water
    if not isinstance(role, Regulator):
        return None
    if number.what == "shut":
        return _shut(item, role, told, number)
    if number.what != "outlet" or not told.holds:
        return None
    basis, typical = origin(item, "droop")
    steps: list[Step] = []
    slope = 0.0
    if role.droop is not None and role.droop.flow.si > 0.0:
        slope = max(role.droop.pressure.si, 0.0) / role.droop.flow.si
        steps.append(
            step(
                "droop",
                "R",
                "p_d/Q_d",
                (
                    symbol("p_d", "fall that is stated", role.droop.pressure.si, "pressure", basis),
                    symbol("Q_d", "at this flow", role.droop.flow.si, "flow", basis),
                ),
                slope,
                "slope of loss",
            )
        )
    steps.append(
        step(
            "behind it, at the greatest flow of any case",
            "p",
            "p_set - R*Q",
            (
                symbol("p_set", "set point", told.set_pa, "pressure", "as set"),
                symbol("R", "droop", slope, "slope of loss", basis, typical=typical),
                symbol("Q", "flow through it", told.flow, "flow"),
            ),
            told.outlet_pa,
            "pressure",
        )
    )
    return Working(
        number,
        Phrase.of("Behind {regulator}, {case}", regulator=item.name, case=told.case),
        steps[-1].result,
        tuple(steps),
        assumptions=typical_phrase("droop", item, "droop"),
    )


def _shut(item: Item, role: Regulator, told: RegulatorState, number: Number) -> Working:
    title = Phrase.of("Behind {regulator} with everything shut", regulator=item.name)
    creep_pa = max(role.creep.si, 0.0)
    basis, typical = origin(item, "creep")
    result = Value(told.shut_pa, "pressure")
    if abs(told.shut_pa - told.set_pa - creep_pa) > 1.0:
        read = Step("its line brings no more than this", "p", "", (), result)
        return Working(number, title, result, (read,))
    made = step(
        "set point and creep",
        "p",
        "p_set + p_creep",
        (
            symbol("p_set", "set point", told.set_pa, "pressure", "as set"),
            symbol("p_creep", "rise with nothing flowing", creep_pa, "pressure", basis),
        ),
        told.shut_pa,
        "pressure",
    )
    assumed = typical_phrase("creep", item, "creep") if typical else ()
    return Working(number, title, result, (made,), assumptions=assumed)
