"""Workings of the cart on the move: its size and mass, the force to push it, what it passes."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..body.results import PassageCheck, PassageResult, Push, Travel
from ..body.travel import STANDARD_GRAVITY, envelope, push_limits, travellers
from ..build import Passage
from ..findings.body_numbers import contents_number, passage_number, push_number, travel_number
from ..findings.number import Number
from ..limits import body_practice
from ..units import Phrase, Value
from .making import Draft, plain
from .model import Held, Step, Symbol, Working
from .provenance import provenance

_SIDES = {"wide": (0, 2, "left", "right"), "deep": (1, 3, "rear", "front")}
_TITLES = {
    "wide": "Width of the cart as it is moved",
    "deep": "Depth of the cart as it is moved",
    "high": "Height of the cart as it is moved",
    "mass": "Mass of the cart as it is moved, vessels full",
}


def travel_numbers(analysis: Analysis) -> Iterator[Number]:
    """Size and mass of the cart as it is moved."""
    if analysis.body.travel is not None and analysis.body.frame is not None:
        for what in _TITLES:
            yield travel_number(what)


def travel_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of size or mass of the cart as it is moved."""
    moved = analysis.body.travel
    if moved is None or analysis.body.frame is None or number.what not in _TITLES:
        return None
    draft = Draft(number, Phrase(_TITLES[number.what]))
    if number.what == "mass":
        return draft.done(_mass(draft, analysis, moved))
    if number.what == "high":
        item = analysis.build.item(moved.tallest)
        value = Value(moved.high_m, "length")
        top = f"the top of {item.name}" if item is not None else "the top of the cart itself"
        draft.step(f"{top} above the floor", "h", "", value)
        return draft.done(value)
    return draft.done(_size(draft, analysis, moved, number.what))


def _size(draft: Draft, analysis: Analysis, moved: Travel, what: str) -> Value:
    """From what sticks out farthest on one side to what does on the other."""
    body = analysis.body
    assert body.frame is not None
    near, far, before, after = _SIDES[what]
    boxes = list(envelope(analysis.build, body.frame, travellers(body.frame, body.solids.values())))
    least = min(boxes, key=lambda box: box[1][near])
    most = max(boxes, key=lambda box: box[1][far])
    value = Value(moved.wide_m if what == "wide" else moved.deep_m, "length")
    high = Symbol("x_2", f"{most[0]}, farthest to the {after}", Value(most[1][far], "height"))
    low = Symbol("x_1", f"{least[0]}, farthest to the {before}", Value(least[1][near], "height"))
    draft.step("from one side to the other", "w", "x_2 - x_1", value, high, low)
    return value


def _mass(draft: Draft, analysis: Analysis, moved: Travel) -> Value:
    cart, body = analysis.build.cart, analysis.body
    assert body.frame is not None
    symbols = [Symbol("m_1", "the cart itself", Value(cart.empty_mass.si, "mass"), "as entered")]
    leaves = [leaf for leaf in cart.leaves if leaf.mass.si > 0.0]
    for leaf in leaves:
        value = Value(leaf.mass.si, "mass")
        symbols.append(Symbol(f"m_{len(symbols) + 1}", leaf.name, value, "as entered"))
    typical = []
    for solid in travellers(body.frame, body.solids.values()):
        source, is_typical = provenance(solid.item, "mass")
        if is_typical:
            typical.append(solid.item.name)
        contents = solid.load.contents
        masses: list[tuple[str, float, Number | None]] = [
            (solid.item.name, solid.load.empty_kg, None)
        ]
        if contents is not None:
            full_kg = contents.full_kg
            masses.append(
                (f"what is in {solid.item.name}", full_kg, contents_number(solid.item.id))
            )
        for name, kg, own in masses:
            if kg > 0.0:
                value = Value(kg, "mass")
                symbols.append(
                    Symbol(f"m_{len(symbols) + 1}", name, value, source, is_typical, own)
                )
    total = Value(moved.mass_kg, "mass")
    names = " + ".join(one.name for one in symbols)
    draft.step("everything that travels on it", "m", names, total, *symbols)
    if typical:
        draft.assumptions.append(plain(f"typical masses, to be weighed: {', '.join(typical)}"))
    return total


# --- pushing ----------------------------------------------------------------------------------


def push_numbers(analysis: Analysis) -> Iterator[Number]:
    """On the level, and on the steepest ground on the way."""
    for where, force in zip(("level", "steep"), analysis.body.pushes, strict=False):
        for what, _, _ in push_limits(force):
            yield push_number(where, what)


