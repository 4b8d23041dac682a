"""Cords against what they carry, and every other limit of the power side, for the load schedule."""

from collections.abc import Sequence

from ....power.results import Limit
from ....units import Value, capitalised
from ...one_line.feeds import Feed, feeds
from ...verdict import limit_state
from ..content import Cell, Column, Job, Table

_NEAR = 0.8
"""On paper stands what does not hold, or is nearer to its limit than this; files have all."""
_NAMES = {
    "cord": "cord",
    "cord protection": "breaker before a cord",
    "strip": "strip",
    "extension": "extension cord",
    "plug": "plug",
    "receptacle": "receptacle",
    "main": "main breaker",
    "leg": "a leg",
    "generator": "generator, running",
    "inverter": "inverter, running",
    "surge": "surge",
    "starts together": "everything starts at once",
    "fuel": "fuel over the service",
    "discharge": "battery's own discharge",
    "battery energy": "battery's energy over the service",
    "voltage": "voltage at the appliance",
    "drop": "voltage lost on the way",
}
_AT_LEAST = ("voltage", "fuel", "battery energy")


def _current(title: str) -> Column:
    return Column(title, "current", "right", 0.7)


def cords_table(job: Job) -> Table:
    """Every plug that power reaches: its cord, what it carries, what it may, what it loses."""
    rows = tuple(_cord_row(job, one) for one in feeds(job.analysis).values())
    marks = tuple(_cord_mark(job, one) for one in feeds(job.analysis).values())
    columns = (
        Column("Cord of", share=1.4),
        Column("Plugged into", share=1.2),
        Column("Circuit", share=0.5),
        Column("Plug", share=0.8),
        Column("Receptacle", share=0.8),
        Column("Conductors", share=0.8),
        Column("Length", "distance", "right", 0.6),
        _current("Carries"),
        _current("May carry"),
        Column("Loses", "voltage", "right", 0.6),
    )
    return Table("cords", "Cords and plugs, everything on", columns, rows, marks,
                 empty="No plug is in a receptacle that gives power.")  # fmt: skip


def _cord_row(job: Job, one: Feed) -> tuple[Cell, ...]:
    state = one.state
    circuit = job.analysis.power.circuit(state.circuit) if state.circuit is not None else None
    over = state.ampacity_a > 0.0 and state.amps > state.ampacity_a
    return (
        one.item.name,
        one.source.name,
        circuit.letter if circuit is not None else "",
        one.plug.connector,
        one.receptacle.connector,
        one.cord.size.text.replace("mm2", "mm²") if one.cord is not None else "not known",
        Value(state.length_m, "distance"),
        Value(state.amps, "current", None, state.ampacity_a if over else None),
        Value(state.ampacity_a, "current") if state.ampacity_a > 0.0 else "not known",
        Value(state.drop_v, "voltage"),
    )


def _cord_mark(job: Job, one: Feed) -> str:
    """Of the cord and of the plug on it."""
    limits = [
        limit
        for key, limit in job.analysis.power.limits
        if key == one.wire.id or (key == one.item.id and limit.name == "plug")
    ]
    return limit_state(job.analysis, limits)


# --- every limit ----------------------------------------------------------------------------------


def limits_tables(job: Job) -> tuple[Table, Table]:
    """What stands on paper, and the whole list for files."""
    every = job.analysis.power.limits
    near = [one for one in every if not one[1].holds or _share(one[1]) >= _NEAR]
    title = "Cords, plugs, strips and voltages that are over or near their limits"
    paper = _table(job, "power-limits-near", title, near)
    return paper, _table(job, "power-limits", "Everything else that is held to a limit", every)


def _share(limit: Limit) -> float:
    """How much of a limit is used up; of one that has to be reached, nothing while it holds."""
    if limit.name in _AT_LEAST or limit.limit <= 0.0:
        return 0.0
    return limit.value / limit.limit


def _table(job: Job, key: str, title: str, limits: Sequence[tuple[str, Limit]]) -> Table:
    plugs = {one.wire.id: one.item.name for one in feeds(job.analysis).values()}
    rows = tuple(_row(job, plugs, *one) for one in limits)
    marks = tuple(limit_state(job.analysis, (limit,)) for _, limit in limits)
    columns = (
        Column("What", share=1.3),
        Column("Held", share=1.1),
        Column("Counted", "", "right", 0.6),
        Column("Limit", "", "right", 0.6),
        Column("Rule", share=2.0),
        Column("Source", share=2.0),
    )
    return Table(key, title, columns, rows, marks, empty="Nothing is over or near its limit.")


def _row(job: Job, plugs: dict[str, str], key: str, limit: Limit) -> tuple[Cell, ...]:
    return (
        _name(job, plugs, key),
        capitalised(_NAMES.get(limit.name, limit.name)),
        Value(limit.value, limit.dimension, None, None if limit.holds else limit.limit),
        Value(limit.limit, limit.dimension, None, None if limit.holds else limit.value),
        capitalised(limit.rule),
        "; ".join(filter(None, (limit.source, limit.assumed))),
    )


def _name(job: Job, plugs: dict[str, str], key: str) -> str:
    """Of an item, or of the item that a cord belongs to."""
    if key in plugs:
        return f"{plugs[key]}'s cord"
    item = job.build.item(key)
    return item.name if item is not None else key
