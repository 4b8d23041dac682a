"""What to say about taps: not fed, too little, too much."""

from collections.abc import Iterator

from ..build import (
    Appliance,
    Drawn,
    Filter,
    Inlet,
    Mains,
    Opening,
    Pump,
    Regulator,
    ShutOff,
    Tank,
)
from ..units import Phrase, Value
from ..water import pump_curve
from ..water.results import ALL_SHUT, LadderStep, Tap, TapState, alone
from .finding import Finding
from .number import Number
from .water_held import held_down
from .water_together import robbers
from .water_words import Place, bar, greatest_eater, ladder_working, rate


def tap_rules(place: Place) -> Iterator[Finding]:
    """Judge every tap."""
    for tap in place.water.taps:
        inlet = _inlet(place, tap)
        if not tap.fed:
            yield _not_fed(place, tap)
            continue
        yield from _too_much(place, tap)
        if tap.static_pa < tap.least_pa - 20.0 and not isinstance(inlet.behaviour, Drawn):
            yield _never(place, tap)
        else:
            yield from _too_little(place, tap, inlet)


def _number(tap: Tap, what: str, case: str = "") -> Number:
    return Number("tap", f"{tap.item}.{tap.port}", what, case)


def _inlet(place: Place, tap: Tap) -> Inlet:
    role = place.items[tap.item].specification.water
    if not isinstance(role, Appliance):  # taps are made from appliances only
        raise TypeError(tap.item)
    return next(inlet for inlet in role.inlets if inlet.port == tap.port)


# --- nothing comes -----------------------------------------------------------------------------


def _not_fed(place: Place, tap: Tap) -> Finding:
    node = (tap.item, tap.port)
    if not place.connected(node):
        return Finding(
            "care",
            "water.unconnected",
            Phrase.of("{tap} has no water", tap=tap.name),
            Phrase.of(
                "No tube ends at its inlet. Run one from the supply line, or leave it if it is "
                "filled by hand.",
            ),
            (tap.item,),
        )
    reason, culprits = _why_dry(place, tap)
    runs = tuple(
        sorted(
            data["run"].id
            for _, _, data in place.network.supply.edges(node, data=True)
            if "run" in data
        )
    )
    return Finding(
        "stop",
        "water.not-fed",
        Phrase.of("{tap} gets no water", tap=tap.name),
        reason,
        (tap.item, *culprits),
        runs,
    )


def _why_dry(place: Place, tap: Tap) -> tuple[Phrase, tuple[str, ...]]:
    """Why nothing comes, and who is to blame."""
    ids = sorted({node[0] for node in place.reached_from((tap.item, tap.port))})
    roles = {one: place.role(one) for one in ids}
    sources = [
        one
        for one, role in roles.items()
        if isinstance(role, Mains) or (isinstance(role, Tank) and role.contents == "fresh")
    ]
    if not sources:
        return (
            Phrase.of(
                "Its line leads to no tank and no mains tap. Connect the line to a source of water."
            ),
            (),
        )
    empty = {
        one for trouble in place.water.troubles if trouble.code == "empty" for one in trouble.items
    }
    if set(sources) <= empty:
        return (
            Phrase.of("{source} stands below its pick-up: fill it.", source=place.name(sources[0])),
            tuple(sources),
        )
    shut = tuple(
        one for one, role in roles.items() if isinstance(role, ShutOff) and not role.is_open
    )
    if shut:
        return Phrase.of("{valve} is shut. Open it.", valve=place.name(shut[0])), shut
    if not any(isinstance(role, Pump) for role in roles.values()):
        pressures = place.water.cases[ALL_SHUT].pressures_pa
        if pressures.get((tap.item, tap.port), 1.0) <= 0.0:
            return (
                Phrase.of(
                    "The water in {source} stands no higher than this inlet and nothing pumps it. "
                    "Raise the tank or put a demand pump in the line.",
                    source=place.name(sources[0]),
                ),
                tuple(sources),
            )
    return (
        Phrase.of(
            "There is a source on its line, but water cannot get from there to here: a pump, a "
            "check valve or a regulator sits the wrong way round, or a tube is closed."
        ),
        tuple(sources),
    )


# --- too much ----------------------------------------------------------------------------------


def _too_much(place: Place, tap: Tap) -> Iterator[Finding]:
    if tap.static_pa <= tap.greatest_pa + 20.0:
        return
    makers = tuple(
        step.id for step in tap.ladder if isinstance(place.role(step.id), (Pump, Mains, Regulator))
    )
    yield Finding(
        "stop",
        "water.static",
        Phrase.of(
            "{tap} can see {static}, at most {greatest} is allowed",
            tap=tap.name,
            static=bar(tap.static_pa),
            greatest=bar(tap.greatest_pa),
        ),
        _what_pushes(place, tap, makers),
        (tap.item, *makers),
        value=bar(tap.static_pa),
        limit=bar(tap.greatest_pa),
        number=_number(tap, "static"),
        source=place.source_of(tap.item),
    )


