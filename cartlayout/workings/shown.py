"""A working as text in the person's units, for the window, the command line and the packet alike.

A number is put in with its unit. Where the person's units go together by themselves (volts and
amperes make watts), they are used; where they would need a factor (psi and gallons a minute),
the formula is worked in SI and its result told in the person's units after that.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from ..units import UnitSystem, Value
from ..units.display import dimension_factor, show, show_plain, si_label, unit_label
from .arithmetic import names_in, value_of
from .digits import LEAST, Digits, digits_for
from .model import Held, Step, Symbol, Working
from .notation import filled, formula, raised, symbol_text

Sort = Literal["title", "step", "where", "limit", "assumed", "note"]
_MOST_PLACES = 12
_DUST = 5e-10
"""Below it a number is what sums of binary fractions leave."""
_SAME = 1e-9
_AS_FEW_AS_MAY_BE = Digits()


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a working."""

    sort: Sort
    text: str
    step: int = -1
    """Which step it belongs to; -1: to none."""


def lines(working: Working, system: UnitSystem) -> Iterator[Line]:
    """The whole working, line by line, the title first."""
    result = told_result(working)
    yield Line("title", f"{working.title.shown(system)}: {result.shown(system)}")
    last = len(working.steps) - 1
    known: set[tuple[str, float]] = set()
    digits = digits_of(working.steps, system)
    for index, step in enumerate(working.steps):
        said = _said(step, system, digits, result if index == last else None)
        yield Line("step", said, index)
        yield from _where(step, system, known, digits, index)
    for held in working.held:
        yield Line("limit", held_line(held, working.result, system))
        known = set()
        digits = digits_of(held.steps, system)
        for step in held.steps:
            yield Line("step", _said(step, system, digits))
            yield from _where(step, system, known, digits)
    for assumed in working.assumptions:
        yield Line("assumed", f"assumed: {assumed.shown(system)}")
    for note in working.notes:
        yield Line("note", note.shown(system))


def digits_of(steps: tuple[Step, ...], system: UnitSystem) -> Digits:
    """With how many digits the numbers of some steps are told, so that they can be redone."""
    return digits_for(steps, lambda step: _tell(step, system))


def _tell(step: Step, system: UnitSystem) -> Callable[[Value, int], str]:
    """How the numbers of a step are printed: in the person's units if they go together."""
    numbers = {symbol.name: symbol.value for symbol in step.symbols}
    if _go_together(step, numbers, system):
        return lambda value, digits: fine(value, system, digits)
    return fine_si


def told_result(working: Working) -> Value:
    """The result as boards and findings tell it: unlike its limit, unless it is the same."""
    result = working.result
    limits = [
        held.value.si
        for held in working.held
        if held.value.dimension == result.dimension and held.value.si != result.si
    ]
    if not limits or result.beside is not None:
        return result
    return result._replace(beside=min(limits, key=lambda limit: abs(limit - result.si)))


def _where(
    step: Step,
    system: UnitSystem,
    known: set[tuple[str, float]],
    digits: Digits,
    index: int = -1,
) -> Iterator[Line]:
    """What was put in, but for what stands above already."""
    for symbol in new_symbols(step, known):
        yield Line("where", symbol_line(symbol, system, digits), index)


def new_symbols(step: Step, known: set[tuple[str, float]]) -> tuple[Symbol, ...]:
    """Symbols of a step that no earlier one told or had as its result; `known` grows with them."""
    new = tuple(one for one in step.symbols if (one.name, one.value.si) not in known)
    known.update((one.name, one.value.si) for one in step.symbols)
    known.add((step.symbol, step.result.si))
    return new


def text(working: Working, system: UnitSystem) -> str:
    """The whole working as plain text, indented, to be copied or printed."""
    indents = {"title": "", "step": "  ", "where": "      "}
    return "\n".join(
        f"{indents.get(line.sort, '  ')}{line.text}" for line in lines(working, system)
    )


def _said(step: Step, system: UnitSystem, digits: Digits, shown: Value | None = None) -> str:
    text = step_text(step, system, shown, digits)
    return f"{step.says}: {text}" if step.says else text


def step_text(
    step: Step,
    system: UnitSystem,
    shown: Value | None = None,
    digits: Digits = _AS_FEW_AS_MAY_BE,
) -> str:
    """One step: "I = P / V = 1,500 W / 120 V = 12.5 A"; arguments: as of `step_parts`."""
    said = " = ".join((symbol_text(step.symbol), *step_parts(step, system, digits)))
    as_shown = shown.shown(system) if shown is not None else ""
    if as_shown and as_shown != fine(step.result, system, digits.of(step.result)):
        said += f", shown as {as_shown}"
    return said


def step_parts(
    step: Step, system: UnitSystem, digits: Digits = _AS_FEW_AS_MAY_BE
) -> tuple[str, ...]:
    """What stands behind each "=" of a step: the formula, the numbers put in, the result.

    Args:
        step: of a working.
        system: whose units.
        digits: with how many each number is told, from `digits_of` its working's steps.
    """
    parts: list[str] = []
    if step.expression:
        parts.append(formula(step.expression))
        numbers = {symbol.name: symbol.value for symbol in step.symbols}
        tell = _tell(step, system)
        is_own = tell is not fine_si
        if names_in(step.expression):
            parts.append(
                filled(step.expression, lambda name: tell(numbers[name], digits.of(numbers[name])))
            )
        if not is_own and not _is_si(step.result, system):
            parts.append(fine_si(step.result, digits.of(step.result)))
    parts.append(fine(step.result, system, digits.of(step.result)))
    return tuple(part for part, before in zip(parts, ("", *parts), strict=False) if part != before)


