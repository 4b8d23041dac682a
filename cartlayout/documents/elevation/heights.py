"""Heights that are worth measuring: levels, handle, outlets and taps, tanks, the highest point."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from ...build import VENUE, Build, Item, Tank
from .model import Height
from .runs import Limits
from .things import Thing

MM = 1000.0
_FLAT_ON_THE_FLOOR_M = 0.1


def heights(build: Build, present: list[Thing], limits: Limits) -> tuple[Height, ...]:
    """Levels at the left; what the venue has, tanks and the highest point at the right.

    Args:
        build: what is looked at.
        present: all that is there, drawn or beyond the drawing.
        limits: how far that reaches.
    """
    by_key = {one.key: one for one in present}
    found = [*_levels(build, by_key)]
    for item in build.items:
        thing = by_key.get(item.id)
        if thing is not None:
            found += _item(item, thing, limits)
    if (handle := build.cart.handle) is not None:
        side, at = _side(by_key["handle"])
        found.append(Height("handle", handle.height.si, at, side, "handle"))
    own = [one for one in present if one.kind != "venue"]
    highest = max(own, key=lambda one: one.top_m, default=None)
    if highest is not None:
        found.append(Height(highest.name, highest.top_m, highest.right_m, "right", "top"))
    return tuple(_together(found))


def _levels(build: Build, by_key: dict[str, Thing]) -> Iterator[Height]:
    counter = max((level.height.si for level in build.cart.levels), default=0.0)
    for level in build.cart.levels:
        is_counter = level.height.si == counter
        name = f"{level.name}, working height" if is_counter else level.name
        at = by_key[f"level:{level.name}"].left_m
        yield Height(name, level.height.si, at, "left", "level")


def _item(item: Item, thing: Thing, limits: Limits) -> Iterator[Height]:
    if item.level != VENUE:
        if isinstance(item.specification.water, Tank):
            yield Height(item.name, thing.top_m, thing.right_m, "right", "tank")
        return
    if thing.top_m < _FLAT_ON_THE_FLOOR_M:
        return  # a drain in the floor has no height that anybody asks for
    side, at = _side(thing)
    off_m = limits.off_m(thing)
    if off_m:
        at = limits.width_m if side == "right" else 0.0
    middle = (thing.bottom_m + thing.top_m) / 2
    yield Height(item.name, middle, at, side, "venue", off_m)


def _side(thing: Thing) -> tuple[Literal["left", "right"], float]:
    """On which side of the drawing it is measured, and from where."""
    return ("left", thing.left_m) if thing.right_m <= 0.0 else ("right", thing.right_m)


_WORDS = {
    "venue": "middle of {}",
    "tank": "top of {}",
    "top": "top of {}",
    "level": "{}",
    "handle": "{}",
}
"""What a height is the height of. Receptacles are commonly measured to their middle."""


def _together(heights: list[Height]) -> Iterator[Height]:
    """One for things of a kind that are equally high, the name of each in it."""
    groups: dict[tuple[str, str, int, int], list[Height]] = {}
    for one in heights:
        key = one.side, one.kind, round(one.height_m * MM), round(one.off_m * MM)
        groups.setdefault(key, []).append(one)
    tops = {round(one.height_m * MM): one.name for one in heights if one.kind == "tank"}
    for group in groups.values():
        first = group[0]
        if first.kind == "top" and tops.get(round(first.height_m * MM)) == first.name:
            continue
        names = ", ".join(one.name for one in group)
        at = max if first.side == "right" else min
        yield replace(
            first,
            name=_WORDS[first.kind].format(names),
            at_m=at(one.at_m for one in group),
        )