def push_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a force."""
    known = dict(zip(("level", "steep"), analysis.body.pushes, strict=False))
    force = known.get(number.of)
    if force is None:
        return None
    return _force(number, force)


def _force(number: Number, force: Push) -> Working | None:
    checks = {what: (value, limit) for what, value, limit in push_limits(force)}
    if number.what not in checks:
        return None
    value_n, limit = checks[number.what]
    starts = number.what == "force to start"
    practice = body_practice()
    share = practice.starting_share if starts else practice.rolling_share
    verb = "start" if starts else "keep moving"
    where = "on the level" if force.where == "level" else f"on {force.where}"
    draft = Draft(number, Phrase.of("Force to {verb} the cart {where}", verb=verb, where=where))
    value = Value(value_n, "force")
    weight = _weight(draft, force)
    times = Symbol("k", share.rule, Value(share.value, "percent"), share.citation)
    if force.grade == 0.0:
        draft.step("to overcome its wheels", "F", "k * W", value, times, weight)
    else:
        grade = Symbol("s", "rise over the length of the slope", Value(force.grade, "number", 4))
        along = draft.step(
            "its weight along the slope",
            "F_s",
            "W * s",
            Value(force.slope_n, "force"),
            weight,
            grade,
        )
        pressed = draft.step(
            "what presses on the floor",
            "N",
            "W * sqrt(1 - s**2)",
            Value(
                force.mass_kg * STANDARD_GRAVITY * max(0.0, 1.0 - force.grade**2) ** 0.5, "force"
            ),
            weight,
            grade,
        )
        draft.step(
            "up the slope and against its wheels", "F", "F_s + k * N", value, along, times, pressed
        )
    draft.held.append(
        Held(Value(limit.value, "force"), limit.rule, limit.citation, value_n <= limit.value)
    )
    draft.assume("one person pushes, on a floor that is hard and clean")
    return draft.done(value)


def _weight(draft: Draft, force: Push) -> Symbol:
    mass = Symbol(
        "m", "the cart as it is moved", Value(force.mass_kg, "mass"), number=travel_number("mass")
    )
    gravity = Symbol(
        "g", "standard gravity", Value(STANDARD_GRAVITY, "gravity", 4), "CGPM 1901, by definition"
    )
    weight = Value(force.mass_kg * STANDARD_GRAVITY, "force")
    return draft.step("its weight", "W", "m * g", weight, mass, gravity)


# --- passages ---------------------------------------------------------------------------------


def passage_numbers(analysis: Analysis) -> Iterator[Number]:
    """Every check of every passage."""
    for index, result in enumerate(analysis.body.passages):
        for check in result.checks:
            yield passage_number(index, check)


def passage_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of what is held against a passage."""
    passages = analysis.body.passages
    if not number.of.isdigit() or int(number.of) >= len(passages):
        return None
    result, entered = passages[int(number.of)], analysis.build.venue.passages[int(number.of)]
    check = next((one for one in result.checks if one.what == number.what), None)
    if check is None:
        return None
    if check.dimension == "force" and result.push is not None:
        return _force(number, result.push)
    name = result.name or f"the {result.kind}"
    draft = Draft(number, Phrase.of("{what} at {name}", what=check.what.capitalize(), name=name))
    value = Value(check.value, check.dimension)
    _check_steps(draft, analysis, result, check, entered, value)
    is_lean = check.what == "lean"
    draft.held.append(
        Held(
            Value(check.limit, check.dimension),
            "the cart goes over there" if is_lean else "what there is",
            check.source or "as entered",
            check.holds,
        )
    )
    if is_lean:
        draft.note("The limit has a working of its own: the lean of the cart as it is moved.")
    return draft.done(value)


def _check_steps(
    draft: Draft,
    analysis: Analysis,
    result: PassageResult,
    check: PassageCheck,
    entered: Passage,
    value: Value,
) -> None:
    if check.what in ("grade", "lean") and entered.rise is not None and entered.length is not None:
        rise = Symbol("h", "rise of the ramp", Value(entered.rise.si, "length"), "as entered")
        length = Symbol("l", "its length", Value(entered.length.si, "length"), "as entered")
        grade_value = result.push.grade if result.push is not None else 0.0
        grade = draft.step(
            "rise over length" if length.value.si > 0.0 else "a ramp without a length is upright",
            "s",
            "min(h / l, 1)" if length.value.si > 0.0 else "",
            Value(grade_value, "number", 4),
            rise,
            length,
        )
        if check.what == "lean":
            draft.step("its angle", "alpha", "degrees(asin(s))", value, grade)
        else:
            upright = grade_value >= 1.0
            formula = "" if upright else "s / sqrt(1 - s**2)"
            says = "no run at all" if upright else "rise over run"
            draft.step(says, "n", formula, value, *(() if upright else (grade,)))
        return
    of, says = _across(analysis, result, check)
    draft.steps.append(_read(says, of, value))


def _across(analysis: Analysis, result: PassageResult, check: PassageCheck) -> tuple[str, str]:
    """Which size of the moved cart a check asks for."""
    if check.what == "height":
        return "high", "how high it is as it is moved"
    if check.what == "load":
        return "mass", "its mass as it is moved"
    moved = analysis.body.travel
    narrow_is_wide = moved is not None and moved.wide_m <= moved.deep_m
    ahead = check.what == "length"
    narrow = (result.way == "narrow side first") != ahead
    return ("wide" if narrow == narrow_is_wide else "deep"), f"{result.way}"


def _read(says: str, of: str, value: Value) -> Step:
    own = Symbol("w", _TITLES[of].lower(), value, number=travel_number(of))
    return Step(says, "w_p", "w", (own,), value)
