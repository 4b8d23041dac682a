"""What things weigh, empty, full and in between, and where that weight is."""

from dataclasses import dataclass
from typing import Literal

from ..build import Item, Tank

WATER_KG_M3 = 998.2
"""At 20 degC (IAPWS-95)."""

Sort = Literal["fresh", "waste", "other"]


@dataclass(frozen=True, slots=True)
class Contents:
    """What can be in an item or not: the water of a tank, of a boiler, of a kettle."""

    item: str
    sort: Sort
    full_kg: float
    x_m: float
    y_m: float
    bottom_m: float
    height_m: float
    rises: bool
    """A tank's water lies at the bottom and rises; of a boiler the middle is taken."""
    now: float
    """Share that is in it as drawn."""

    def z_m(self, share: float) -> float:
        """Height of its centre at a share."""
        return self.bottom_m + self.height_m * (share / 2 if self.rises else 0.5)


@dataclass(frozen=True, slots=True)
class Load:
    """An item as a mass at a place: the middle of its body, for want of anything better."""

    empty_kg: float
    x_m: float
    y_m: float
    z_m: float
    contents: Contents | None

    @property
    def full_kg(self) -> float:
        """With everything in it."""
        return self.empty_kg + (self.contents.full_kg if self.contents is not None else 0.0)


def item_load(item: Item, bottom_m: float) -> Load:
    """Weigh an item whose underside is that high."""
    spec = item.specification
    height_m = spec.size.height.si
    return Load(
        empty_kg=spec.mass.si,
        x_m=item.x.si,
        y_m=item.y.si,
        z_m=bottom_m + height_m / 2,
        contents=_contents(item, bottom_m, height_m),
    )


def _contents(item: Item, bottom_m: float, height_m: float) -> Contents | None:
    spec = item.specification
    sort: Sort = "other"
    rises = isinstance(spec.water, Tank)
    if isinstance(spec.water, Tank):
        sort = spec.water.contents
        full_kg = spec.water.volume.si * WATER_KG_M3
    elif spec.mass_full is not None:
        full_kg = spec.mass_full.si - spec.mass.si
    else:
        full_kg = 0.0
    if full_kg <= 0:
        return None
    x, y, now = item.x.si, item.y.si, item.fill if rises else 1.0
    return Contents(item.id, sort, full_kg, x, y, bottom_m, height_m, rises, now)
