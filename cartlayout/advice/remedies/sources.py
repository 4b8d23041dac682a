"""Who knows candidates for which finding, who knows its number, and why there may be none.

A module of this room that has candidates lists them in `SOURCES`: the code of a finding, or the
beginning of codes with a star, to the functions that yield candidates for it, the
most promising first. `READERS` says in the same way who finds the number of a finding, and
`REASONS` why nothing can be offered where that is so.
"""

from collections.abc import Iterator, Mapping
from types import ModuleType
from typing import TypeVar

from ...analysis import Analysis
from ...build.edits import EditError
from ...findings import Finding
from . import (
    body_cart,
    body_moves,
    body_numbers,
    body_panel,
    body_weight,
    network_fittings,
    network_joins,
    none,
    power_cords,
    power_gear,
    power_joins,
    power_moves,
    power_numbers,
    power_venue,
    water_codes,
)
from .model import Candidate, Probe, Reader, Source

T = TypeVar("T")
_TURNS = (1, 2)
"""So many candidates of one source before the next has its turn: in the first round, and later."""

_ROOMS: tuple[ModuleType, ...] = (
    body_moves,
    body_cart,
    body_panel,
    body_weight,
    body_numbers,
    network_joins,
    network_fittings,
    power_moves,
    power_joins,
    power_cords,
    power_gear,
    power_venue,
    power_numbers,
    water_codes,
    none,
)
"""Modules that have any of the three; the order is that in which they are asked."""

_SOURCES: tuple[Mapping[str, tuple[Source, ...]], ...] = tuple(
    getattr(room, "SOURCES", {}) for room in _ROOMS
)
_READERS: tuple[Mapping[str, Reader], ...] = tuple(getattr(room, "READERS", {}) for room in _ROOMS)
_REASONS: tuple[Mapping[str, str], ...] = tuple(getattr(room, "REASONS", {}) for room in _ROOMS)
_WORDS: tuple[Mapping[str, str], ...] = tuple(getattr(room, "WORDS", {}) for room in _ROOMS)


def _matches(pattern: str, code: str) -> bool:
    return code.startswith(pattern[:-1]) if pattern.endswith("*") else code == pattern


def _looked_up(tables: tuple[Mapping[str, T], ...], code: str) -> Iterator[T]:
    """What the tables hold for a code, exact ones before beginnings."""
    for table in tables:
        if code in table:
            yield table[code]
    for table in tables:
        for pattern, found in table.items():
            if pattern != code and _matches(pattern, code):
                yield found


def candidates(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Everything that may help against a finding, a few of each source in turn.

    So what is tried first is of several kinds, and none is left out because another has many.
    """
    waiting = [
        source(analysis, finding)
        for sources in _looked_up(_SOURCES, finding.code)
        for source in sources
    ]
    size = _TURNS[0]
    while waiting:
        for source in list(waiting):
            for _ in range(size):
                candidate = _next(source)
                if candidate is None:
                    waiting.remove(source)
                    break
                yield candidate
        size = _TURNS[1]


def _next(source: Iterator[Candidate]) -> Candidate | None:
    """Another one; None at the end, and where a damaged build has not what a source looks for."""
    try:
        return next(source, None)
    except EditError:
        return None


def probe_of(analysis: Analysis, finding: Finding) -> Probe | None:
    """What reads the finding's number from any analysis of the cart; None: it has none."""
    for reader in _looked_up(_READERS, finding.code):
        found = reader(analysis, finding)
        if found is not None:
            return found
    return None


def words_of(code: str) -> str:
    """How to say that a number has come down to nothing, with {before} in it; empty: plainly."""
    return next(_looked_up(_WORDS, code), "")


def why_none(finding: Finding) -> str:
    """Why nothing can be offered for a finding: one plain sentence."""
    return next(
        _looked_up(_REASONS, finding.code),
        "Nothing that was tried takes this away without bringing something worse.",
    )


def has_sources(code: str) -> bool:
    """Whether anybody knows candidates for findings of a code."""
    return next(_looked_up(_SOURCES, code), None) is not None
