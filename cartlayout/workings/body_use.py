"""Workings of use: lifts, leaves, reach, spaces that have to be free, what is left of a level."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..findings.body_clashes import PURPOSES
from ..findings.body_numbers import (
    clash_numbers,
    contents_number,
    leaf_number,
    level_number,
    lift_number,
    reach_number,
)
from ..findings.body_weight import leaf_words
from ..findings.number import Number
from ..limits import body_practice
from ..units import Phrase, Value
from .making import Draft, plain
from .model import Held, Symbol, Working
from .provenance import provenance

# --- lifts ------------------------------------------------------------------------------------


def lift_numbers(analysis: Analysis) -> Iterator[Number]:
    """Every lift over the limit, and the heaviest below it."""
    for lift in analysis.body.lifts:
        yield lift_number(lift)


def lift_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a lift."""
    lift = next((one for one in analysis.body.lifts if lift_number(one) == number), None)
    if lift is None:
        return None
    draft = Draft(number, Phrase.of("Mass to lift: {name}", name=lift.name))
    symbols: list[Symbol] = []
    typical: list[str] = []
    for item_id in lift.items:
        solid = analysis.body.solids[item_id]
        source, is_typical = provenance(solid.item, "mass")
        if is_typical:
            typical.append(solid.item.name)
        kg = Value(solid.load.empty_kg, "mass")
        symbols.append(Symbol(f"m_{len(symbols) + 1}", solid.item.name, kg, source, is_typical))
        more_kg = solid.carried_kg - solid.load.empty_kg
        if more_kg > 0.0:
            own = contents_number(solid.item.id)
            symbols.append(
                Symbol(
                    f"m_{len(symbols) + 1}",
                    f"what is in {solid.item.name}",
                    Value(more_kg, "mass"),
                    number=own if solid.load.contents is not None else None,
                )
            )
    value = Value(lift.mass_kg, "mass")
    names = " + ".join(one.name for one in symbols)
    draft.step("lifted in one piece", "m", names, value, *symbols)
    if typical:
        draft.assumptions.append(plain(f"typical masses, to be weighed: {', '.join(typical)}"))
    limit = body_practice().lift_kg
    draft.held.append(
        Held(Value(limit.value, "mass"), limit.rule, limit.citation, lift.mass_kg <= limit.value)
    )
    return draft.done(value)


# --- leaves -----------------------------------------------------------------------------------


def leaf_numbers(analysis: Analysis) -> Iterator[Number]:
    """Every raised leaf."""
    for one in analysis.body.leaves:
        yield leaf_number(one.leaf)


def leaf_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of what stands on a leaf: a body that stands half on it counts half."""
    body = analysis.body
    one = next((leaf for leaf in body.leaves if leaf_number(leaf.leaf) == number), None)
    flap = next(
        (flap for flap in (body.frame.flaps if body.frame else ()) if flap.leaf.name == number.of),
        None,
    )
    if one is None or flap is None:
        return None
    draft = Draft(number, Phrase.of("What {leaf} carries", leaf=leaf_words(one.leaf)))
    symbols, products = [], []
    for at, item_id in enumerate(one.items, 1):
        solid = body.solids[item_id]
        source, is_typical = provenance(solid.item, "mass")
        kg = Value(solid.load.full_kg, "mass")
        symbols.append(Symbol(f"m_{at}", f"{solid.item.name}, full", kg, source, is_typical))
        share = float(solid.shape.intersection(flap.shape).area) / solid.area_m2
        if abs(share - 1.0) <= 1e-9:
            products.append(f"m_{at}")
            continue
        symbols.append(Symbol(f"k_{at}", "its share on the leaf", Value(share, "percent")))
        products.append(f"k_{at} * m_{at}")
    value = Value(one.mass_kg, "mass")
    says = "what stands on it, full" if products else "nothing stands on it"
    draft.step(says, "m", " + ".join(products), value, *symbols)
    if one.rating_kg is not None:
        rating = Value(one.rating_kg, "mass")
        rule = "a leaf carries no more than it is rated for"
        source = "the leaf's rating as entered"
        draft.held.append(Held(rating, rule, source, one.mass_kg <= one.rating_kg))
    return draft.done(value)


# --- reach ------------------------------------------------------------------------------------


def reach_numbers(analysis: Analysis) -> Iterator[Number]:
    """Everything that is operated."""
    for one in analysis.body.reaches:
        yield reach_number(one.item)


def reach_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a reach."""
    one = next((each for each in analysis.body.reaches if each.item == number.of), None)
    item = analysis.build.item(number.of)
    if one is None or item is None or number.what != "depth":
        return None
    draft = Draft(number, Phrase.of("Reach to {item}", item=item.name))
    value = Value(one.depth_m, "length")
    level = analysis.build.cart.operator_side in ("front", "rear")
    axis, where = (1, "from the rear") if level else (0, "from the left")
    if one.depth_m == 0.0:
        draft.step("hands need not go over the edge", "d", "", value)
    else:
        ordered = sorted(
            (
                ("x_h", f"where hands go, {where}", one.hand[axis]),
                ("x_e", f"the operator's edge there, {where}", one.edge[axis]),
            ),
            key=lambda each: -each[2],
        )
        symbols = [Symbol(name, says, Value(at, "height")) for name, says, at in ordered]
        draft.step(
            "straight in from the edge",
            "d",
            f"{symbols[0].name} - {symbols[1].name}",
            value,
            *symbols,
        )
    practice = body_practice()
    for limit in (practice.reach_easy_m, practice.reach_limit_m):
        draft.held.append(
            Held(
                Value(limit.value, "length"), limit.rule, limit.citation, one.depth_m <= limit.value
            )
        )
    return draft.done(value)


