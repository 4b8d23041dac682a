"""What a tube can be fastened to on a body."""

from functools import cache
from typing import Literal

from ..units import Length
from .rows import Row, Sourced
from .tables import by_key, read_table

_FILE = "connectors_water.json"

WaterMedium = Literal["water", "drain"]
WaterFamily = Literal[
    "inch push-fit",
    "metric push-fit",
    "NPT",
    "BSP",
    "compression",
    "barb",
    "GHT",
    "drain",
    "open",
]


class WaterConnector(Sourced, frozen=True):
    """A thread, a push-fit socket, a hose tail, a drain spigot, or an open end."""

    key: str
    family: WaterFamily
    size: str
    """As the trade says it, such as "3/8" or "25 mm"."""
    bore: Length | None
    """Of the free passage; None for an open end, which is as wide as its tube."""
    media: tuple[WaterMedium, ...]

    @property
    def bore_m(self) -> float | None:
        """Free passage in metres, or None for an open end."""
        return None if self.bore is None else self.bore.si


class _Table(Row, frozen=True):
    connectors: tuple[WaterConnector, ...]


@cache
def _connectors() -> dict[str, WaterConnector]:
    return by_key(
        f"{_FILE}: connectors", [(row.key, row) for row in read_table(_FILE, _Table).connectors]
    )


def water_connectors() -> tuple[WaterConnector, ...]:
    """Every water and drain connector, in the order of the table."""
    return tuple(_connectors().values())


def water_connector(key: str) -> WaterConnector | None:
    """The connector of that key, or None."""
    return _connectors().get(key)
