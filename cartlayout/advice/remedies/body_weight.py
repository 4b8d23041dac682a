"""Weight put lower and to the middle, wheels set wider, what is carried in by hand."""

from collections.abc import Iterator
from dataclasses import replace as changed
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...body import solve_body
from ...body.results import BodyResult
from ...build import VENUE, Build, Tank
from ...build.cart_edits import with_cart
from ...build.cart_geometry import extent
from ...build.cart_shape import length_like
from ...build.edits import EditError, move, replace_item, with_groups
from ...findings import Finding
from ...units import Phrase, Value
from .body_moves import movable, name_of, to_levels
from .body_spots import spots
from .joining import joined
from .model import Candidate, Source

_MOST_STEPS = 4
_HEAVIEST = 6
_INSET_M = 0.025
"""Of a wheel's middle from the edge of the cart (common practice, no source)."""
_BUILDER = "Whoever builds the cart says whether it can be done."


# --- tipping ---------------------------------------------------------------------------------


def weight_down(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Heavy things lower and away from the edge it goes over, one by one, then several."""
    limit = finding.limit.si if finding.limit is not None else 0.0
    steps: list[Candidate] = []
    now, body = analysis.build, analysis.body
    for item_id in _heaviest(analysis):
        best: tuple[float, Candidate, Build, BodyResult] | None = None
        for one in _lower_or_inward(analysis, now, item_id):
            try:
                build = one.make()
            except EditError:
                continue
            tried = solve_body(build, body)
            if len(tried.clashes) > len(body.clashes):
                continue
            if best is None or _lean(tried) > best[0]:
                best = (_lean(tried), one, build, tried)
        if best is None or best[0] <= _lean(body) + 0.05:
            continue
        _, step, now, body = best
        steps.append(step)
        if not steps[1:]:
            yield step
        if best[0] >= limit or len(steps) >= _MOST_STEPS:
            break
    if len(steps) > 1:
        yield _together(steps, now)


def _lean(body: BodyResult) -> float:
    standing = body.tilts[0].worst_deg if body.tilts else 90.0
    tilt = body.travel.tilt if body.travel is not None else None
    return min(standing, tilt.worst_deg if tilt is not None else 90.0)


def _heaviest(analysis: Analysis) -> list[str]:
    bodies = analysis.body.solids.values()
    ranked = sorted(bodies, key=lambda one: -one.load.full_kg * (one.bottom_m + one.top_m))
    return [one.item.id for one in ranked[:_HEAVIEST] if movable(analysis, one.item.id)]


def _lower_or_inward(analysis: Analysis, now: Build, item_id: str) -> Iterator[Candidate]:
    """On a lower level, or nearer to the middle of the wheels, on a build that may have changed."""
    there = _seen(analysis, now)
    ids = movable(there, item_id)
    body = there.body.solids.get(item_id)
    if not ids or body is None:
        return
    here = now.cart.level(body.item.level)
    if here is not None:
        yield from to_levels(there, item_id, ids, here.height.si)
    support = there.body.support
    if support is None or not there.body.tilts:
        return
    edge = there.body.tilts[0]
    (ax, ay), (bx, by) = edge.a, edge.b

    def further(dx_m: float, dy_m: float) -> bool:
        """At least 5 cm further from the edge it goes over."""
        length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
        inward = ((bx - ax) * dy_m - (by - ay) * dx_m) / length if length else 0.0
        return inward >= 0.05

    for dx_m, dy_m in spots(there, now, ids, wants=further)[-1:]:
        yield Candidate(
            "move",
            Phrase.of("Move {item} away from the {edge}", item=body.item.name, edge=edge.edge),
            1,
            partial(move, now, ids, dx_m, dy_m),
            (item_id,),
        )


def _seen(analysis: Analysis, build: Build) -> Analysis:
    """The analysis with the bodies of another build: all that is asked of it here."""
    if build is analysis.build:
        return analysis
    return changed(analysis, build=build, body=solve_body(build, analysis.body))


def _together(steps: list[Candidate], build: Build) -> Candidate:
    return Candidate(
        "weight down",
        joined([step.title for step in steps]),
        2,
        lambda: build,
        tuple(one for step in steps for one in step.items),
    )


def wheels_wider(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Every wheel out to the edges of the cart."""
    cart = analysis.build.cart
    if len(cart.casters) < 3 or cart.outline:
        return
    whole = extent(cart)
    middle_x, middle_y = (whole.left + whole.right) / 2, (whole.rear + whole.front) / 2
    moved = []
    for one in cart.casters:
        x_m = whole.left + _INSET_M if one.x.si < middle_x else whole.right - _INSET_M
        y_m = whole.rear + _INSET_M if one.y.si < middle_y else whole.front - _INSET_M
        wider = replace(
            one,
            x=one.x if _within(one.x.si, x_m, middle_x) else length_like(one.x, x_m),
            y=one.y if _within(one.y.si, y_m, middle_y) else length_like(one.y, y_m),
        )
        moved.append(wider)
    if tuple(moved) != cart.casters:
        yield Candidate(
            "wheels wider",
            Phrase("Set the wheels out to the edges of the cart"),
            3,
            partial(with_cart, analysis.build, replace(cart, casters=tuple(moved))),
            (),
            (_BUILDER,),
        )


def _within(at_m: float, target_m: float, middle_m: float) -> bool:
    """Already as far out as that."""
    return abs(at_m - middle_m) >= abs(target_m - middle_m)


# --- carried in by hand ----------------------------------------------------------------------


def carry_tallest(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """What sticks up highest does not travel on the cart."""
    if _is_heavy_lift(finding):
        return
    for item_id in finding.items[:1]:
        yield from _carried(analysis, (item_id,))
    bodies = sorted(analysis.body.solids.values(), key=lambda one: -one.top_m)
    limit = finding.limit.si if finding.limit is not None else 0.0
    too_high = [one.item.id for one in bodies if one.top_m > limit and one.item.travels]
    if 1 < len(too_high) <= _MOST_STEPS:
        yield from _carried(analysis, tuple(too_high))


def _is_heavy_lift(finding: Finding) -> bool:
    """Something is heavy to lift; a lift that the cart rides in has the same code."""
    return finding.code == "body.lift" and "mass" in dict(finding.title.values)


def carry_heaviest(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Jugs and tanks first, then whatever is heaviest, one by one and then several."""
    if _is_heavy_lift(finding):
        return
    bodies = [one for one in analysis.body.solids.values() if one.item.travels]
    ranked = sorted(
        bodies,
        key=lambda one: (not isinstance(one.item.specification.water, Tank), -one.load.full_kg),
    )
    ids = [one.item.id for one in ranked if not one.item.locked][:_MOST_STEPS]
    for item_id in ids[:2]:
        yield from _carried(analysis, (item_id,))
    for count in range(2, len(ids) + 1):
        yield from _carried(analysis, tuple(ids[:count]))


def _carried(analysis: Analysis, ids: tuple[str, ...]) -> Iterator[Candidate]:
    build = analysis.build
    whole = with_groups(build, ids)
    items = [item for one in whole if (item := build.item(one)) is not None]
    if not items or all(not item.travels for item in items):
        return
    if any(item.level == VENUE for item in items):
        return
    names = [name_of(build, one) for one in ids]
    told = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    yield Candidate(
        "carry",
        Phrase.of("Carry {items} in by hand", items=told),
        1,
        partial(_by_hand, build, whole),
        ids,
        told=_told_travel,
    )


def _told_travel(after: Analysis) -> Phrase:
    moved = after.body.travel
    if moved is None:
        return Phrase("Nothing is left on the cart")
    return Phrase.of(
        "The cart is then {high} high and weighs {mass} on its way",
        high=Value(moved.high_m, "length"),
        mass=Value(moved.mass_kg, "mass"),
    )


def _by_hand(build: Build, ids: tuple[str, ...]) -> Build:
    for one in ids:
        item = build.item(one)
        if item is not None and item.travels:
            build = replace_item(build, replace(item, travels=False))
    return build


_TIPS: tuple[Source, ...] = (weight_down, wheels_wider)

SOURCES: dict[str, tuple[Source, ...]] = {
    "body.tilt": (*_TIPS, carry_heaviest),
    "body.tilt-heated": _TIPS,
    "body.caster": (weight_down,),
    "body.push": (carry_heaviest,),
    "body.door": (carry_tallest,),
    "body.ramp": (carry_tallest, carry_heaviest),
    "body.ramp-push": (carry_heaviest,),
    "body.lift": (carry_tallest, carry_heaviest),
    "body.vehicle": (carry_tallest, carry_heaviest),
    "body.vehicle-push": (carry_heaviest,),
}
