"""The cart on the move: how large and heavy it is, how hard to push, what it gets through."""

import math
from collections.abc import Iterable, Iterator

from ..build import Build, Passage
from ..build.cart_geometry import handle_ring, hanging_leaf_ring
from ..limits import Setting, body_practice
from .frame import TOLERANCE_M, Frame
from .results import EdgeTilt, PassageCheck, PassageResult, Push, Travel
from .solids import Solid

STANDARD_GRAVITY = 9.80665
"""m/s2, by definition (CGPM 1901)."""
_STATICS = (
    "statics: the lean at which the cart goes over in its worst mix of full and empty vessels"
)


def travellers(frame: Frame, bodies: Iterable[Solid]) -> list[Solid]:
    """What stays on the cart while it is moved: nothing on a leaf, which is folded then."""
    raised = [flap.shape.bounds for flap in frame.flaps if flap.leaf.up]

    def on_leaf(body: Solid) -> bool:
        x, y = body.load.x_m, body.load.y_m
        return body.item.level == frame.counter and any(
            x1 < x < x2 and y1 < y < y2 for x1, y1, x2, y2 in raised
        )

    return [body for body in bodies if body.item.travels and not (raised and on_leaf(body))]


def envelope(
    build: Build, frame: Frame, going: Iterable[Solid]
) -> Iterator[tuple[str, tuple[float, float, float, float]]]:
    """What may stick out as the cart is moved: name and bounds [m], the cart's own first."""
    cart = build.cart
    yield "the cart", frame.overall
    for body in going:
        yield body.item.name, body.bounds
    rings = [("the handle", handle_ring(cart))]
    rings += [(f"{leaf.name}, hanging", hanging_leaf_ring(cart, leaf)) for leaf in cart.leaves]
    for name, ring in rings:
        if ring:
            xs, ys = zip(*ring, strict=True)
            yield name, (min(xs), min(ys), max(xs), max(ys))


def travel(build: Build, frame: Frame, going: list[Solid], tilts: tuple[EdgeTilt, ...]) -> Travel:
    """The envelope and the mass of the cart with vessels full, leaves folded down."""
    cart = build.cart
    boxes = [bounds for _, bounds in envelope(build, frame, going)]
    tallest = max(going, key=lambda body: body.top_m, default=None)
    own_m = max(
        frame.counter_m,
        cart.handle.height.si if cart.handle is not None else 0.0,
        frame.panel.top_m if frame.panel is not None else 0.0,
    )
    top_m = tallest.top_m if tallest is not None else 0.0
    lefts, rears, rights, fronts = zip(*boxes, strict=True)
    leaves_kg = sum(leaf.mass.si for leaf in cart.leaves)
    return Travel(
        wide_m=max(rights) - min(lefts),
        deep_m=max(fronts) - min(rears),
        high_m=max(own_m, top_m),
        mass_kg=cart.empty_mass.si + leaves_kg + sum(body.load.full_kg for body in going),
        tallest=tallest.item.id if tallest is not None and top_m > own_m else "",
        tilt=tilts[0] if tilts else None,
    )


def push(mass_kg: float, where: str, grade: float, length_m: float | None = None) -> Push:
    """Force along the floor.

    Args:
        mass_kg: what moves.
        where: what is pushed over, for words.
        grade: rise over the length of the slope, the sine of its angle.
        length_m: of the slope.
    """
    practice = body_practice()
    weight_n = mass_kg * STANDARD_GRAVITY
    slope_n = weight_n * grade
    pressed_n = weight_n * max(0.0, 1.0 - grade * grade) ** 0.5
    return Push(
        where=where,
        mass_kg=mass_kg,
        grade=grade,
        slope_n=slope_n,
        start_n=slope_n + practice.starting_share.value * pressed_n,
        roll_n=slope_n + practice.rolling_share.value * pressed_n,
        length_m=length_m,
    )


def pushes(mass_kg: float, passages: tuple[PassageResult, ...]) -> tuple[Push, ...]:
    """On the level, and up the steepest ramp; where there is none, up the steepest floor.

    Nothing for what weighs nothing: a cart that nobody has weighed yet.
    """
    if mass_kg <= 0:
        return ()
    ramps = [one.push for one in passages if one.push is not None]
    run = body_practice().floor_grade.value
    floor = push(mass_kg, "a floor of 1:20", run / (1.0 + run * run) ** 0.5)
    return push(mass_kg, "level", 0.0), max(ramps, key=lambda one: one.start_n, default=floor)


def passage(cart: Travel, one: Passage) -> PassageResult:
    """Whether the cart gets through straight on, by the way round that suits it better."""
    narrow, long = sorted((cart.wide_m, cart.deep_m))
    ways = [
        _way(cart, one, "narrow side first", narrow, long),
        _way(cart, one, "long side first", long, narrow),
    ]
    return next((way for way in ways if way.passes), ways[0])


def _way(cart: Travel, one: Passage, way: str, width_m: float, length_m: float) -> PassageResult:
    checks = list(_sizes(cart, one, width_m, length_m))
    force = None
    if one.kind == "ramp" and one.rise is not None and one.length is not None:
        grade = one.rise.si / one.length.si if one.length.si > 0 else 1.0
        force = push(cart.mass_kg, one.name, min(1.0, grade), one.length.si)
        checks += _ramp(force)
        if cart.tilt is not None:
            lean = math.degrees(math.asin(force.grade))
            least = cart.tilt.worst_deg
            checks.append(PassageCheck("lean", lean, least, "angle", lean < least, _STATICS))
    return PassageResult(
        one.name,
        one.kind,
        "narrow side first" if way == "narrow side first" else "long side first",
        tuple(checks),
        force,
    )


def _sizes(cart: Travel, one: Passage, width_m: float, length_m: float) -> Iterator[PassageCheck]:
    entered = "the passage as entered"
    for what, value, limit in (
        ("width", width_m, one.width),
        ("height", cart.high_m, one.height),
        ("inner width", width_m, one.inner_width),
        ("length", length_m, one.length if one.kind in ("lift", "vehicle") else None),
    ):
        if limit is not None:
            holds = value <= limit.si + TOLERANCE_M
            yield PassageCheck(what, value, limit.si, "length", holds, entered)
    if one.load is not None:
        holds = cart.mass_kg <= one.load.si
        yield PassageCheck("load", cart.mass_kg, one.load.si, "mass", holds, entered)


def _ramp(force: Push) -> Iterator[PassageCheck]:
    practice = body_practice()
    slope = force.grade
    run = slope / (1.0 - slope * slope) ** 0.5 if slope < 1.0 else float("inf")
    rule = practice.ramp_grade
    yield PassageCheck(
        "grade", run, rule.value, "percent", run <= rule.value * (1 + 1e-6), rule.citation, False
    )
    yield from (
        PassageCheck(what, value, limit.value, "force", value <= limit.value, limit.citation, False)
        for what, value, limit in push_limits(force)
    )


def push_limits(force: Push) -> tuple[tuple[str, float, Setting[float]], ...]:
    """What a push is held against: to start, and to keep going over its length.

    A way on the level is taken to be a long one.
    """
    practice = body_practice()
    far = force.length_m is None or force.length_m > practice.push_far_m.value
    return (
        ("force to start", force.start_n, practice.push_start_n),
        (
            "force to keep going",
            force.roll_n,
            practice.push_far_n if far else practice.push_roll_n,
        ),
    )
