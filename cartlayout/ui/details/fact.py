"""One computed thing, told in a line."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fact:
    """One line: what, how much, and whether that holds."""

    label: str
    value: str
    state: str = ""
    """"ok", "care", "stop" or "" where nothing is judged."""
    tip: str = ""