def symbol_line(symbol: Symbol, system: UnitSystem, digits: Digits = _AS_FEW_AS_MAY_BE) -> str:
    """What was put in for a symbol: "P = 1,500 W: watts of the kettle (nameplate)"."""
    number = fine(symbol.value, system, digits.of(symbol.value))
    said = f"{symbol_text(symbol.name)} = {number}: {symbol.meaning}"
    origin = symbol_origin(symbol)
    return f"{said} ({origin})" if origin else said


def symbol_origin(symbol: Symbol) -> str:
    """Where a number is from, and that nobody has checked it: in words, never by colour alone."""
    marks = [symbol.source] if symbol.source else []
    if symbol.is_typical and "typical" not in symbol.source:
        marks.append("typical, not checked")
    return ", ".join(marks)


def held_line(held: Held, result: Value, system: UnitSystem) -> str:
    """The limit: "within 20 A: the total ... (source)"."""
    limit = held.value
    if result.dimension == limit.dimension and result.si != limit.si:
        limit = limit._replace(beside=result.si)
    if held.is_least:
        word = "reaches the least," if held.holds else "does not reach the least,"
    else:
        word = "within the limit," if held.holds else "over the limit,"
    source = f" ({held.source})" if held.source else ""
    return f"{word} {limit.shown(system)}: {held.rule}{source}"


def fine(value: Value, system: UnitSystem, digits: int = LEAST) -> str:
    """A number with a digit or two more than boards show, without zeros that say nothing.

    Args:
        value: any.
        system: whose units.
        digits: significant digits that it is told with at least.
    """
    if (value.decimals is not None and digits <= LEAST) or not math.isfinite(value.si):
        return value.shown(system)
    plain = show_plain(value.si, value.dimension, system)
    number = float(plain.replace(",", ""))
    factor, offset = dimension_factor(value.dimension, system)
    exact = (value.si - offset) / factor
    least = len(plain.partition(".")[2]) if abs(exact) < 10.0 ** (LEAST - 1) else 0
    places = min(max(least, _places(exact, digits)), _MOST_PLACES)
    finer = show(value.si, value.dimension, system, places)
    near = min(1e-7, 0.5 * 10.0 ** (1 - digits))  # a digit that was asked for is not idle
    if math.isclose(exact, number, rel_tol=near, abs_tol=0.0 if number else _DUST):
        places = len(plain.rstrip("0").rstrip(".").partition(".")[2]) if "." in plain else 0
        finer = show(value.si, value.dimension, system, places)
    return _without_idle_zeros(finer)


def fine_si(value: Value, digits: int = LEAST) -> str:
    """A number in SI, with enough digits to be put into a calculator."""
    label = si_label(value.dimension)
    number = value.si
    if _is_si(value, UnitSystem.METRIC) or not math.isfinite(number):
        return fine(value, UnitSystem.METRIC, digits)
    if number != 0 and not 1e-4 <= abs(number) < 1e7:
        mantissa, _, power = f"{number:.{digits - 1}e}".partition("e")
        plain = f"{_without_idle_zeros(mantissa)}·10{raised(int(power))}"
    else:
        plain = _without_idle_zeros(f"{number:,.{max(_places(number, digits), 0)}f}")
    gap = "" if label in ("°", "") else " "
    return f"{plain}{gap}{label}"


def _is_si(value: Value, system: UnitSystem) -> bool:
    return dimension_factor(value.dimension, system) == (1.0, 0.0)


def _places(number: float, digits: int) -> int:
    """Decimals that give a number its significant digits."""
    if number == 0 or not math.isfinite(number):
        return 0
    return max(0, digits - 1 - math.floor(math.log10(abs(number)) + 1e-12))


def _without_idle_zeros(text: str) -> str:
    number, space, unit = text.partition(" ")
    if "." in number and number.replace(",", "").replace(".", "").lstrip("-").isdigit():
        number = number.rstrip("0").rstrip(".")
    return f"{number}{space}{unit}"


def _go_together(step: Step, numbers: dict[str, Value], system: UnitSystem) -> bool:
    """Whether the formula holds in the person's units as it stands."""
    try:
        own = {name: _in_units(value, system) for name, value in numbers.items()}
        found = value_of(step.expression, own)
        in_si = value_of(step.expression, {name: value.si for name, value in numbers.items()})
    except (ArithmeticError, ValueError):
        return False
    expected = _in_units(step.result._replace(si=in_si), system)
    return math.isclose(found, expected, rel_tol=_SAME, abs_tol=1e-300)


def _in_units(value: Value, system: UnitSystem) -> float:
    if unit_label(value.dimension, system) == "%":
        return value.si  # 80 % is 0.8 in every formula
    factor, offset = dimension_factor(value.dimension, system)
    return (value.si - offset) / factor
