"""Workings of how the cart stands: the lean at which it goes over, and what each foot bears."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..body.support import Edge, Spread, spread
from ..build import Load
from ..findings.body_numbers import (
    MOVED,
    MOVED_TILT,
    balance_number,
    caster_rule_number,
    foot_number,
    tilt_number,
)
from ..findings.number import Number
from ..limits import body_practice, profile
from ..units import Phrase, Value
from .body_mass import State, mass_steps, state_of, tilt_over, typical_masses
from .making import Draft
from .model import Held, Symbol, Working

_SQUARE = 1e-9


def tilt_numbers(analysis: Analysis) -> Iterator[Number]:
    """Of every edge: in its worst mix of vessels, with all full and all empty; as moved."""
    for tilt in analysis.body.tilts:
        for case in ("worst", "full", "empty"):
            yield tilt_number(analysis.body, tilt, case)
    if analysis.body.travel is not None and analysis.body.travel.tilt is not None:
        yield MOVED_TILT


def tilt_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a lean."""
    tilt = tilt_over(analysis, number.of)
    state = state_of(analysis, number.of, number.case)
    support = analysis.body.support
    if tilt is None or state is None or support is None or number.what != "angle":
        return None
    edge = next(one for one in support.edges if (one.a, one.b) == (tilt.a, tilt.b))
    words = state.words + (", as it is moved" if number.of == MOVED else "")
    draft = Draft(
        number,
        Phrase.of("Lean at which it goes over to the {edge}, {words}", edge=tilt.edge, words=words),
    )
    degrees = {"full": tilt.full_deg, "empty": tilt.empty_deg}.get(number.case, tilt.worst_deg)
    value = Value(degrees, "angle")
    away = _away(draft, state, edge, number)
    height = Symbol(
        "z",
        "height of the centre of gravity",
        Value(state.balance.z_m, "length"),
        number=balance_number("z", number.case, number.of),
    )
    if state.balance.z_m > 0.0:
        draft.step(
            "it goes over when its centre stands above the edge",
            "theta",
            "degrees(atan(d / z))",
            value,
            away,
            height,
        )
    else:
        draft.step("nothing stands above the floor", "theta", "", value)
    typical_masses(draft, state)
    draft.assume("it stands on level ground, pushed by nothing, and its wheels do not sink in")
    _hold(draft, analysis, value)
    return draft.done(value)


def _away(draft: Draft, state: State, edge: Edge, number: Number) -> Symbol:
    """Distance of the centre from the edge."""
    x_m, y_m = state.balance.x_m, state.balance.y_m
    value = Value(edge.distance_m(x_m, y_m), "length")
    (ax, ay), (nx, ny) = edge.a, edge.inwards
    says = f"the centre's distance from the {edge.name} edge between its feet"
    x = Symbol(
        "x",
        "centre of gravity from the left",
        Value(x_m, "length"),
        number=balance_number("x", number.case, number.of),
    )
    y = Symbol(
        "y",
        "centre of gravity from the rear",
        Value(y_m, "length"),
        number=balance_number("y", number.case, number.of),
    )
    at_x = Symbol("x_e", "the edge from the left", Value(ax, "height"))
    at_y = Symbol("y_e", "the edge from the rear", Value(ay, "height"))
    for along, across, centre, at in ((nx, ny, x, at_x), (ny, nx, y, at_y)):
        if abs(across) <= _SQUARE:
            expression = f"{centre.name} - {at.name}" if along > 0 else f"{at.name} - {centre.name}"
            return draft.step(says, "d", expression, value, centre, at)
    inwards = (
        Symbol("n_x", "direction inwards, to the right", Value(nx, "number", 4)),
        Symbol("n_y", "direction inwards, to the front", Value(ny, "number", 4)),
    )
    expression = "(x - x_e) * n_x + (y - y_e) * n_y"
    return draft.step(says, "d", expression, value, x, at_x, y, at_y, *inwards)


