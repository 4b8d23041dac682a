"""What was computed of power for one item, in short lines that say where each limit is from."""

from collections.abc import Iterator

from ...analysis import Analysis
from ...build import Battery, Generator, Item, Load
from ...findings.number import Number
from ...findings.power_numbers import leakage_number, other_number
from ...findings.power_trip import trip_sentence, trip_working
from ...limits import profile
from ...power import room
from ...power.leakage_results import Leakage
from ...power.results import Circuit, Limit
from ...power.supplies import derated_share
from ...units import Phrase, UnitSystem, capitalised, show, show_pair
from ...workings.power_circuit import conductor_number, room_number, total_number
from ...workings.power_parts import case_key, counted_number
from .fact import Fact

_OF_BATTERY = {
    "battery energy": "the energy of the battery",
    "inverter": "the inverter's running watts",
    "surge": "the inverter's surge",
    "discharge": "what the battery itself may give",
}


def power_facts(analysis: Analysis, item: Item, case: str, system: UnitSystem) -> Iterator[Fact]:
    """What one item draws, gives, or passes on, against its limits."""
    yield from _load(analysis, item, case, system)
    yield from _circuits(analysis, item, case, system)
    yield from _leakage(analysis, item, system)
    yield from _generator(analysis, item, system)
    yield from _battery(analysis, item, system)
    yield from _limits(analysis, item.id, system)


def _load(analysis: Analysis, item: Item, case: str, system: UnitSystem) -> Iterator[Fact]:
    if not isinstance(item.specification.electrical, Load):
        return
    power = analysis.power
    state = power.appliances.get(item.id, {}).get(case)
    circuit = power.circuit_of(item.id)
    if state is None or not state.fed:
        yield Fact("Power", "not plugged in", "care", "No supply reaches it as drawn")
        return
    yield Fact(
        "Draws",
        f"{show(state.amps, 'current', system)} · {show(state.watts, 'power', system)}",
        tip=f"In the case '{case}'. A heater is on or off: what it draws is what it draws.",
        numbers=tuple(
            Number("appliance", item.id, what, case_key(case)) for what in ("amps", "watts")
        ),
    )
    yield Fact(
        "At its plug",
        f"{show(state.volts, 'voltage', system)}, {show(state.drop_share, 'percent', system)} lost",
        tip="Voltage at its terminals. Loss counts both conductors of every cord on the way.",
        numbers=tuple(
            Number("appliance", item.id, what, case_key(case)) for what in ("volts", "drop")
        ),
    )
    if circuit is not None:
        amps = circuit.amps.get(case, 0.0)
        yield Fact(
            f"Circuit {circuit.letter}",
            show_pair(amps, circuit.rating_a, "current", system),
            "" if all(limit.holds for limit in circuit.limits) else "care",
            f"{circuit.name}: all that its breaker carries in this case",
            (total_number(circuit, case), counted_number(item.id, case)),
        )
    leak = next(
        (leak for one in power.leakages for leak in one.leaks if leak.item == item.id), None
    )
    if leak is not None:
        amps_text = show(leak.amps, "leakage", system)
        yield Fact(
            "Leaks to earth",
            amps_text if leak.known else f"{amps_text} at most",
            tip="As its maker states" if leak.known else f"Nobody states it; {leak.rule}",
        )


def _circuits(analysis: Analysis, item: Item, case: str, system: UnitSystem) -> Iterator[Fact]:
    circuits = [one for one in analysis.power.circuits if item.id in one.items]
    for circuit in circuits:
        amps = circuit.amps.get(case, 0.0)
        assumed = ", breaker assumed" if circuit.rating_assumed else ""
        yield Fact(
            f"Circuit {circuit.letter}",
            show_pair(amps, circuit.rating_a, "current", system),
            "stop" if amps > circuit.rating_a else "ok",
            f"{circuit.name}{assumed}",
            (total_number(circuit, case),),
        )
        yield from _legs(circuit, case, system)
        yield from _trip(circuit, system)
    if len(circuits) == 1 and circuits[0].loads:
        yield _room(analysis, circuits[0], system)


