"""Bodies put elsewhere: moved, turned, on another level."""

from collections.abc import Iterator
from dataclasses import replace as changed
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...body.reach import hand_place, operator_edge
from ...body.solids import solids
from ...build import VENUE, Build, Item
from ...build.arranging import turn
from ...build.edits import EditError, move, replace_item, set_level, with_groups
from ...findings import Finding
from ...limits import body_practice
from ...units import Length, Phrase, Value
from .body_spots import Offset, Wants, spots
from .model import Candidate, Source

_DIRECTIONS = 3
"""Ways to go that are tried for one body, each the nearest of its sort."""
_LEAST_M = 1e-4


def movable(analysis: Analysis, item_id: str, apart_from: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Ids of what moves with an item: its group, unless what it must get away from is in it too."""
    build = analysis.build
    item = build.item(item_id)
    if item is None or item.locked or item.level == VENUE:
        return ()
    ids = with_groups(build, (item_id,))
    if set(ids) & set(apart_from):
        ids = (item_id,)
    others = [build.item(one) for one in ids]
    return () if any(one is None or one.locked for one in others) else ids


# --- moved on its level ----------------------------------------------------------------------


def move_aside(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Each of the bodies to the nearest places where it is in nothing's way."""
    for item_id in finding.items[:2]:
        others = tuple(one for one in finding.items[:2] if one != item_id)
        ids = movable(analysis, item_id, others)
        if ids:
            yield from moved_to_spots(analysis, item_id, ids)


def moved_to_spots(
    analysis: Analysis,
    item_id: str,
    ids: tuple[str, ...],
    wants: Wants | None = None,
    off_leaves: bool = False,
) -> Iterator[Candidate]:
    """One candidate for each direction in which there is a free place."""
    build = analysis.build
    for strictly in (True, False):
        found = spots(
            analysis, build, ids, wants=wants, near_clearances=strictly, off_leaves=off_leaves
        )
        some = _directions(found)
        for dx_m, dy_m in some:
            yield _moved(analysis, item_id, ids, dx_m, dy_m)
        if some:
            return


def _directions(found: list[Offset]) -> list[Offset]:
    """The nearest of every direction."""
    seen: set[tuple[int, int]] = set()
    chosen = []
    for dx_m, dy_m in found:
        if abs(dx_m) < _LEAST_M and abs(dy_m) < _LEAST_M:
            continue
        way = (_sign(dx_m), _sign(dy_m))
        if way not in seen:
            seen.add(way)
            chosen.append((dx_m, dy_m))
    return chosen[:_DIRECTIONS]


def _sign(by_m: float) -> int:
    return 0 if abs(by_m) < _LEAST_M else (1 if by_m > 0 else -1)


def _moved(
    analysis: Analysis, item_id: str, ids: tuple[str, ...], dx_m: float, dy_m: float
) -> Candidate:
    return Candidate(
        "move",
        shift_words(name_of(analysis.build, item_id), dx_m, dy_m),
        1,
        partial(move, analysis.build, ids, dx_m, dy_m),
        (item_id,),
        told=lambda _: Phrase("It is out of the way then"),
    )


def shift_words(name: str, dx_m: float, dy_m: float) -> Phrase:
    """Such as "Move Knock box 3.1 in to the left and 1.0 in to the front"."""
    steps: list[str] = []
    values: dict[str, Value | str] = {"item": name}
    for key, by_m, ways in (
        ("across", dx_m, ("right", "left")),
        ("along", dy_m, ("front", "rear")),
    ):
        if abs(by_m) >= _LEAST_M:
            steps.append(f"{{{key}}} to the {ways[0] if by_m > 0 else ways[1]}")
            values[key] = Value(abs(by_m), "length")
    return Phrase.of("Move {item} " + " and ".join(steps), **values)


def name_of(build: Build, item_id: str) -> str:
    """What people call an item."""
    item = build.item(item_id)
    return item.name if item is not None else item_id


# --- turned ----------------------------------------------------------------------------------


def turn_aside(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Each of the bodies a quarter turned where it stands, or in the nearest place for it."""
    for item_id in finding.items[:2]:
        others = tuple(one for one in finding.items[:2] if one != item_id)
        ids = movable(analysis, item_id, others)
        for degrees in (90.0, 270.0) if ids else ():
            yield from _turned(analysis, item_id, ids, degrees)


def _turned(
    analysis: Analysis,
    item_id: str,
    ids: tuple[str, ...],
    degrees: float,
    wants: Wants | None = None,
) -> Iterator[Candidate]:
    build = analysis.build
    after = turn(build, ids, degrees, alone=len(ids) == 1)
    found = spots(analysis, after, ids, wants=wants) or spots(
        analysis, after, ids, wants=wants, near_clearances=False
    )
    if not found:
        return
    dx_m, dy_m = found[0]
    by = {90.0: "a quarter clockwise", 270.0: "a quarter counter-clockwise"}.get(
        degrees, "half way round"
    )
    yield Candidate(
        "turn",
        _then_shifted(f"Turn {name_of(build, item_id)} {by}", dx_m, dy_m),
        1,
        partial(_shifted, after, ids, dx_m, dy_m),
        (item_id,),
    )


def _then_shifted(order: str, dx_m: float, dy_m: float) -> Phrase:
    if abs(dx_m) < _LEAST_M and abs(dy_m) < _LEAST_M:
        return Phrase.of("{order}", order=order)
    words = shift_words("it", dx_m, dy_m)
    return Phrase.of("{order} and m" + words.template[1:], order=order, **dict(words.values))


def _shifted(build: Build, ids: tuple[str, ...], dx_m: float, dy_m: float) -> Build:
    return move(build, ids, dx_m, dy_m) if dx_m or dy_m else build


# --- on another level ------------------------------------------------------------------------


def other_level(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Each of the bodies on every other level where there is room and height for it."""
    for item_id in finding.items[:2]:
        others = tuple(one for one in finding.items[:2] if one != item_id)
        ids = movable(analysis, item_id, others)
        if ids:
            yield from to_levels(analysis, item_id, ids)


def to_levels(
    analysis: Analysis, item_id: str, ids: tuple[str, ...], below_m: float | None = None
) -> Iterator[Candidate]:
    """One candidate for each level on which the items have a place.

    Args:
        analysis: of the build as it is.
        item_id: what is spoken of.
        ids: what moves.
        below_m: only levels lower than this [m above the floor].
    """
    build = analysis.build
    items = [item for one in ids if (item := build.item(one)) is not None]
    here = items[0].level if items else ""
    tallest_m = max((_needs_m(item) for item in items), default=0.0)
    for level in build.cart.levels:
        if level.name == here or (below_m is not None and level.height.si >= below_m):
            continue
        if tallest_m > level.clear_height.si + _LEAST_M:
            continue
        after = _stood(build, ids, level.name)
        found = spots(analysis, after, ids)
        if not found:
            continue
        dx_m, dy_m = found[0]
        yield Candidate(
            "other level",
            Phrase.of("Put {item} on the {level}", item=name_of(build, item_id), level=level.name),
            1,
            partial(_shifted, after, ids, dx_m, dy_m),
            (item_id,),
            told=partial(_told_level, item_id),
        )


def _told_level(item_id: str, after: Analysis) -> Phrase:
    item = after.build.item(item_id)
    level = item.level if item is not None else ""
    return Phrase.of("It stands on the {level} then", level=level)


def _needs_m(item: Item) -> float:
    return item.specification.size.height.si + (
        max(item.raised.si, 0.0) if item.mount == "standing" else 0.0
    )


def _stood(build: Build, ids: tuple[str, ...], level: str) -> Build:
    """The items standing on a level: what was let into one board stands on the other."""
    after = set_level(build, ids, level)
    for one in ids:
        item = after.item(one)
        if item is not None and item.raised.si < 0.0:
            after = replace_item(after, replace(item, raised=_none(item)))
    return after


def _none(item: Item) -> Length:
    return Length.from_si(0.0, item.raised.unit)


# --- where hands reach it --------------------------------------------------------------------


def into_reach(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Nearer to the operator, then turned to the operator."""
    practice = body_practice()
    limit_m = finding.limit.si if finding.limit is not None else practice.reach_easy_m.value
    for item_id in finding.items[:1]:
        ids = movable(analysis, item_id)
        if not ids:
            continue
        yield from moved_to_spots(
            analysis, item_id, ids, _reaches(analysis, analysis.build, item_id, limit_m)
        )
        for degrees in (180.0, 90.0, 270.0):
            after = turn(analysis.build, ids, degrees, alone=len(ids) == 1)
            wants = _reaches(analysis, after, item_id, limit_m)
            yield from _turned(analysis, item_id, ids, degrees, wants)


def _reaches(analysis: Analysis, build: Build, item_id: str, limit_m: float) -> Wants:
    frame = analysis.body.frame
    body = next((one for one in solids(build, {}) if one.item.id == item_id), None)
    if frame is None or body is None:
        raise EditError(f"there is no item '{item_id}' on the cart")
    x_m, y_m = hand_place(body)

    def wants(dx_m: float, dy_m: float) -> bool:
        at = (x_m + dx_m, y_m + dy_m)
        edge = operator_edge(frame, *at)
        return abs(edge[0] - at[0]) + abs(edge[1] - at[1]) <= limit_m

    return wants


# --- out of the way of a drip ----------------------------------------------------------------


def out_of_drip(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """What others plug into aside from the water, or the water aside from it."""
    if len(finding.items) < 2:
        return
    live, *wet = finding.items
    margin_m = body_practice().drip_margin_m.value
    ids = movable(analysis, live, tuple(wet))
    if ids:
        wants = _apart(analysis, live, tuple(wet), margin_m)
        yield from moved_to_spots(analysis, live, ids, wants)
        yield from to_levels(analysis, live, ids)
    for one in wet if len(wet) == 1 else ():
        ids = movable(analysis, one, (live,))
        if ids:
            yield from moved_to_spots(analysis, one, ids, _apart(analysis, one, (live,), margin_m))


def _apart(analysis: Analysis, item_id: str, others: tuple[str, ...], margin_m: float) -> Wants:
    solids_ = analysis.body.solids
    mine = solids_[item_id].bounds
    theirs = [solids_[one].bounds for one in others if one in solids_]

    def wants(dx_m: float, dy_m: float) -> bool:
        left, rear, right, front = (
            mine[0] + dx_m - margin_m,
            mine[1] + dy_m - margin_m,
            mine[2] + dx_m + margin_m,
            mine[3] + dy_m + margin_m,
        )
        return not any(
            left < one[2] and right > one[0] and rear < one[3] and front > one[1] for one in theirs
        )

    return wants


# --- off a leaf ------------------------------------------------------------------------------


def off_the_leaf(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The heaviest things on a leaf, onto the cart itself."""
    bodies = analysis.body.solids
    heavy = sorted(
        (one for one in finding.items if one in bodies), key=lambda one: -bodies[one].load.full_kg
    )
    for item_id in heavy[:4]:
        ids = movable(analysis, item_id)
        if ids:
            yield from moved_to_spots(analysis, item_id, ids, off_leaves=True)
            yield from to_levels(analysis, item_id, ids)


# --- nearer to what it is plugged into -------------------------------------------------------


def nearer(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """An item so near to its outlet that its cord reaches."""
    build = analysis.build
    run = build.run(finding.runs[0]) if finding.runs else None
    if run is None or run.b is None or finding.value is None or finding.limit is None:
        return
    for item_id in finding.items[:1]:
        host = run.b.item if run.a.item == item_id else run.a.item
        item, other = build.item(item_id), build.item(host)
        ids = movable(analysis, item_id, (host,))
        if item is None or other is None or not ids:
            continue
        over_m = finding.value.si - finding.limit.si
        for one in moved_to_spots(analysis, item_id, ids, _closer(item, other, over_m)):
            yield changed(one, told=partial(_told_way, run.id))


def _told_way(run_id: str, after: Analysis) -> Phrase:
    route = after.network.routes.get(run_id)
    length_m = route.length_m if route is not None else 0.0
    return Phrase.of("Its way is then {way}", way=Value(length_m, "distance"))


def _closer(item: Item, other: Item, by_m: float) -> Wants:
    dx, dy = other.x.si - item.x.si, other.y.si - item.y.si

    def wants(dx_m: float, dy_m: float) -> bool:
        left = abs(dx - dx_m) + abs(dy - dy_m)
        return left <= abs(dx) + abs(dy) - by_m

    return wants


_ASIDE: tuple[Source, ...] = (move_aside, turn_aside, other_level)

SOURCES: dict[str, tuple[Source, ...]] = {
    "body.overlap": _ASIDE,
    "body.overhang": _ASIDE,
    "body.leaf-down": _ASIDE,
    "body.leg": _ASIDE,
    "body.panel": _ASIDE,
    "body.zone-opening": _ASIDE,
    "body.zone-no-go": _ASIDE,
    "body.zone-reserved": _ASIDE,
    "body.clearance": _ASIDE,
    "body.clearance-panel": _ASIDE,
    "body.clearance-top": (other_level,),
    "body.height": (other_level,),
    "body.level": (other_level,),
    "body.reach": (into_reach,),
    "body.drip": (out_of_drip,),
    "body.leaf-load": (off_the_leaf,),
    "power.cord-short": (nearer,),
}
