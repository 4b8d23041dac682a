"""What a number rests on that nobody has checked: typical figures anywhere in its working."""

from ..analysis import Analysis
from ..findings.number import Number
from .find import working
from .model import Symbol, Working

SIGN = "≈"
"""Beside a number that rests on a typical figure."""
_DEEPEST = 4
"""Workings inside workings; what is deeper is not worth a word."""


def typical_figures(analysis: Analysis, *numbers: Number) -> tuple[str, ...]:
    """Typical figures that some numbers rest on, in words, each once; none: all were read off.

    Args:
        analysis: of the build as it is now.
        numbers: any; those without a working rest on nothing that is known.
    """
    found: dict[str, None] = {}
    seen: set[Number] = set()
    for number in numbers:
        _collect(analysis, number, found, seen, 0)
    return tuple(found)


def _collect(
    analysis: Analysis, number: Number, found: dict[str, None], seen: set[Number], depth: int
) -> None:
    if number in seen or depth > _DEEPEST:
        return
    seen.add(number)
    told = working(analysis, number)
    if told is None:
        return
    whose = _whose(analysis, told)
    for step in told.steps:
        for symbol in step.symbols:
            if symbol.number is not None:
                _collect(analysis, symbol.number, found, seen, depth + 1)
            if symbol.is_typical and symbol.number is None:
                found.setdefault(_words(symbol, whose, told.number.subject))


def _whose(analysis: Analysis, told: Working) -> str:
    """Name of the item that a working is about."""
    of = told.number.of
    item = analysis.build.item(of) or analysis.build.item(of.rpartition(".")[0])
    if item is None:
        item = analysis.build.item(of.partition("/")[0])
    return item.name if item is not None else ""


def _words(symbol: Symbol, whose: str, subject: str) -> str:
    meaning = symbol.meaning.partition(";")[0]
    if whose and (meaning.startswith("its ") or " of its " in meaning):
        named = meaning.removeprefix("its ").replace(" of its ", " of the ")
        return f"{named} of {whose}"
    if subject == "element" and whose:
        return f"loss of {whose}"
    if "row" in meaning and whose:
        return f"table of {whose}"
    if not whose or " of " in meaning or whose.lower() in meaning.lower():
        return meaning
    return f"{meaning} of {whose}"
