"""From a Build to everything the body side says."""

from collections.abc import Callable
from functools import partial
from typing import Any, TypeVar

from ..build import Build
from .balance import balance, edge_tilts, feet, gather, path, shares_of
from .clashes import clashes
from .drip import drips
from .frame import Frame, make_frame
from .hanging import leaf_loads
from .lift import lifts
from .reach import reaches
from .results import Balance, BodyResult, Drip, EdgeTilt, LevelRoom, Reach
from .room import band, level_room
from .solids import Solid, solids
from .support import Support, make_support
from .travel import passage, pushes, travel, travellers

T = TypeVar("T")


class _Shared:
    """Parts of the answer, made anew only where something they read is another object."""

    def __init__(self, previous: BodyResult | None) -> None:
        self.old = previous.shared if previous is not None else {}
        self.new: dict[str, tuple[tuple[Any, ...], Any]] = {}

    def get(self, name: str, reads: tuple[Any, ...], make: Callable[[], T]) -> T:
        """The part as it was made from the same objects, or as `make` makes it now."""
        kept = self.old.get(name)
        if kept is None or not _same(kept[0], reads):
            kept = (reads, make())
        self.new[name] = kept
        value: T = kept[1]
        return value


def _same(old: tuple[Any, ...], new: tuple[Any, ...]) -> bool:
    return len(old) == len(new) and all(a is b for a, b in zip(old, new, strict=True))


def solve_body(build: Build, previous: BodyResult | None = None) -> BodyResult:
    """Judge the bodies of a build. Never raises.

    Args:
        build: any build that loads.
        previous: an earlier result; returned as it is if nothing it read has changed.
    """
    reads = (build.cart, build.items, build.venue, build.service)
    if previous is not None and _same(previous.reads, reads):
        return previous
    cart = build.cart
    frame = previous.frame if previous is not None else None
    if frame is None or frame.cart is not cart:
        frame, lent = make_frame(cart), {}
    else:
        lent = previous.solids if previous is not None else {}
    bodies = solids(build, lent)
    shared = _Shared(previous)
    masses = gather(build, frame, bodies)
    support = shared.get("support", (cart,), lambda: make_support(cart))
    tilts = edge_tilts(masses, support)
    full = balance(masses, support, shares_of(masses, full=True))
    going = travellers(frame, bodies)
    moved = travel(build, frame, going, _moved_tilts(build, frame, bodies, going, support, tilts))
    passages = tuple(passage(moved, one) for one in build.venue.passages)
    return BodyResult(
        clashes=clashes(build, frame, bodies),
        full=full,
        empty=balance(masses, support, shares_of(masses, full=False)),
        worst=_worst(tilts, full),
        now=balance(masses, support, tuple(one.now for one in masses.contents)),
        path=path(masses, support, build.service),
        tilts=tilts,
        feet=feet(masses, support),
        pushes=pushes(moved.mass_kg, passages),
        travel=moved,
        passages=passages,
        reaches=_reaches(shared, frame, bodies),
        drips=_drips(shared, frame, bodies),
        rooms=_rooms(shared, frame, bodies),
        lifts=lifts(bodies),
        leaves=leaf_loads(frame, bodies),
        counter=frame.counter,
        counter_m=frame.counter_m,
        support=support,
        frame=frame,
        solids={body.item.id: body for body in bodies},
        shared=shared.new,
        reads=reads,
    )


def _moved_tilts(
    build: Build,
    frame: Frame,
    bodies: list[Solid],
    going: list[Solid],
    support: Support,
    standing: tuple[EdgeTilt, ...],
) -> tuple[EdgeTilt, ...]:
    """With leaves folded and without what is carried in: the same where there is neither."""
    if len(going) == len(bodies) and not any(flap.leaf.up for flap in frame.flaps):
        return standing
    return edge_tilts(gather(build, frame, going, folded=True), support)


def _worst(tilts: tuple[EdgeTilt, ...], full: Balance | None) -> Balance | None:
    return tilts[0].worst if tilts else full


def _rooms(shared: _Shared, frame: Frame, bodies: list[Solid]) -> tuple[LevelRoom, ...]:
    found = []
    for at, level in enumerate(frame.cart.levels):
        here = band(level, bodies)
        make = partial(level_room, frame, level, here)
        found.append(shared.get(f"room {at}", (frame, *here), make))
    return tuple(found)


def _drips(shared: _Shared, frame: Frame, bodies: list[Solid]) -> tuple[Drip, ...]:
    touched = [body for body in bodies if body.wet_m is not None or body.live]
    return shared.get("drips", (frame, *touched), lambda: drips(frame, touched))


def _reaches(shared: _Shared, frame: Frame, bodies: list[Solid]) -> tuple[Reach, ...]:
    kept = shared.old.get("reaches")
    lent = kept[1] if kept is not None and kept[0][0] is frame else {}
    found = reaches(frame, bodies, lent)
    shared.new["reaches"] = ((frame,), found)
    return tuple(sorted((reach for _, reach in found.values()), key=lambda one: -one.depth_m))