def _hold(draft: Draft, analysis: Analysis, value: Value) -> None:
    limits = [profile(analysis.build.region).tilt_degrees]
    if any(
        isinstance(item.specification.electrical, Load)
        and item.specification.electrical.resistive_share > 0
        and item.level != "venue"
        for item in analysis.build.items
    ):
        limits.append(body_practice().tilt_heated_degrees)
    for limit in limits:
        least = Value(limit.value, "angle")
        holds = value.si >= limit.value
        draft.held.append(Held(least, limit.rule, limit.citation, holds, is_least=True))


# --- feet -------------------------------------------------------------------------------------


def foot_numbers(analysis: Analysis) -> Iterator[Number]:
    """Of every foot: full, empty, in its worst and its least mix; and the caster rules."""
    feet = analysis.body.feet
    if feet is None:
        return
    for index in range(len(feet.loads)):
        for case in ("full", "empty", "worst", "least"):
            yield foot_number(index, case)
    for rule in ("thirds", "one less") if analysis.body.full is not None else ():
        yield caster_rule_number(rule)


def foot_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of what one foot bears, or of a rule for casters."""
    if number.of == "":
        return _rule(analysis, number)
    _, _, digits = number.of.partition(" ")
    feet, support = analysis.body.feet, analysis.body.support
    if feet is None or support is None or not digits.isdigit() or int(digits) >= len(feet.loads):
        return None
    index, load = int(digits), feet.loads[int(digits)]
    state = state_of(analysis, number.of, number.case)
    borne = {
        "full": load.full_kg,
        "empty": load.empty_kg,
        "worst": load.worst_kg,
        "least": load.least_kg,
    }
    if number.case not in borne or number.what != "load":
        return None
    what = "caster" if feet.casters else "leg"
    draft = Draft(
        number,
        Phrase.of(
            "What the {what} at {x} from the left and {y} from the rear bears, {words}",
            what=what,
            x=Value(load.x_m, "length"),
            y=Value(load.y_m, "length"),
            words=state.words if state is not None else "with nothing on it",
        ),
    )
    value = Value(borne[number.case], "mass")
    if state is None:
        draft.step("nothing has any weight", "F", "", value)
        return draft.done(value)
    plane = _plane(draft, support.feet, index, support.planes[index])
    case = (number.case, number.of)
    mass = Symbol(
        "m",
        "everything on it",
        Value(state.balance.mass_kg, "mass"),
        number=balance_number("mass", *case),
    )
    x = Symbol(
        "x",
        "its centre from the left",
        Value(state.balance.x_m, "length"),
        number=balance_number("x", *case),
    )
    y = Symbol(
        "y",
        "its centre from the rear",
        Value(state.balance.y_m, "length"),
        number=balance_number("y", *case),
    )
    draft.step("borne here", "F", "m * (a + b * x + c * y)", value, mass, *plane, x, y)
    typical_masses(draft, state)
    draft.assume("all feet stand on the same level and give alike")
    if load.rating_kg is not None:
        rule = body_practice().caster_rule("equal give")
        rating = Value(load.rating_kg, "mass")
        source = f"the caster's rating as entered; load by {rule.citation}"
        draft.held.append(Held(rating, rule.rule, source, value.si <= load.rating_kg))
    return draft.done(value)


_DUST = 1e-12
"""Share of what feet stand apart; "askew" below it is what sums of binary fractions leave."""


def _without_dust(askew_m2: float, apart: Spread) -> float:
    return 0.0 if abs(askew_m2) <= _DUST * (apart.xx_m2 + apart.yy_m2) else askew_m2


def _plane(
    draft: Draft,
    feet: tuple[tuple[float, float], ...],
    index: int,
    plane: tuple[float, float, float],
) -> tuple[Symbol, Symbol, Symbol]:
    """The share of a mass at x, y that a foot bears is a + b x + c y; how these come about."""
    count = len(feet)
    apart = spread(feet)
    xs = [
        Symbol(f"x_{at}", f"foot {at} from the left", Value(x, "height"))
        for at, (x, _) in enumerate(feet, 1)
    ]
    ys = [
        Symbol(f"y_{at}", f"foot {at} from the rear", Value(y, "height"))
        for at, (_, y) in enumerate(feet, 1)
    ]
    names_x, names_y = [one.name for one in xs], [one.name for one in ys]
    n = Symbol("n", "feet", Value(float(count), "count"))
    middle_x = draft.step(
        "middle of the feet, from the left",
        "x_m",
        f"({' + '.join(names_x)}) / n",
        Value(apart.x_m, "height"),
        *xs,
        n,
    )
    middle_y = draft.step(
        "and from the rear",
        "y_m",
        f"({' + '.join(names_y)}) / n",
        Value(apart.y_m, "height"),
        *ys,
        n,
    )
    wide = draft.step(
        "how far they stand apart",
        "S_x",
        " + ".join(f"({name} - x_m)**2" for name in names_x),
        Value(apart.xx_m2, "area"),
        *xs,
        middle_x,
    )
    deep = draft.step(
        "and from rear to front",
        "S_y",
        " + ".join(f"({name} - y_m)**2" for name in names_y),
        Value(apart.yy_m2, "area"),
        *ys,
        middle_y,
    )
    both = draft.step(
        "how far they stand askew",
        "S_xy",
        " + ".join(f"({a} - x_m) * ({b} - y_m)" for a, b in zip(names_x, names_y, strict=True)),
        Value(_without_dust(apart.xy_m2, apart), "area"),
        *xs,
        *ys,
        middle_x,
        middle_y,
    )
    own_x, own_y = xs[index], ys[index]
    a, b, c = plane
    over = "(S_x * S_y - S_xy**2)"
    along_x = draft.step(
        "its share for each length to the right",
        "b",
        f"(S_y * ({own_x.name} - x_m) - S_xy * ({own_y.name} - y_m)) / {over}",
        Value(b, "by metre"),
        wide,
        deep,
        both,
        own_x,
        own_y,
        middle_x,
        middle_y,
    )
    along_y = draft.step(
        "its share for each length to the front",
        "c",
        f"(S_x * ({own_y.name} - y_m) - S_xy * ({own_x.name} - x_m)) / {over}",
        Value(c, "by metre"),
        wide,
        deep,
        both,
        own_x,
        own_y,
        middle_x,
        middle_y,
    )
    share = draft.step(
        "and its share of what stands in the corner that all is measured from",
        "a",
        "1 / n - b * x_m - c * y_m",
        Value(a, "number", 4),
        n,
        along_x,
        middle_x,
        along_y,
        middle_y,
    )
    return share, along_x, along_y


def _rule(analysis: Analysis, number: Number) -> Working | None:
    feet = analysis.body.feet
    state = state_of(analysis, "", "full")
    if feet is None or state is None or number.what not in ("thirds", "one less"):
        return None
    rule = body_practice().caster_rule(number.what)
    draft = Draft(number, Phrase.of("Load of a caster by the {rule}", rule=rule.name))
    mass = mass_steps(draft, state)
    if number.what == "thirds":
        value = Value(feet.thirds_kg, "mass")
        draft.step(rule.rule, "F", "m / 3", value, mass)
    else:
        value = Value(feet.one_less_kg, "mass")
        n = Symbol("n", "feet", Value(float(len(feet.loads)), "count"))
        draft.step(rule.rule, "F", "m / (n - 1)", value, mass, n)
    typical_masses(draft, state)
    ratings = [one.rating_kg for one in feet.loads if one.rating_kg is not None]
    if ratings:
        weakest = min(ratings)
        held = Held(Value(weakest, "mass"), rule.rule, rule.citation, value.si <= weakest)
        draft.held.append(held)
    return draft.done(value)
