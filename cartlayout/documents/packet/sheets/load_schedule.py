"""The load schedule: every load by circuit and leg, the sums, and what each circuit is held to."""

from collections.abc import Sequence

from ....advice.sensitivity.ranges import origin_of
from ....analysis import Analysis
from ....build import Battery, Generator, Item, Load, Outlet
from ....limits import profile
from ....power import room
from ....power.loads import nameplate_amps
from ....power.results import EVERYTHING_ON, Circuit, CircuitLoad, Limit
from ....units import Phrase, Value, capitalised
from ....workings.power_circuit import total_number
from ...one_line.feeds import Feed, feeds
from ...verdict import limit_state
from ..content import Cell, Column, Content, Job, Paragraph, Part, Table
from ..typical import typical_note
from .power_limits import cords_table, limits_tables

_ORDER = ("L", "L1", "L2", "L3")
_NAMES = {
    "total": "everything on",
    "continuous": "what runs for hours on end, and the rest",
    "one appliance": "largest plug-in appliance",
    "fastened": "what is fastened in place",
    "own circuit": "loads beside one that asks to be alone",
    "venue limit": "what the venue allows",
    "receptacle for circuit": "receptacle behind this breaker",
    "starts together": "everything starts at once",
}
_BINDING = {"total": "its rating", "continuous": "the rule for continuous loads",
            "venue limit": "what the venue allows", "main": "the main breaker",
            "leg": "a leg of its supply", "generator": "the generator",
            "inverter": "the inverter", "discharge": "the battery"}  # fmt: skip


def load_schedule(job: Job) -> Content:
    """The sheet, with every circuit of the build."""
    circuits = job.analysis.power.circuits
    parts: list[Part] = [Paragraph(_how(job), "muted")]
    files: tuple[Table, ...] = ()
    if circuits:
        conductors = _conductors(circuits)
        parts += [
            _circuits(job, conductors),
            _loads(job, conductors),
            cords_table(job),
            _limits(job),
        ]
        near, every = limits_tables(job)
        parts.append(near)
        parts += typical_note(job, map(total_number, circuits))
        files = (every,)
    else:
        parts.append(Paragraph("No outlet, generator or battery is on the plan."))
    dark = _dark(job)
    if dark.rows:
        parts.append(dark)
    applies = bool(circuits or dark.rows)
    title = "Load schedule"
    return Content(
        "load-schedule", title, "inspector", tuple(parts), applies=applies, file_tables=files
    )


def _how(job: Job) -> Phrase:
    rules = profile(job.build.region)
    counted = (
        "Amps are those with everything on, each load counted at its supply's voltage, cords left "
        "out. Legs are added as phasors. Figures that are typical or from a handbook are those of "
        "the kind: read the nameplate."
    )
    hours, factor = rules.continuous_hours, rules.continuous_factor
    if hours is None or factor is None:
        return Phrase(counted)
    return Phrase.of(
        counted + " Continuous: runs for {hours} or more ({source}); times {factor} in its sum.",
        hours=Value(hours.value * 3600.0, "duration", 0),
        source=hours.citation,
        factor=Value(factor.value, "number"),
    )


def _conductors(circuits: Sequence[Circuit]) -> tuple[str, ...]:
    """Columns: every leg that some circuit has, and the neutral where it is not that of one leg."""
    legs = {leg for circuit in circuits for leg in circuit.legs}
    several = any(len(circuit.legs) > 1 for circuit in circuits)
    return tuple(leg for leg in _ORDER if leg in legs) + (("N",) if several else ())


def _amps(value: float) -> Value:
    return Value(value, "current")


def _current(title: str) -> Column:
    return Column(title, "current", "right", 0.6)


# --- circuits -------------------------------------------------------------------------------------


