"""What the panel shows of a working, prepared as plain values before any widget."""

from dataclasses import dataclass

from ...findings.number import Number
from ...units import UnitSystem, capitalised
from ...workings.digits import Digits
from ...workings.model import Held, Step, Symbol, Working
from ...workings.notation import symbol_text
from ...workings.shown import (
    digits_of,
    fine,
    held_line,
    new_symbols,
    step_parts,
    symbol_origin,
    told_result,
)

_FEW = 8
"""With no more symbols than this in the whole working, every step is unfolded."""


@dataclass(frozen=True, slots=True)
class SymbolRow:
    """One symbol with what was put in for it."""

    name: str
    value: str
    meaning: str
    origin: str
    is_typical: bool
    number: Number | None
    """It has a working of its own."""


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step: what it is, its lines one under the other, and its symbols."""

    says: str
    symbol: str
    lines: tuple[str, ...]
    """What stands behind each "="."""
    symbols: tuple[SymbolRow, ...]
    is_open: bool
    """Whether it is unfolded at first."""

    @property
    def spoken(self) -> str:
        """The whole step as a sentence, for screen readers."""
        return f"{self.says}: {self.symbol} = {' = '.join(self.lines)}"


@dataclass(frozen=True, slots=True)
class HeldRow:
    """A limit, whether it holds, and how it came about itself."""

    text: str
    state: str
    """"ok" or "stop"."""
    word: str
    steps: tuple[StepRow, ...]


@dataclass(frozen=True, slots=True)
class WorkingRows:
    """A whole working."""

    title: str
    result: str
    steps: tuple[StepRow, ...]
    held: tuple[HeldRow, ...]
    assumed: tuple[str, ...]
    notes: tuple[str, ...]


def working_rows(working: Working, system: UnitSystem) -> WorkingRows:
    """A working in the person's units."""
    known: set[tuple[str, float]] = set()
    told = [(step, new_symbols(step, known)) for step in working.steps]
    all_open = sum(len(symbols) for _, symbols in told) <= _FEW
    last = len(told) - 1
    digits = digits_of(working.steps, system)
    return WorkingRows(
        title=working.title.shown(system),
        result=told_result(working).shown(system),
        steps=tuple(
            _step(step, symbols, system, digits, is_open=all_open or at == last)
            for at, (step, symbols) in enumerate(told)
        ),
        held=tuple(_held(held, working, system) for held in working.held),
        assumed=tuple(phrase.shown(system) for phrase in working.assumptions),
        notes=tuple(phrase.shown(system) for phrase in working.notes),
    )


def _step(
    step: Step,
    symbols: tuple[Symbol, ...],
    system: UnitSystem,
    digits: Digits,
    *,
    is_open: bool,
) -> StepRow:
    return StepRow(
        says=capitalised(step.says),
        symbol=symbol_text(step.symbol),
        lines=step_parts(step, system, digits),
        symbols=tuple(_symbol(symbol, system, digits) for symbol in symbols),
        is_open=is_open,
    )


def _symbol(symbol: Symbol, system: UnitSystem, digits: Digits) -> SymbolRow:
    return SymbolRow(
        name=symbol_text(symbol.name),
        value=fine(symbol.value, system, digits.of(symbol.value)),
        meaning=symbol.meaning,
        origin=symbol_origin(symbol),
        is_typical=symbol.is_typical,
        number=symbol.number,
    )


def _held(held: Held, working: Working, system: UnitSystem) -> HeldRow:
    known: set[tuple[str, float]] = set()
    digits = digits_of(held.steps, system)
    steps = tuple(
        _step(step, new_symbols(step, known), system, digits, is_open=False) for step in held.steps
    )
    return HeldRow(
        text=capitalised(held_line(held, working.result, system)),
        state="ok" if held.holds else "stop",
        word="Holds" if held.holds else "Does not hold",
        steps=steps,
    )
