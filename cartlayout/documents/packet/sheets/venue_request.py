"""What is asked of the venue, on one page: circuits, water, drain, floor, way in."""

import math
from collections.abc import Iterator
from functools import partial

from ....build import (
    VENUE,
    Build,
    Drain,
    Item,
    Load,
    Mains,
    Outlet,
    Port,
    Tank,
)
from ....build.cart_geometry import leaf_ring, surface
from ....build.geometry import port_position
from ....power.assign.request import Request, request
from ....power.results import EVERYTHING_ON, Circuit
from ....units import Phrase, Value, counted
from ....water.drain_results import DrainState
from ..content import Cell, Column, Content, Facts, Job, Paragraph, Part, Picture, Table
from ..site import places, site_sketch

_SEARCH_S = 0.5
"""For the fewest circuits; an answer that is not proven says so."""


def venue_request(job: Job) -> Content:
    """The sheet for a venue: everything the cart needs that is not on it."""
    parts: list[Part] = [Paragraph(_opening(job), "strong")]
    drawn = _circuits(job)
    parts.append(drawn)
    if not drawn.rows or not _all_fed(job):
        parts.append(_fewest(job))
    parts += [_water(job), _floor(job)]
    way = _way_in(job)
    if way.rows:
        parts.append(way)
    if places(job):
        parts.append(
            Picture(
                partial(site_sketch, job),
                least_height=60.0,
                title="Where: letters of the circuits, W water, D drain",
            )
        )
    return Content(
        "venue-request",
        "What we ask of the venue",
        "venue",
        tuple(parts),
        is_wide=False,
        one_page=True,
        cautions=(
            "Please do not add, change or open outlets, breakers or pipes for this list yourself: "
            "a licensed electrician or plumber does that.",
        ),
    )


def _opening(job: Job) -> Phrase:
    build = job.build
    where = f" at {build.venue.name}" if build.venue.name else ""
    asks = f" Questions: {build.designer}." if build.designer else ""
    return Phrase.of(
        "For “{name}”{where}, {hours} of service, we ask for what stands here. Please tell us what "
        "differs, whoever else uses these circuits, and the breaker of each outlet.{asks}",
        name=build.name or "a beverage cart",
        where=where,
        hours=Value(build.service.hours.si, "duration"),
        asks=asks,
    )


# --- power -------------------------------------------------------------------------------------


def _circuits(job: Job) -> Table:
    build, power = job.build, job.analysis.power
    rows, marks = [], []
    for circuit in power.circuits:
        outlets = [build.item(key) for key in circuit.items]
        own = [one for one in outlets if one is not None and _is_outlet(one)]
        if not own or not circuit.loads:
            continue
        rows.append(
            (
                circuit.letter,
                _volts(circuit, own[0]),
                Value(circuit.rating_a, "current", 0),
                _receptacles(job, own),
                _place(build, own),
                Value(circuit.amps.get(EVERYTHING_ON, 0.0), "current"),
                _names(build, [load.item for load in circuit.loads]),
                _conditions(build, circuit, own),
            )
        )
        marks.append("ok" if all(one.holds for one in circuit.limits) else "stop")
    bad = [row[0] for row, mark in zip(rows, marks, strict=True) if mark == "stop"]
    note = "Amps drawn: with everything on at once."
    if bad:
        note += f" As drawn, circuit {', '.join(map(str, bad))} does not hold: see the findings."
    return Table(
        "venue-circuits",
        "Electrical circuits",
        (
            Column("Circuit", share=0.5),
            Column("Supply", share=0.8),
            Column("Breaker", "current", "right", 0.6),
            Column("Receptacles", share=1.1),
            Column("Place", share=1.4),
            Column("Drawn", "current", "right", 0.6),
            Column("For", share=1.6),
            Column("Conditions", share=1.4),
        ),
        tuple(rows),
        tuple(marks) if bad else (),
        note=note,
        empty="No outlet of the venue is used as drawn.",
    )


def _is_outlet(item: Item) -> bool:
    return isinstance(item.specification.electrical, Outlet) and item.level == VENUE


def _volts(circuit: Circuit, outlet: Item) -> str:
    role = outlet.specification.electrical
    assert isinstance(role, Outlet)
    phases = {"split-phase": ", two legs and neutral", "three-phase": ", three phases"}
    return f"{role.voltage.text}{phases.get(role.system, '')}"


def _receptacles(job: Job, outlets: list[Item]) -> str:
    """How many of each kind are used."""
    used = {(end.item, end.port) for wire in job.build.wires for end in (wire.a, wire.b) if end}
    found: dict[str, int] = {}
    for outlet in outlets:
        for port in outlet.specification.ports:
            if port.medium == "power" and (outlet.id, port.id) in used:
                found[port.connector] = found.get(port.connector, 0) + 1
    return ", ".join(f"{number} × {kind}" for kind, number in found.items()) or "–"


