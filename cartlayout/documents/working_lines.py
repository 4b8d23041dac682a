"""Workings as text and as JSON.

JSON of a working: `number` (`subject`, `of`, `what`, `case`), `title`, `result` (SI number and
dimension), `steps`, `limits` (`value`, `rule`, `source`, `holds`, `is_least`, `steps`), `assumed`
and `notes` (texts). A step: `says`, `symbol`, `expression` (in SI, Python's arithmetic; empty:
read off), `symbols` (`name`, `meaning`, `value`, `source`, `typical`), `result`.
"""

from collections.abc import Iterator
from typing import Any

from ..analysis import Analysis
from ..findings import Finding
from ..units import UnitSystem, Value
from ..workings.find import working
from ..workings.model import Held, Step, Symbol, Working
from ..workings.shown import lines
from .json_numbers import finite

_INDENT = " " * 9
_DEEPER = {"title": "", "step": "  ", "where": "      "}


def working_of(analysis: Analysis, finding: Finding) -> Working | None:
    """The working of a finding's number, or None where it is about none."""
    return working(analysis, finding.number) if finding.number is not None else None


def working_lines(analysis: Analysis, finding: Finding, system: UnitSystem) -> Iterator[str]:
    """How a finding's number came about, for a terminal."""
    one = working_of(analysis, finding)
    if one is None:
        for phrase in finding.working:
            yield f"{_INDENT}{phrase.shown(system)}"
        return
    for line in lines(one, system):
        yield f"{_INDENT}{_DEEPER.get(line.sort, '  ')}{line.text}"


def working_json(one: Working | None, system: UnitSystem) -> dict[str, Any] | None:
    """A working, ready for json.dumps; None stays None."""
    if one is None:
        return None
    number = one.number
    return {
        "number": {
            "subject": number.subject,
            "of": number.of,
            "what": number.what,
            "case": number.case,
        },
        "title": one.title.shown(system),
        "result": _value(one.result),
        "steps": [_step(step) for step in one.steps],
        "limits": [_held(held) for held in one.held],
        "assumed": [phrase.shown(system) for phrase in one.assumptions],
        "notes": [phrase.shown(system) for phrase in one.notes],
    }


def _value(value: Value) -> dict[str, Any]:
    return {"si": finite(value.si), "dimension": value.dimension}


def _step(step: Step) -> dict[str, Any]:
    return {
        "says": step.says,
        "symbol": step.symbol,
        "expression": step.expression,
        "symbols": [_symbol(symbol) for symbol in step.symbols],
        "result": _value(step.result),
    }


def _symbol(symbol: Symbol) -> dict[str, Any]:
    return {
        "name": symbol.name,
        "meaning": symbol.meaning,
        "value": _value(symbol.value),
        "source": symbol.source,
        "typical": symbol.is_typical,
    }


def _held(held: Held) -> dict[str, Any]:
    return {
        "value": _value(held.value),
        "rule": held.rule,
        "source": held.source,
        "holds": held.holds,
        "is_least": held.is_least,
        "steps": [_step(step) for step in held.steps],
    }
