"""The cart's body in a few lines, the same for the window and for the reports."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..analysis import Analysis
from ..body.results import PassageResult
from ..body.travel import push_limits
from ..findings.body_numbers import (
    MOVED_TILT,
    balance_number,
    caster_rule_number,
    contents_number,
    foot_number,
    leaf_number,
    level_number,
    lift_number,
    passage_number,
    push_number,
    reach_number,
    tilt_number,
)
from ..findings.body_use import ACCESS_REGIONS
from ..findings.body_weight import leaf_words, mix_words
from ..findings.number import Number
from ..limits import body_practice, profile
from ..units import UnitSystem, show, show_pair, show_plain


@dataclass(frozen=True, slots=True)
class BodyLine:
    """One number: what, how much, whether it holds, and where its limit is from."""

    label: str
    value: str
    state: str = ""
    """"ok", "care", "stop" or "" where nothing is judged."""
    tip: str = ""
    numbers: tuple[Number, ...] = ()
    """What the value tells, for whoever asks how it came about."""


def body_lines(analysis: Analysis, system: UnitSystem) -> tuple[BodyLine, ...]:
    """Mass, tilt, casters, push, the way in, the heaviest lift, what is free, the counter."""
    return (
        *_mass(analysis, system),
        *_tilt(analysis, system),
        *_casters(analysis, system),
        *_push(analysis, system),
        *_passages(analysis, system),
        *_lift(analysis, system),
        *_room(analysis, system),
        *_leaves(analysis, system),
        *_counter(analysis, system),
    )


_LIGHT_KG = 1.0
"""Below that a weight is told to a tenth."""


def item_lines(analysis: Analysis, item_id: str, system: UnitSystem) -> tuple[BodyLine, ...]:
    """What one thing weighs, and how far in it is reached."""
    return tuple(_item(analysis, item_id, system))


def _item(analysis: Analysis, item_id: str, system: UnitSystem) -> Iterator[BodyLine]:
    solid = analysis.body.solids.get(item_id)
    if solid is None:
        return
    load = solid.load
    full = f", {show(load.full_kg, 'mass', system)} full" if load.contents is not None else ""
    # A gauge or a tee weighs no whole pound, but it does not weigh nothing.
    decimals = 1 if 0.0 < load.empty_kg < _LIGHT_KG else None
    yield BodyLine(
        "Weighs",
        f"{show(load.empty_kg, 'mass', system, decimals)}{full}",
        numbers=(contents_number(item_id),) if load.contents is not None else (),
    )
    reach = next((one for one in analysis.body.reaches if one.item == item_id), None)
    if reach is None:
        return
    practice = body_practice()
    easy, limit = practice.reach_easy_m, practice.reach_limit_m
    state = "ok" if reach.depth_m <= easy.value else "" if reach.depth_m <= limit.value else "care"
    yield BodyLine(
        "Reach",
        show_pair(reach.depth_m, limit.value, "length", system),
        state,
        f"From the operator's edge to where hands go; comfortable up to "
        f"{show(easy.value, 'length', system)}. {limit.citation}",
        (reach_number(item_id),),
    )


def _mass(analysis: Analysis, system: UnitSystem) -> Iterator[BodyLine]:
    full, empty = analysis.body.full, analysis.body.empty
    if full is not None and empty is not None:
        masses = show_plain(empty.mass_kg, "mass", system), show(full.mass_kg, "mass", system)
        yield BodyLine(
            "Mass",
            f"{masses[0]} to {masses[1]}",
            tip="With every vessel empty, and with every one full",
            numbers=(
                *(balance_number("mass", case) for case in ("full", "empty", "now")),
                *(balance_number(axis, "full") for axis in "xyz"),
            ),
        )


def _tilt(analysis: Analysis, system: UnitSystem) -> Iterator[BodyLine]:
    body = analysis.body
    if not body.tilts:
        return
    worst = body.tilts[0]
    least = profile(analysis.build.region).tilt_degrees
    each = ", ".join(f"{one.edge} {show(one.worst_deg, 'angle', system)}" for one in body.tilts)
    tilt = show(worst.worst_deg, "angle", system, beside=least.value)
    asked = show(least.value, "angle", system, beside=worst.worst_deg)
    yield BodyLine(
        "Tilts at",
        f"{tilt} to the {worst.edge}, at least {asked}",
        "ok" if worst.worst_deg >= least.value else "stop",
        f"It would go over {mix_words(analysis.build, worst.worst)}, wheels blocked; swivel "
        "wheels turned inwards stand nearer together than drawn. "
        f"Over each edge: {each}. {least.citation}",
        (*(tilt_number(body, one) for one in body.tilts), MOVED_TILT),
    )


def _casters(analysis: Analysis, system: UnitSystem) -> Iterator[BodyLine]:
    feet = analysis.body.feet
    if feet is None:
        return
    practice = body_practice()
    thirds, one_less = practice.caster_rule("thirds"), practice.caster_rule("one less")
    index, worst = max(enumerate(feet.loads), key=lambda one: one[1].worst_kg)
    numbers = (foot_number(index), caster_rule_number("thirds"), caster_rule_number("one less"))
    tip = (
        f"If all give alike, in the worst mix of full and empty vessels. The {thirds.name} asks "
        f"for {show(feet.thirds_kg, 'mass', system)} each ({thirds.citation}), the "
        f"{one_less.name} for {show(feet.one_less_kg, 'mass', system)} ({one_less.citation})."
    )
    label = "Worst caster" if feet.casters else "Worst foot"
    ratings = [one.rating_kg for one in feet.loads if one.rating_kg is not None]
    if not ratings or not feet.casters:
        yield BodyLine(label, show(worst.worst_kg, "mass", system), tip=tip, numbers=numbers)
        return
    rating = min(ratings)
    state = "stop" if worst.worst_kg > rating else "ok"
    if state == "ok" and max(feet.thirds_kg, feet.one_less_kg) > rating:
        state = "care"
    pair = show_pair(worst.worst_kg, rating, "mass", system)
    yield BodyLine(label, pair, state, tip, numbers)


def _push(analysis: Analysis, system: UnitSystem) -> Iterator[BodyLine]:
    for where, force in zip(("level", "steep"), analysis.body.pushes, strict=False):
        limits = push_limits(force)
        level = force.where == "level"
        known = level or force.length_m is not None  # a ramp on the way, not just any floor
        short = all(value <= limit.value for _, value, limit in limits)
        (_, start, start_limit), (_, roll, roll_limit) = limits
        yield BodyLine(
            "Push, level" if level else "Push, slope",
            f"{show_plain(start, 'force', system)} start, {show(roll, 'force', system)} roll",
            "ok" if short else "care" if known else "",
            ("" if level else f"Up {force.where}. ")
            + "Force to start and to keep rolling. One person: up to "
            f"{show(start_limit.value, 'force', system)} to start and "
            f"{show(roll_limit.value, 'force', system)} to keep going. {start_limit.citation}. "
            f"Rolling resistance: {body_practice().rolling_share.citation}",
            tuple(push_number(where, what) for what, _, _ in limits),
        )


def _passages(analysis: Analysis, system: UnitSystem) -> Iterator[BodyLine]:
    for index, one in enumerate(analysis.body.passages):
        name = one.name or one.kind.capitalize()
        tip = _passage_tip(one, system)
        first = () if one.worst is None else (one.worst,)
        checks = dict.fromkeys((*first, *one.checks))
        numbers = tuple(passage_number(index, check) for check in checks)
        yield BodyLine(name, _passage(one, system), _passage_state(one), tip, numbers)


def _passage_state(one: PassageResult) -> str:
    if not one.passes:
        return "stop"
    return "ok" if all(check.holds for check in one.checks) else "care"


_TOO = {
    "width": "too wide",
    "inner width": "too wide inside",
    "height": "too high",
    "length": "too long",
    "load": "too heavy",
    "lean": "goes over",
    "grade": "steep",
    "force to start": "hard to start",
    "force to keep going": "hard to push",
}


def _passage(one: PassageResult, system: UnitSystem) -> str:
    worst = one.worst
    if worst is None:
        return "passes"
    pair = show_pair(worst.value, worst.limit, worst.dimension, system)
    if not worst.holds:
        return f"{_TOO[worst.what]}, {pair}"
    what = {"width": "", "force to start": "start ", "force to keep going": "push "}
    return f"fits, {what.get(worst.what, worst.what + ' ')}{pair}"


def _passage_tip(one: PassageResult, system: UnitSystem) -> str:
    each = ". ".join(
        f"{check.what.capitalize()} {show_pair(check.value, check.limit, check.dimension, system)}"
        + (f" ({check.source})" if check.source else "")
        for check in one.checks
    )
    return (
        f"{one.way.capitalize()}, straight on; turns are not reckoned. Leaves folded, handle "
        f"counted. {each}"
    )


def _lift(analysis: Analysis, system: UnitSystem) -> Iterator[BodyLine]:
    if analysis.body.lifts:
        first = analysis.body.lifts[0]
        limit = body_practice().lift_kg
        whole = first.often and not (first.full and len(first.items) == 1)
        yield BodyLine(
            "Heaviest lift",
            f"{first.name}, {show(first.mass_kg, 'mass', system)}{' full' if first.full else ''}",
            "ok" if first.mass_kg <= limit.value else "care" if whole else "",
            f"One person: {show(limit.value, 'mass', system)} at best. {limit.rule.capitalize()}. "
            f"{limit.citation}",
            (lift_number(first),),
        )


def _room(analysis: Analysis, system: UnitSystem) -> Iterator[BodyLine]:
    rooms = analysis.body.rooms
    heights = {level.name: level.height.si for level in analysis.build.cart.levels}
    if not rooms:
        return
    lowest = min(rooms, key=lambda room: heights.get(room.level, 0.0))
    kept = lowest.free_share - lowest.open_share
    more = f", {show(kept, 'share', system)} of it kept" if kept > 0.005 else ""
    each = "; ".join(
        f"{room.level} {show(room.free_share, 'share', system)}, "
        f"{show(room.free_m3, 'volume', system, 0)}"
        for room in rooms
    )
    yield BodyLine(
        f"Free on {lowest.level}",
        f"{show(lowest.free_share, 'share', system)} · "
        f"{show(lowest.free_m3, 'volume', system, 0)}{more}",
        tip=f"Area that nothing stands on, and the room left in it. Each level: {each}. "
        "Tubes and cords are not taken off.",
        numbers=tuple(level_number(room.level) for room in (lowest, *rooms)),
    )


def _leaves(analysis: Analysis, system: UnitSystem) -> Iterator[BodyLine]:
    for one in analysis.body.leaves:
        if one.rating_kg is None:
            yield BodyLine(
                leaf_words(one.leaf),
                show(one.mass_kg, "mass", system),
                tip="No rating is entered",
                numbers=(leaf_number(one.leaf),),
            )
        else:
            yield BodyLine(
                leaf_words(one.leaf),
                show_pair(one.mass_kg, one.rating_kg, "mass", system),
                "ok" if one.mass_kg <= one.rating_kg else "stop",
                "What stands on it, vessels full, against its rating as entered",
                (leaf_number(one.leaf),),
            )


def _counter(analysis: Analysis, system: UnitSystem) -> Iterator[BodyLine]:
    body = analysis.body
    if not body.counter:
        return
    limit = body_practice().counter_height_m
    judged = analysis.build.region in ACCESS_REGIONS
    yield BodyLine(
        "Counter",
        f"{show(body.counter_m, 'length', system)} high",
        "ok" if judged and body.counter_m <= limit.value + 1e-4 else "",
        f"{limit.rule.capitalize()}. {limit.citation}" if judged else "Height above the floor",
    )