def _what_pushes(place: Place, tap: Tap, makers: tuple[str, ...]) -> Phrase:
    """Why a line stands too high, and what to do."""
    role = place.role(makers[-1]) if makers else None
    if isinstance(role, Regulator):
        return Phrase.of(
            "With every tap shut its line stands at {static}: {regulator} is set to {set} and "
            "creeps {creep} above that. Set it lower, so that both stay below {greatest}.",
            static=bar(tap.static_pa),
            regulator=place.name(makers[-1]),
            set=bar(role.set_point.si),
            creep=bar(max(role.creep.si, 0.0)),
            greatest=bar(tap.greatest_pa),
        )
    return Phrase.of(
        "With every tap shut its line stands at {static}{maker}. Put a regulator before it, set "
        "below {greatest}, or let the line stand lower.",
        static=bar(tap.static_pa),
        maker=f", from {place.name(makers[-1])}" if makers else "",
        greatest=bar(tap.greatest_pa),
    )


# --- too little --------------------------------------------------------------------------------


def _never(place: Place, tap: Tap) -> Finding:
    """Even at rest the line stands below what the inlet needs."""
    before = (step.id for step in tap.ladder)
    holder, why = held_down(place, before, works="work", what="an appliance")
    return Finding(
        "stop",
        "water.never",
        Phrase.of(
            "{tap} needs {least}, its line never reaches more than {static}",
            tap=tap.name,
            least=bar(tap.least_pa),
            static=bar(tap.static_pa),
        ),
        why,
        (tap.item, *holder),
        value=bar(tap.static_pa),
        limit=bar(tap.least_pa),
        number=_number(tap, "static"),
        source=place.source_of(tap.item),
        working=ladder_working(tap),
    )


def _too_little(place: Place, tap: Tap, inlet: Inlet) -> Iterator[Finding]:
    """The first case in which it falls short: alone, or in a case of the person's.

    What only others that may be open take from it is told by `together_rules`.
    """
    for name in (alone(tap.name), *place.own_cases):
        state = tap.states.get(name)
        if state is None or not state.open or not place.water.cases[name].converged:
            continue
        low = state.lowest_pa < tap.least_pa - 20.0
        if state.flow_ok and not low:
            continue
        if not state.flow_ok:
            yield _flow_short(place, tap, inlet, state, name)
        else:
            yield _pressure_low(place, tap, inlet, state, name)
        return


def _flow_short(place: Place, tap: Tap, inlet: Inlet, state: TapState, case: str) -> Finding:
    eater = greatest_eater(place, tap)
    pump = place.pump_on_way(tap)
    advice, values = _advice(place, tap, eater)
    culprits = _culprits(place, eater)
    runs = _culprit_runs(place, eater)
    ends: tuple[Phrase, ...] = ()
    if pump is not None:
        if _pump_too_small(pump[1], tap, inlet):
            advice, values, culprits, runs = _TOO_SMALL, {"needed": rate(tap.required_flow)}, (), ()
        told, more = _two_ends(place, pump, tap, case)
        ends = (Phrase.of(told, **more),)
        if _leaves_its_switch(pump[1], tap):
            advice, values = f"{advice} {told}", values | more
    return Finding(
        "stop",
        "water.flow",
        Phrase.of(
            "{tap} gets {flow} of {needed}",
            tap=tap.name,
            flow=rate(state.flow),
            needed=rate(tap.required_flow),
        ),
        Phrase.of(
            "That is at {pressure}{when}; it wants {least} or more. " + advice,
            pressure=bar(state.lowest_pa),
            when=_when(place, tap, case),
            least=bar(tap.least_pa),
            **values,
        ),
        (tap.item, *culprits, *((pump[0],) if pump else ())),
        runs,
        value=rate(state.flow),
        limit=rate(tap.required_flow),
        number=_number(tap, "flow", case),
        source=place.source_of(tap.item),
        working=(*ladder_working(tap), *_opening_working(inlet, state), *ends),
    )


_TOO_SMALL = (
    "No tube mends that: the pump does not make the pressure it wants at {needed}, even with "
    "nothing lost on the way. It takes a pump that gives more flow under pressure."
)


def _pump_too_small(role: Pump, tap: Tap, inlet: Inlet) -> bool:
    """Whether the pump's curve at the required flow lies below what the tap wants there."""
    curve = pump_curve(role)
    if curve is None or tap.required_flow <= 0.0:
        return False
    wanted_pa = tap.least_pa
    behaviour = inlet.behaviour
    if isinstance(behaviour, Opening) and behaviour.rated.flow.si > 0.0:
        share = tap.required_flow / behaviour.rated.flow.si
        wanted_pa = behaviour.rated.pressure.si * share * share
    return curve.pressure_pa(tap.required_flow) < wanted_pa


def _leaves_its_switch(role: Pump, tap: Tap) -> bool:
    """Whether the required flow is more than the pump gives while its switch still cycles."""
    curve = pump_curve(role)
    return curve is not None and curve.flow_at(role.cut_in.si) < tap.required_flow


