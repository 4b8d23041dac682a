"""How far a body is from what stands nearest to it on its four sides. Metres, without Qt."""

from collections.abc import Sequence
from typing import NamedTuple

from .snapping import Box

_NONE = 1e-4


class Distance(NamedTuple):
    """From the body to what is nearest on one side."""

    a: tuple[float, float]
    b: tuple[float, float]

    @property
    def length_m(self) -> float:
        """How far it is."""
        return abs(self.b[0] - self.a[0]) + abs(self.b[1] - self.a[1])

    @property
    def across(self) -> bool:
        """To the left or right, not to the rear or front."""
        return self.a[1] == self.b[1]


def distances(rest: Box, neighbours: Sequence[Box], cart: Box) -> tuple[Distance, ...]:
    """To the nearest body or edge of the cart: left, right, rear, front, where there is one."""
    turned = [_turned(one) for one in neighbours]
    found = [
        _left(rest, neighbours, cart),
        _mirrored(_left(_flipped(rest), [_flipped(one) for one in neighbours], _flipped(cart))),
        _swapped(_left(_turned(rest), turned, _turned(cart))),
        _swapped(
            _mirrored(
                _left(
                    _flipped(_turned(rest)),
                    [_flipped(one) for one in turned],
                    _flipped(_turned(cart)),
                )
            )
        ),
    ]
    return tuple(one for one in found if one is not None and one.length_m > _NONE)


def _left(rest: Box, neighbours: Sequence[Box], cart: Box) -> Distance | None:
    """To the nearest thing on the left: a body in the same row, or the edge if it is nearer.

    None too where something stands in the body on that side already.
    """
    best: tuple[float, float] | None = None
    inside = cart.left <= rest.left <= cart.right
    if inside and rest.top < cart.bottom and rest.bottom > cart.top:
        best = cart.left, (max(rest.top, cart.top) + min(rest.bottom, cart.bottom)) / 2
    for one in neighbours:
        top, bottom = max(rest.top, one.top), min(rest.bottom, one.bottom)
        if bottom - top > _NONE and one.left < rest.left < one.right - _NONE:
            return None
        beside = bottom - top > _NONE and one.right <= rest.left + _NONE
        if beside and (best is None or one.right > best[0]):
            best = one.right, (top + bottom) / 2
    if best is None:
        return None
    return Distance((rest.left, best[1]), (min(best[0], rest.left), best[1]))


def _flipped(box: Box) -> Box:
    return Box(-box.right, box.top, -box.left, box.bottom)


def _turned(box: Box) -> Box:
    return Box(box.top, box.left, box.bottom, box.right)


def _mirrored(one: Distance | None) -> Distance | None:
    return Distance((-one.a[0], one.a[1]), (-one.b[0], one.b[1])) if one is not None else None


def _swapped(one: Distance | None) -> Distance | None:
    return Distance((one.a[1], one.a[0]), (one.b[1], one.b[0])) if one is not None else None
