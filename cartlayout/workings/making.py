"""Puts a working together: steps one after the other, sums of many terms, phasors."""

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from ..units import Phrase, Value
from .model import Held, Number, Step, Symbol, Working

_IN_STEP = 1e-9
"""Share of a current's size below which what is out of step is rounding."""


@dataclass(slots=True)
class Draft:
    """A working that is being written."""

    number: Number
    title: Phrase
    steps: list[Step] = field(default_factory=list)
    held: list[Held] = field(default_factory=list)
    assumptions: list[Phrase] = field(default_factory=list)
    notes: list[Phrase] = field(default_factory=list)

    def step(
        self, says: str, symbol: str, expression: str, result: Value, *symbols: Symbol
    ) -> Symbol:
        """Add a step; the answer is its result as a symbol for the next ones."""
        self.steps.append(Step(says, symbol, expression, symbols, result))
        return Symbol(symbol, says, result)

    def assume(self, text: str) -> None:
        """Add an assumption that has no numbers, unless it is empty or said already."""
        phrase = plain(text)
        if text and phrase not in self.assumptions:
            self.assumptions.append(phrase)

    def note(self, text: str) -> None:
        """Add a note that has no numbers."""
        if text:
            self.notes.append(plain(text))

    def done(self, result: Value) -> Working:
        """The working, of a number that boards show like this."""
        return Working(
            self.number,
            self.title,
            result,
            tuple(self.steps),
            tuple(self.held),
            tuple(self.assumptions),
            tuple(self.notes),
        )


@dataclass(frozen=True, slots=True)
class Term:
    """One of the things that are added up, as a phasor."""

    meaning: str
    value: complex
    number: Number | None = None
    source: str = ""
    is_typical: bool = False
    times: Symbol | None = None
    """Factor that it is counted with; `value` is without it."""

    @property
    def counted(self) -> complex:
        """With its factor."""
        return self.value * (self.times.value.si if self.times is not None else 1.0)


def plain(text: str) -> Phrase:
    """A phrase without numbers, whatever braces are in it."""
    return Phrase.of("{text}", text=text)


def phasor_sum(
    draft: Draft,
    says: str,
    symbol: str,
    terms: Sequence[Term],
    along: complex,
    dimension: str = "current",
    letter: str = "I",
    only_in_step: bool = False,
) -> Symbol:
    """Add the steps of a sum of phasors; the answer is its size.

    Args:
        draft: where they go.
        says: what is added up.
        symbol: of the sum.
        terms: each with its own size and direction.
        along: the direction that counts as in step.
        dimension: of all of them.
        letter: of the terms.
        only_in_step: leave out what is a quarter turn off; the answer is the rest.
    """
    terms = [term for term in terms if term.value]
    if not only_in_step and _are_parallel(terms):
        along = terms[0].value
    unit = along / abs(along) if along else 1.0
    turned = [term.value / unit for term in terms]
    most = max(map(abs, turned), default=0.0)
    total = sum((term.counted / unit for term in terms), 0j)
    if most == 0.0:
        return draft.step(says, symbol, "", Value(0.0, dimension))
    if all(abs(one.imag) <= _IN_STEP * most for one in turned):
        return _in_step(draft, says, symbol, terms, [one.real for one in turned], dimension, letter)
    symbols: list[Symbol] = []
    for index, (term, one) in enumerate(zip(terms, turned, strict=True), 1):
        symbols.append(_amount(f"{letter}_{index}", term, abs(one), dimension))
        angle = math.degrees(cmath.phase(one)) if one else 0.0
        symbols.append(Symbol(f"a_{index}", f"angle of {term.meaning}", Value(angle, "angle", 2)))
    factors = _factors(terms)
    parts = []
    for axis, turn, which in (
        ("x", "cos", "in step with the voltage"),
        ("y", "sin", "a quarter turn off"),
    ):
        expression = " + ".join(
            f"{_times(term)}{letter}_{index} * {turn}(radians(a_{index}))"
            for index, term in enumerate(terms, 1)
        )
        size = Value(total.real if axis == "x" else total.imag, dimension)
        parts.append(draft.step(f"{says}, {which}", axis, expression, size, *symbols, *factors))
        if only_in_step:
            return parts[0]
    return draft.step(says, symbol, "sqrt(x**2 + y**2)", Value(abs(total), dimension), *parts)


def _are_parallel(terms: Sequence[Term]) -> bool:
    """Whether all lie along one line, whichever that is."""
    if not terms:
        return False
    unit = terms[0].value / abs(terms[0].value)
    most = max(abs(term.value) for term in terms)
    return all(abs((term.value / unit).imag) <= _IN_STEP * most for term in terms)


def _in_step(
    draft: Draft,
    says: str,
    symbol: str,
    terms: Sequence[Term],
    sizes: Sequence[float],
    dimension: str,
    letter: str,
) -> Symbol:
    """A plain sum, with signs where currents run against each other."""
    symbols = [
        _amount(f"{letter}_{index}", term, abs(size), dimension)
        for index, (term, size) in enumerate(zip(terms, sizes, strict=True), 1)
    ]
    total = sum(
        size * (term.times.value.si if term.times is not None else 1.0)
        for term, size in zip(terms, sizes, strict=True)
    )
    way = -1.0 if total < 0.0 else 1.0  # the larger share comes first, so that the sum is a size
    parts: dict[tuple[bool, str], list[str]] = {}
    for index, (term, size) in enumerate(zip(terms, sizes, strict=True), 1):
        parts.setdefault((size * way < 0.0, _times(term)), []).append(f"{letter}_{index}")
    expression = ""
    for (is_against, times), names in sorted(parts.items(), key=lambda one: one[0][0]):
        joint = " - " if is_against else " + "
        if times and len(names) > 1:
            names = [f"({' + '.join(names)})"]
        expression += "".join(f"{joint}{times}{name}" for name in names)
    result = Value(abs(total), dimension)
    return draft.step(
        says, symbol, expression.removeprefix(" + "), result, *symbols, *_factors(terms)
    )


def _times(term: Term) -> str:
    return f"{term.times.name} * " if term.times is not None else ""


def _factors(terms: Sequence[Term]) -> tuple[Symbol, ...]:
    return tuple({term.times.name: term.times for term in terms if term.times is not None}.values())


def _amount(name: str, term: Term, size: float, dimension: str) -> Symbol:
    return Symbol(
        name, term.meaning, Value(size, dimension), term.source, term.is_typical, term.number
    )
