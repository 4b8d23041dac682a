"""Equipment of the water stood higher, lower or nearer, so that water runs, falls or is drawn."""

import math
from collections.abc import Iterable, Iterator
from functools import partial

from msgspec.structs import replace
from shapely import Polygon

from ...analysis import Analysis
from ...build import VENUE, Build, Item, Pump, Tank, TubeRun
from ...build.edits import EditError, replace_item, with_
from ...build.geometry import corners, end_position, outline, underside_m
from ...findings import Finding
from ...network.room import nearest_free
from ...units import Length, Phrase, Value
from ...water.pump_results import Suction
from .model import Candidate
from .water_kit import length, place

_MOST_RAISED_M = 0.15
"""On feet or a box; whatever asks for more belongs on another level. Common practice, no source."""
_STEP_M = 0.05
"""Places are looked for so far apart."""
_SLACK_M2 = 1e-6
_MORE_M = 0.01
"""Nobody stands anything to the millimetre."""


def can_move(item: Item | None) -> bool:
    """Whether a person may be told to stand something elsewhere."""
    return (
        item is not None
        and not item.locked
        and item.level != VENUE
        and item.group is None
        and item.mount == "standing"
    )


# --- edits ---------------------------------------------------------------------------------------


def free_place(others: Build, item: Item) -> Item:
    """The item in the nearest place of its level where it stands in nothing and on the cart.

    Near by first, to the thumb's width; then all over the level. Where there is none it stays.
    """
    near = nearest_free(others, item)
    if _is_free(others, near):
        return near
    left, rear, right, front = Polygon(outline(others.cart)).bounds
    spots = [
        (math.hypot(x_m - item.x.si, y_m - item.y.si), x_m, y_m)
        for x_m in _steps(left, right)
        for y_m in _steps(rear, front)
    ]
    for _, x_m, y_m in sorted(spots):
        there = replace(item, x=length(others, x_m), y=length(others, y_m))
        if _is_free(others, there):
            return there
    return near


def _steps(low_m: float, high_m: float) -> list[float]:
    return [low_m + at * _STEP_M for at in range(int((high_m - low_m) / _STEP_M) + 1)]


def _is_free(others: Build, item: Item) -> bool:
    body = Polygon(corners(item))
    if body.difference(Polygon(outline(others.cart))).area > _SLACK_M2:
        return False
    low_m = underside_m(others.cart, item)
    high_m = low_m + item.specification.size.height.si
    for one in others.items:
        bottom_m = underside_m(others.cart, one)
        top_m = bottom_m + one.specification.size.height.si
        if one.level == VENUE or bottom_m >= high_m or top_m <= low_m:
            continue
        if body.intersection(Polygon(corners(one))).area > _SLACK_M2:
            return False
    return True


def raised_by(build: Build, item_id: str, by_m: float) -> Build:
    """Stand something higher or lower above its level; never below it.

    Raises:
        EditError: there is no such item, or it cannot go lower.
    """
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    height_m = item.raised.si + by_m
    if height_m < -1e-6:
        raise EditError(f"{item.name} stands on its level already")
    return replace_item(build, replace(item, raised=length(build, max(height_m, 0.0))))


def on_level(build: Build, item_id: str, level: str) -> Build:
    """Stand something on another level, in the nearest place that is free.

    Raises:
        EditError: there is no such item.
    """
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    others = with_(build, items=tuple(one for one in build.items if one.id != item_id))
    flat = replace(item, level=level, raised=Length("0 in"))
    return replace_item(build, free_place(others, flat))


def stood_at(build: Build, item_id: str, x_m: float, y_m: float) -> Build:
    """Stand something in the free place that is nearest to another.

    Raises:
        EditError: there is no such item.
    """
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    others = with_(build, items=tuple(one for one in build.items if one.id != item_id))
    there = replace(item, x=length(build, x_m), y=length(build, y_m))
    return replace_item(build, free_place(others, there))


# --- candidates ----------------------------------------------------------------------------------


def higher(analysis: Analysis, item: Item, by_m: float) -> Iterator[Candidate]:
    """Stand something higher where it stands."""
    if not can_move(item) or not 0.0 < by_m <= _MOST_RAISED_M:
        return
    rounded = length(analysis.build, by_m + _MORE_M)
    yield Candidate(
        "raise",
        Phrase.of("Raise {item} by {by}", item=item.name, by=Value(rounded.si, "length")),
        1,
        partial(raised_by, analysis.build, item.id, rounded.si),
        (item.id,),
    )


def lower(analysis: Analysis, item: Item) -> Iterator[Candidate]:
    """Stand something on its level, then on every lower level, the next one first."""
    build = analysis.build
    if not can_move(item):
        return
    level = build.cart.level(item.level)
    if level is None:
        return
    if item.raised.si > 0.0:
        yield Candidate(
            "lower",
            Phrase.of("Stand {item} right on {level}", item=item.name, level=item.level),
            1,
            partial(raised_by, build, item.id, -item.raised.si),
            (item.id,),
        )
    below = [one for one in build.cart.levels if one.height.si < level.height.si]
    for one in sorted(below, key=lambda each: -each.height.si)[:2]:
        yield _to_level(build, item, one.name)


