"""What the body side computes. SI throughout: kilograms, metres; angles in degrees."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .clashes import Solid


@dataclass(frozen=True, slots=True)
class Clash:
    """Two bodies, or a body and an edge, a zone or a clearance, that are in each other's way."""

    code: str
    """"overlap", "overhang", "height", "zone", "clearance"."""
    items: tuple[str, ...]
    area_m2: float
    depth_m: float
    """How far one would have to move."""
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Balance:
    """Mass and where it sits, in one state of the tanks."""

    mass_kg: float
    x_m: float
    y_m: float
    z_m: float
    tilt_deg: float | None
    """Angle at which the cart would go over its nearest edge of support; None without casters."""
    edge: str = ""
    caster_kg: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class BodyResult:
    """Everything the body side says about a build."""

    clashes: tuple[Clash, ...] = ()
    full: Balance | None = None
    empty: Balance | None = None
    width_m: float = 0.0
    depth_m: float = 0.0
    passes_door: bool | None = None
    used_share: dict[str, float] = field(default_factory=dict)
    """Level name to the share of its area that bodies cover."""
    solids: "dict[str, Solid]" = field(default_factory=dict)
    """Item id to its prism, lent to the next result."""
    reads: tuple[Any, ...] = ()
    """The parts of the Build this was made from, compared by identity for re-use."""
