"""How the numbers came about, for a licensed person who checks them by hand."""

from collections.abc import Iterator

from ....analysis import Analysis
from ....findings.body_numbers import foot_number, push_number, tilt_number
from ....findings.number import Number
from ....power.results import EVERYTHING_ON
from ....units import UnitSystem, Value, capitalised
from ....water.results import ALL_OPEN
from ....workings.body_mass import state_of
from ....workings.digits import Digits
from ....workings.find import SUBJECTS, working
from ....workings.model import Held, Step, Symbol, Working
from ....workings.notation import symbol_text
from ....workings.provenance import provenance
from ....workings.shown import (
    digits_of,
    fine,
    held_line,
    new_symbols,
    step_parts,
    symbol_origin,
    told_result,
)
from ..content import Cell, Column, Content, Job, Paragraph, Part, Table

_HOW = (
    "Every number below with its formula, what was put in, and the limit it is held to. Amps, "
    "volts, pressures and flows are those that the solvers found; each line can be worked out "
    "again with a calculator. Where units would not go together by themselves a formula is worked "
    "in SI and its result told after that. Typical figures are named as such: read the nameplate."
)
_COLUMNS = (
    Column("What, and where it is from", share=2.6),
    Column("Formula", share=1.7),
    Column("Numbers put in", share=2.4),
    Column("Result", align="right", share=0.8),
)


def workings(job: Job) -> Content:
    """The sheet: circuits, supplies, volts, taps, what lies on their way, drains, balance."""
    groups = (
        ("circuits", "Circuits", _circuits, "No circuit is on the plan."),
        ("supplies", "Generators and batteries", _supplies, "None is on the plan."),
        ("volts", "Volts lost in cords", _volts, "Nothing is plugged in."),
        ("taps", "Taps", _taps, "No tap is fed."),
        ("tubes", "Pressure lost on the way, everything open", _tubes, "No water flows."),
        ("pumps", "Pumps and accumulators", _pumps, "No pump is on the plan."),
        ("tanks", "Tanks over the day", _tanks, "There is no tank and no drain to judge."),
        ("drains", "Drains and air gaps", _drains, "There is no drain to judge."),
        ("balance", "Balance and push", _balance, "Nobody has entered a mass yet."),
    )
    parts: list[Part] = [Paragraph(_HOW, "muted")]
    for key, title, numbers, empty in groups:
        job.between()
        if key == "balance":
            parts.append(_masses(job))
        parts.append(_table(job, f"workings-{key}", title, numbers(job.analysis), empty))
    return Content("workings", "Workings", "inspector", tuple(parts))


# --- which numbers ----------------------------------------------------------------------------


def _circuits(analysis: Analysis) -> Iterator[Number]:
    for number in SUBJECTS["circuit"].numbers(analysis):
        of_case = number.case not in ("", EVERYTHING_ON) and number.what != "venue limit"
        if not of_case and number.what != "own circuit":
            yield number


def _supplies(analysis: Analysis) -> Iterator[Number]:
    yield from SUBJECTS["power supply"].numbers(analysis)


def _volts(analysis: Analysis) -> Iterator[Number]:
    for number in SUBJECTS["appliance"].numbers(analysis):
        if number.what == "drop":
            yield number


def _taps(analysis: Analysis) -> Iterator[Number]:
    for number in SUBJECTS["tap"].numbers(analysis):
        if number.case in ("", ALL_OPEN):
            yield number


def _tubes(analysis: Analysis) -> Iterator[Number]:
    """What the lines of taps put in without saying how it came about."""
    for subject in ("tube", "element"):
        for number in SUBJECTS[subject].numbers(analysis):
            if number.case == ALL_OPEN and number.what == "loss":
                yield number


def _drains(analysis: Analysis) -> Iterator[Number]:
    for subject in ("drain", "drain pump", "air gap"):
        yield from SUBJECTS[subject].numbers(analysis)


def _pumps(analysis: Analysis) -> Iterator[Number]:
    for number in SUBJECTS["pump"].numbers(analysis):
        if number.case in ("", ALL_OPEN):
            yield number
    for subject in ("suction", "supply"):
        yield from SUBJECTS[subject].numbers(analysis)


def _tanks(analysis: Analysis) -> Iterator[Number]:
    for subject in ("tank", "vessel"):
        yield from SUBJECTS[subject].numbers(analysis)


def _balance(analysis: Analysis) -> Iterator[Number]:
    body = analysis.body
    for tilt in body.tilts:
        yield tilt_number(body, tilt)
    if body.feet is not None:
        worst = max(range(len(body.feet.loads)), key=lambda at: _loads(analysis)[at])
        yield foot_number(worst)
    for where in ("level", "steep"):
        for what in ("force to start", "force to keep going"):
            yield push_number(where, what)


