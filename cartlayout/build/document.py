"""The document: one cart, what is on it, the venue it is planned for."""

from typing import Literal

from .base import Part
from .cart import Cart
from .cases import OperatingCase, Service, Venue
from .item import Item
from .runs import Run, TubeRun, Wire

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
        return next((item for item in self.items if item.id == item_id), None)

    def run(self, run_id: str) -> Run | None:
        """The run of that id, or None."""
        return next((run for run in self.runs if run.id == run_id), None)

    @property
    def wires(self) -> tuple[Wire, ...]:
        """The runs that carry power."""
        return tuple(run for run in self.runs if isinstance(run, Wire))

    @property
    def tubes(self) -> tuple[TubeRun, ...]:
        """The runs that carry water, supply and drain."""
        return tuple(run for run in self.runs if isinstance(run, TubeRun))
