"""What to say about the line itself: sources, pumps, vessels, filters, tubes, gauges."""

from collections.abc import Iterator

from ..build import Accumulator, Filter, Gauge, Mains, Tank
from ..limits import tube_row
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from ..water.results import ALL_SHUT, PumpState, Trouble
from .finding import Finding, Severity
from .water_words import PRACTICE, Place, bar, rate

# code of a trouble -> (severity, title, what to do)
_TROUBLES: dict[str, tuple[Severity, str, str]] = {
    "empty": (
        "stop",
        "{a} cannot be drawn from",
        "In {a} {detail}. Fill it, or lower its pick-up.",
    ),
    "no bore": (
        "stop",
        "A tube at {a} lets nothing through",
        "Of this tube {detail}. Choose another.",
    ),
    "no curve": ("stop", "{a} gives no water", "{detail}. Enter its curve from the maker's sheet."),
    "starved": (
        "stop",
        "{a} is starved on its suction side",
        "To give more, its inlet would have to go below the pressure at which water boils. Take a "
        "wider or shorter suction tube, or set it lower.",
    ),
    "not converged": (
        "care",
        "The water could not be solved",
        "No steady state was found for: {detail}. Look for valves or regulators that work against "
        "each other; no pressures are shown for it.",
    ),
}


def line_rules(place: Place) -> Iterator[Finding]:
    """Judge everything between source and taps."""
    for trouble in place.water.troubles:
        if trouble.code in _TROUBLES:
            yield _trouble(place, trouble)
    for pump in place.water.pumps:
        yield from _vessel(place, pump)
        yield from _lift(place, pump)
    yield from _filters(place)
    yield from _velocity(place)
    yield from _tubes(place)
    yield from _gauges(place)
    yield from _mains(place)


def _trouble(place: Place, trouble: Trouble) -> Finding:
    severity, title, detail = _TROUBLES[trouble.code]
    words = {
        "a": place.name(trouble.items[0]) if trouble.items else "the line",
        "detail": trouble.detail,
    }
    return Finding(
        severity,
        f"water.{trouble.code.replace(' ', '-')}",
        Phrase.of(title, **words),
        Phrase.of(detail, **words),
        trouble.items,
        trouble.runs,
    )


# --- pumps -------------------------------------------------------------------------------------


def _vessel(place: Place, pump: PumpState) -> Iterator[Finding]:
    name = place.name(pump.item)
    if pump.accumulator is None:
        yield Finding(
            "care",
            "water.no-accumulator",
            Phrase.of("{pump} works without an accumulator", pump=name),
            Phrase.of(
                "It will start at every small draw and the pressure will jump between {low} and "
                "{high}. Put an accumulator behind it, unless its maker advises against one.",
                low=bar(pump.cut_in_pa),
                high=bar(pump.cut_out_pa),
            ),
            (pump.item,),
            source=PRACTICE,
        )
        return
    role = place.role(pump.accumulator)
    if not isinstance(role, Accumulator) or role.pre_charge.si <= pump.cut_in_pa:
        return
    advice = water_practice().pre_charge_below_cut_in_pa
    yield Finding(
        "care",
        "water.pre-charge",
        Phrase.of(
            "{vessel} is charged to {charge}, above the cut-in at {low}",
            vessel=place.name(pump.accumulator),
            charge=bar(role.pre_charge.si),
            low=bar(pump.cut_in_pa),
        ),
        Phrase.of(
            "It runs empty before {pump} starts, with a bang each time. Let air out until it holds "
            "{right}.",
            pump=name,
            right=bar(max(pump.cut_in_pa - advice.value, 0.0)),
        ),
        (pump.accumulator, pump.item),
        value=bar(role.pre_charge.si),
        limit=bar(pump.cut_in_pa),
        source=advice.citation,
    )


