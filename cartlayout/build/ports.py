"""Where wires and tubes attach to a body."""

from typing import Literal

from ..units import ConductorSize, Length
from .base import Part

Medium = Literal["power", "water", "drain"]
Direction = Literal["in", "out", "through"]


class Cord(Part, frozen=True):
    """The flexible cord that a plug hangs on."""

    size: ConductorSize
    length: Length
    loaded_conductors: int = 2
    """Conductors that carry current; the earth never counts."""


class Port(Part, frozen=True):
    """A place on a body where a run can end.

    Positions are measured on the body as it stands un-turned: from its left
    side, from its rear side, and up from its underside.
    """

    id: str
    medium: Medium
    direction: Direction
    connector: str
    """Key of the connector tables, such as "5-15P", "5-20R", "3/8 BSP", "8 mm push-fit"."""
    x: Length
    y: Length
    z: Length
    cord: Cord | None = None
    """The cord of a plug; None where the plug has no cord of its own or for a receptacle."""
