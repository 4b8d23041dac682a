"""One computed thing, told in a line."""

from dataclasses import dataclass

from ...findings.number import Number


@dataclass(frozen=True, slots=True)
class Fact:
    """One line: what, how much, and whether that holds."""

    label: str
    value: str
    state: str = ""
    """"ok", "care", "stop" or "" where nothing is judged."""
    tip: str = ""
    numbers: tuple[Number, ...] = ()
    """What its value is, for whoever asks how it came about; several where it tells several."""
    about: tuple[str, ...] = ()
    """Typical figures that its value rests on."""
