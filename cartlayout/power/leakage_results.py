"""What is told of leakage to earth."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Leak:
    """One load behind a device."""

    item: str
    amps: float
    known: bool
    """False: nobody states it; the most that its product standard allows."""
    rule: str = ""


@dataclass(frozen=True, slots=True)
class Leakage:
    """Everything behind one device, or behind one that there may be."""

    key: str
    """Id of the item with the device in it, or of the first outlet of its circuit."""
    circuit: str
    protected: bool | None
    """None: nobody knows whether there is a device."""
    leaks: tuple[Leak, ...]
    """Largest first."""
    budget_a: float
    hold_a: float
    """The device never trips below this."""
    trip_a: float
    """It trips at this for certain."""

    @property
    def known_a(self) -> float:
        """What is stated."""
        return sum(leak.amps for leak in self.leaks if leak.known)

    @property
    def most_a(self) -> float:
        """With what the rest may leak."""
        return sum(leak.amps for leak in self.leaks)
