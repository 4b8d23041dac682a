"""From a Build to everything the body side says."""

from ..build import Build
from .balance import balance, covered_share
from .clashes import clashes, solids
from .results import BodyResult


def solve_body(build: Build, previous: BodyResult | None = None) -> BodyResult:
    """Judge the bodies of a build. Never raises.

    Args:
        build: any build that loads.
        previous: an earlier result; returned as it is if nothing it read has changed.
    """
    reads = (build.cart, build.items, build.venue)
    if previous is not None and all(
        old is new for old, new in zip(previous.reads, reads, strict=False)
    ):
        return previous
    cart = build.cart
    doors = [one.width.si for one in build.venue.passages if one.kind == "door"]
    door_m = min(doors, default=None)
    narrow_m = min(cart.width.si, cart.depth.si)
    lent = previous.solids if previous is not None and previous.reads[0] is cart else {}
    bodies = solids(build, lent)
    areas = ((body.item.level, body.shape.area) for body in bodies)
    return BodyResult(
        clashes=clashes(build, bodies),
        full=balance(build, fresh=1.0, waste=1.0),
        empty=balance(build, fresh=0.0, waste=0.0),
        width_m=cart.width.si,
        depth_m=cart.depth.si,
        passes_door=None if door_m is None else narrow_m <= door_m,
        used_share=covered_share(build, areas),
        solids={body.item.id: body for body in bodies},
        reads=reads,
    )
