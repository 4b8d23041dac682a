"""Everything there is to know about a piece of equipment, wherever it stands."""

from typing import Literal

from ..units import Length, Mass, Power
from .base import Part
from .electrical import ElectricalRole
from .ports import Port
from .water import WaterRole

Basis = Literal["nameplate", "maker's sheet", "measured", "typical", "standard", "handbook"]


class Size(Part, frozen=True):
    """Outer measures: left to right, rear to front, underside to top."""

    width: Length
    depth: Length
    height: Length


Purpose = Literal["ventilation", "service", "hot", "lid", "work"]
"""Why a space must be free: air, a hand with a tool, heat or steam, a lid or hopper that opens,
the hands of whoever works with it."""


class Clearance(Part, frozen=True):
    """Free space the equipment needs around it for one purpose, by side of the un-turned body."""

    purpose: Purpose = "ventilation"
    left: Length = Length("0 in")
    right: Length = Length("0 in")
    front: Length = Length("0 in")
    rear: Length = Length("0 in")
    top: Length = Length("0 in")


class Origin(Part, frozen=True):
    """Where the numbers of one part of a specification come from."""

    of: str
    """Which numbers, such as "size", "electrical", "inlet pressure"."""
    basis: Basis
    note: str = ""


class Specification(Part, frozen=True):
    """A piece of equipment. Placed items carry their own whole copy."""

    name: str
    kind: str
    """What sort of thing it is, such as "espresso machine" or "tank"."""
    size: Size
    mass: Mass
    """Empty."""
    mass_full: Mass | None = None
    """With everything in it; None: the same as empty, or worked out from a tank's volume."""
    clearances: tuple[Clearance, ...] = ()
    ports: tuple[Port, ...] = ()
    electrical: ElectricalRole | None = None
    water: WaterRole | None = None
    heat: Power | None = None
    """Given off to the room in use."""
    operated: bool = False
    """Hands are on it during service: it must be within reach of the operator's side."""
    symbol: str = "box"
    """Name of the drawing in resources/symbols."""
    stock: str = ""
    """Key of the stock entry it was placed from; empty for one of the person's own."""
    origins: tuple[Origin, ...] = ()

    def port(self, port_id: str) -> Port | None:
        """The port of that id, or None."""
        return next((port for port in self.ports if port.id == port_id), None)
