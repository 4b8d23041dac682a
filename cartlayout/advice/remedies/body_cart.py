"""The cart made to suit what stands on it: levels, leaves, holes, panel, wheels."""

import math
from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...body.frame import make_frame
from ...body.solids import solids
from ...build import VENUE, Build, Item, Level, RearPanel, Zone
from ...build.cart_edits import add, change, new_panel, remove_part, set_levels, with_cart
from ...build.cart_shape import length_like
from ...build.edits import EditError, move, replace_item
from ...build.geometry import underside_m
from ...findings import Finding
from ...findings.body_weight import leaf_words
from ...units import Length, Mass, Phrase, Value
from .body_spots import spots
from .model import Candidate, Source

_LEAST_M = 1e-4
_RIM_M = 0.0127
"""Half an inch of rim on every side of a hole (common practice, no source)."""
_POUND_KG = 0.45359237
_STEP_KG = {"US": 25.0 * _POUND_KG, "metric": 10.0}
"""Casters are sold in steps of about that (common practice, no source)."""
_BUILDER = "Whoever builds the cart says whether it can be done."


# --- levels ----------------------------------------------------------------------------------


def more_height(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The board above raised, or the one it stands on lowered, by what is missing."""
    build = analysis.build
    item = build.item(finding.items[0]) if finding.items else None
    if item is None or finding.value is None:
        return
    missing_m = _missing_m(finding)
    above = _next_level(build, item.level, up=True)
    by_m = _rounded_up(build, missing_m)
    if above is not None:
        yield _shifted_level(build, above, by_m, item)
        yield _all_raised(build, item, above, by_m)
    yield _shifted_level(build, item.level, -by_m, item)
    if item.raised.si > _LEAST_M and item.mount == "standing":
        yield _lowered(build, item, min(by_m, item.raised.si))


def _missing_m(finding: Finding) -> float:
    value = finding.value.si if finding.value is not None else 0.0
    return finding.limit.si - value if finding.limit is not None else value


def _rounded_up(build: Build, by_m: float) -> float:
    grid = 0.00635 if build.units == "US" else 0.005
    return math.ceil(by_m / grid - 1e-6) * grid


def _next_level(build: Build, name: str, up: bool) -> str | None:
    here = build.cart.level(name)
    if here is None:
        return None
    others = [
        one
        for one in build.cart.levels
        if one.name != name and (one.height.si > here.height.si) == up
    ]
    key = min if up else max
    return key(others, key=lambda one: one.height.si).name if others else None


def _shifted_level(build: Build, name: str, by_m: float, item: Item | None = None) -> Candidate:
    verb = "Raise" if by_m > 0 else "Lower"
    return Candidate(
        "raise level" if by_m > 0 else "lower level",
        Phrase.of(verb + " the {level} by {by}", level=name, by=Value(abs(by_m), "length")),
        3,
        partial(shift_level, build, name, by_m),
        (item.id,) if item is not None else (),
        (_BUILDER,),
    )


def shift_level(build: Build, name: str, by_m: float) -> Build:
    """The build with a level higher or lower; what stands on it goes along.

    What is free above it shrinks or grows, under what is overhead too, and what is free below it.

    Raises:
        EditError: there is no such level, or it would meet the floor or another one.
    """
    here = build.cart.level(name)
    if here is None:
        raise EditError(f"the cart has no level '{name}'")
    below = _next_level(build, name, up=False)
    height_m = here.height.si + by_m
    under = build.cart.level(below) if below is not None else None
    if height_m <= (under.height.si if under is not None else 0.0):
        raise EditError(f"the {name} would be no higher than what is below it")
    levels = []
    for one in build.cart.levels:
        if one.name == name:
            one = _level(one, height_m, one.clear_height.si - by_m)
        elif one.name == below:
            one = _level(one, one.height.si, one.clear_height.si + by_m)
        if one.clear_height.si <= 0.0:
            raise EditError(f"nothing would be left above the {one.name}")
        levels.append(one)
    return set_levels(build, tuple(levels))


def _level(level: Level, height_m: float, clear_m: float) -> Level:
    return replace(
        level,
        height=_like(level.height, height_m),
        clear_height=_like(level.clear_height, clear_m),
    )


def _like(old: Length, si_m: float) -> Length:
    return old if abs(si_m - old.si) < 1e-9 else length_like(old, si_m)


def _all_raised(build: Build, item: Item, above: str, by_m: float) -> Candidate:
    return Candidate(
        "raise level",
        Phrase.of(
            "Raise the {level} and everything above it by {by}",
            level=above,
            by=Value(by_m, "length"),
        ),
        3,
        partial(raise_all_above, build, item.level, by_m),
        (item.id,),
        (_BUILDER,),
    )


def raise_all_above(build: Build, name: str, by_m: float) -> Build:
    """The build with more room on a level: every board above it is so much higher.

    Raises:
        EditError: there is no such level.
    """
    here = build.cart.level(name)
    if here is None:
        raise EditError(f"the cart has no level '{name}'")
    levels = []
    for one in build.cart.levels:
        if one.name == name:
            one = _level(one, one.height.si, one.clear_height.si + by_m)
        elif one.height.si > here.height.si:
            one = _level(one, one.height.si + by_m, one.clear_height.si)
        levels.append(one)
    return set_levels(build, tuple(levels))


def _lowered(build: Build, item: Item, by_m: float) -> Candidate:
    changed = replace(item, raised=_like(item.raised, item.raised.si - by_m))
    return Candidate(
        "lower",
        Phrase.of("Set {item} {by} lower", item=item.name, by=Value(by_m, "length")),
        1,
        partial(replace_item, build, changed),
        (item.id,),
    )


def lower_counter(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The counter at the height that is asked for."""
    if finding.value is None or finding.limit is None:
        return
    by_m = _rounded_up(analysis.build, finding.value.si - finding.limit.si)
    yield _shifted_level(analysis.build, analysis.body.counter, -by_m)


# --- leaves ----------------------------------------------------------------------------------


def raise_leaf(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A leaf that is folded down, put up."""
    cart = analysis.build.cart
    said = dict(finding.detail.values).get("detail", "")
    for at, leaf in enumerate(cart.leaves):
        if not leaf.up and leaf.name and leaf.name in str(said):
            yield Candidate(
                "raise leaf",
                Phrase.of("Raise {leaf}", leaf=leaf_words(leaf.name)),
                0,
                partial(change, analysis.build, f"leaf:{at}", replace(leaf, up=True)),
                finding.items[:1],
            )


# --- holes and what is let in ----------------------------------------------------------------


def hole_for_it(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A hole that what is let in hangs in, or standing on the board instead."""
    build = analysis.build
    item = build.item(finding.items[0]) if finding.items else None
    if item is None:
        return
    stood = replace(item, raised=_like(item.raised, 0.0))
    yield Candidate(
        "stand",
        Phrase.of(
            "Stand {item} on the {level} instead of letting it in",
            item=item.name,
            level=item.level,
        ),
        1,
        partial(replace_item, build, stood),
        (item.id,),
    )
    body = analysis.body.solids.get(item.id)
    if body is None or not body.upright:
        return
    left, rear, right, front = body.bounds
    if min(right - left, front - rear) <= 3 * _RIM_M:
        return
    unit = build.cart.width
    zone = Zone(
        name=f"{item.name} hole",
        kind="opening",
        level=item.level,
        x=length_like(unit, left + _RIM_M),
        y=length_like(unit, rear + _RIM_M),
        width=length_like(unit, right - left - 2 * _RIM_M),
        depth=length_like(unit, front - rear - 2 * _RIM_M),
        use="let in",
    )
    yield Candidate(
        "hole",
        Phrase.of("Cut the hole for {item} into the {level}", item=item.name, level=item.level),
        3,
        partial(_with_zone, build, zone),
        (item.id,),
        (_BUILDER,),
    )


def _with_zone(build: Build, zone: Zone) -> Build:
    return add(build, zone)[0]


def close_hole(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The board without the hole that something stands over."""
    said = dict(finding.title.values).get("detail", "")
    for at, zone in enumerate(analysis.build.cart.zones):
        if zone.kind == "opening" and zone.name == said:
            yield Candidate(
                "close hole",
                Phrase.of("Close the hole {zone}", zone=zone.name),
                3,
                partial(remove_part, analysis.build, f"zone:{at}"),
                finding.items[:1],
                (_BUILDER,),
            )


# --- the panel -------------------------------------------------------------------------------


def stand_it(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Gear that hangs on nothing, stood on its level; then a panel for it."""
    build = analysis.build
    for item_id in finding.items[:1]:
        item = build.item(item_id)
        if item is None or item.locked or item.level == VENUE:
            continue
        stood = replace(item, mount="standing", raised=_like(item.raised, 0.0))
        after = replace_item(build, stood)
        found = spots(analysis, after, (item_id,))
        if found:
            yield Candidate(
                "stand",
                Phrase.of("Stand {item} on the {level}", item=item.name, level=item.level),
                1,
                partial(_at, after, item_id, *found[0]),
                (item_id,),
            )
        if build.cart.rear_panel is None:
            panel = new_panel(build, "rear")
            yield Candidate(
                "panel",
                Phrase.of("Give the cart a panel at its rear for {item}", item=item.name),
                3,
                partial(_with_panel, build, panel, item),
                (item_id,),
                (_BUILDER,),
            )


def _at(build: Build, item_id: str, dx_m: float, dy_m: float) -> Build:
    return move(build, (item_id,), dx_m, dy_m)


def _with_panel(build: Build, panel: RearPanel, item: Item) -> Build:
    after = add(build, panel)[0]
    return to_panel(after, item.id)


def hang_it(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Against the panel, within its length and height."""
    for item_id in finding.items[:1]:
        item = analysis.build.item(item_id)
        if item is not None and not item.locked:
            yield Candidate(
                "hang",
                Phrase.of("Hang {item} on the panel", item=item.name),
                1,
                partial(to_panel, analysis.build, item_id),
                (item_id,),
            )
    yield from _taller_panel(analysis, finding)


def to_panel(build: Build, item_id: str) -> Build:
    """The build with an item flat on the panel's face, moved no further than it has to be.

    Raises:
        EditError: there is no panel, or the item is larger than it.
    """
    panel = make_frame(build.cart).panel
    body = next((one for one in solids(build, {}) if one.item.id == item_id), None)
    if panel is None or body is None:
        raise EditError("there is no panel to hang it on")
    left, rear, right, front = body.bounds
    px1, py1, px2, py2 = panel.bounds
    across = px2 - px1 >= py2 - py1
    low, high = (left, right) if across else (rear, front)
    plow, phigh = (px1, px2) if across else (py1, py2)
    if high - low > phigh - plow + _LEAST_M:
        raise EditError(f"{body.item.name} is longer than the panel")
    along = max(plow - low, 0.0) + min(phigh - high, 0.0)
    near, far = (rear, front) if across else (left, right)
    face1, face2 = (py1, py2) if across else (px1, px2)
    away = face2 - near if abs(face2 - near) <= abs(face1 - far) else face1 - far
    dx_m, dy_m = (along, away) if across else (away, along)
    after = move(build, (item_id,), dx_m, dy_m)
    return _within_height(after, item_id, panel.bottom_m, panel.top_m)


def _within_height(build: Build, item_id: str, bottom_m: float, top_m: float) -> Build:
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    low_m = underside_m(build.cart, item)
    high_m = low_m + item.specification.size.height.si
    if high_m - low_m > top_m - bottom_m + _LEAST_M:
        raise EditError(f"{item.name} is taller than the panel")
    by_m = max(bottom_m - low_m, 0.0) + min(top_m - high_m, 0.0)
    if abs(by_m) < _LEAST_M:
        return build
    return replace_item(build, replace(item, raised=_like(item.raised, item.raised.si + by_m)))


def _taller_panel(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    build = analysis.build
    panel = build.cart.rear_panel
    item = build.item(finding.items[0]) if finding.items else None
    if panel is None or item is None or finding.code != "body.panel-height":
        return
    low_m = underside_m(build.cart, item)
    high_m = low_m + item.specification.size.height.si
    bottom = _like(panel.bottom, min(panel.bottom.si, low_m))
    top = _like(panel.top, max(panel.top.si, high_m))
    yield Candidate(
        "panel",
        Phrase.of(
            "Make the panel reach from {low} to {high} above the floor",
            low=Value(bottom.si, "length"),
            high=Value(top.si, "length"),
        ),
        3,
        partial(change, build, "panel", replace(panel, bottom=bottom, top=top)),
        (item.id,),
        (_BUILDER,),
    )


# --- wheels ----------------------------------------------------------------------------------


def stronger_casters(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Casters rated for what they have to bear."""
    build = analysis.build
    asked = finding.value
    if asked is None or not build.cart.casters:
        return
    step = _STEP_KG[build.units]
    rating_kg = math.ceil(asked.si / step - 1e-6) * step
    unit = build.cart.casters[0].rating.unit
    rating = Mass.from_si(rating_kg, unit)
    casters = tuple(
        one if one.rating.si >= rating.si - 1e-9 else replace(one, rating=rating)
        for one in build.cart.casters
    )

    def told(after: Analysis) -> Phrase:
        weakest = min(one.rating.si for one in after.build.cart.casters)
        return Phrase.of(
            "Rated for {rating}, asked for {load}",
            rating=Value(weakest, "mass"),
            load=Value(asked.si, "mass"),
        )

    yield Candidate(
        "casters",
        Phrase.of("Take casters rated for {rating} each", rating=Value(rating_kg, "mass")),
        4,
        partial(with_cart, build, replace(build.cart, casters=casters)),
        (),
        (),
        told=told,
    )


SOURCES: dict[str, tuple[Source, ...]] = {
    "body.height": (more_height,),
    "body.clearance-top": (more_height,),
    "body.counter-height": (lower_counter,),
    "body.leaf-down": (raise_leaf,),
    "body.sunk": (hole_for_it,),
    "body.zone-opening": (close_hole,),
    "body.no-panel": (stand_it,),
    "body.off-panel": (hang_it, stand_it),
    "body.panel-height": (hang_it,),
    "body.caster": (stronger_casters,),
    "body.caster-rule": (stronger_casters,),
}
