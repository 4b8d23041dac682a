"""From a Build and its Analysis to everything that has to be drawn."""

from functools import partial

from ...analysis import Analysis
from ...build import VENUE, Build, Cart
from ...units import UnitSystem, show
from .bodies import body_shapes
from .cart_shapes import cart_shape, zone_shapes
from .clearance import clearance_notes, clearance_overlay
from .gauge_notes import gauge_notes
from .kept import Kept
from .notes import circuit_notes, tags, tap_notes
from .picture import (
    BodyShape,
    Box,
    Dimension,
    Note,
    PlanOptions,
    PlanPicture,
    RunShape,
)
from .runs import run_shapes
from .water_notes import low_point_notes, water_notes
from .weight import weight_notes, weight_overlay

DIMENSION_OFFSET_MM = 60.0
EMPTY_BAND_AWAY_MM = 300.0
EMPTY_BAND_MM = 120.0
VENUE_MARGIN_MM = 45.0


def plan_picture(
    build: Build,
    analysis: Analysis,
    options: PlanOptions | None = None,
    previous: PlanPicture | None = None,
) -> PlanPicture:
    """Prepare the plan. Equal arguments give equal pictures; parts can be told apart by `==`.

    Args:
        build: what is drawn.
        analysis: of that build.
        options: what is asked of the plan.
        previous: an earlier picture; what is as it was is the same object in both.
    """
    options = options or PlanOptions()
    alike = previous is not None and previous.options == options
    kept = Kept(previous.kept if previous is not None and alike else None)
    level = shown_level(build, options)
    bodies = body_shapes(build, analysis, options, level, kept)
    runs = run_shapes(build, analysis, options, level, kept)
    zones = zone_shapes(build.cart, analysis, level, options.system)
    if options.isolated:
        bodies = tuple(one for one in bodies if not one.ghosted)
        runs = tuple(one for one in runs if not one.ghosted)
        zones = tuple(one for one in zones if not one.ghosted)
    cart = kept.get("cart", (build.cart, level), partial(cart_shape, build.cart, level))
    spaces = clearance_overlay(analysis, level) if "clearance" in options.overlays else None
    weight = weight_overlay(analysis) if "weight" in options.overlays else None
    return PlanPicture(
        cart=cart,
        bodies=bodies,
        runs=runs,
        notes=(
            *_notes(build, analysis, options, bodies, runs, kept),
            *(clearance_notes(analysis, spaces, options.system) if spaces is not None else ()),
            *(weight_notes(analysis, options.system) if weight is not None else ()),
        ),
        dimensions=kept.get(
            "dimensions", (build.cart,), partial(cart_dimensions, build.cart, options.system)
        ),
        zones=zones,
        venue=_venue(bodies, cart.box) or _empty_band(bodies, cart.box, options),
        options=options,
        clearance=spaces,
        weight=weight,
        kept=kept.done(),
    )


def shown_level(build: Build, options: PlanOptions) -> str:
    """Name of the level drawn solid."""
    if options.level is not None and (
        options.level == VENUE or build.cart.level(options.level) is not None
    ):
        return options.level
    return build.cart.levels[0].name if build.cart.levels else VENUE


def cart_dimensions(cart: Cart, system: UnitSystem) -> tuple[Dimension, ...]:
    """Overall width and depth, below and to the left of the cart and what stands out from it."""
    shape = cart_shape(cart, "")
    box, whole = shape.box, shape.whole
    return (
        Dimension(
            (box.right, box.bottom),
            (box.x, box.bottom),
            -DIMENSION_OFFSET_MM - (whole.bottom - box.bottom),
            show(box.width / 1000.0, "tape", system),
        ),
        Dimension(
            (box.x, box.bottom),
            (box.x, box.y),
            -DIMENSION_OFFSET_MM - (box.x - whole.x),
            show(box.height / 1000.0, "tape", system),
        ),
    )


def _notes(
    build: Build,
    analysis: Analysis,
    options: PlanOptions,
    bodies: tuple[BodyShape, ...],
    runs: tuple[RunShape, ...],
    kept: Kept,
) -> tuple[Note, ...]:
    by_id = {body.id: body for body in bodies}
    notes: list[Note] = []
    if "power" in options.overlays:
        notes += circuit_notes(analysis, by_id, kept)
    if "water" in options.overlays:
        notes += tap_notes(build, analysis, options, by_id, kept)
        notes += gauge_notes(analysis, options, by_id, kept)
        notes += water_notes(analysis, options, runs, kept)
    if "drain" in options.overlays:
        notes += low_point_notes(analysis, runs, options.system, kept)
    return (*notes, *tags(runs))


def _venue(bodies: tuple[BodyShape, ...], cart: Box) -> Box | None:
    """The band of the venue's things: along the cart where they stand behind or before it."""
    boxes = [body.box for body in bodies if body.venue]
    rear = [box for box in boxes if box.bottom <= cart.y]
    front = [box for box in boxes if box.y >= cart.bottom]
    along = front if len(front) > len(rear) else rear
    whole = _around(along or boxes)
    if whole is None:
        return None
    whole = whole.grown(VENUE_MARGIN_MM)
    if not along:
        return None if whole.meets(cart) else whole
    left, right = min(whole.x, cart.x), max(whole.right, cart.right)
    return Box(left, whole.y, right - left, whole.height)


def _empty_band(bodies: tuple[BodyShape, ...], cart: Box, options: PlanOptions) -> Box | None:
    """Where the venue's things will go, while there are none."""
    if not options.empty_venue or any(body.venue for body in bodies):
        return None
    return Box(cart.x, cart.y - EMPTY_BAND_AWAY_MM, cart.width, EMPTY_BAND_MM)


def _around(boxes: list[Box]) -> Box | None:
    whole = boxes[0] if boxes else None
    for box in boxes[1:]:
        whole = box if whole is None else whole.united(box)
    return whole
