"""What a working is made of. Nothing here computes: values come from the results of the solvers."""

from dataclasses import dataclass

from ..findings.number import Number
from ..units import Phrase, Value

__all__ = ["Held", "Number", "Step", "Symbol", "Working"]


@dataclass(frozen=True, slots=True)
class Symbol:
    """One letter of a formula with what was put in for it."""

    name: str
    """As it stands in the expression: "I", "p_1", "rho"."""
    meaning: str
    value: Value
    source: str = ""
    """Where the number comes from: "nameplate", "measured", "typical", "venue", a table."""
    is_typical: bool = False
    """It rests on a typical figure that nobody has checked for this piece."""
    number: Number | None = None
    """It has a working of its own."""


@dataclass(frozen=True, slots=True)
class Step:
    """One line: result = expression."""

    says: str
    """In a few words, such as "loss in the tube"."""
    symbol: str
    """Of the result."""
    expression: str
    """In SI, with the names of the symbols, in Python's arithmetic: "f * L / D * rho * v**2 / 2".

    Shown in the trade's notation; a check may evaluate it as it stands. Empty: the result is
    read off (a table, a curve) as `says` tells.
    """
    symbols: tuple[Symbol, ...]
    result: Value


@dataclass(frozen=True, slots=True)
class Held:
    """The limit a number is held against."""

    value: Value
    rule: str
    source: str
    """Standard and edition, or "common practice, no source"."""
    holds: bool
    is_least: bool = False
    """The number has to reach it instead of staying under it."""
    steps: tuple[Step, ...] = ()
    """How the limit itself came about, where it is no plain figure."""


@dataclass(frozen=True, slots=True)
class Working:
    """How one number came about, for somebody who checks it by hand."""

    number: Number
    title: Phrase
    result: Value
    steps: tuple[Step, ...]
    held: tuple[Held, ...] = ()
    assumptions: tuple[Phrase, ...] = ()
    """What was taken for granted, and what is typical instead of read off a nameplate."""
    notes: tuple[Phrase, ...] = ()
