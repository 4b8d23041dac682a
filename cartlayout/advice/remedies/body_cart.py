"""The cart made to suit what stands on it: levels, leaves, holes, wheels."""

import math
from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Build, Item, Level, Zone
from ...build.cart_edits import add, change, remove_part, set_levels, with_cart
from ...build.cart_shape import length_like
from ...build.edits import EditError, replace_item
from ...findings import Finding
from ...findings.body_weight import leaf_words
from ...units import Length, Mass, Phrase, Value
from .model import Candidate, Source

_LEAST_M = 1e-4
_RIM_M = 0.0127
"""Half an inch of rim on every side of a hole (common practice, no source)."""
_POUND_KG = 0.45359237
_STEP_KG = {"US": 25.0 * _POUND_KG, "metric": 10.0}
"""Casters are sold in steps of about that (common practice, no source)."""
BUILDER = "Whoever builds the cart says whether it can be done."
"""Beside what changes the cart itself."""


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
    else:
        yield _overhead(build, item, by_m)
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
        (BUILDER,),
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
        height=like(level.height, height_m),
        clear_height=like(level.clear_height, clear_m),
    )


def like(old: Length, si_m: float) -> Length:
    """A length in the old one's unit; the old one itself where nothing has changed."""
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
        (BUILDER,),
    )


def _overhead(build: Build, item: Item, by_m: float) -> Candidate:
    return Candidate(
        "raise level",
        Phrase.of(
            "Raise what is over the {level} by {by}", level=item.level, by=Value(by_m, "length")
        ),
        3,
        partial(_more_overhead, build, item.level, by_m),
        (item.id,),
        (BUILDER,),
    )


def _more_overhead(build: Build, name: str, by_m: float) -> Build:
    levels = tuple(
        _level(one, one.height.si, one.clear_height.si + by_m) if one.name == name else one
        for one in build.cart.levels
    )
    return set_levels(build, levels)


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
    changed = replace(item, raised=like(item.raised, item.raised.si - by_m))
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
    stood = replace(item, raised=like(item.raised, 0.0))
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
        (BUILDER,),
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
                (BUILDER,),
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
    "body.caster": (stronger_casters,),
    "body.caster-rule": (stronger_casters,),
}
