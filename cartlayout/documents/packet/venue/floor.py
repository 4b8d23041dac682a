"""Floor, weight, and the way in."""

from ....build import Build
from ....build.cart_geometry import leaf_ring, surface
from ....units import Phrase, Value
from ..content import Cell, Column, Facts, Job, Table


def floor(job: Job) -> Facts:
    """What the cart stands on has to be and to bear."""
    build, body = job.build, job.analysis.body
    pairs: list[tuple[str, Cell]] = [("Floor under the cart", _stand(build))]
    side = build.cart.operator_side
    pairs.append(("Operator stands at", f"the {side} side" if side in _SIDES else f"the {side}"))
    if body.full is not None:
        pairs.append(("Mass, everything full", Value(body.full.mass_kg, "mass")))
    feet = body.feet
    if feet is not None and feet.loads:
        kind = "wheel" if feet.casters else "leg"
        worst = max(one.worst_kg for one in feet.loads)
        pairs.append((f"Most on one {kind}", Value(worst, "mass")))
    heat_w = sum(one.specification.heat.si for one in build.items if one.specification.heat)
    if heat_w > 0.0:
        pairs.append(("Heat given off in use", Value(heat_w, "power")))
    if build.venue.outdoors:
        pairs.append(("Cover", "outdoors: dry above and below, no cord on wet ground"))
    return Facts(tuple(pairs), "Floor and weight")


_SIDES = ("left", "right")


def _stand(build: Build) -> Phrase:
    """The cart with its raised leaves."""
    rings = [surface(build.cart)]
    rings += [leaf_ring(build.cart, leaf) for leaf in build.cart.leaves if leaf.up]
    xs = [x for ring in rings for x, _ in ring]
    ys = [y for ring in rings for _, y in ring]
    return Phrase.of(
        "{wide} wide, {deep} deep",
        wide=Value(max(xs) - min(xs), "distance"),
        deep=Value(max(ys) - min(ys), "distance"),
    )


def way_in(job: Job) -> Table:
    """The cart as it is moved, and every passage on its way."""
    travel = job.analysis.body.travel
    rows: list[tuple[Cell, ...]] = []
    marks: list[str] = []
    if travel is not None:
        narrow, long = sorted((travel.wide_m, travel.deep_m))
        size = Phrase.of(
            "{a} × {b}, {c} high, {mass}",
            a=Value(narrow, "distance"),
            b=Value(long, "distance"),
            c=Value(travel.high_m, "distance"),
            mass=Value(travel.mass_kg, "mass"),
        )
        rows.append(("The cart as it is moved", size, ""))
        marks.append("")
    for one in job.analysis.body.passages:
        worst = one.worst
        said: Cell = one.way
        if worst is not None:
            said = Phrase.of(
                "{what}: {value} of {limit}",
                what=worst.what,
                value=Value(worst.value, worst.dimension),
                limit=Value(worst.limit, worst.dimension),
            )
        rows.append((one.name, said, "goes through" if one.passes else "does not go through"))
        marks.append("ok" if one.passes else "stop")
    return Table(
        "venue-way-in",
        "The way in",
        (Column("What", share=1.0), Column("Measures", share=2.0), Column("So", share=1.0)),
        tuple(rows),
        tuple(marks),
    )
