"""What a tree of cords is made of, for whatever solves it."""

from dataclasses import dataclass
from typing import Protocol


class Drawing(Protocol):
    """Something that draws a current at a voltage."""

    @property
    def conductance(self) -> float:
        """Of the part of it that is a heater, siemens."""

    def current(self, u: complex) -> complex:
        """Amps at a voltage, both as phasors."""


@dataclass(frozen=True, slots=True)
class Segment:
    """A length of cord or of building wire, or a supply's terminals (impedance zero)."""

    parent: int
    """Index of the segment nearer to the supply, always lower than its own; -1 at a supply."""
    source: tuple[complex, ...]
    """No-load volts of the supply's conductors, neutral last."""
    impedance_ohm: complex = 0j
    """Of one conductor, one way."""


@dataclass(frozen=True, slots=True)
class Draw:
    """A load at the far end of a segment, between two of its conductors."""

    segment: int
    p: int
    q: int
    model: Drawing
