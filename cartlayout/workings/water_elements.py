"""Workings of what stands in a line: filters, valves, heaters, tees, and what they take."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..build import CheckValve, Filter, Fitting, FlowPoint, Heater, Item, Mains, ShutOff
from ..units import Phrase, Value
from ..water.hydraulics import Characteristic, Key, LossParts
from .model import Number, Step, Symbol, Working
from .water_parts import Place, cases_of, origin, place_of, step, symbol, typical_phrase

_LOSS = "slope of loss"
_SQUARE = "square of loss"


def loss_number(key: Key, case: str) -> Number:
    """What something in the line takes in a case, by its key in the solver."""
    return Number("element", str(key), "loss", case)


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Loss of each thing in the line in each case in which water runs through it."""
    for island in analysis.water.islands:
        model = island.model
        for key, (_, _, characteristic) in model.sketch.lines.items():
            kind, of = model.links[key]
            if kind != "item" or not (characteristic.linear or characteristic.square):
                continue
            for case in cases_of(analysis, of):
                place = place_of(analysis, of, case)
                if place is not None and place.low.converged and place.low.flows.get(key, 0.0):
                    yield loss_number(key, case)


def working(analysis: Analysis, number: Number) -> Working | None:
    """What something in the line takes in a case."""
    found = _find(analysis, number)
    if found is None:
        return None
    place, key, item, characteristic, flow = found
    forward = characteristic if flow > 0.0 else characteristic.reversed()
    parts = forward.parts(abs(flow))
    steps = tuple(_steps(item, key, parts))
    words = ("loss", "droop", "pressure")
    return Working(
        number,
        Phrase.of("Loss of {item}, {case}", item=item.name, case=place.case),
        steps[-1].result,
        steps,
        assumptions=typical_phrase("loss", item, *words),
    )


Found = tuple[Place, Key, Item, Characteristic, float]


def _find(analysis: Analysis, number: Number) -> Found | None:
    for island in analysis.water.islands:
        for key, (kind, of) in island.model.links.items():
            if kind != "item" or str(key) != number.of or key not in island.model.sketch.lines:
                continue
            place, item = place_of(analysis, of, number.case), analysis.build.item(of)
            flow = place.low.flows.get(key, 0.0) if place is not None else 0.0
            if place is None or item is None or not place.low.converged or not flow:
                return None
            return place, key, item, island.model.sketch.lines[key][2], flow
    return None


def _steps(item: Item, key: Key, parts: LossParts) -> Iterator[Step]:
    """Its constants from what its maker states, then the loss at the flow."""
    coefficients = tuple(_constants(item, key, parts))
    yield from coefficients
    basis, typical = origin(item, "loss", "droop", "pressure")
    flow = symbol("Q", "flow through it, as the line is solved", parts.flow, "flow")
    terms, used = [], [flow]
    if parts.linear:
        terms.append("a*Q")
        used.append(symbol("a", "grows evenly", parts.linear, _LOSS, basis, typical=typical))
    if parts.square:
        terms.append("b*Q**2")
        used.append(symbol("b", "grows squarely", parts.square, _SQUARE, basis, typical=typical))
    if parts.cracking_pa:
        terms.append("p_crack")
        used.append(
            symbol("p_crack", "to lift it off its seat", parts.cracking_pa, "pressure", basis)
        )
    yield step("loss", "Delta_p", " + ".join(terms), tuple(used), parts.loss_pa, "pressure")


def _constants(item: Item, key: Key, parts: LossParts) -> Iterator[Step]:
    role = item.specification.water
    if isinstance(role, Filter):
        yield from _of_filter(role, parts)
    elif isinstance(role, Mains):
        yield from _of_main(role, parts)
    elif isinstance(role, CheckValve):
        yield from _of_point(role.wide_open, parts.square, parts.cracking_pa)
    elif isinstance(role, Heater):
        yield from _of_point(role.wide_open, parts.square)
    elif isinstance(role, ShutOff):
        if role.closed_share <= 0.0:
            yield from _of_point(role.wide_open, parts.square)
        else:
            yield Step(
                "open, and what turning it by so much adds (three tabled places of a ball valve)",
                "b",
                "",
                (symbol("s", "turned towards shut", role.closed_share, "share"),),
                Value(parts.square, _SQUARE),
            )
    elif isinstance(role, Fitting):
        point = next((one.at for one in role.losses if key == f"{item.id}/{one.port}"), None)
        if point is not None:
            yield from _of_point(point, parts.square)


def _of_point(point: FlowPoint, square: float, cracking_pa: float = 0.0) -> Iterator[Step]:
    if not square:
        return
    stated = (
        symbol("p_r", "loss that is stated", point.pressure.si, "pressure"),
        symbol("Q_r", "at this flow", point.flow.si, "flow"),
    )
    if cracking_pa:
        crack = symbol("p_crack", "to lift it off its seat", cracking_pa, "pressure")
        yield step("by its point", "b", "(p_r - p_crack)/Q_r**2", (*stated, crack), square, _SQUARE)
    else:
        yield step("by its point", "b", "p_r/Q_r**2", stated, square, _SQUARE)


def _of_main(role: Mains, parts: LossParts) -> Iterator[Step]:
    if role.residual is None or not parts.square:
        return
    yield step(
        "service pipe, by the flow that was measured",
        "b",
        "(p_usual - p_left)/Q_m**2",
        (
            symbol("p_usual", "usual pressure at rest", role.usual.si, "pressure"),
            symbol("p_left", "pressure left", role.residual.pressure.si, "pressure"),
            symbol("Q_m", "at this flow", role.residual.flow.si, "flow"),
        ),
        parts.square,
        _SQUARE,
    )


def _of_filter(role: Filter, parts: LossParts) -> Iterator[Step]:
    """A line plus a square through the stated points, grown by what the cartridge has caught."""
    points = sorted(
        {(one.flow.si, one.pressure.si) for one in role.loss if one.flow.si > 0.0 < one.pressure.si}
    )
    if not points:
        return
    used = min(max(role.used, 0.0), 1.0)
    grown = symbol("u", "share of its life used up", used, "share")
    q_2, p_2 = _pair("2" if len(points) > 1 else "1", *points[-1])
    spoilt = "/(1 - u/2)"
    if parts.linear and parts.square:
        q_1, p_1 = _pair("1", *points[0])
        four = (p_1, q_1, p_2, q_2)
        says = "square through both points, as used as it is"
        expression = f"(p_2/Q_2 - p_1/Q_1)/(Q_2 - Q_1){spoilt}"
        yield step(says, "b", expression, (*four, grown), parts.square, _SQUARE)
        b = symbol("b", "grows squarely", parts.square, _SQUARE)
        expression = f"p_1/Q_1{spoilt} - b*Q_1"
        yield step("line through both", "a", expression, (p_1, q_1, b, grown), parts.linear, _LOSS)
    elif parts.linear:
        expression = f"{p_2.name}/{q_2.name}{spoilt}"
        says = "a line through its point, as through a bed of grain (Darcy), as used as it is"
        yield step(says, "a", expression, (p_2, q_2, grown), parts.linear, _LOSS)
    else:
        expression = f"{p_2.name}/{q_2.name}**2{spoilt}"
        says = "a square through its point, as used as it is"
        yield step(says, "b", expression, (p_2, q_2, grown), parts.square, _SQUARE)


def _pair(at: str, flow: float, loss_pa: float) -> tuple[Symbol, Symbol]:
    return (
        symbol(f"Q_{at}", "flow of a stated point", flow, "flow"),
        symbol(f"p_{at}", "its loss, clean", loss_pa, "pressure"),
    )
