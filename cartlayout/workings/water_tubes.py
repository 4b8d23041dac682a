"""Workings of a supply tube: how fast its water runs, what that takes, how high it stands shut."""

import math
from collections.abc import Iterator

from ..analysis import Analysis
from ..build import Heater, PipeFitting, Port, TubeRun
from ..limits import end_fitting, material
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from ..water.hydraulics import LossParts, TubeLoss
from ..water.parts import end_loss
from .model import Held, Number, Step, Symbol, Working
from .water_parts import (
    Place,
    cases_of,
    place_of,
    step,
    symbol,
    temperature_k,
)
from .water_rest import rest_working

_COLEBROOK = "(-2*log10(epsilon/(3.7*D) + 2.51/(Re*sqrt(f))))**-2"
_REGIMES = {
    "laminar": "friction factor, laminar (Re up to 2,000; Hagen and Poiseuille)",
    "turbulent": "friction factor, turbulent (Re from 4,000; Colebrook 1939, f stands on both "
    "sides: put it in and it comes out)",
}

__all__ = ["flow_number", "loss_number", "loss_steps", "numbers", "working"]


def loss_number(run_id: str, case: str) -> Number:
    """What a tube takes in a case."""
    return Number("tube", run_id, "loss", case)


def flow_number(run_id: str, case: str) -> Number:
    """How fast its water runs in a case."""
    return Number("tube", run_id, "velocity", case)


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Loss and velocity of each tube in each case in which its water runs; what it sees shut."""
    fed = {one.run for one in analysis.water.statics}
    for run in analysis.build.tubes:
        if run.id not in fed:
            continue
        for case in cases_of(analysis, run.a.item):
            state = analysis.water.cases[case].runs.get(run.id)
            if state is not None and state.flow:
                yield flow_number(run.id, case)
                yield loss_number(run.id, case)
        yield Number("tube", run.id, "static")
        if run.id in analysis.water.temperatures_k:
            yield Number("tube", run.id, "warmth")


def working(analysis: Analysis, number: Number) -> Working | None:
    """Loss or velocity in a case, or the highest with everything shut."""
    run = analysis.build.run(number.of)
    if not isinstance(run, TubeRun):
        return None
    if number.what == "static":
        return _static(analysis, run, number)
    if number.what == "warmth":
        return _warmth(analysis, run, number)
    place = place_of(analysis, run.a.item, number.case)
    if place is None or run.id not in place.island.model.sketch.lines:
        return None
    flow = place.low.flows.get(run.id, 0.0)
    if not flow or not place.low.converged:
        return None
    if number.what == "velocity":
        return _velocity(place, run, flow, number)
    return _loss(place, run, flow, number) if number.what == "loss" else None


def _warmth(analysis: Analysis, run: TubeRun, number: Number) -> Working | None:
    """How warm its water is: as the heater before it makes it."""
    warm_k = analysis.water.temperatures_k.get(run.id)
    if warm_k is None:
        return None
    says = "as the heater before it makes it, and mixed on the way where cold water comes in"
    read = step(says, "T", "", (), warm_k, "temperature")
    made_of = material(run.tube.material)
    rating = Phrase.of("{material} is made for cold water only.", material=run.tube.material)
    heaters = tuple(
        Phrase.of(
            "{heater} is set to {outlet}.",
            heater=item.name,
            outlet=Value(item.specification.water.outlet.si, "temperature"),
        )
        for item in analysis.build.items
        if isinstance(item.specification.water, Heater)
    )
    return Working(
        number,
        Phrase.of("How warm the water in {tube} is", tube=tube_name(analysis, run)),
        read.result,
        (read,),
        notes=(*heaters, *((rating,) if made_of.cold_only else ())),
    )


def _title(place: Place, run: TubeRun, what: str) -> Phrase:
    return Phrase.of(
        "{what} of {tube}, {case}",
        what=what,
        tube=tube_name(place.analysis, run),
        case=place.case,
    )


def tube_name(analysis: Analysis, run: TubeRun) -> str:
    """Its sort, and where it goes."""
    ends = [analysis.build.item(end.item) for end in (run.a, run.b) if end is not None]
    names = " to ".join(item.name for item in ends if item is not None)
    return f"{run.tube.name} from {names}"


def _flow_symbol(flow: float) -> Symbol:
    return symbol("Q", "flow in it, as the line is solved", abs(flow), "flow")


def _velocity_steps(bore_m: float, flow: float) -> tuple[Step, Step]:
    area_m2 = 0.25 * math.pi * bore_m * bore_m
    area = symbol("A", "passage", area_m2, "bore area")
    return (
        step(
            "passage of the bore",
            "A",
            "pi*D**2/4",
            (symbol("D", "bore", bore_m, "bore", "of the tube"),),
            area_m2,
            "bore area",
        ),
        step(
            "velocity",
            "v",
            "Q/A",
            (_flow_symbol(flow), area),
            abs(flow) / area_m2,
            "velocity",
        ),
    )


def _velocity(place: Place, run: TubeRun, flow: float, number: Number) -> Working:
    steps = _velocity_steps(run.tube.bore.si, flow)
    limit = water_practice().greatest_velocity_m_s
    speed = steps[-1].result
    value = Value(limit.value, "velocity")
    held = Held(value, limit.rule, limit.citation, speed.si <= limit.value)
    return Working(
        number,
        _title(place, run, "Velocity"),
        speed,
        steps,
        (held,),
    )


def _loss(place: Place, run: TubeRun, flow: float, number: Number) -> Working:
    parts = place.island.model.sketch.lines[run.id][2].parts(abs(flow))
    steps = tuple(loss_steps(place, run, parts))
    return Working(
        number,
        _title(place, run, "Loss"),
        steps[-1].result,
        steps,
        assumptions=tuple(_assumed(place.analysis, run)),
        notes=tuple(_notes(place, run, parts)),
    )


def _assumed(analysis: Analysis, run: TubeRun) -> Iterator[Phrase]:
    if run.length is None:
        yield Phrase.of(
            "Its length is that of its way on the plan, with {spare} to spare; a tube that is cut "
            "otherwise takes otherwise.",
            spare=Value(run.spare.si, "length"),
        )
    if not run.fittings:
        yield Phrase.of("No elbows or couplings are listed along it.")


def _notes(place: Place, run: TubeRun, parts: LossParts) -> Iterator[Phrase]:
    if any(one.regime == "between" for one in parts.tubes):
        yield Phrase.of(
            "Between Re 2,000 and 4,000 the flow is undecided and no formula is right: the loss is "
            "laid through both ends with both slopes by a cubic."
        )
    if place.island.model.sketch.lines[run.id][2].least == 0.0:
        yield Phrase.of("A foot valve at its end counts as so many bores of tube more.")


def loss_steps(place: Place, run: TubeRun, parts: LossParts) -> Iterator[Step]:
    """From the flow to what the tube and its fittings take [Pa]; the last is the whole."""
    bore_m = run.tube.bore.si
    model = place.island.model
    warm_k = model.temperatures_k.get(run.id, temperature_k(place.analysis))
    yield from _velocity_steps(bore_m, parts.flow)
    tube = parts.tubes[0]
    yield from _friction(tube, warm_k)
    together = [symbol("p_f", "friction", tube.loss_pa, "pressure")]
    if parts.square:
        yield from _fittings(place, run, parts)
        lost_pa = parts.square * parts.flow**2
        together.append(symbol("p_k", "fittings", lost_pa, "pressure"))
    yield step(
        "loss of the whole tube",
        "Delta_p",
        " + ".join(one.name for one in together),
        tuple(together),
        parts.loss_pa,
        "pressure",
    )


def _friction(tube: TubeLoss, warm_k: float) -> Iterator[Step]:
    tubing = tube.tubing
    rho = _rho(tube, warm_k)
    speed = tube.flow / (0.25 * math.pi * tubing.bore_m**2)
    v = symbol("v", "velocity", speed, "velocity")
    bore = symbol("D", "bore", tubing.bore_m, "bore")
    mu = _mu(tube, warm_k)
    reynolds = symbol("Re", "Reynolds number", tube.reynolds, "count")
    yield step("Reynolds number", "Re", "rho*v*D/mu", (rho, v, bore, mu), tube.reynolds, "count")
    if tube.regime == "between":
        yield from _between(tube, rho, mu, bore)
        return
    factor = symbol("f", "friction factor", tube.factor, "factor")
    if tube.regime == "laminar":
        yield step(_REGIMES["laminar"], "f", "64/Re", (reynolds,), tube.factor, "factor")
    else:
        rough = symbol(
            "epsilon", "roughness of its wall", tubing.roughness_m, "roughness", "of the tube"
        )
        yield step(
            _REGIMES["turbulent"],
            "f",
            _COLEBROOK,
            (rough, bore, reynolds, factor),
            tube.factor,
            "factor",
        )
    length = symbol("L", "length", tubing.length_m, "distance")
    yield step(
        "friction (Darcy and Weisbach)",
        "p_f",
        "f*L/D*rho*v**2/2",
        (factor, length, bore, rho, v),
        tube.loss_pa,
        "pressure",
    )


def _rho(tube: TubeLoss, warm_k: float) -> Symbol:
    return symbol(
        "rho",
        "density of water",
        tube.tubing.density_kg_m3,
        "density",
        f"Kell (1975), at {warm_k - 273.15:.0f} °C",
    )


def _mu(tube: TubeLoss, warm_k: float) -> Symbol:
    return symbol(
        "mu",
        "viscosity of water",
        tube.tubing.viscosity_pa_s,
        "viscosity",
        f"IAPWS SR6-08, at {warm_k - 273.15:.0f} °C",
    )


def _between(tube: TubeLoss, rho: Symbol, mu: Symbol, bore: Symbol) -> Iterator[Step]:
    """The cubic through both ends of the undecided flow (Hermite's form)."""
    ends, tubing = tube.tubing.between, tube.tubing
    length = symbol("L", "length", tubing.length_m, "distance")
    flows = {}
    for name, limit, flow in (
        ("Q_1", "2000", ends.laminar_flow),
        ("Q_2", "4000", ends.turbulent_flow),
    ):
        says = f"flow at Re {int(limit):,}"
        yield step(says, name, f"{limit}*pi*D*mu/(4*rho)", (bore, mu, rho), flow, "flow")
        flows[name] = symbol(name, says, flow, "flow")
    q_1, q_2 = flows["Q_1"], flows["Q_2"]
    first = symbol("m_1", "how it grows there", ends.laminar_slope, "slope of loss")
    last = symbol("m_2", "how it grows there", ends.turbulent_slope, "slope of loss")
    yield step(
        "laminar up to there: it grows evenly (Hagen and Poiseuille)",
        "m_1",
        "128*mu*L/(pi*D**4)",
        (mu, length, bore),
        ends.laminar_slope,
        "slope of loss",
    )
    yield step("so at Re 2,000", "p_1", "m_1*Q_1", (first, q_1), ends.laminar_pa, "pressure")
    factor = symbol("f_2", "Colebrook's, at Re 4,000", ends.factor, "factor")
    yield step(
        "turbulent from Re 4,000 on",
        "p_2",
        "f_2*8*rho*L*Q_2**2/(pi**2*D**5)",
        (factor, rho, length, q_2, bore),
        ends.turbulent_pa,
        "pressure",
    )
    runs = _flow_symbol(tube.flow)
    share = (tube.flow - ends.laminar_flow) / (ends.turbulent_flow - ends.laminar_flow)
    yield step("part of the way", "s", "(Q - Q_1)/(Q_2 - Q_1)", (runs, q_1, q_2), share, "factor")
    yield step(
        "friction, by the cubic between them",
        "p_f",
        "(2*s**3 - 3*s**2 + 1)*p_1 + (3*s**2 - 2*s**3)*p_2"
        " + (s**3 - 2*s**2 + s)*(Q_2 - Q_1)*m_1 + (s**3 - s**2)*(Q_2 - Q_1)*m_2",
        (
            symbol("s", "part of the way", share, "factor"),
            symbol("p_1", "loss at Re 2,000", ends.laminar_pa, "pressure"),
            symbol("p_2", "loss at Re 4,000", ends.turbulent_pa, "pressure"),
            q_1,
            q_2,
            first,
            last,
        ),
        tube.loss_pa,
        "pressure",
    )


def _fittings(place: Place, run: TubeRun, parts: LossParts) -> Iterator[Step]:
    """Loss coefficients of what is along the tube and at its ends, and what they take."""
    bore_m, tubing = run.tube.bore.si, parts.tubes[0].tubing
    heads = parts.square * math.pi**2 * bore_m**4 / (8.0 * tubing.density_kg_m3)
    each = tuple(_coefficients(place, run))
    expression = " + ".join(one.name for one in each)
    yield step("fittings and ends, velocity heads", "K", expression, each, heads, "factor")
    speed = parts.flow / (0.25 * math.pi * bore_m**2)
    yield step(
        "what they take",
        "p_k",
        "K*rho*v**2/2",
        (
            symbol("K", "loss coefficient of all fittings", heads, "factor"),
            symbol("rho", "density of water", tubing.density_kg_m3, "density"),
            symbol("v", "velocity", speed, "velocity"),
        ),
        parts.square * parts.flow**2,
        "pressure",
    )


def _coefficients(place: Place, run: TubeRun) -> Iterator[Symbol]:
    at = 0
    for fitting in run.fittings:
        at += 1
        yield symbol(
            f"K_{at}",
            _counted(fitting),
            fitting.loss_coefficient * fitting.count,
            "factor",
            "table of fittings",
        )
    for end in (run.a, run.b):
        port = _port(place, end.item, end.port) if end is not None else None
        at += 1
        made = end_fitting(run.tube.name, port.connector) if port is not None else None
        meaning = made.name if made is not None else "end of the tube, taken for a threaded union"
        source = made.source if made is not None else "common practice, no source"
        yield symbol(f"K_{at}", meaning, end_loss(run, port), "factor", source)


def _counted(fitting: PipeFitting) -> str:
    return fitting.name if fitting.count == 1 else f"{fitting.count} of {fitting.name}"


def _port(place: Place, item_id: str, port_id: str) -> Port | None:
    item = place.item(item_id)
    return item.specification.port(port_id) if item is not None else None


def _static(analysis: Analysis, run: TubeRun, number: Number) -> Working | None:
    static = next((one for one in analysis.water.statics if one.run == run.id), None)
    if static is None or run.b is None:
        return None
    end = run.a if static.a_pa >= static.b_pa else run.b
    title = Phrase.of("The highest in {tube}, everything shut", tube=tube_name(analysis, run))
    held: tuple[Held, ...] = ()
    if static.rating_pa is not None:
        held = (
            Held(
                Value(static.rating_pa, "pressure"),
                "working pressure of the tube at the temperature of its water",
                "of the tube",
                static.highest_pa <= static.rating_pa,
            ),
        )
    return rest_working(analysis, (end.item, end.port), number, title, held)