def _lift(place: Place, pump: PumpState) -> Iterator[Finding]:
    """Height from the lowest water that is to be drawn up to the pump's inlet."""
    item = place.items[pump.item]
    limit_m = getattr(item.specification.water, "greatest_lift", None)
    inlet = next(
        (
            (item.id, port.id)
            for port in item.specification.ports
            if port.medium == "water" and port.direction == "in"
        ),
        None,
    )
    if inlet is None or limit_m is None:
        return
    tank = _tank_before(place, inlet)
    if tank is None:
        return
    node, role = tank
    port = place.items[node[0]].specification.port(node[1])
    heights = place.network.heights_m
    if port is None or node not in heights or inlet not in heights:
        return
    lift_m = heights[inlet] - (heights[node] - port.z.si + role.pick_up.si)
    if lift_m <= limit_m.si:
        return
    yield Finding(
        "stop",
        "water.lift",
        Phrase.of(
            "{pump} must lift {lift}, it can {limit}",
            pump=item.name,
            lift=Value(lift_m, "length"),
            limit=Value(limit_m.si, "length"),
        ),
        Phrase.of(
            "So high above the last of the water in {tank} it will not prime. Set it lower.",
            tank=place.name(node[0]),
        ),
        (pump.item, node[0]),
        value=Value(lift_m, "length"),
        limit=Value(limit_m.si, "length"),
        source=place.source_of(pump.item),
    )


def _tank_before(place: Place, inlet: tuple[str, str]) -> tuple[tuple[str, str], Tank] | None:
    """The tank that a pump draws from: the first found on its inlet's side."""
    graph = place.network.supply
    seen, queue = {inlet}, [inlet]
    while queue:
        node = queue.pop(0)
        role = place.role(node[0])
        if isinstance(role, Tank):
            return node, role
        for _, other, data in graph.edges(node, data=True):
            own = data.get("item")
            if other not in seen and not (own is not None and own.id == inlet[0]):
                seen.add(other)
                queue.append(other)
    return None


# --- filters, tubes, gauges --------------------------------------------------------------------


def _filters(place: Place) -> Iterator[Finding]:
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Filter):
            continue
        if role.used >= 1.0:
            yield Finding(
                "care",
                "water.filter-used",
                Phrase.of("{filter} is used up", filter=item.name),
                Phrase.of("It takes twice what a clean one does. Change the cartridge."),
                (item.id,),
                source=place.source_of(item.id),
            )
        flow, case = _most_through(place, item.id)
        rated = role.rated_flow.si
        if rated <= 0.0 or flow <= rated * 1.001:
            continue
        drawing = [
            tap for tap in place.water.taps if tap.states[case].open and tap.states[case].flow > 0.0
        ]
        drawing.sort(key=lambda tap: -tap.states[case].flow)
        hungriest = drawing[0] if drawing else None
        yield Finding(
            "care",
            "water.filter-flow",
            Phrase.of(
                "{filter} carries {flow}, {share} of its rating",
                filter=item.name,
                flow=rate(flow),
                share=Value(flow / rated, "share"),
            ),
            Phrase.of(
                "It is rated for {rated}; {case} asks more. Filling governs, not the small draw of "
                "brewing: take a larger filter, or restrict the fill.",
                rated=rate(rated),
                case=hungriest.name if hungriest is not None else f"the case '{case}'",
            ),
            (item.id, *((hungriest.item,) if hungriest is not None else ())),
            value=rate(flow),
            limit=rate(rated),
            source=place.source_of(item.id),
        )


def _most_through(place: Place, item_id: str) -> tuple[float, str]:
    """Greatest flow through an item and the case it happens in; a tap alone before several."""
    runs = place.runs_at.get(item_id, ())
    most, where = 0.0, ALL_SHUT
    for name, case in place.water.cases.items():
        for run_id in runs:
            state = case.runs.get(run_id)
            if state is not None and abs(state.flow) > most * 1.001:
                most, where = abs(state.flow), name
    return most, where