def _place(build: Build, outlets: list[Item]) -> Cell:
    """By name and by where it has to be, from the cart's rear left corner."""
    one = outlets[0]
    port = next((port for port in one.specification.ports if port.medium == "power"), None)
    name = ", ".join(dict.fromkeys(outlet.name for outlet in outlets))
    if port is None:
        return name
    return _where(build, one, port, name)


def _where(build: Build, item: Item, port: Port, name: str) -> Phrase:
    x_m, y_m, z_m = port_position(build.cart, item, port)
    return Phrase.of(
        "{name}: {away} from the cart, {high} above the floor",
        name=name,
        away=Value(_distance_m(build, x_m, y_m), "distance"),
        high=Value(z_m, "distance"),
    )


def _distance_m(build: Build, x_m: float, y_m: float) -> float:
    """From a place on the plan to the nearest edge of the cart; 0 over it."""
    from shapely import Point, Polygon

    return float(Polygon(surface(build.cart)).distance(Point(x_m, y_m)))


def _conditions(build: Build, circuit: Circuit, outlets: list[Item]) -> str:
    roles = [one.specification.electrical for one in outlets]
    loads = [build.item(load.item) for load in circuit.loads]
    said = []
    alone = [one.name for one in loads if one is not None and _wants_alone(one)]
    if alone:
        said.append("dedicated: nothing else on it")
    elif any(isinstance(role, Outlet) and role.shared for role in roles):
        said.append("shared with others: how much do they draw?")
    else:
        said.append("nobody else on it")
    nights = [one.name for one in loads if one is not None and _stays_on(one)]
    said.append(f"on overnight for {_and(nights)}" if nights else "off overnight")
    if any(isinstance(role, Outlet) and role.gfci is None for role in roles):
        said.append("is it earth-leakage protected?")
    elif any(isinstance(role, Outlet) and role.gfci for role in roles):
        said.append("earth-leakage protected")
    if circuit.rating_assumed:
        said.append("which breaker? counted with the least there may be")
    return "; ".join(said)


def _wants_alone(item: Item) -> bool:
    role = item.specification.electrical
    return isinstance(role, Load) and role.needs_own_circuit


def _stays_on(item: Item) -> bool:
    role = item.specification.electrical
    return isinstance(role, Load) and role.overnight


def _all_fed(job: Job) -> bool:
    fed = {load.item for one in job.analysis.power.circuits for load in one.loads}
    loads = [one for one in job.build.items if isinstance(one.specification.electrical, Load)]
    holds = all(one.holds for circuit in job.analysis.power.circuits for one in circuit.limits)
    return holds and all(one.id in fed for one in loads)


def _fewest(job: Job) -> Table:
    build = job.build
    asked: Request = request(build, most_s=_SEARCH_S)
    rows: list[tuple[Cell, ...]] = []
    for number, one in enumerate(asked.circuits, 1):
        nights = [item.name for item in build.items if item.id in one.loads and _stays_on(item)]
        rows.append(
            (
                str(number),
                Value(one.volts, "voltage", 0),
                Value(one.amps, "current", 0),
                one.receptacle,
                Value(one.drawn_a, "current"),
                _names(build, list(one.loads)),
                ("dedicated" if one.alone else "nobody else on it")
                + (f"; on overnight for {_and(nights)}" if nights else ""),
            )
        )
    note = "" if asked.proven else "These are the fewest that were found in a short search. "
    left = [build.item(key) for key in asked.left_out]
    if left:
        names = _and([one.name for one in left if one is not None])
        note += f"No usual circuit of the region takes {names}: to be asked for by name."
    return Table(
        "venue-fewest-circuits",
        "Fewest usual circuits that carry everything at once",
        (
            Column("Circuit", share=0.5),
            Column("Supply", "voltage", "right", 0.6),
            Column("Breaker", "current", "right", 0.6),
            Column("Receptacle", share=0.8),
            Column("Drawn", "current", "right", 0.6),
            Column("For", share=2.0),
            Column("Conditions", share=1.6),
        ),
        tuple(rows),
        note=note,
        empty="Nothing on the cart is plugged in.",
    )


# --- water and drain ---------------------------------------------------------------------------


def _water(job: Job) -> Table:
    rows = [*_mains(job), *_drains(job), *_vessels(job)]
    return Table(
        "venue-water",
        "Water and drain",
        (
            Column("What", share=0.9),
            Column("Place and connection", share=1.8),
            Column("We need", share=2.0),
            Column("Conditions", share=1.8),
        ),
        tuple(rows),
        empty="The cart uses no water.",
    )