def _circuits(job: Job, conductors: tuple[str, ...]) -> Table:
    rules = profile(job.build.region)
    assumed = any(one.rating_assumed for one in job.analysis.power.circuits)
    rows, marks = [], []
    for circuit in job.analysis.power.circuits:
        left = room(circuit, rules, job.analysis.power)
        rows.append(
            (
                circuit.letter,
                circuit.name,
                _fed_by(job.analysis, circuit),
                Value(circuit.voltage_v, "voltage", 0),
                "+".join(circuit.legs),
                _rating(circuit.rating_a),
                *(("assumed" if circuit.rating_assumed else "",) if assumed else ()),
                *_leg_cells(circuit.leg_amps.get(EVERYTHING_ON, {}), circuit, conductors),
                Value(circuit.share, "share"),
                _amps(left.amps),
                _binding(left.binding),
            )
        )
        marks.append(limit_state(job.analysis, circuit.limits))
    columns = (
        Column("Circuit", share=0.5),
        Column("Name", share=1.8),
        Column("Fed by", share=1.0),
        Column("Voltage", "voltage", "right", 0.7),
        Column("Legs", share=0.6),
        Column("Breaker", "current", "right", 0.7),
        *((Column("Rating", share=0.7),) if assumed else ()),
        *(_current(one) for one in conductors),
        Column("Of breaker", "share", "right", 0.8),
        Column("Room left", "current", "right", 0.8),
        Column("Room is set by", share=1.5),
    )
    return Table("circuits", "Circuits", columns, tuple(rows), tuple(marks))


def _leg_cells(
    amps: dict[str, float], circuit: Circuit, conductors: tuple[str, ...]
) -> tuple[Cell, ...]:
    """Amps under each conductor; of a circuit with one leg the neutral says nothing new."""
    return tuple(
        _amps(amps[one]) if one in amps and (one != "N" or len(circuit.legs) > 1) else None
        for one in conductors
    )


def _rating(amps: float) -> Value:
    """Of a breaker in whole amps; of an inverter it seldom is."""
    return Value(amps, "current", 0 if amps == round(amps) else 1)


def _fed_by(analysis: Analysis, circuit: Circuit) -> str:
    parent = analysis.power.circuit(circuit.parent) if circuit.parent is not None else None
    if parent is not None:
        return f"circuit {parent.letter}"
    item = analysis.build.item(circuit.items[0]) if circuit.items else None
    role = item.specification.electrical if item is not None else None
    if isinstance(role, Outlet):
        return "venue"
    if isinstance(role, Generator):
        return "generator"
    return "battery" if isinstance(role, Battery) else "nothing"


def _binding(name: str) -> str:
    return _BINDING.get(name, name)


# --- loads ----------------------------------------------------------------------------------------


def _loads(job: Job, conductors: tuple[str, ...]) -> Table:
    plugged = feeds(job.analysis)
    rows: list[tuple[Cell, ...]] = []
    marks: list[str] = []
    sums: list[int] = []
    for circuit in job.analysis.power.circuits:
        own = [one for one in circuit.loads if job.analysis.power.item_circuit.get(one.item)
               == circuit.key]  # fmt: skip
        for load in own:
            rows.append(_load_row(job, circuit, load, plugged.get(load.item), conductors))
            marks.append("")
        for child in job.analysis.power.circuits:
            if child.parent == circuit.key:
                rows.append(_child_row(circuit, child, conductors))
                marks.append("")
        total = _leg_cells(circuit.leg_amps.get(EVERYTHING_ON, {}), circuit, conductors)
        name = f"Circuit {circuit.letter} together"
        sums.append(len(rows))
        rows.append((circuit.letter, name, *_NONE[:6], *total, *_NONE[:4]))
        marks.append(limit_state(job.analysis, circuit.limits))
    columns: tuple[Column, ...] = (
        Column("Circuit", share=0.5),
        Column("Load", share=1.6),
        Column("Rated", "voltage", "right", 0.6),
        Column("Stated", "current", "right", 0.6),
        Column("Stated", "power", "right", 0.6),
        Column("Stated by", share=0.9),
        Column("Continuous", share=0.8),
        Column("At plug", "voltage", "right", 0.7),
        *(_current(one) for one in conductors),
        Column("Plug", share=0.7),
        Column("Receptacle", share=0.8),
        Column("Plugged into", share=1.6),
        Column("Cord", share=1.8),
    )
    if profile(job.build.region).continuous_hours is None:  # no such rule, so nothing to say
        at = [column.title for column in columns].index("Continuous")
        columns = (*columns[:at], *columns[at + 1 :])
        rows = [(*row[:at], *row[at + 1 :]) for row in rows]
    note = "Feeders count what is behind their boxes once more: their rows name these circuits."
    has_feeders = any(one.parent for one in job.analysis.power.circuits)
    return Table("load-schedule", "Loads by circuit and leg", columns, tuple(rows), tuple(marks),
                 note=note if has_feeders else "", sums=tuple(sums))  # fmt: skip


_NONE: tuple[Cell, ...] = (None,) * 8


