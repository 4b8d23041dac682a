"""Everything that a run has to go around, as arrays."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ...build import Cart, Item
from ...build.geometry import bounds, underside_m

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]

SHRUNK_M = 0.001
"""A run may touch a body; what is drawn to a millimetre is no overlap."""


@dataclass(frozen=True, slots=True)
class Bodies:
    """Boxes on the plan and height bands; the items first, then the cart's legs."""

    cart: Cart
    items: tuple[Item, ...]
    rows: Mapping[str, int]
    """Row of an item."""
    table: Floats
    """Least x, least y, greatest x, greatest y, underside, top; one row a body, in metres."""

    @property
    def boxes(self) -> Floats:
        """The first four columns."""
        return self.table[:, :4]

    @classmethod
    def of(cls, cart: Cart, items: Iterable[Item], previous: "Bodies | None" = None) -> "Bodies":
        """Measure every body; of items that are the same objects what was measured is kept.

        The cart is kept as well where the new one differs in nothing that runs look at.
        """
        items = tuple(items)
        if (
            previous is not None
            and same_for_runs(previous.cart, cart)
            and len(items) == len(previous.items)
            and all(one.id == other.id for one, other in zip(items, previous.items, strict=True))
        ):
            return cls._changed(previous, items)
        measured = [_measured(cart, item) for item in items]
        tops = [level.height.si for level in cart.levels]
        for leg in cart.legs:
            x, y, half = leg.x.si, leg.y.si, leg.width.si / 2
            measured.append((x - half, y - half, x + half, y + half, 0.0, max(tops, default=0.0)))
        table = np.array(measured, dtype=float).reshape(len(measured), 6)
        rows = {item.id: row for row, item in enumerate(items)}
        return cls(cart, items, rows, table)

    @classmethod
    def _changed(cls, previous: "Bodies", items: tuple[Item, ...]) -> "Bodies":
        table = previous.table.copy()
        for row, (item, old) in enumerate(zip(items, previous.items, strict=True)):
            if item is not old:
                table[row] = _measured(previous.cart, item)
        return cls(previous.cart, items, previous.rows, table)

    def row(self, item_id: str) -> tuple[float, ...]:
        """Box and height band of an item, to be compared."""
        return tuple(self.table[self.rows[item_id]].tolist())

    def moved(self, since: "Bodies") -> Floats | None:
        """Rows of what is not where it was, as it is and as it was; None: not comparable."""
        if since.rows is not self.rows:
            return None
        differs = (self.table != since.table).any(axis=1)
        return np.concatenate([self.table[differs], since.table[differs]])

    def block(self, low_m: float, high_m: float) -> Flags:
        """Which bodies reach into a height band."""
        flags: Flags = (self.table[:, 4] < high_m) & (self.table[:, 5] > low_m + SHRUNK_M)
        return flags


def same_for_runs(cart: Cart, other: Cart) -> bool:
    """Whether two carts are alike in all that runs look at; wheels, leaves and handle are not."""
    return cart is other or _looked_at(cart) == _looked_at(other)


def _looked_at(cart: Cart) -> tuple[object, ...]:
    size = cart.width, cart.depth, cart.outline
    return *size, cart.levels, cart.legs, cart.rear_panel, cart.zones


def meets(pieces: Floats, table: Floats) -> Flags:
    """Which pieces of ways (rows) run into which bodies (columns); touching does not count.

    Both are boxes on the plan with a height band, as in `Bodies.table`.
    """
    flags: Flags = (
        (pieces[:, 0:1] < table[:, 2] - SHRUNK_M)
        & (pieces[:, 2:3] > table[:, 0] + SHRUNK_M)
        & (pieces[:, 1:2] < table[:, 3] - SHRUNK_M)
        & (pieces[:, 3:4] > table[:, 1] + SHRUNK_M)
        & (pieces[:, 5:6] > table[:, 4])
        & (pieces[:, 4:5] < table[:, 5] - SHRUNK_M)
    )
    return flags


def _measured(cart: Cart, item: Item) -> tuple[float, float, float, float, float, float]:
    bottom_m = underside_m(cart, item)
    return (*bounds(item), bottom_m, bottom_m + item.specification.size.height.si)
