"""What one entry of the stock is."""

from typing import Literal

from ..build import Region, Run, Specification
from ..build.base import Part
from ..units import Length

CATEGORIES = (
    "Coffee and tea",
    "Grinding",
    "Hot water",
    "Cold and blended",
    "Rinsing and sinks",
    "Water supply",
    "Pumps",
    "Water line",
    "Waste water",
    "Power of the venue",
    "Power on the cart",
    "Counter and light",
    "Furniture",
    "Lift-out modules",
)
"""In the order a cart is planned: what it serves, then its water, then its power, then the rest."""

SYMBOLS = (
    "machine",
    "machine-two",
    "grinder",
    "brewer",
    "stand",
    "scale",
    "kettle",
    "tower",
    "boiler",
    "fridge",
    "ice",
    "blender",
    "steamer",
    "taps",
    "carbonator",
    "cylinder",
    "rinser",
    "sink",
    "dump-sink",
    "till",
    "screen",
    "light",
    "speaker",
    "strip",
    "breaker-box",
    "extension",
    "generator",
    "battery",
    "outlet",
    "jug",
    "tank",
    "mains",
    "pump",
    "accumulator",
    "filter",
    "softener",
    "regulator",
    "manifold",
    "tee",
    "check-valve",
    "shut-off",
    "gauge",
    "waste-tank",
    "floor-drain",
    "drain-pump",
    "knock-box",
    "tamper",
    "cups",
    "crate",
    "lids",
    "syrup",
    "pastry",
    "bin",
    "tools",
    "tray",
    "box",
)
"""Names of the drawings in resources/symbols."""

Stands = Literal["counter", "shelf", "base", "venue"]


class StockError(ValueError):
    """A stock file that cannot be used; the message names the file, the entry and the place."""


class Placement(Part, frozen=True):
    """One body of a module, where it stands about the module's middle."""

    id: str
    """Name inside the module; the runs of the module use it."""
    specification: Specification
    dx: Length
    """Of its middle, to the right of the module's middle."""
    dy: Length
    """Of its middle, in front of the module's middle."""
    label: str = ""
    raised: Length = Length("0 in")
    rotation: float = 0.0


class StockEntry(Part, frozen=True):
    """Something that can be placed: one body, or a module of several that lift out as one."""

    key: str
    category: str
    name: str
    words: tuple[str, ...] = ()
    """What people may type to find it, besides its name and kind."""
    stands: Stands = "counter"
    """Level it usually stands on; what belongs to the venue stands nowhere else."""
    regions: tuple[Region, ...] = ()
    """Where it fits the supply; empty: anywhere."""
    raised: Length = Length("0 in")
    """Height of its underside above what it stands on; of a venue's outlet above the floor."""
    specification: Specification | None = None
    placements: tuple[Placement, ...] = ()
    runs: tuple[Run, ...] = ()
    """Of a module: wires and tubes between its own bodies."""

    @property
    def is_module(self) -> bool:
        """Tell a module from a single body."""
        return self.specification is None

    @property
    def items(self) -> tuple[Placement, ...]:
        """Every body with its place about the middle; a single one stands in the middle."""
        if self.specification is None:
            return self.placements
        return (
            Placement(
                id=self.key,
                specification=self.specification,
                dx=Length("0 in"),
                dy=Length("0 in"),
                raised=self.raised,
            ),
        )

    @property
    def symbol(self) -> str:
        """Name of its drawing; a module shows that of its first body."""
        return self.items[0].specification.symbol

    @property
    def size_m(self) -> tuple[float, float, float]:
        """Width, depth and height of the box around it, in metres."""
        low_x = min(one.dx.si - _half(one)[0] for one in self.items)
        high_x = max(one.dx.si + _half(one)[0] for one in self.items)
        low_y = min(one.dy.si - _half(one)[1] for one in self.items)
        high_y = max(one.dy.si + _half(one)[1] for one in self.items)
        top = max(one.raised.si + one.specification.size.height.si for one in self.items)
        return high_x - low_x, high_y - low_y, top


def _half(placement: Placement) -> tuple[float, float]:
    """Half the width and depth as turned; modules are turned by quarters only."""
    size = placement.specification.size
    half = size.width.si / 2, size.depth.si / 2
    return half if round(placement.rotation / 90.0) % 2 == 0 else half[::-1]
