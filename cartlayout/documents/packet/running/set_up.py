"""Steps of setting up, in order: place and power, water, then heat."""

from collections.abc import Iterator

from ....build import (
    VENUE,
    Accumulator,
    Appliance,
    Battery,
    Box,
    Extension,
    Generator,
    Heater,
    Item,
    Load,
    Mains,
    Outlet,
    Pump,
    Regulator,
    ShutOff,
    Strip,
    Tank,
)
from ....power.results import EVERYTHING_ON, Circuit
from ....units import Phrase, Value
from ..content import Job

Line = Phrase | str


def joined(names: list[str]) -> str:
    """Names as they are listed in a sentence: the last with "and" before it."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def cutout(job: Job) -> str:
    """What the region calls a device that opens on earth leakage."""
    return "GFCI" if job.build.region == "US" else "RCD"


def _with(job: Job, kind: type) -> list[Item]:
    return [item for item in job.build.items if isinstance(item.specification.water, kind)]


def _names(items: list[Item]) -> str:
    return joined([item.name for item in items])


# --- place and power ------------------------------------------------------------------------------


def place_and_power(job: Job) -> Iterator[Line]:
    """From the empty place to live outlets, with everything still switched off."""
    yield from _place(job)
    yield "Every appliance is switched off, every tap and valve is shut."
    yield from _sources(job)
    yield from _plugs(job)
    cold = _cold(job)
    if cold:
        yield f"Switch on what only cools or lights: {_names(cold)}."


def _place(job: Job) -> Iterator[Line]:
    build = job.build
    yield "Put the cart where the plan says, on level ground; keep the ways out free."
    if build.cart.casters:
        yield "Block the wheels and push once: it stays where it is."
    leaves = [leaf.name for leaf in build.cart.leaves]
    if leaves:
        yield f"Put up and latch: {joined(leaves)}."
    carried = [item for item in build.items if item.level != VENUE and not item.travels]
    if carried:
        yield f"Carry in and set in place: {_names(carried)}."


def _sources(job: Job) -> Iterator[Line]:
    for item in job.build.items:
        role = item.specification.electrical
        if isinstance(role, Generator):
            yield (
                f"{item.name}: outdoors, away from doors, windows and people (exhaust kills), on "
                "its feet, with nothing plugged in; start it and let it warm up."
            )
        elif isinstance(role, Battery):
            yield f"{item.name}: charged and switched on, its vents free."
        elif isinstance(role, Box):
            yield f"{item.name}: main and all breakers off until its feed is in."
    outlets = [
        item for item in job.build.items if isinstance(item.specification.electrical, Outlet)
    ]
    guarded = [item for item in outlets if _guarded(item)]
    if guarded:
        yield f"Press test, then reset, on the {cutout(job)} of {_names(guarded)}: it has to trip."
    unknown = [item for item in outlets if not _guarded(item)]
    if unknown:
        yield (
            f"Find the {cutout(job)} and the breaker of {_names(unknown)}. None found: ask the "
            "venue's electrician before anything is plugged in."
        )


def _guarded(item: Item) -> bool:
    role = item.specification.electrical
    return isinstance(role, Outlet) and bool(role.gfci)


_OVER = " As drawn that does not hold: move loads to another circuit before anything is plugged in."


def over(job: Job) -> tuple[Circuit, ...]:
    """Circuits with a limit that does not hold."""
    return tuple(
        one for one in job.analysis.power.circuits if not all(limit.holds for limit in one.limits)
    )


def _plugs(job: Job) -> Iterator[Line]:
    """One step a circuit that the venue or a source gives; then strips and boxes."""
    for circuit in job.analysis.power.circuits:
        if circuit.parent is not None:
            continue
        names = [
            item.name
            for wire in job.build.wires
            if wire.b is not None and wire.b.item in circuit.items
            if (item := job.build.item(wire.a.item)) is not None
        ]
        if not names:
            continue
        yield Phrase.of(
            "Circuit {letter}: {name}, {volts}, {amps} breaker. Plug in {plugs}; nothing else "
            "goes on it. Expected with everything on: {drawn}.{over}",
            letter=circuit.letter,
            name=circuit.name,
            volts=Value(circuit.voltage_v, "voltage", 0),
            amps=Value(circuit.rating_a, "current", 0),
            plugs=joined(list(dict.fromkeys(names))),
            drawn=Value(circuit.amps.get(EVERYTHING_ON, 0.0), "current"),
            over=_OVER if circuit in over(job) else "",
        )
    passing = [
        item
        for item in job.build.items
        if isinstance(item.specification.electrical, Strip | Box | Extension)
        and item.level != VENUE
    ]
    for item in passing:
        names = [
            held.name
            for wire in job.build.wires
            if wire.b is not None and wire.b.item == item.id
            if (held := job.build.item(wire.a.item)) is not None
        ]
        if names:
            yield f"{item.name}: plug in {joined(list(dict.fromkeys(names)))}, still switched off."
        if isinstance(item.specification.electrical, Box):
            yield f"{item.name}: main on, then its breakers one by one."


def _cold(job: Job) -> list[Item]:
    """Loads that no water goes through and that do not boil any."""
    return [
        item
        for item in job.build.items
        if isinstance(item.specification.electrical, Load)
        and item.specification.water is None
        and item.specification.kind in ("fridge", "freezer", "light", "till", "menu screen")
    ]


# --- water ------------------------------------------------------------------------------------


def water(job: Job) -> Iterator[Line]:
    """From empty tubes to a line that holds its pressure."""
    by_hand = any(_is_filled_by_hand(item) for item in job.build.items)
    if not (job.build.tubes or _with(job, Tank) or by_hand):
        return
    yield "Wash hands. Hoses and fittings that carry drinking water are clean and only for that."
    yield from _tanks(job)
    yield from _pre_charge(job)
    yield from _valves(job)
    yield from _mains(job)
    for item in _with(job, Pump):
        yield from _pump(job, item)
    yield from _regulators(job)
    if job.build.tubes:
        yield "Go along every tube and look under every connection: no drop, nothing wet."
    yield from _taps(job)


def _tanks(job: Job) -> Iterator[Line]:
    for item in _with(job, Tank):
        role = item.specification.water
        assert isinstance(role, Tank)
        volume = Value(role.volume.si, "volume")
        if role.contents == "fresh":
            yield Phrase.of(
                "{name}: fill with drinking water, {volume}, and cover it.",
                name=item.name,
                volume=volume,
            )
        else:
            yield Phrase.of(
                "{name}: empty, its outlet shut, all drains in it; it takes {volume}.",
                name=item.name,
                volume=volume,
            )
    for item in _with(job, Appliance):
        role = item.specification.water
        if isinstance(role, Appliance) and role.feed == "own reservoir":
            held = (
                Value(role.reservoir.si, "volume") if role.reservoir is not None else "to its mark"
            )
            yield Phrase.of(
                "{name}: fill its reservoir by hand, {held}.", name=item.name, held=held
            )


def _is_filled_by_hand(item: Item) -> bool:
    role = item.specification.water
    return isinstance(role, Appliance) and role.feed == "own reservoir"


def _pre_charge(job: Job) -> Iterator[Line]:
    for item in _with(job, Accumulator):
        role = item.specification.water
        assert isinstance(role, Accumulator)
        yield Phrase.of(
            "{name}: pump off and a tap open, so that the line is without pressure, read its air "
            "valve: {pressure}. Pump it up or let some out. With water pressing on it the gauge "
            "would show the water's pressure instead.",
            name=item.name,
            pressure=Value(role.pre_charge.si, "pressure"),
        )


def _valves(job: Job) -> Iterator[Line]:
    valves = _with(job, ShutOff)
    opened = [item for item in valves if _is_open(item)]
    shut = [item for item in valves if not _is_open(item)]
    if opened:
        yield f"Open: {_names(opened)}."
    if shut:
        yield f"Leave shut: {_names(shut)}."


def _is_open(item: Item) -> bool:
    role = item.specification.water
    return isinstance(role, ShutOff) and role.is_open


def _regulators(job: Job) -> Iterator[Line]:
    """Only with water on its inlet does a regulator show what it is set to."""
    for item in _with(job, Regulator):
        role = item.specification.water
        assert isinstance(role, Regulator)
        yield Phrase.of(
            "{name}: with water on its inlet, it has to show {pressure} while nothing flows. If it "
            "has to be turned down, open a tap for a moment before it is read again.",
            name=item.name,
            pressure=Value(role.set_point.si, "pressure"),
        )


def _mains(job: Job) -> Iterator[Line]:
    for item in _with(job, Mains):
        yield (
            f"{item.name}: let water run into a bucket until it is clear and cool, then join the "
            "cart's hose and open it slowly."
        )


def _pump(job: Job, item: Item) -> Iterator[Line]:
    suction = next((one for one in job.analysis.water.suctions if one.pump == item.id), None)
    if suction is not None and not suction.primed:
        yield (
            f"{item.name}: fill its suction line by hand; as drawn it does not stay full by itself."
        )
    role = item.specification.water
    assert isinstance(role, Pump)
    yield (
        f"{item.name}: switch it on with the tap nearest to it open, until water comes without "
        "air; then the next tap, and on to the farthest. It may run dry for some seconds only."
    )
    yield Phrase.of(
        "Shut all taps: {name} stops at {stop} and stays silent. If it starts again within five "
        "minutes, water gets away: find where.",
        name=item.name,
        stop=Value(role.cut_out.si, "pressure"),
    )


def _taps(job: Job) -> Iterator[Line]:
    if job.analysis.water.gauges:
        yield "Read every gauge in every case of the table below; write down what it shows."
    if any(tap.fed for tap in job.analysis.water.taps):
        yield (
            "Open one tap at a time and time a measuring jug against the table below; let filters "
            "run as long as their makers say."
        )


# --- heat ------------------------------------------------------------------------------------


def heat(job: Job) -> Iterator[Line]:
    """What heats comes last: an element without water over it burns out."""
    boilers = [
        item
        for item in job.build.items
        if isinstance(item.specification.electrical, Load)
        and isinstance(item.specification.water, Appliance | Heater)
    ]
    if boilers:
        each = ", one after the other" if len(boilers) > 1 else ""
        yield (
            f"Only once water has come: switch on {_names(boilers)}{each}. An element that heats "
            "without water over it burns out."
        )
    rest = _rest(job, boilers)
    if rest:
        yield f"Try one by one: {_names(rest)}."
    if over(job):
        letters = joined([one.letter for one in over(job)])
        yield f"Never everything on at once as drawn: circuit {letters} does not hold."
        return
    yield (
        "Everything on for ten minutes: no breaker opens, no plug, cord or outlet gets more than "
        "hand-warm, no light goes dim. Otherwise switch off and have a licensed electrician look."
    )


def _rest(job: Job, boilers: list[Item]) -> list[Item]:
    done = {item.id for item in (*boilers, *_cold(job))}
    return [
        item
        for item in job.build.items
        if isinstance(item.specification.electrical, Load)
        and item.id not in done
        and not isinstance(item.specification.water, Pump)
    ]