def _mains(job: Job) -> Iterator[tuple[Cell, ...]]:
    build, water = job.build, job.analysis.water
    for item in build.items:
        role = item.specification.water
        if not isinstance(role, Mains):
            continue
        window = water.window(item.id)
        port = next((one for one in item.specification.ports if one.medium == "water"), None)
        place: Cell = item.name
        if port is not None:
            place = _where(build, item, port, f"{item.name}, {port.connector}")
        if window is None:
            yield ("Mains water, W", place, "nothing: no tap gets its water from it", "")
            continue
        known = role.least is not None and role.greatest is not None
        yield (
            "Mains water, W",
            place,
            _asked_of_mains(window.flow, window.least_pa, window.greatest_pa),
            "drinking water, shut off by hand at the outlet"
            + ("" if known else "; which pressure is there at rest, least and greatest?"),
        )


def _asked_of_mains(flow: float, least_pa: float, greatest_pa: float) -> Phrase:
    """Flow and pressures at its outlet: least with water running, most at rest."""
    if least_pa > greatest_pa or not math.isfinite(least_pa):
        return Phrase.of(
            "{flow}; no single pressure does for every tap: see the findings",
            flow=Value(flow, "flow"),
        )
    if not math.isfinite(greatest_pa):
        return Phrase.of(
            "{flow} at {least} or more while it runs",
            flow=Value(flow, "flow"),
            least=Value(least_pa, "pressure"),
        )
    return Phrase.of(
        "{flow} at {least} or more while it runs, {most} or less at rest",
        flow=Value(flow, "flow"),
        least=Value(least_pa, "pressure"),
        most=Value(greatest_pa, "pressure"),
    )


def _drains(job: Job) -> Iterator[tuple[Cell, ...]]:
    build, water = job.build, job.analysis.water
    for item in build.items:
        if not isinstance(item.specification.water, Drain):
            continue
        mine = [one for one in water.drains if one.end[0] == item.id]
        most = max((sum(_by_case(mine, case)) for case in _cases(mine)), default=0.0)
        port = next((one for one in item.specification.ports if one.medium == "drain"), None)
        place: Cell = item.name
        if port is not None:
            place = _where(build, item, port, item.name)
        balance = water.balance
        a_day = balance.waste_per_day if balance is not None and balance.to_drain else None
        needs = Phrase.of("takes {flow} of waste water", flow=Value(most, "flow"))
        if a_day is not None:
            needs = Phrase.of(
                "takes {flow} of waste water, {day} a day",
                flow=Value(most, "flow"),
                day=Value(a_day, "volume"),
            )
        yield ("Drain, D", place, needs, "coffee grounds and milk are kept out; over an air gap")


def _by_case(drains: list[DrainState], case: str) -> Iterator[float]:
    return (one.arriving.get(case, 0.0) for one in drains)


def _cases(drains: list[DrainState]) -> set[str]:
    return {case for one in drains for case in one.arriving}


def _vessels(job: Job) -> Iterator[tuple[Cell, ...]]:
    """What is carried in and out by hand."""
    balance = job.analysis.water.balance
    tanks = [
        (item, item.specification.water)
        for item in job.build.items
        if isinstance(item.specification.water, Tank)
    ]
    fresh = [role for _, role in tanks if role.contents == "fresh"]
    waste = [role for _, role in tanks if role.contents == "waste"]
    if fresh and balance is not None:
        yield (
            "Filling by hand",
            _amount("{number} on the cart, {all} together", fresh),
            _a_day(balance.fresh_per_day, "used in a day"),
            "a drinking-water tap to fill at, on the way to the cart",
        )
    if waste and balance is not None:
        yield (
            "Emptying by hand",
            _amount("{number} on the cart, {all} together", waste),
            _a_day(balance.waste_per_day, "of waste water in a day"),
            "a sink or drain where waste water may be poured away",
        )


def _amount(template: str, roles: list[Tank]) -> Phrase:
    return Phrase.of(
        template,
        number=counted(len(roles), "vessel"),
        all=Value(sum(one.volume.si for one in roles), "volume"),
    )


def _a_day(volume: float, words: str) -> Phrase:
    return Phrase.of("{volume} {words}", volume=Value(volume, "volume"), words=words)


# --- floor and way in --------------------------------------------------------------------------


def _floor(job: Job) -> Facts:
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


def _way_in(job: Job) -> Table:
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


def _names(build: Build, ids: list[str]) -> str:
    items = [build.item(key) for key in ids]
    return ", ".join(one.name for one in items if one is not None)


def _and(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
