"""From a Build to everything the body side says."""

from shapely.geometry import Polygon

from ..build import VENUE, Build
from ..build.geometry import corners
from .balance import balance, covered_share
from .clashes import clashes
from .results import BodyResult


def solve_body(build: Build, previous: BodyResult | None = None) -> BodyResult:
    """Judge the bodies of a build. Never raises.

    Args:
        build: any build that loads.
        previous: an earlier result; returned as it is if nothing it read has changed.
    """
    reads = (build.cart, build.items)
    if previous is not None and all(
        old is new for old, new in zip(previous.reads, reads, strict=False)
    ):
        return previous
    cart = build.cart
    door_m = cart.door_width.si if cart.door_width is not None else None
    narrow_m = min(cart.width.si, cart.depth.si)
    areas = (
        (item.level, Polygon(corners(item)).area) for item in build.items if item.level != VENUE
    )
    return BodyResult(
        clashes=clashes(build),
        full=balance(build, fresh=1.0, waste=1.0),
        empty=balance(build, fresh=0.0, waste=0.0),
        width_m=cart.width.si,
        depth_m=cart.depth.si,
        passes_door=None if door_m is None else narrow_m <= door_m,
        used_share=covered_share(build, areas),
        reads=reads,
    )