def _when(place: Place, tap: Tap, case: str) -> str:
    """Which case, and who else draws in it where that is what it fails by."""
    if case == alone(tap.name):
        return ""
    told = next(
        (one for one in place.water.robbed(tap.item, tap.port) if one.case == case and one.fails),
        None,
    )
    if told is None:
        return f" in the case '{case}'"
    verb = "draws" if len(told.by) == 1 else "draw"
    return f" in the case '{case}', while {robbers(told)} {verb} as well"


def _starves(place: Place, tap: Tap, inlet: Inlet) -> str:
    """What too little means for a pump of the appliance's own."""
    role = place.role(tap.item)
    own = isinstance(role, Appliance) and role.feed == "internal pump"
    if own or isinstance(inlet.behaviour, Drawn):
        return ": its own pump starves while it fills"
    return ""


def _pressure_low(place: Place, tap: Tap, inlet: Inlet, state: TapState, case: str) -> Finding:
    eater = greatest_eater(place, tap)
    advice, values = _advice(place, tap, eater)
    return Finding(
        "stop",
        "water.pressure",
        Phrase.of(
            "{tap} has {pressure} with water flowing, needs {least}",
            tap=tap.name,
            pressure=bar(state.lowest_pa),
            least=bar(tap.least_pa),
        ),
        Phrase.of(
            "At {flow}{when} the pressure falls below what it needs{starves}. " + advice,
            flow=rate(state.flow),
            starves=_starves(place, tap, inlet),
            when=_when(place, tap, case),
            **values,
        ),
        (tap.item, *_culprits(place, eater)),
        _culprit_runs(place, eater),
        value=bar(state.lowest_pa),
        limit=bar(tap.least_pa),
        number=_number(tap, "pressure", case),
        source=place.source_of(tap.item),
        working=ladder_working(tap),
    )


def _culprits(place: Place, eater: LadderStep | None) -> tuple[str, ...]:
    return (eater.id,) if eater is not None and eater.id in place.items else ()


def _culprit_runs(place: Place, eater: LadderStep | None) -> tuple[str, ...]:
    return (eater.id,) if eater is not None and eater.id in place.runs else ()


def _advice(place: Place, tap: Tap, eater: LadderStep | None) -> tuple[str, dict[str, Value | str]]:
    """What to do about a line that loses too much: template and values."""
    if eater is None:
        return "Its line gives no more.", {}
    values: dict[str, Value | str] = {"eater": eater.name, "loss": bar(eater.loss_pa)}
    if eater.id in place.runs:
        rise_pa = _rise_pa(place, eater.id)
        if rise_pa > 0.5 * eater.loss_pa:
            return "{eater} takes {loss}, most of it the climb.", values
        return "{eater} takes {loss}: take a wider or shorter tube there.", values
    if isinstance(place.role(eater.id), Filter):
        return "{eater} takes {loss}: take one of a higher rated flow, or a new cartridge.", values
    if isinstance(place.role(eater.id), Regulator):
        return "{eater} takes {loss}: set it higher, or take a larger one.", values
    return "{eater} takes {loss}.", values


def _rise_pa(place: Place, run_id: str) -> float:
    run = place.runs[run_id]
    if run.b is None:
        return 0.0
    heights = place.network.heights_m
    rise_m = heights.get((run.b.item, run.b.port), 0.0) - heights.get((run.a.item, run.a.port), 0.0)
    return abs(rise_m) * 9.8e3


def _two_ends(
    place: Place, pump: tuple[str, Pump], tap: Tap, case: str
) -> tuple[str, dict[str, Value | str]]:
    """Why a pump's printed flow and pressure never come together."""
    pump_id, role = pump
    state = place.water.cases[case]
    made_pa = next(step.pressure_pa for step in tap.ladder if step.id == pump_id)
    outlet = place.outlet(pump_id)
    if outlet is not None:
        made_pa = state.pressures_pa.get(outlet, made_pa)
    return (
        "On the pump's label, {rating} are two ends of its curve: {open} with nothing to push "
        "against, and no more water at its highest pressure. Here it gives {given} at {made}.",
        {
            "rating": f"'{role.rating}'" if role.rating else "the flow and the pressure",
            "open": rate(max(row.flow.si for row in role.curve)),
            "given": rate(state.source_flow.get(pump_id, 0.0)),
            "made": bar(made_pa),
        },
    )


def _opening_working(inlet: Inlet, state: TapState) -> tuple[Phrase, ...]:
    behaviour = inlet.behaviour
    if not isinstance(behaviour, Opening) or behaviour.rated.pressure.si <= 0.0:
        return ()
    return (
        Phrase.of(
            "Opening: flow = {rated} x sqrt({now} / {at}) = {flow}",
            rated=rate(behaviour.rated.flow.si),
            now=bar(state.lowest_pa),
            at=bar(behaviour.rated.pressure.si),
            flow=rate(state.flow),
        ),
    )
