"""A ball valve on its way from open to shut.

Its loss is tabled at three places of its handle: open, a third and two thirds turned
(fluid-mechanics textbooks). Between them the logarithm of the loss follows the one parabola
through all three; beyond the last it goes on with the same slope and grows without bound as the
passage closes. So it is smooth, and more turned is always more loss.
"""

import math
from functools import cache

from ..limits import loss_coefficient
from .hydraulics.characteristic import Characteristic, in_series

_THIRD = 1.0 / 3.0
_TWO_THIRDS = 2.0 / 3.0
_MOST = math.log(1e9)
"""Of the logarithm: a weep of a few grams a minute, beyond which only rounding is left."""


@cache
def _curve() -> tuple[float, float, float, float, float]:
    """Logarithm open, its slope there, its bend; its value and slope two thirds turned."""
    y0, y1, y2 = (
        math.log(loss_coefficient(name))
        for name in (
            "ball valve, open",
            "ball valve, one third closed",
            "ball valve, two thirds closed",
        )
    )
    bend = (y2 - 2.0 * y1 + y0) / (2.0 * _THIRD * _THIRD)
    slope = (y1 - y0) / _THIRD - bend * _THIRD
    return y0, slope, bend, y2, slope + 2.0 * bend * _TWO_THIRDS


def turned_loss(closed_share: float) -> float:
    """Velocity heads in the bore of a ball valve turned towards shut by a share, 0 to 1."""
    share = min(max(closed_share, 0.0), 1.0)
    y0, slope, bend, y2, end_slope = _curve()
    if share <= _TWO_THIRDS:
        return math.exp(y0 + share * (slope + bend * share))
    left = (1.0 - share) / _THIRD
    if left <= 0.0:
        return math.exp(_MOST)
    return math.exp(min(y2 - end_slope * _THIRD * math.log(left), _MOST))


def ball_valve(
    wide_open: Characteristic, closed_share: float, bore_m: float, density_kg_m3: float
) -> Characteristic | None:
    """A valve with its handle turned; None where it is shut.

    Args:
        wide_open: What it loses wide open, its ends included.
        closed_share: 0 open, 1 shut.
        bore_m: Of its passage [m].
        density_kg_m3: Of the water [kg/m^3].
    """
    if closed_share >= 1.0 or bore_m <= 0.0:
        return None
    if closed_share <= 0.0:
        return wide_open
    more = turned_loss(closed_share) - turned_loss(0.0)
    square = more * 8.0 * density_kg_m3 / (math.pi**2 * bore_m**4)
    return in_series((wide_open, Characteristic(square=square)))