def back_on_cart(analysis: Analysis, item: Item) -> Iterator[Candidate]:
    """Something on a level that the cart does not have, stood on one that it has."""
    build = analysis.build
    if not can_move(item) or build.cart.level(item.level) is not None:
        return
    for one in sorted(build.cart.levels, key=lambda each: -each.height.si)[:2]:
        yield _to_level(build, item, one.name)


def to_higher_level(analysis: Analysis, item: Item) -> Iterator[Candidate]:
    """Stand something on a higher level, the next one first."""
    build = analysis.build
    level = build.cart.level(item.level)
    if not can_move(item) or level is None:
        return
    above = [one for one in build.cart.levels if one.height.si > level.height.si]
    for one in sorted(above, key=lambda each: each.height.si)[:2]:
        yield _to_level(build, item, one.name)


def _to_level(build: Build, item: Item, level: str) -> Candidate:
    return Candidate(
        "other level",
        Phrase.of("Stand {item} on {level}", item=item.name, level=level),
        1,
        partial(on_level, build, item.id, level),
        (item.id,),
    )


def nearer(
    analysis: Analysis, item: Item, to: tuple[float, float], name: str
) -> Iterator[Candidate]:
    """Stand something where it is nearest to the far end of its tube, then half way there."""
    if not can_move(item):
        return
    x_m, y_m = item.x.si, item.y.si
    for share, words in ((1.0, "as near to {to} as there is room"), (0.5, "half as far from {to}")):
        at = x_m + share * (to[0] - x_m), y_m + share * (to[1] - y_m)
        yield Candidate(
            "nearer",
            Phrase.of(f"Stand {{item}} {words}", item=item.name, to=name),
            1,
            partial(stood_at, analysis.build, item.id, *at),
            (item.id,),
        )


def nearer_end(analysis: Analysis, run: TubeRun, moving: str) -> Iterator[Candidate]:
    """Stand what one end of a tube is on nearer to what the other end is on."""
    build = analysis.build
    far = next((end for end in (run.a, run.b) if end is not None and end.item != moving), None)
    item, other = build.item(moving), build.item(far.item) if far is not None else None
    at = end_position(build, far) if far is not None else None
    if item is not None and other is not None and at is not None:
        yield from nearer(analysis, item, at[:2], other.name)


# --- suction, and water that runs by itself ------------------------------------------------------


def suctions_of(analysis: Analysis, finding: Finding) -> list[Suction]:
    """The suction lines that a finding names by pump or tank."""
    named = set(finding.items)
    return [one for one in analysis.water.suctions if one.pump in named or one.tank in named]


def pump_lower(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A pump lower, or its tank higher."""
    build = analysis.build
    for suction in suctions_of(analysis, finding)[:1]:
        pump, tank = build.item(suction.pump), build.item(suction.tank)
        if pump is not None:
            yield from lower(analysis, pump)
        if tank is not None:
            over_m = suction.last_lift_m - suction.lift_here_m
            if finding.code != "water.lift":
                over_m = suction.last_lift_m
            yield from higher(analysis, tank, over_m)
            yield from to_higher_level(analysis, tank)


def pump_nearer(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A pump nearer to its tank."""
    build, names = analysis.build, place(analysis)
    for suction in suctions_of(analysis, finding)[:1]:
        pump, tank = build.item(suction.pump), build.item(suction.tank)
        if pump is None or tank is None or not isinstance(names.role(pump.id), Pump):
            continue
        yield from nearer(analysis, pump, (tank.x.si, tank.y.si), tank.name)


def tank_higher(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A tank that nothing pumps from, higher, so that its water runs to what it feeds."""
    for item in _gravity_tanks(analysis, finding):
        yield from to_higher_level(analysis, item)
        yield from higher(analysis, item, _short_m(finding))


def _gravity_tanks(analysis: Analysis, finding: Finding) -> Iterable[Item]:
    names = place(analysis)
    tap = next((one for one in analysis.water.taps if one.item in finding.items[:1]), None)
    if tap is None or names.pump_on_way(tap) is not None:
        return
    ids = [*finding.items, *(step.id for step in tap.ladder)]
    for one in dict.fromkeys(ids):
        role, item = names.role(one), analysis.build.item(one)
        if isinstance(role, Tank) and role.contents == "fresh" and item is not None:
            yield item


def _short_m(finding: Finding) -> float:
    """Head of water that is missing, where pressure is what the finding counts."""
    value, limit = finding.value, finding.limit
    if value is None or limit is None or value.dimension != "pressure":
        return 0.0
    return max(limit.si - value.si, 0.0) / 9.78e3
