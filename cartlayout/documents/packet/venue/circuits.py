"""Circuits that are asked for: as drawn, and the fewest that would do."""

from ....build import VENUE, Build, Item, Load, Outlet
from ....power.assign.request import Request, request
from ....power.results import EVERYTHING_ON, Circuit
from ....units import Value
from ..content import Cell, Column, Job, Table
from .places import where

_SEARCH_S = 0.5
"""For the fewest circuits; an answer that is not proven says so."""


def circuits(job: Job) -> Table:
    """Those of the venue that something is plugged into, as drawn."""
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
                _volts(own[0]),
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


def _volts(outlet: Item) -> str:
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
    return where(build, one, port, name)


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


def all_fed(job: Job) -> bool:
    """Whether every load gets power, and every circuit holds."""
    fed = {load.item for one in job.analysis.power.circuits for load in one.loads}
    loads = [one for one in job.build.items if isinstance(one.specification.electrical, Load)]
    holds = all(one.holds for circuit in job.analysis.power.circuits for one in circuit.limits)
    return holds and all(one.id in fed for one in loads)


def fewest(job: Job) -> Table:
    """The least set of usual circuits, wherever things are plugged in now."""
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


def _names(build: Build, ids: list[str]) -> str:
    items = [build.item(key) for key in ids]
    return ", ".join(one.name for one in items if one is not None)


def _and(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
