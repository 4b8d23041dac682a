"""How many digits each number of a working is told with.

A person with a pocket calculator has to arrive at the printed result from the printed numbers.
Four significant digits mostly do; where two numbers nearly take each other away ("120 V less
119.7 V"), they are told with more, and so is the result of the step before that they came from.
"""

import math
from collections.abc import Callable, Iterable, Mapping

from ..units import Value
from .arithmetic import value_of
from .model import Step

__all__ = ["LEAST", "Digits", "digits_for"]

LEAST = 4
"""Significant digits: one more than is usually shown."""
_MOST = 10
_HALF = 0.5 + 1e-6
_GUARD = 5.0
"""Of its last digit that a result may be off by which has more than the least."""

Key = tuple[str, float]
Tell = Callable[[Value, int], str]
"""A number with so many significant digits, as it is printed."""


class Digits:
    """Significant digits by number; what is not in it has the least."""

    __slots__ = ("_more",)

    def __init__(self) -> None:
        self._more: dict[Key, int] = {}

    def of(self, value: Value) -> int:
        """Significant digits that a number is told with."""
        return self._more.get((value.dimension, value.si), LEAST)

    def raise_to(self, values: Iterable[Value], digits: int) -> bool:
        """Tell numbers with at least so many digits; whether that is more for any of them."""
        fewer = [value for value in values if digits > self.of(value)]
        self._more.update({(value.dimension, value.si): digits for value in fewer})
        return bool(fewer)


def digits_for(steps: tuple[Step, ...], tells: Callable[[Step], Tell]) -> Digits:
    """The fewest digits with which each step can be worked out again from what is printed.

    A result that a later step wants with more digits than the least has to come out but for the
    last of them: asking for that one too would add a digit with every step of a long working.

    Args:
        steps: of a working, in order: what a later one puts in is the result of an earlier one.
        tells: how the numbers of a step are printed, in the person's units or in SI.
    """
    digits = Digits()
    to_do = [(step, tells(step)) for step in reversed(steps) if step.expression and step.symbols]
    for _ in range(_MOST):
        # Two numbers that are alike share their digits, whichever step came first.
        if not sum(_widen(step, tell, digits) for step, tell in to_do):
            break
    return digits


def _widen(step: Step, tell: Tell, digits: Digits) -> bool:
    """Whether anything had to be told with more digits."""
    put_in = {symbol.name: symbol.value for symbol in step.symbols}
    aim = digits.of(step.result)
    result = tell(step.result, aim)
    for least in range(LEAST, _MOST + 1):
        told = {name: tell(value, max(least, digits.of(value))) for name, value in put_in.items()}
        if _reproduces(step, told, result, aim):
            return digits.raise_to(put_in.values(), least)
    return digits.raise_to(put_in.values(), min(aim + 1, _MOST))


def _reproduces(step: Step, told: Mapping[str, str], result: str, aim: int) -> bool:
    """Whether printed numbers give a printed result: to its last digit, or but for the last.

    Args:
        step: with an expression.
        told: what is printed for each symbol.
        result: what is printed for the result.
        aim: with how many significant digits.
    """
    try:
        found = value_of(step.expression, {name: printed(text) for name, text in told.items()})
        shown = printed(result)
    except (ArithmeticError, ValueError):
        return True  # no number that a calculator takes: "12 1/4 in", "inf"
    if shown == 0.0:
        return abs(found) <= _HALF * last_place(result)
    digit = 10.0 ** (math.floor(math.log10(abs(shown)) + 1e-12) - aim + 1)
    is_finer = last_place(result) < 0.99 * digit  # "483,071", or as many decimals as boards show
    allowed = _HALF * digit if aim == LEAST and not is_finer else _GUARD * digit
    return abs(found - shown) <= (_GUARD * last_place(result) if is_finer else allowed)


def printed(text: str) -> float:
    """The number that a printed one stands for: "1,650 W", "0.267 %", "5.87·10⁻⁵ m³/s".

    Raises:
        ValueError: it is no plain number.
    """
    number, power, share = _taken_apart(text)
    return float(number) * 10.0**power * share


def last_place(text: str) -> float:
    """What one step of the last digit of a printed number is worth."""
    number, power, share = _taken_apart(text)
    return 10.0 ** (power - len(number.partition(".")[2])) * share


_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")


def _taken_apart(text: str) -> tuple[str, int, float]:
    first, _, unit = text.partition(" ")
    number, _, power = first.replace(",", "").rstrip("°").partition("·10")
    share = 0.01 if unit == "%" else 1.0
    return number, int(power.translate(_RAISED)) if power else 0, share
