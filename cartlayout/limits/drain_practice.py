"""What good practice asks of drains that run by gravity, whatever the region."""

from functools import cache

from .profiles import Setting
from .rows import Row
from .tables import read_table

_FILE = "drain_practice.json"


class DrainPractice(Row, frozen=True):
    """Numbers for drain tubes, each with its source."""

    manning_n: Setting[float]
    """Roughness of smooth plastic tube in Manning's formula [s/m^(1/3)]."""
    least_reynolds: Setting[float]
    """Below this Manning's formula is a rough figure only."""
    no_reduction: Setting[bool]
    """Whether a drain may not get narrower on its way."""
    short_stretch_m: Setting[float]
    """So short a piece need not fall by itself."""


@cache
def drain_practice() -> DrainPractice:
    """Return the advice for drain tubes."""
    return read_table(_FILE, DrainPractice)
