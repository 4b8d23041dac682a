"""What every suspect of a diagnosis has: one number to turn, and words for it."""

from dataclasses import dataclass
from typing import Any, Literal, Protocol

from msgspec.structs import replace

from ..build import Build, Item
from ..build.edits import replace_item
from ..units import Phrase, Pressure

Kind = Literal[
    "filter used up",
    "pump weak",
    "pump switch moved",
    "regulator moved",
    "tube pinched",
    "mains different",
    "valve not open",
    "check valve sticks",
    "check valve stuck open",
]
ABSURD_PA = 1e14
"""No quantity can be written far beyond."""


class Suspect(Protocol):
    """One thing that may be otherwise than drawn."""

    @property
    def kind(self) -> Kind:
        """What may have happened."""

    @property
    def items(self) -> tuple[str, ...]:
        """Ids of the items to look at."""

    @property
    def runs(self) -> tuple[str, ...]:
        """Ids of the tubes to look at."""

    @property
    def span(self) -> tuple[float, float, float]:
        """Least, as drawn, most."""

    def put(self, build: Build, value: float) -> Build:
        """The build with that value."""

    def words(self, value: float) -> Phrase:
        """A sentence without its full stop: "Filter is 80 % used up"."""

    def taken(self, value: float) -> Phrase:
        """Name of the edit: "Take Filter as 80 % used up"."""


@dataclass(frozen=True, slots=True)
class OfItem:
    """A suspect that is an item."""

    item: Item

    @property
    def items(self) -> tuple[str, ...]:
        """The item."""
        return (self.item.id,)

    @property
    def runs(self) -> tuple[str, ...]:
        """None."""
        return ()

    def with_role(self, build: Build, role: Any) -> Build:
        """The build with another water role in its place."""
        specification = replace(self.item.specification, water=role)
        now = build.item(self.item.id) or self.item
        return replace_item(build, replace(now, specification=specification))


def pressure(si: float, like: Pressure) -> Pressure:
    """A pressure [Pa] as the other was written."""
    return Pressure.from_si(si, like.unit, 4)


def scaled(old: Pressure, factor: float) -> Pressure:
    """A pressure so many times as high."""
    return pressure(min(old.si * factor, ABSURD_PA), old)
