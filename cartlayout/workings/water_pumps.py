"""Workings of a demand pump: what it adds, its vessel, its starts, its suction side."""

import math
from collections.abc import Callable, Iterator

from ..analysis import Analysis
from ..build import Accumulator, Item, Pump
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from ..water.accumulator import useful_volume_m3
from ..water.duty import Duty
from ..water.hydraulics import PumpCurve
from ..water.properties import Fluid
from ..water.pump_results import DutyPoint, PumpDuty
from .model import Held, Number, Step, Symbol, Working
from .water_parts import cited, origin, place_of, step, symbol, typical_phrase

_S_PER_HOUR = 3600.0
_CURVE = ("curve", "open flow", "electrical, flow", "flow", "pump")
_SWITCH = ("cut-in", "cut-out")
_CHARGE = ("pre-charge", "volume")
_STARTS = "starts an hour"


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Everything of each pump that has a working."""
    for duty in analysis.water.duties:
        if duty.vessels:
            yield Number("pump", duty.item, "useful volume")
        if duty.useful_volume + duty.stretch > 0.0:
            yield Number("pump", duty.item, "service starts")
        if duty.most_starts_per_hour > 0.0:
            yield Number("pump", duty.item, "most starts")
        if math.isfinite(duty.shortest_run_s):
            yield Number("pump", duty.item, "shortest run")
        for point in duty.points:
            if not point.cycles:
                yield Number("pump", duty.item, "added", point.case)
            elif math.isfinite(point.on_s) and math.isfinite(point.off_s):
                yield Number("pump", duty.item, "starts", point.case)


def working(analysis: Analysis, number: Number) -> Working | None:
    """One number of a pump; None where it has no such number."""
    duty = next((one for one in analysis.water.duties if one.item == number.of), None)
    item = analysis.build.item(number.of)
    role = item.specification.water if item is not None else None
    if duty is None or item is None or not isinstance(role, Pump):
        return None
    island = next((one for one in analysis.water.islands if one.holds(item.id)), None)
    asked = island.duty(item.id) if island is not None else None
    if asked is None:
        return None
    make = _MAKERS.get(number.what)
    return make(_Of(analysis, item, role, duty, asked), number) if make is not None else None


class _Of:
    """A pump with all that is known of it."""

    def __init__(
        self, analysis: Analysis, item: Item, role: Pump, told: PumpDuty, asked: Duty
    ) -> None:
        self.analysis, self.item, self.role, self.told, self.asked = (
            analysis,
            item,
            role,
            told,
            asked,
        )

    @property
    def fluid(self) -> Fluid:
        return self.asked.model.fluid

    def switch(self) -> tuple[Symbol, Symbol]:
        """Cut-in and cut-out."""
        basis, typical = origin(self.item, *_SWITCH)
        return (
            symbol("p_in", "cut-in", self.told.cut_in_pa, "pressure", basis, typical=typical),
            symbol("p_out", "cut-out", self.told.cut_out_pa, "pressure", basis, typical=typical),
        )

    def assumed(self) -> tuple[Phrase, ...]:
        """What is typical of it and of its vessels."""
        found = [
            *typical_phrase("table", self.item, *_CURVE),
            *typical_phrase("switch", self.item, *_SWITCH),
        ]
        for vessel_id in self.told.vessels:
            found += typical_phrase("pre-charge", self.analysis.build.item(vessel_id), *_CHARGE)
        return tuple(found)


# --- what it adds -----------------------------------------------------------------------------


def _added(of: _Of, number: Number) -> Working | None:
    place = place_of(of.analysis, of.item.id, number.case)
    curve = of.asked.curve
    point = of.told.point(number.case)
    if place is None or curve is None or point is None or point.cycles:
        return None
    flow = place.low.flows.get(of.item.id, 0.0)
    steps = (_on_curve(of, curve, flow),)
    return Working(
        number,
        Phrase.of("What {pump} adds, {case}", pump=of.item.name, case=number.case),
        steps[-1].result,
        steps,
        assumptions=typical_phrase("table", of.item, *_CURVE),
        notes=tuple(_curve_notes(of.role)),
    )


def _on_curve(of: _Of, curve: PumpCurve, flow: float) -> Step:
    (q_1, p_1), (q_2, p_2) = curve.line_at(flow)
    basis, typical = origin(of.item, *_CURVE)
    return step(
        "on the straight line between two rows of its table",
        "H",
        "p_1 - (p_1 - p_2)*(Q - Q_1)/(Q_2 - Q_1)",
        (
            symbol("p_1", "pressure of one row", p_1, "pressure", basis, typical=typical),
            symbol("Q_1", "flow of that row", q_1, "flow", basis, typical=typical),
            symbol("p_2", "pressure of the next row", p_2, "pressure", basis, typical=typical),
            symbol("Q_2", "flow of that row", q_2, "flow", basis, typical=typical),
            symbol("Q", "flow through it, as the line is solved", flow, "flow"),
        ),
        curve.pressure_pa(flow),
        "pressure",
    )


def _curve_notes(role: Pump) -> Iterator[Phrase]:
    if role.bypass is not None:
        yield Phrase.of(
            "Its bypass lets water back from {opens} on, all of it at {full}: rows above the first "
            "are its table less what goes back.",
            opens=Value(role.bypass.opens.si, "pressure"),
            full=Value(role.bypass.full.si, "pressure"),
        )
    if len({row.pressure.si for row in role.curve}) < 2:
        yield Phrase.of(
            "Its label states one flow only; the other end of the line is where its switch stops "
            "it."
        )


# --- its vessel -------------------------------------------------------------------------------


def _useful(of: _Of, number: Number) -> Working | None:
    steps = tuple(_vessel_steps(of))
    if not steps:
        return None
    return Working(
        number,
        Phrase.of("What the vessel of {pump} gives between its switch points", pump=of.item.name),
        steps[-1].result,
        steps,
        assumptions=of.assumed(),
        notes=(
            Phrase.of(
                "Boyle's law with absolute pressures, slow enough for the air to stay as warm as "
                "it is. Below its pre-charge a vessel holds no water."
            ),
        ),
    )


def _vessel_steps(of: _Of) -> Iterator[Step]:
    """One for each vessel, and their sum where there is more than one."""
    each: list[Symbol] = []
    vessels = [
        (item, item.specification.water)
        for one in of.told.vessels
        if (item := of.analysis.build.item(one)) is not None
    ]
    for at, (item, role) in enumerate(vessels, 1):
        if not isinstance(role, Accumulator):
            continue
        name = "V_u" if len(vessels) == 1 else f"V_{at}"
        made = _vessel_step(of, item, role, name)
        each.append(symbol(name, f"of {item.name}", made.result.si, "small volume"))
        yield made
    if len(each) > 1:
        total = of.told.useful_volume
        yield step(
            "all of them",
            "V_u",
            " + ".join(x.name for x in each),
            tuple(each),
            total,
            "small volume",
        )


def _vessel_step(of: _Of, item: Item, role: Accumulator, name: str) -> Step:
    basis, typical = origin(item, *_CHARGE)
    low, high = of.switch()
    charge_pa, air_pa = role.pre_charge.si, of.fluid.air_pa
    useful = useful_volume_m3(role.volume.si, charge_pa, low.value.si, high.value.si, air_pa)
    charge = symbol("p_c", "pre-charge", charge_pa, "pressure", basis, typical=typical)
    if useful <= 0.0:
        says = f"{item.name} gives nothing: its charge is not below the cut-out"
        return Step(says, name, "", (charge, high), Value(useful, "small volume"))
    return step(
        f"{item.name}, after Boyle",
        name,
        "V*((p_c + p_air)/(max(p_in, p_c) + p_air) - (p_c + p_air)/(p_out + p_air))",
        (
            symbol("V", "whole vessel", role.volume.si, "volume", *origin(item, "volume")[:1]),
            charge,
            low,
            high,
            symbol("p_air", "air outside, absolute", air_pa, "pressure", "ISO 2533"),
        ),
        useful,
        "small volume",
    )


# --- how often it starts ------------------------------------------------------------------------


def _held_back(of: _Of) -> Symbol:
    """What vessel and tubes give between the two switch points."""
    total = of.told.useful_volume + of.told.stretch
    return symbol("V_s", "given between cut-out and cut-in", total, "small volume")


def _given_steps(of: _Of) -> Iterator[Step]:
    useful = symbol(
        "V_u",
        "of its vessels",
        of.told.useful_volume,
        "small volume",
        number=Number("pump", of.item.id, "useful volume") if of.told.vessels else None,
    )
    stretch = symbol(
        "V_t", "the tubes stretch by, with the water's own give", of.told.stretch, "small volume"
    )
    yield step(
        "water between cut-out and cut-in",
        "V_s",
        "V_u + V_t",
        (useful, stretch),
        of.told.useful_volume + of.told.stretch,
        "small volume",
    )


def _service(of: _Of, number: Number) -> Working | None:
    service = of.analysis.build.service
    drink, rinse = max(service.water_per_drink.si, 0.0), max(service.rinse_per_drink.si, 0.0)
    hourly = max(service.drinks_per_hour, 0.0) * (drink + rinse)
    given = of.told.useful_volume + of.told.stretch
    if given <= 0.0:
        return None
    steps = (
        *_given_steps(of),
        step(
            "water by the service plan",
            "Q_h",
            "n*(V_d + V_r)",
            (
                symbol("n", "drinks", service.drinks_per_hour / _S_PER_HOUR, _STARTS, "plan"),
                symbol("V_d", "water for a drink", drink, "small volume", "service plan"),
                symbol("V_r", "rinsing after it", rinse, "small volume", "service plan"),
            ),
            hourly / _S_PER_HOUR,
            "flow",
        ),
        step(
            "starts, at most",
            "N",
            "Q_h/V_s",
            (symbol("Q_h", "by the plan", hourly / _S_PER_HOUR, "flow"), _held_back(of)),
            of.told.service_starts_per_hour / _S_PER_HOUR,
            _STARTS,
        ),
    )
    return Working(
        number,
        Phrase.of("Starts of {pump} in service", pump=of.item.name),
        steps[-1].result,
        steps,
        _allowed(of, of.told.service_starts_per_hour),
        of.assumed(),
    )


def _allowed(of: _Of, starts: float) -> tuple[Held, ...]:
    most = of.role.starts_per_hour
    if most is None:
        return ()
    return (
        Held(
            Value(most / _S_PER_HOUR, _STARTS),
            "most starts its maker allows",
            cited(of.item, "starts", *_CURVE),
            starts <= most,
        ),
    )


_INTEGRAL_NOTE = (
    "Between the two pressures the pump gives less and the taps draw more as the pressure rises: "
    "the time is the sum of water stored over water gained, by Simpson's rule in eight parts "
    "(in each part between two vessels' charges). With an even pump and an even draw it would be "
    "V / (Q - q) on and V / q off."
)


def _starts(of: _Of, number: Number) -> Working | None:
    point = of.told.point(number.case)
    if point is None or not point.cycles or point.starts_per_hour <= 0.0:
        return None
    steps = (*_given_steps(of), *_cycle_steps(of, point))
    return Working(
        number,
        Phrase.of("Starts of {pump}, {case}", pump=of.item.name, case=number.case),
        steps[-1].result,
        steps,
        _allowed(of, point.starts_per_hour),
        of.assumed(),
        (Phrase.of("{text}", text=_INTEGRAL_NOTE),),
    )


def _cycle_steps(of: _Of, point: DutyPoint) -> Iterator[Step]:
    on, off = Value(point.on_s, "seconds"), Value(point.off_s, "seconds")
    gives = tuple(
        symbol(f"Q_{end}", f"what it gives at {name}", flow, "flow")
        for end, name, (flow, _) in zip(
            ("in", "out"), ("cut-in", "cut-out"), point.ends, strict=True
        )
    )
    drawn = symbol("q", "what is drawn, at the top of its range", point.demand, "flow")
    yield Step("on, until it reaches cut-out", "t_on", "", (_held_back(of), *gives, drawn), on)
    yield Step("off, until the line is down to cut-in", "t_off", "", (_held_back(of), drawn), off)
    yield step(
        "starts",
        "N",
        "1/(t_on + t_off)",
        (
            symbol("t_on", "on", point.on_s, "seconds"),
            symbol("t_off", "off", point.off_s, "seconds"),
        ),
        point.starts_per_hour / _S_PER_HOUR,
        _STARTS,
    )


def _most(of: _Of, number: Number) -> Working | None:
    most = of.told.most_starts_per_hour
    if most <= 0.0:
        return None
    read = Step(
        "the most of six draws, from three to eight tenths of what it gives at cut-out",
        "N",
        "",
        (_held_back(of),),
        Value(most / _S_PER_HOUR, _STARTS),
    )
    return Working(
        number,
        Phrase.of("Starts of {pump} at the worst draw", pump=of.item.name),
        read.result,
        (*_given_steps(of), read),
        _allowed(of, most),
        of.assumed(),
        (
            Phrase.of(
                "An even pump starts most often when half of what it gives is drawn: then "
                "N = Q / (4 V)."
            ),
            Phrase.of("{text}", text=_INTEGRAL_NOTE),
        ),
    )


def _shortest(of: _Of, number: Number) -> Working | None:
    shortest = of.told.shortest_run_s
    if not math.isfinite(shortest):
        return None
    read = Step(
        "to fill vessel and tubes from cut-in to cut-out while nobody draws",
        "t",
        "",
        (_held_back(of),),
        Value(shortest, "seconds"),
    )
    limit = water_practice().shortest_run_s
    held = Held(
        Value(limit.value, "seconds"), limit.rule, limit.citation, shortest >= limit.value, True
    )
    return Working(
        number,
        Phrase.of("The shortest run of {pump}", pump=of.item.name),
        read.result,
        (*_given_steps(of), read),
        (held,),
        of.assumed(),
        (Phrase.of("{text}", text=_INTEGRAL_NOTE),),
    )


_MAKERS: dict[str, Callable[[_Of, Number], Working | None]] = {
    "added": _added,
    "useful volume": _useful,
    "service starts": _service,
    "starts": _starts,
    "most starts": _most,
    "shortest run": _shortest,
}