def _velocity(place: Place) -> Iterator[Finding]:
    limit = water_practice().greatest_velocity_m_s
    worst = {
        run_id: velocity
        for run_id, velocity in place.water.fastest.items()
        if velocity > limit.value
    }
    if not worst:
        return
    runs = sorted(worst, key=lambda run_id: -worst[run_id])
    top = worst[runs[0]]
    several = f" and in {len(runs) - 1} more" if len(runs) > 1 else ""
    yield Finding(
        "care",
        "water.velocity",
        Phrase.of(
            "Water runs at {top} in a tube{several}",
            top=Value(top, "velocity"),
            several=several,
        ),
        Phrase.of(
            "Above {limit} it is loud, wears fittings and hammers when a valve shuts. Fastest in "
            "the {tube}: take a wider tube.",
            limit=Value(limit.value, "velocity"),
            tube=place.tube_name(runs[0]),
        ),
        (),
        tuple(runs),
        value=Value(top, "velocity"),
        limit=Value(limit.value, "velocity"),
        source=limit.citation,
    )


def _tubes(place: Place) -> Iterator[Finding]:
    static = place.water.cases.get(ALL_SHUT)
    pressures = static.pressures_pa if static is not None else {}
    for _, _, data in place.network.supply.edges(data=True):
        run = data.get("run")
        if run is None:
            continue
        name = place.tube_name(run.id)
        ends = tuple((end.item, end.port) for end in (run.a, run.b) if end is not None)
        items = tuple(end[0] for end in ends)
        if not run.tube.potable:
            yield Finding(
                "stop",
                "water.not-potable",
                Phrase.of("{tube} is not for drinking water", tube=name),
                Phrase.of("It is in the supply line. Take a tube sold for drinking water."),
                items,
                (run.id,),
                source=_tube_source(run.tube.name),
            )
        rating = run.tube.rating
        highest_pa = max((pressures.get(end, 0.0) for end in ends), default=0.0)
        if rating is not None and highest_pa > rating.si + 20.0:
            yield Finding(
                "stop",
                "water.tube-rating",
                Phrase.of(
                    "{tube} sees {static}, rated {rating}",
                    tube=name,
                    static=bar(highest_pa),
                    rating=bar(rating.si),
                ),
                Phrase.of("With every tap shut it may burst. Take a stronger tube."),
                items,
                (run.id,),
                value=bar(highest_pa),
                limit=bar(rating.si),
                source=_tube_source(run.tube.name),
            )


def _tube_source(name: str) -> str:
    row = tube_row(name)
    return (row.rating_source or row.citation) if row is not None else "the tube as entered"


def _gauges(place: Place) -> Iterator[Finding]:
    static = place.water.cases.get(ALL_SHUT)
    if static is None:
        return
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Gauge):
            continue
        highest_pa = max(
            (static.pressures_pa.get((item.id, port.id), 0.0) for port in item.specification.ports),
            default=0.0,
        )
        if highest_pa > role.full_scale.si:
            yield Finding(
                "care",
                "water.gauge-scale",
                Phrase.of(
                    "{gauge} ends at {scale}, the line stands at {static}",
                    gauge=item.name,
                    scale=bar(role.full_scale.si),
                    static=bar(highest_pa),
                ),
                Phrase.of("It will be bent or broken. Take one with a longer scale."),
                (item.id,),
                value=bar(highest_pa),
                limit=bar(role.full_scale.si),
                source=place.source_of(item.id),
            )


def _mains(place: Place) -> Iterator[Finding]:
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Mains) or (role.least is not None and role.greatest is not None):
            continue
        if not any(place.connected((item.id, port.id)) for port in item.specification.ports):
            continue
        yield Finding(
            "note",
            "water.mains-unknown",
            Phrase.of(
                "How far the pressure of {mains} goes up and down is not known", mains=item.name
            ),
            Phrase.of(
                "{usual} is taken for it. Gauge it on arrival, behind the filter, with all taps "
                "shut and with one open, and enter its least and greatest.",
                usual=bar(role.usual.si),
            ),
            (item.id,),
            source=PRACTICE,
        )