def _legs(circuit: Circuit, case: str, system: UnitSystem) -> Iterator[Fact]:
    amps = circuit.leg_amps.get(case, {})
    if len(circuit.legs) > 1 and circuit.loads:
        pairs = (f"{leg} {show(value, 'current', system)}" for leg, value in amps.items())
        rule = next((one for one in circuit.limits if one.name == "neutral"), None)
        tip = f"N: {rule.rule}. {rule.source}" if rule is not None else ""
        numbers = tuple(conductor_number(circuit, leg, case) for leg in amps)
        yield Fact(f"Legs of {circuit.letter}", " · ".join(pairs), tip=tip, numbers=numbers)


def _trip(circuit: Circuit, system: UnitSystem) -> Iterator[Fact]:
    """When an overloaded breaker trips with everything on."""
    template, values = trip_sentence(circuit.trip)
    if not template or circuit.trip is None or circuit.trip.multiple <= 1.0:
        return
    sentence = Phrase.of(template, **values).shown(system)
    lines = [phrase.shown(system) for phrase in trip_working(circuit.trip)]
    yield Fact(
        f"Breaker {circuit.letter}",
        sentence.rstrip("."),
        "care",
        "\n".join(("With everything on, from cold, by the standard's own tests.", *lines)),
        (Number("circuit", circuit.key, "trip"),),
    )


def _room(analysis: Analysis, circuit: Circuit, system: UnitSystem) -> Fact:
    left = room(circuit, profile(analysis.build.region), analysis.power)
    return Fact(
        "Room left",
        show(left.amps, "current", system),
        tip=f"What can be added and left on for hours; the '{left.binding}' limit binds first",
        numbers=(room_number(circuit),),
    )


