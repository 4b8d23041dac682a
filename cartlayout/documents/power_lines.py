"""What the text report says about power: circuits, supplies on board, leakage to earth."""

import math
from collections.abc import Iterator

from ..analysis import Analysis
from ..build import Battery, Generator, Item
from ..findings.power_trip import trip_sentence
from ..limits import profile
from ..power import rooms
from ..power.leakage_results import Leakage
from ..power.results import EVERYTHING_ON, Circuit
from ..power.supplies import derated_share
from ..units import Phrase, UnitSystem, show, show_pair

_MARK = "  <- see findings"


def power_lines(analysis: Analysis, system: UnitSystem) -> Iterator[str]:
    """Circuits with everything on, then generators and batteries, then leakage."""
    power = analysis.power
    yield f"Circuits ({EVERYTHING_ON.lower()})"
    if not power.circuits:
        yield "  none: no outlet, generator or battery is on the plan"
    for circuit in power.circuits:
        yield from _circuit(analysis, circuit, system)
    supplies = [
        item
        for item in analysis.build.items
        if isinstance(item.specification.electrical, (Generator, Battery))
    ]
    if supplies:
        yield ""
        yield "Generators and batteries"
        for item in supplies:
            yield from _supply(analysis, item, system)
    if power.leakages:
        yield ""
        yield "Leakage to earth"
        for one in power.leakages:
            yield _leakage(analysis, one, system)


def _circuit(analysis: Analysis, circuit: Circuit, system: UnitSystem) -> Iterator[str]:
    amps = circuit.amps.get(EVERYTHING_ON, 0.0)
    assumed = " (rating assumed)" if circuit.rating_assumed else ""
    holds = "" if all(limit.holds for limit in circuit.limits) else _MARK
    of_rating = show_pair(amps, circuit.rating_a, "current", system)
    share = show(circuit.share, "share", system)
    yield f"  {circuit.letter}  {circuit.name}: {of_rating}, {share}{assumed}{holds}"
    for load in circuit.loads:
        item = analysis.build.item(load.item)
        name = item.name if item is not None else load.item
        yield f"       {show(load.amps, 'current', system):>8}  {name}"
    if len(circuit.legs) > 1 and circuit.loads:
        yield f"       legs: {_legs(circuit.leg_amps.get(EVERYTHING_ON, {}), system)}"
    trip = circuit.trip
    template, values = trip_sentence(trip)
    if template and trip is not None and trip.multiple > 1.0:
        yield f"       breaker: {Phrase.of(template, **values).shown(system)}"
    yield f"       {_room(analysis, circuit, system)}"


def _room(analysis: Analysis, circuit: Circuit, system: UnitSystem) -> str:
    left = rooms(circuit, profile(analysis.build.region), analysis.power)
    least = min(left, key=lambda one: one.amps)
    watts = show(least.amps * circuit.voltage_v, "power", system)
    each = ", ".join(f"{one.binding} {show(one.amps, 'current', system)}" for one in left)
    return f"room left: {show(least.amps, 'current', system)}, {watts} (by limit: {each})"


def _legs(amps: dict[str, float], system: UnitSystem) -> str:
    return " · ".join(f"{leg} {show(value, 'current', system)}" for leg, value in amps.items())


def _supply(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[str]:
    power, role = analysis.power, item.specification.electrical
    assert isinstance(role, (Generator, Battery))
    limits = [one for key, one in power.limits if key == item.id]
    holds = "" if all(one.holds for one in limits) else _MARK
    yield f"  {item.name}: {show(role.running.si, 'power', system)} by its nameplate{holds}"
    if isinstance(role, Generator):
        share, lines, _ = derated_share(role, analysis.build.venue)
        if share < 1.0:
            why = "; ".join(line.shown(system) for line in lines)
            yield f"       gives here {show(share * role.running.si, 'power', system)}: {why}"
    for one in limits:
        if one.dimension in ("power", "current") and one.name != "receptacle":
            yield f"       {one.name}: {show_pair(one.value, one.limit, one.dimension, system)}"
    there = power.conductor_amps.get(item.id, {}).get(EVERYTHING_ON, {})
    if len(there) > 2:
        yield f"       legs: {_legs(there, system)}"
    service = show(analysis.build.service.hours.si, "duration", system)
    for what, hours in (
        ("energy", power.battery_hours.get(item.id)),
        ("fuel", power.fuel_hours.get(item.id)),
    ):
        if hours is not None and math.isfinite(hours):
            lasts = show(hours * 3600.0, "duration", system)
            yield f"       its {what} lasts {lasts} of {service} of service"


def _leakage(analysis: Analysis, one: Leakage, system: UnitSystem) -> str:
    names = {item.id: item.name for item in analysis.build.items}
    device = {
        True: "an earth-leakage device",
        False: "no earth-leakage device",
        None: "an earth-leakage device or none, nobody knows",
    }[one.protected]
    known, most, budget = (
        show(value, "leakage", system) for value in (one.known_a, one.most_a, one.budget_a)
    )
    over = _MARK if one.protected is True and one.known_a > one.budget_a else ""
    circuit = analysis.power.circuit(one.circuit)
    on = f" on circuit {circuit.letter}" if circuit is not None else ""
    return (
        f"  {names.get(one.key, one.key)}{on} ({device}): stated {known}, at most {most}; plan for "
        f"{budget}, trips at {show(one.trip_a, 'leakage', system)}{over}"
    )
