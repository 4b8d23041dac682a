"""What a breaker must not exceed to protect the cord behind it."""

from functools import cache

from ..units import ConductorSize
from .rows import LimitsError, Row, Sourced
from .tables import read_table

_FILE = "cord_protection.json"


class CordProtection(Sourced, frozen=True):
    """The rule of some regions for cords that no listing covers."""

    regions: tuple[str, ...]
    rule: str
    fused_plugs: tuple[str, ...]
    """Plugs with a fuse of their own, which protects the cord instead of the breaker."""
    small_up_to_a: float = 0.0
    """On circuits up to this, extension cords from `small_size` on are protected."""
    small_size: ConductorSize | None = None
    small_rule: str = ""
    small_source: str = ""

    def is_small(self, breaker_a: float, size: ConductorSize) -> bool:
        """Whether the relief for small circuits covers an extension cord."""
        if self.small_size is None or breaker_a > self.small_up_to_a:
            return False
        return size.si >= self.small_size.si * (1.0 - 1e-9)


class _Table(Row, frozen=True):
    rules: tuple[CordProtection, ...]


@cache
def cord_protections() -> tuple[CordProtection, ...]:
    """Every rule."""
    return read_table(_FILE, _Table).rules


def cord_protection(region: str) -> CordProtection:
    """The rule of a region.

    Raises:
        LimitsError: no rule names the region.
    """
    for rule in cord_protections():
        if region in rule.regions:
            return rule
    raise LimitsError(f"{_FILE}: no rule for the region '{region}'")
