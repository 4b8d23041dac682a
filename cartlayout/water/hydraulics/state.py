"""What a solution is asked for, and what it answers."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from typing import Literal

from .sketch import Key

Mode = Literal["holding", "wide open", "passing"]
"""Of a limiter: it holds its set pressure; it gives all it can; something pushes through it."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """What is different from one case to the next."""

    open_taps: Collection[Key] = ()
    set_pa: Mapping[Key, float] = field(default_factory=dict)
    """Set pressures of limiters where not their own."""
    fixed_pa: Mapping[Key, float] = field(default_factory=dict)
    """Gauge pressures of fixed nodes where not their own."""
    most_flow: Mapping[Key, float] = field(default_factory=dict)
    """Limiters that cannot take in more than so much [m^3/s]: pumps on a starved inlet."""


@dataclass(frozen=True, slots=True)
class Start:
    """Flows, pressures and branches of a solution."""

    flows: tuple[float, ...]
    pressures: tuple[float, ...]
    modes: tuple[Mode, ...]


@dataclass(frozen=True, slots=True)
class State:
    """A steady state."""

    converged: bool
    iterations: int
    imbalance: float
    """Largest continuity error at a junction [m^3/s]."""
    energy_error_pa: float
    """Largest pressure left over along a link."""
    flows: dict[Key, float]
    """By link, limiter and tap."""
    pressures_pa: Mapping[Key, float]
    """Gauge, by node; nodes that are not fed are missing."""
    modes: dict[Key, Mode]
    start: Start
    """What the next, similar solution may start from."""


def laid_together(a: State, b: State) -> Start:
    """What a state with the taps of two others open may start from: the flows add up."""
    low: Mode = "wide open"
    return Start(
        tuple(x + y for x, y in zip(a.start.flows, b.start.flows, strict=True)),
        tuple(min(x, y) for x, y in zip(a.start.pressures, b.start.pressures, strict=True)),
        tuple(
            low if low in (x, y) else x for x, y in zip(a.start.modes, b.start.modes, strict=True)
        ),
    )