def _loads(analysis: Analysis) -> tuple[float, ...]:
    feet = analysis.body.feet
    return tuple(one.worst_kg for one in feet.loads) if feet is not None else ()


def _masses(job: Job) -> Table:
    """Everything that has weight with its place: what all centres of gravity are made of."""
    state = state_of(job.analysis, "", "full")
    note = (
        "Vessels are full here. Of any other mix leave out what is in those that are empty, add "
        "up masses times places, and divide by the mass: that is its centre of gravity."
    )
    columns = (
        Column("What", share=2.6),
        Column("Mass", "mass", "right"),
        Column("From the left", "length", "right"),
        Column("From the rear", "length", "right"),
        Column("Above the floor", "length", "right"),
        Column("Mass is", share=1.2),
    )
    title, empty = "Masses and their places", "Nobody has entered a mass yet."
    if state is None:
        return Table("workings-masses", title, columns, (), empty=empty)
    rows: list[tuple[Cell, ...]] = []
    for piece in state.pieces:
        places = (Value(at_m, "length") for at_m in piece.at_m)
        source = provenance(piece.item, *piece.of).source if piece.item else "as entered"
        rows.append((capitalised(piece.name), Value(piece.kg, "mass"), *places, source))
    found = state.balance
    totals: tuple[Cell, ...] = (
        "Together, and its centre of gravity",
        Value(found.mass_kg, "mass"),
        *(Value(at_m, "length") for at_m in (found.x_m, found.y_m, found.z_m)),
        "",
    )
    return Table("workings-masses", title, columns, tuple(rows), totals=totals, note=note)


# --- rows -------------------------------------------------------------------------------------


def _table(job: Job, key: str, title: str, numbers: Iterator[Number], empty: str) -> Table:
    rows: list[tuple[Cell, ...]] = []
    marks: list[str] = []
    heads: list[int] = []
    for number in dict.fromkeys(numbers):
        one = working(job.analysis, number)
        if one is None:
            continue
        heads.append(len(rows))
        own = list(_rows(one, job.system))
        rows += own
        verdict = "" if not one.held else "ok" if all(held.holds for held in one.held) else "stop"
        marks += [verdict, *("" for _ in own[1:])]
    return Table(key, title, _COLUMNS, tuple(rows), tuple(marks), empty=empty, sums=tuple(heads))


def _rows(one: Working, system: UnitSystem) -> Iterator[tuple[Cell, ...]]:
    """The title with the number as boards show it, then step by step, then its limits."""
    yield one.title.shown(system), "", "", told_result(one).shown(system)
    known: set[tuple[str, float]] = set()
    digits = digits_of(one.steps, system)
    for step in one.steps:
        yield _step(step, new_symbols(step, known), system, digits)
    for held in one.held:
        yield from _held(held, one, system)
    for phrase in one.assumptions:
        yield f"Assumed: {phrase.shown(system)}", "", "", ""
    for phrase in one.notes:
        yield phrase.shown(system), "", "", ""


def _step(
    step: Step, symbols: tuple[Symbol, ...], system: UnitSystem, digits: Digits
) -> tuple[Cell, ...]:
    parts = step_parts(step, system, digits)
    formula = f"{symbol_text(step.symbol)} = {parts[0]}" if step.expression else ""
    put_in = parts[1] if step.expression and len(parts) > 2 else ""
    between = parts[2:-1] if put_in else ()
    result = f"{symbol_text(step.symbol)} = {parts[-1]}"
    told = "; ".join(_symbol(symbol, system, digits) for symbol in symbols)
    says = capitalised(step.says)
    return (
        f"{says}. {told}" if told else says,
        formula,
        " = ".join((put_in, *between)),
        result,
    )


def _symbol(symbol: Symbol, system: UnitSystem, digits: Digits) -> str:
    origin = symbol_origin(symbol)
    number = fine(symbol.value, system, digits.of(symbol.value))
    said = f"{symbol_text(symbol.name)} = {number} {symbol.meaning}"
    return f"{said} ({origin})" if origin else said


def _held(held: Held, one: Working, system: UnitSystem) -> Iterator[tuple[Cell, ...]]:
    limit = capitalised(held_line(held, one.result, system))
    yield limit, "", "", held.value.shown(system)
    known: set[tuple[str, float]] = set()
    digits = digits_of(held.steps, system)
    for step in held.steps:
        yield _step(step, new_symbols(step, known), system, digits)
