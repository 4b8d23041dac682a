"""Check valves that do not do what they should: one that hardly opens, one that does not shut."""

import math
from dataclasses import dataclass

from msgspec.structs import replace

from ..build import Build, CheckValve
from ..units import Phrase, Value
from .suspect import ABSURD_PA, Kind, OfItem, pressure

_TIGHTEST = 1e6
"""Times the loss of a good one: a thousandth of the flow."""
_LEAST_PA = 1e3
"""Loss that is taken for a good one where none is stated."""


@dataclass(frozen=True, slots=True)
class StickingCheck(OfItem):
    """A disc that hardly leaves its seat; ln of times the loss it should have."""

    role: CheckValve

    @property
    def kind(self) -> Kind:
        """Sticks."""
        return "check valve sticks"

    @property
    def span(self) -> tuple[float, float, float]:
        """From as it should be to nearly shut."""
        return 0.0, 0.0, math.log(_TIGHTEST)

    def put(self, build: Build, value: float) -> Build:
        """Scale what it loses beyond the pressure that opens it."""
        if value <= 0.0:
            return self.with_role(build, self.role)
        point, cracking_pa = self.role.wide_open, max(self.role.cracking.si, 0.0)
        good_pa = max(point.pressure.si - cracking_pa, _LEAST_PA)
        loss_pa = min(cracking_pa + good_pa * math.exp(value), ABSURD_PA)
        worse = replace(point, pressure=pressure(loss_pa, point.pressure))
        return self.with_role(build, replace(self.role, wide_open=worse))

    def words(self, value: float) -> Phrase:
        """What it lets through."""
        return Phrase.of(
            "{valve} sticks: it lets {share} as much through as it should",
            valve=self.item.name,
            share=Value(math.exp(-0.5 * value), "share"),
        )

    def taken(self, value: float) -> Phrase:
        """Take it as that."""
        return Phrase.of(
            "Take {valve} as letting {share} as much through",
            valve=self.item.name,
            share=Value(math.exp(-0.5 * value), "share"),
        )


@dataclass(frozen=True, slots=True)
class StuckOpenCheck(OfItem):
    """A disc that does not come back to its seat; it does or it does not."""

    role: CheckValve

    @property
    def kind(self) -> Kind:
        """Stuck open."""
        return "check valve stuck open"

    @property
    def span(self) -> tuple[float, float, float]:
        """Shuts, and does not."""
        return 0.0, 0.0, 1.0

    def put(self, build: Build, value: float) -> Build:
        """Stuck from half on."""
        return self.with_role(build, replace(self.role, stuck_open=value >= 0.5))

    def words(self, value: float) -> Phrase:
        """Whether it shuts."""
        if value < 0.5:
            return Phrase.of("{valve} shuts as it should", valve=self.item.name)
        return Phrase.of("{valve} is stuck open and lets water back", valve=self.item.name)

    def taken(self, value: float) -> Phrase:
        """Take it as that."""
        if value < 0.5:
            return Phrase.of("Take {valve} as shutting", valve=self.item.name)
        return Phrase.of("Take {valve} as stuck open", valve=self.item.name)
