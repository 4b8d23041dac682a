"""What the program says about a build."""

from dataclasses import dataclass
from typing import Literal

from ..units import Phrase, UnitSystem, Value, beside
from .number import Number

Severity = Literal["stop", "care", "note"]
SEVERITIES: tuple[Severity, ...] = ("stop", "care", "note")


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing said: what, where, number against limit, source of the limit.

    stop: will fail or is not allowed. care: may fail, check. note: worth knowing.
    """

    severity: Severity
    code: str
    """Stable key, such as "power.total" or "water.flow"."""
    title: Phrase
    """One short line, decisive: "{tap} gets {flow} of {needed}"."""
    detail: Phrase
    """One or two sentences in plain words, with what to do."""
    items: tuple[str, ...] = ()
    """Culprits first."""
    runs: tuple[str, ...] = ()
    value: Value | None = None
    limit: Value | None = None
    source: str = ""
    """Of the limit."""
    working: tuple[Phrase, ...] = ()
    number: Number | None = None
    """Which number it is about, mostly `value`, for whoever asks for its whole working."""

    def __post_init__(self) -> None:
        """A number over its limit never reads like the limit, whatever rounding says."""
        a, b = self.value, self.limit
        if a is None or b is None:
            return
        told = {
            "title": self.title.told_apart(a, b),
            "detail": self.detail.told_apart(a, b),
            "value": beside(a, a, b),
            "limit": beside(b, a, b),
            "working": tuple(line.told_apart(a, b) for line in self.working),
        }
        for name, each in told.items():
            object.__setattr__(self, name, each)

    def sort_key(self) -> tuple[int, str, tuple[str, ...], tuple[str, ...]]:
        """Stops first, then by code and place: the order on the board and in the sheets."""
        return (SEVERITIES.index(self.severity), self.code, self.items, self.runs)

    def text(self, system: UnitSystem) -> str:
        """Title and detail in the person's units."""
        return f"{self.title.shown(system)}. {self.detail.shown(system)}"