def _load_row(
    job: Job, circuit: Circuit, counted: CircuitLoad, feed: Feed | None, conductors: tuple[str, ...]
) -> tuple[Cell, ...]:
    item = job.build.item(counted.item)
    role = item.specification.electrical if item is not None else None
    state = job.analysis.power.appliances.get(counted.item, {}).get(EVERYTHING_ON)
    assert item is not None
    assert isinstance(role, Load)
    legs = tuple(
        _amps(counted.on(one))
        if one in circuit.legs or (one == "N" and len(circuit.legs) > 1)
        else None
        for one in conductors
    )
    return (
        circuit.letter,
        item.name,
        Value(role.voltage.si, "voltage", 0),
        _nameplate(role),
        Value(role.power.si, "power") if role.power is not None else None,
        _stated_by(item),
        _hours(counted),
        Value(state.volts, "voltage") if state is not None else None,
        *legs,
        *_plug_cells(job, feed),
    )


def _nameplate(role: Load) -> Cell:
    if role.current is None and role.power is None:
        return "not given"
    return _amps(nameplate_amps(role))


def _stated_by(item: Item) -> str:
    """What the figures rest on; typical ones nobody has checked on this piece."""
    origin = origin_of(item, "electrical")
    return origin.basis if origin is not None else "not told"


def _hours(counted: CircuitLoad) -> str:
    if not counted.continuous:
        return "no"
    return "assumed" if counted.assumed_continuous else "yes"


def _plug_cells(job: Job, feed: Feed | None) -> tuple[Cell, ...]:
    if feed is None:
        return _NONE[:4]
    return (
        feed.plug.connector,
        feed.receptacle.connector,
        feed.source.name,
        feed.cord_words(job.system),
    )


def _child_row(circuit: Circuit, child: Circuit, conductors: tuple[str, ...]) -> tuple[Cell, ...]:
    amps = child.leg_amps.get(EVERYTHING_ON, {})
    legs = tuple(
        _amps(amps[one])
        if (one in amps and one in child.legs) or (one == "N" and len(circuit.legs) > 1)
        else None
        for one in conductors
    )
    return (
        circuit.letter,
        f"Circuit {child.letter}: {child.name}",
        Value(child.voltage_v, "voltage", 0),
        *_NONE[:5],
        *legs,
        *_NONE[:4],
    )


# --- limits ---------------------------------------------------------------------------------------


def _limits(job: Job) -> Table:
    """Each limit as a row: number, limit, share, rule, source."""
    rows: list[tuple[Cell, ...]] = []
    marks: list[str] = []
    for circuit in job.analysis.power.circuits:
        for limit in circuit.limits:
            rows.append(
                (
                    circuit.letter,
                    capitalised(_NAMES.get(limit.name, limit.name)),
                    Value(limit.value, limit.dimension, beside=limit.limit),
                    Value(limit.limit, limit.dimension, beside=limit.value),
                    _share(limit),
                    capitalised(limit.rule),
                    "; ".join(filter(None, (limit.source, limit.assumed))),
                )
            )
            marks.append(limit_state(job.analysis, (limit,)))
    columns = (
        Column("Circuit", share=0.4),
        Column("What is held", share=1.3),
        Column("Counted", "", "right", 0.6),
        Column("Limit", "", "right", 0.6),
        Column("Share", "share", "right", 0.5),
        Column("Rule", share=2.2),
        Column("Source", share=1.6),
    )
    return Table("circuit-limits", "What each circuit is held to", columns, tuple(rows),
                 tuple(marks))  # fmt: skip


def _share(limit: Limit) -> Cell:
    if limit.limit <= 0.0 or limit.dimension == "count":
        return None
    return Value(limit.value / limit.limit, "share")


# --- what is fed by nothing -----------------------------------------------------------------------


def _dark(job: Job) -> Table:
    rows = []
    for item in job.build.items:
        role = item.specification.electrical
        states = job.analysis.power.appliances.get(item.id, {})
        state = states.get(EVERYTHING_ON)
        if isinstance(role, Load) and (state is None or not state.fed):
            rows.append(_dark_row(item, role))
    columns = (
        Column("Load", share=2.0),
        Column("Rated", "voltage", "right"),
        Column("Nameplate", "current", "right"),
        Column("Plug"),
    )
    marks = ("care",) * len(rows)
    return Table("loads-not-fed", "Loads that no supply reaches", columns, tuple(rows), marks)


def _dark_row(item: Item, role: Load) -> tuple[Cell, ...]:
    plugs = [port.connector for port in item.specification.ports if port.medium == "power"]
    volts = Value(role.voltage.si, "voltage", 0)
    return item.name, volts, _nameplate(role), ", ".join(plugs)