# --- free spaces ------------------------------------------------------------------------------


def clearance_numbers(analysis: Analysis) -> Iterator[Number]:
    """Every space that is not as free as it should be."""
    for number, clash in clash_numbers(analysis.body.clashes):
        if clash.need_m > 0.0:
            yield number


def clearance_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of what is left free beside something."""
    clash = dict(clash_numbers(analysis.body.clashes)).get(number)
    item = analysis.build.item(number.of)
    if clash is None or item is None:
        return None
    other = analysis.build.item(number.case)
    who = other.name if other is not None else number.case
    side = "above" if clash.side == "top" else f"at the {clash.side} of"
    title = "Space left {side} {item}"
    draft = Draft(number, Phrase.of(title, side=side, item=item.name))
    source, is_typical = provenance(item, "clearance")
    need = Symbol(
        "s_n",
        f"asked for {PURPOSES.get(clash.purpose, clash.purpose)}",
        Value(clash.need_m, "length"),
        source,
        is_typical,
    )
    taken = Symbol("s_t", f"of that taken by {who}", Value(clash.depth_m, "length"))
    value = Value(clash.need_m - clash.depth_m, "length")
    draft.step("left", "s", "s_n - s_t", value, need, taken)
    limit = Value(clash.need_m, "length")
    rule = "a space that is asked for is free"
    draft.held.append(
        Held(limit, rule, f"the specification's clearances ({source})", False, is_least=True)
    )
    return draft.done(value)


_MEASURED = {
    "overlap": "the shortest way by which the two outlines come apart",
    "overhang": "how far it reaches beyond the outline of the cart",
    "leaf-down": "how much of it has nothing under it while the leaf is down",
    "height": "how far it sticks up into what is above the level",
    "leg": "the shortest way out of the leg",
    "panel": "how far it reaches into the board",
    "off-panel": "how far it is from where it could be fastened",
    "panel-height": "how far it sticks out above or below the board",
    "sunk": "how far it lies below the surface",
    "zone-opening": "how much of the hole it covers",
    "zone-no-go": "how far it reaches into the zone",
    "zone-reserved": "how far it reaches into the space kept free",
}
"""What the number of a clash is, by its code."""


def measured_numbers(analysis: Analysis) -> Iterator[Number]:
    """Everything that is in something's way."""
    for number, clash in clash_numbers(analysis.body.clashes):
        if clash.need_m <= 0.0 and clash.code in _MEASURED:
            yield number


def clash_working(analysis: Analysis, number: Number) -> Working | None:
    """How far something is in the way: measured on the drawing, with where it stands."""
    clash = dict(clash_numbers(analysis.body.clashes)).get(number)
    solid = analysis.body.solids.get(number.of)
    if clash is None or solid is None or clash.code not in _MEASURED:
        return None
    draft = Draft(number, Phrase.of("How far {item} is in the way", item=solid.item.name))
    value = Value(clash.depth_m, "length")
    if clash.code == "height":
        over = (
            Symbol("z_t", "its top above the floor", Value(solid.top_m, "height")),
            Symbol(
                "z_a",
                "where room above the level ends",
                Value(solid.top_m - clash.depth_m, "height"),
            ),
        )
        draft.step(_MEASURED[clash.code], "d", "z_t - z_a", value, *over)
    else:
        draft.step(f"{_MEASURED[clash.code]}, measured on the outlines as drawn", "d", "", value)
    left, rear, right, front = solid.bounds
    draft.notes.append(
        Phrase.of(
            "{item} stands from {left} to {right} from the left, {rear} to {front} from the rear, "
            "{low} to {high} above the floor.",
            item=solid.item.name,
            left=Value(left, "length"),
            right=Value(right, "length"),
            rear=Value(rear, "length"),
            front=Value(front, "length"),
            low=Value(solid.bottom_m, "length"),
            high=Value(solid.top_m, "length"),
        )
    )
    return draft.done(value)


# --- levels -----------------------------------------------------------------------------------


def level_numbers(analysis: Analysis) -> Iterator[Number]:
    """Every level that has a surface."""
    for room in analysis.body.rooms:
        if room.area_m2 > 0.0:
            yield level_number(room.level)


def level_working(analysis: Analysis, number: Number) -> Working | None:
    """The working of what is left of a level."""
    room = analysis.body.room(number.of)
    if room is None or room.area_m2 <= 0.0 or number.what != "free":
        return None
    draft = Draft(number, Phrase.of("Free of the {level}", level=room.level))
    area = Symbol("A", "its surface", Value(room.area_m2, "area"))
    taken = Symbol(
        "A_t",
        "taken by bodies, legs, holes and places where nothing may stand, each place once",
        Value(room.taken_m2, "area"),
    )
    value = Value(room.free_share, "share")
    draft.step("nothing stands on", "f", "max(1 - A_t / A, 0)", value, area, taken)
    if room.reserved_m2 > 0.0:
        draft.notes.append(
            Phrase.of("Of that {kept} is kept for a purpose.", kept=Value(room.reserved_m2, "area"))
        )
    return draft.done(value)