def _leakage(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    several = [one for one in analysis.power.leakages if one.key == item.id]
    for one in several:
        circuit = analysis.power.circuit(one.circuit)
        letter = f" {circuit.letter}" if len(several) > 1 and circuit is not None else ""
        yield _leaking(analysis, one, f"Leakage{letter}", system)


def _leaking(analysis: Analysis, one: Leakage, label: str, system: UnitSystem) -> Fact:
    budget = profile(analysis.build.region).standing_leakage_a
    names = {item.id: item.name for item in analysis.build.items}
    value = show_pair(one.known_a, one.budget_a, "leakage", system)
    unknown = one.most_a > one.known_a
    if unknown:
        value = f"{show_pair(one.most_a, one.budget_a, 'leakage', system)} at most"
    state = "ok" if one.most_a <= one.budget_a else "care"
    if one.known_a >= one.trip_a and one.protected is True:
        state = "stop"
    device = {
        True: "Its earth-leakage device",
        False: "A device",
        None: "Nobody knows whether it has an earth-leakage device; the usual one",
    }[one.protected]
    lines = [
        f"{names.get(leak.item, leak.item)}: {show(leak.amps, 'leakage', system)}"
        + ("" if leak.known else " at most")
        for leak in one.leaks
    ]
    if unknown:
        lines.append(f"Stated by makers: {show(one.known_a, 'leakage', system)}.")
    lines += [
        f"{device} holds up to {show(one.hold_a, 'leakage', system)} and trips at "
        f"{show(one.trip_a, 'leakage', system)}.",
        f"{capitalised(budget.rule)}. {budget.citation}",
    ]
    numbers = tuple(leakage_number(one, what) for what in ("most", "known"))
    return Fact(label, value, state, "\n".join(lines), numbers if unknown else numbers[1:])


def _generator(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    role = item.specification.electrical
    if not isinstance(role, Generator):
        return
    share, lines, source = derated_share(role, analysis.build.venue)
    if share < 1.0:
        why = "\n".join(line.shown(system) for line in lines)
        yield Fact(
            "Gives here",
            show_pair(share * role.running.si, role.running.si, "power", system),
            "care",
            f"{why}\n{source}",
        )
    hours = analysis.power.fuel_hours.get(item.id)
    limit = _limit_of(analysis, item.id, "fuel")
    if hours is not None and limit is not None:
        yield Fact(
            "Fuel lasts",
            f"{show(hours * 3600.0, 'duration', system)} of "
            f"{show(limit.value, 'duration', system)} of service",
            "ok" if limit.holds else "stop",
            f"With everything on all the time. {limit.source}",
            (Number("power supply", item.id, "fuel hours"),),
        )


def _battery(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    role = item.specification.electrical
    hours = analysis.power.battery_hours.get(item.id)
    if not isinstance(role, Battery) or hours is None:
        return
    if hours != float("inf"):
        needed = analysis.build.service.hours.si
        yield Fact(
            "Battery lasts",
            f"{show(hours * 3600.0, 'duration', system)} of "
            f"{show(needed, 'duration', system)} of service",
            "ok" if hours * 3600.0 >= needed else "stop",
            f"With everything on all the time: usable energy, the inverter's efficiency, and the "
            f"{show(role.idle.si, 'power', system)} it takes itself",
            (Number("power supply", item.id, "battery hours"),),
        )
    limits = [
        limit
        for key, limit in analysis.power.limits
        if key == item.id and limit.name in _OF_BATTERY and limit.limit > 0.0
    ]
    if limits and any(limit.value > 0.0 for limit in limits):
        first = max(limits, key=lambda limit: limit.value / limit.limit)
        shares = (
            f"{_OF_BATTERY[limit.name]}: {show(limit.value / limit.limit, 'share', system)}"
            for limit in limits
        )
        yield Fact(
            "Binds first",
            f"{_OF_BATTERY[first.name]}, {show(first.value / first.limit, 'share', system)} used",
            "ok" if first.holds else "stop",
            "\n".join((*shares, f"{capitalised(first.rule)}. {first.source}")),
            tuple(other_number(item.id, limit) for limit in (first, *limits)),
        )


def _limits(analysis: Analysis, one: str, system: UnitSystem) -> Iterator[Fact]:
    own = [
        limit
        for owner, limit in analysis.power.limits
        if owner == one and limit.dimension in ("current", "power", "energy")
    ]
    receptacles = [limit for limit in own if limit.name == "receptacle"]
    if len(receptacles) > 1:
        yield _fullest(one, receptacles, system)
        own = [limit for limit in own if limit.name != "receptacle"]
    for limit in own:
        yield Fact(
            capitalised(limit.name),
            show_pair(limit.value, limit.limit, limit.dimension, system),
            "ok" if limit.holds else "stop",
            "\n".join(_told(limit, system)),
            (other_number(one, limit),),
        )


def _fullest(item_id: str, limits: list[Limit], system: UnitSystem) -> Fact:
    """The receptacles of one item in one line: a box has a dozen."""
    worst = max(limits, key=lambda one: (not one.holds, one.value / (one.limit or 1.0)))
    others = [show_pair(one.value, one.limit, one.dimension, system) for one in limits]
    return Fact(
        "Receptacles",
        f"fullest {show_pair(worst.value, worst.limit, worst.dimension, system)}",
        "ok" if worst.holds else "stop",
        "\n".join((f"Those in use: {', '.join(others)}", *_told(worst, system))),
        tuple(other_number(item_id, limit) for limit in (worst, *limits)),
    )


def _told(limit: Limit, system: UnitSystem) -> Iterator[str]:
    """The rule of a limit, where it is from, what was assumed, and how the number came about."""
    yield f"{capitalised(limit.rule)}. {limit.source}".strip()
    if limit.assumed:
        yield f"Assumed: {limit.assumed}"
    for phrase in limit.working:
        yield phrase.shown(system)


def _limit_of(analysis: Analysis, item_id: str, name: str) -> Limit | None:
    return next(
        (one for key, one in analysis.power.limits if key == item_id and one.name == name), None
    )
