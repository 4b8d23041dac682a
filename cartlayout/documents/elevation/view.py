"""From which side the cart is looked at, and where a place of the plan is seen from there."""

from dataclasses import dataclass
from typing import Literal, get_args

from ...build import Cart
from ...build.cart import Side
from ...build.cart_geometry import extent

View = Literal["front", "rear", "left", "right"]
VIEWS: tuple[View, ...] = get_args(View)
UA = tuple[float, float]
"""Metres to the right as seen, and metres away from whoever looks."""
UZ = tuple[float, float]
"""Metres to the right as seen, and metres above the floor."""
_NAMES: dict[View, str] = {
    "front": "Front elevation",
    "rear": "Rear elevation",
    "left": "Left end elevation",
    "right": "Right end elevation",
}


@dataclass(frozen=True, slots=True)
class Facing:
    """Who looks from a side of the cart, square to it.

    On the plan x runs to the right and y from the rear to the front. From the front x runs
    to the right as well; from the rear it runs to the left; from the left end y runs to the
    right, from the right end to the left. Counted from the cart's edge that is seen leftmost.
    """

    view: View
    along: tuple[float, float]
    """What a metre of x and a metre of y are to the right."""
    away: tuple[float, float]
    """What they are away from the eye."""
    left_m: float
    """To the right, of the cart's edge that is seen leftmost."""
    near_m: float
    """Away, of the cart's nearest edge."""

    @classmethod
    def of(cls, cart: Cart, view: View) -> "Facing":
        """From a side of a cart."""
        along, away = {
            "front": ((1.0, 0.0), (0.0, -1.0)),
            "rear": ((-1.0, 0.0), (0.0, 1.0)),
            "left": ((0.0, 1.0), (1.0, 0.0)),
            "right": ((0.0, -1.0), (-1.0, 0.0)),
        }[view]
        whole = extent(cart)
        edges = [(whole.left, whole.rear), (whole.right, whole.front)]
        left_m = min(along[0] * x + along[1] * y for x, y in edges)
        near_m = min(away[0] * x + away[1] * y for x, y in edges)
        return cls(view, along, away, left_m, near_m)

    def seen(self, x_m: float, y_m: float) -> UA:
        """Where a place of the plan is: to the right, and away from the cart's nearest edge."""
        return (
            self.along[0] * x_m + self.along[1] * y_m - self.left_m,
            self.away[0] * x_m + self.away[1] * y_m - self.near_m,
        )

    def width_m(self, cart: Cart) -> float:
        """How wide the cart is from here."""
        whole = extent(cart)
        return whole.width if self.view in ("front", "rear") else whole.depth


def elevation_title(view: View, operator_side: Side) -> str:
    """Such as "Front elevation, operator's side"."""
    opposite = {"front": "rear", "rear": "front", "left": "right", "right": "left"}
    if view == operator_side:
        return f"{_NAMES[view]}, operator's side"
    if opposite[view] == operator_side:
        return f"{_NAMES[view]}, guests' side"
    return _NAMES[view]
