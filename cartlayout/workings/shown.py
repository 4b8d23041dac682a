"""A working as text in the person's units, for the window, the command line and the packet alike.

A number is put in with its unit. Where the person's units go together by themselves (volts and
amperes make watts), they are used; where they would need a factor (psi and gallons a minute),
the formula is worked in SI and its result told in the person's units after that.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from ..units import UnitSystem, Value
from ..units.display import dimension_factor, show, show_plain, si_label, unit_label
from .arithmetic import names_in, value_of
from .model import Held, Step, Symbol, Working
from .notation import filled, formula, raised, symbol_text

Sort = Literal["title", "step", "where", "limit", "assumed", "note"]
_DIGITS = 4
"""Significant digits of what is put in: one more than is usually shown, for who checks by hand."""
_MOST_PLACES = 9
_SAME = 1e-9


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
    for index, step in enumerate(working.steps):
        said = _said(step, system, result if index == last else None)
        yield Line("step", said, index)
        yield from _where(step, system, known, index)
    for held in working.held:
        yield Line("limit", held_line(held, working.result, system))
        known = set()
        for step in held.steps:
            yield Line("step", _said(step, system))
            yield from _where(step, system, known)
    for assumed in working.assumptions:
        yield Line("assumed", f"assumed: {assumed.shown(system)}")
    for note in working.notes:
        yield Line("note", note.shown(system))


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
    step: Step, system: UnitSystem, known: set[tuple[str, float]], index: int = -1
) -> Iterator[Line]:
    """What was put in, but for what stands above already."""
    for symbol in new_symbols(step, known):
        yield Line("where", symbol_line(symbol, system), index)


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


def _said(step: Step, system: UnitSystem, shown: Value | None = None) -> str:
    text = step_text(step, system, shown)
    return f"{step.says}: {text}" if step.says else text


def step_text(step: Step, system: UnitSystem, shown: Value | None = None) -> str:
    """One step: "I = P / V = 1,500 W / 120 V = 12.5 A"; arguments: as of `step_parts`."""
    said = " = ".join((symbol_text(step.symbol), *step_parts(step, system)))
    as_shown = shown.shown(system) if shown is not None else ""
    if as_shown and as_shown != fine(step.result, system):
        said += f", shown as {as_shown}"
    return said


def step_parts(step: Step, system: UnitSystem) -> tuple[str, ...]:
    """What stands behind each "=" of a step: the formula, the numbers put in, the result.

    Args:
        step: of a working.
        system: whose units.
    """
    parts: list[str] = []
    if step.expression:
        parts.append(formula(step.expression))
        numbers = {symbol.name: symbol.value for symbol in step.symbols}
        is_own = _go_together(step, numbers, system)
        if names_in(step.expression):
            parts.append(
                filled(
                    step.expression,
                    lambda name: fine(numbers[name], system) if is_own else fine_si(numbers[name]),
                )
            )
        if not is_own and not _is_si(step.result, system):
            parts.append(fine_si(step.result))
    parts.append(fine(step.result, system))
    return tuple(part for part, before in zip(parts, ("", *parts), strict=False) if part != before)


def symbol_line(symbol: Symbol, system: UnitSystem) -> str:
    """What was put in for a symbol: "P = 1,500 W: watts of the kettle (nameplate)"."""
    said = f"{symbol_text(symbol.name)} = {fine(symbol.value, system)}: {symbol.meaning}"
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


def fine(value: Value, system: UnitSystem) -> str:
    """A number with a digit or two more than boards show, without zeros that say nothing."""
    if value.decimals is not None or not math.isfinite(value.si):
        return value.shown(system)
    plain = show_plain(value.si, value.dimension, system)
    number = float(plain.replace(",", ""))
    least = len(plain.partition(".")[2])
    factor, offset = dimension_factor(value.dimension, system)
    exact = (value.si - offset) / factor
    places = min(max(least, _places(exact)), _MOST_PLACES)
    finer = show(value.si, value.dimension, system, places)
    if math.isclose(exact, number, rel_tol=1e-7, abs_tol=1e-12):
        places = len(plain.rstrip("0").rstrip(".").partition(".")[2]) if "." in plain else 0
        finer = show(value.si, value.dimension, system, places)
    return _without_idle_zeros(finer)


def fine_si(value: Value) -> str:
    """A number in SI, with enough digits to be put into a calculator."""
    label = si_label(value.dimension)
    number = value.si
    if _is_si(value, UnitSystem.METRIC) or not math.isfinite(number):
        return fine(value, UnitSystem.METRIC)
    if number != 0 and not 1e-4 <= abs(number) < 1e7:
        mantissa, _, power = f"{number:.{_DIGITS - 1}e}".partition("e")
        plain = f"{_without_idle_zeros(mantissa)}·10{raised(int(power))}"
    else:
        plain = _without_idle_zeros(f"{number:,.{max(_places(number), 0)}f}")
    gap = "" if label in ("°", "") else " "
    return f"{plain}{gap}{label}"


def _is_si(value: Value, system: UnitSystem) -> bool:
    return dimension_factor(value.dimension, system) == (1.0, 0.0)


def _places(number: float) -> int:
    """Decimals that give a number its significant digits."""
    if number == 0 or not math.isfinite(number):
        return 0
    return max(0, _DIGITS - 1 - math.floor(math.log10(abs(number)) + 1e-12))


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
    except (ArithmeticError, ValueError):
        return False
    return math.isclose(found, _in_units(step.result, system), rel_tol=_SAME, abs_tol=1e-300)


def _in_units(value: Value, system: UnitSystem) -> float:
    if unit_label(value.dimension, system) == "%":
        return value.si  # 80 % is 0.8 in every formula
    factor, offset = dimension_factor(value.dimension, system)
    return (value.si - offset) / factor
