"""The document: one cart, what is on it, the venue it is planned for."""

from typing import Any, Literal

from .base import Part
from .cart import Cart
from .cases import OperatingCase, Service, Venue
from .item import Item
from .runs import Run, TubeRun, Wire

_LOOKED_UP: dict[int, tuple[tuple[Any, ...], dict[str, Any]]] = {}
_MOST_LOOKED_UP = 8
"""Builds come and go at every step of a drag; only a few are asked about at a time."""

Region = Literal["US", "UK", "EU", "AU"]


class Build(Part, frozen=True):
    """One cart as drawn. A value: every edit makes a new one that shares what did not change."""

    name: str
    cart: Cart
    region: Region = "US"
    units: Literal["US", "metric"] = "US"
    story: str = ""
    designer: str = ""
    revision: str = ""
    venue: Venue = Venue()
    service: Service = Service()
    cases: tuple[OperatingCase, ...] = ()
    items: tuple[Item, ...] = ()
    runs: tuple[Run, ...] = ()

    def item(self, item_id: str) -> Item | None:
        """The item of that id, or None."""
        return _by_id(self.items).get(item_id)

    def run(self, run_id: str) -> Run | None:
        """The run of that id, or None."""
        return _by_id(self.runs).get(run_id)

    @property
    def wires(self) -> tuple[Wire, ...]:
        """The runs that carry power."""
        return tuple(run for run in self.runs if isinstance(run, Wire))

    @property
    def tubes(self) -> tuple[TubeRun, ...]:
        """The runs that carry water, supply and drain."""
        return tuple(run for run in self.runs if isinstance(run, TubeRun))


def _by_id(parts: tuple[Any, ...]) -> dict[str, Any]:
    """Items or runs by id, the first of an id; made once for a tuple of them."""
    found = _LOOKED_UP.get(id(parts))
    if found is not None and found[0] is parts:
        return found[1]
    made = {part.id: part for part in reversed(parts)}
    if len(_LOOKED_UP) >= _MOST_LOOKED_UP:
        _LOOKED_UP.clear()
    _LOOKED_UP[id(parts)] = parts, made
    return made
