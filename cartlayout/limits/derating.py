"""What an engine loses where the air is thin or warm."""

from functools import cache

from .rows import Row, Sourced
from .tables import read_table

_FILE = "derating.json"


class AltitudeLoss(Sourced, frozen=True):
    """Share lost for every metre above the engine's rated altitude."""

    per_m: float
    rule: str


class HeatLoss(Sourced, frozen=True):
    """Share lost for every kelvin above the engine's rated ambient."""

    per_k: float
    rule: str


class Derating(Row, frozen=True):
    """Both."""

    altitude: AltitudeLoss
    heat: HeatLoss


@cache
def derating() -> Derating:
    """Return the losses of engines."""
    return read_table(_FILE, Derating)
