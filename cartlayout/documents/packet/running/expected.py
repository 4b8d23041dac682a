"""What gauges and taps should show, and how long vessels last: tables of the checklist."""

import math

from ....units import UnitSystem, Value
from ....water.results import ALL_OPEN, Tap, alone
from ..content import Cell, Column, Job, Table
from .holding import Holding, holding_items, holding_tubes, total, unknown

_JUG: dict[UnitSystem, tuple[float, str]] = {
    UnitSystem.US: (0.946352946e-3, "1 qt"),  # NIST SP 811, appendix B.8
    UnitSystem.METRIC: (1e-3, "1 L"),
}


def _pressure(title: str) -> Column:
    return Column(title, "pressure", "right", 0.7)


def gauges_table(job: Job) -> Table:
    """Every gauge in every case, with room for what it shows."""
    rows: list[tuple[Cell, ...]] = []
    for gauge in job.analysis.water.gauges:
        if not gauge.fed:
            rows.append((gauge.name, "not fed", None, None, None))
        for one in gauge.readings:
            rows.append(
                (
                    gauge.name,
                    one.case,
                    Value(one.low_pa, "pressure"),
                    Value(one.high_pa, "pressure"),
                    None,
                )
            )
    return Table(
        "expected-gauges",
        "Gauges",
        (
            Column("Gauge", share=1.2),
            Column("Case", share=1.2),
            _pressure("At least"),
            _pressure("At most"),
            Column("Read off", share=1.0, blank_mm=26.0),
        ),
        tuple(rows),
        empty="No gauge is on the plan; one at the first tee would show whether the line holds.",
    )


def taps_table(job: Job) -> Table:
    """Every tap: pressure with all shut, alone and with everything open; flow as a time."""
    volume, jug = _JUG[job.system]
    rows: list[tuple[Cell, ...]] = []
    for tap in job.analysis.water.taps:
        if not tap.fed:
            rows.append((tap.name, "not fed", None, None, None, None, None))
            continue
        rows += _tap_rows(tap, volume)
    return Table(
        "expected-taps",
        "Taps",
        (
            Column("Tap", share=1.2),
            Column("Case", share=1.2),
            _pressure("At least"),
            _pressure("At most"),
            Column("Flow at least", "flow", "right", 0.7),
            Column(f"{jug} takes at most", "seconds", "right", 0.8),
            Column("Measured", share=1.0, blank_mm=22.0),
        ),
        tuple(rows),
        note="Pressures stand at the tap's inlet. At least: pumps about to start, mains at their "
        "lowest; at most: pumps about to stop, mains at their highest.",
        empty="No tap is on the plan.",
    )


def _tap_rows(tap: Tap, volume: float) -> list[tuple[Cell, ...]]:
    rows: list[tuple[Cell, ...]] = [
        (tap.name, "all shut", None, Value(tap.static_pa, "pressure"), None, None, None)
    ]
    for words, case in (("alone", alone(tap.name)), ("everything open", ALL_OPEN)):
        state = tap.states.get(case)
        if state is None or not state.open:
            continue
        seconds = volume / state.flow if state.flow > 1e-9 else math.inf
        rows.append(
            (
                tap.name,
                words,
                Value(state.lowest_pa, "pressure"),
                Value(state.highest_pa, "pressure"),
                Value(state.flow, "flow"),
                Value(seconds, "seconds", 0) if math.isfinite(seconds) else "nothing comes",
                None,
            )
        )
    return rows


def day_table(job: Job) -> Table:
    """When vessels have to be seen to."""
    balance = job.analysis.water.balance
    rows: list[tuple[Cell, ...]] = []
    for vessel in balance.vessels if balance is not None else ():
        names = [item.name for key in vessel.items if (item := job.build.item(key)) is not None]
        what = {"fresh": "fill up", "reservoir": "fill by hand", "waste": "empty"}[vessel.kind]
        lasts = (
            Value(vessel.lasts_s, "duration")
            if math.isfinite(vessel.lasts_s) and vessel.visits > 0
            else "the whole service"
        )
        rows.append(
            (
                ", ".join(names),
                what,
                Value(vessel.volume, "volume"),
                Value(vessel.per_day, "volume"),
                lasts,
                Value(float(vessel.visits), "count"),
            )
        )
    return Table(
        "vessels-day",
        "During service",
        (
            Column("Vessel", share=1.5),
            Column("What to do"),
            Column("Holds", "volume", "right", 0.7),
            Column("In a service", "volume", "right", 0.7),
            Column("Lasts", "duration", "right", 0.9),
            Column("Times", "count", "right", 0.5),
        ),
        tuple(rows),
        note="By the service plan of the build; look at the waste tank more often than that.",
        empty="No vessel is on the plan.",
    )


# --- what holds water -------------------------------------------------------------------------


def items_table(job: Job) -> Table:
    """Parts that hold water, the lowest first."""
    found = holding_items(job.analysis)
    return Table(
        "drain-down-parts",
        "Drain down: parts that hold water, the lowest first",
        (
            Column("Part", share=1.2),
            Column("Kind", share=1.0),
            Column("Lowest place", "length", "right", 0.6),
            Column("Holds at most", "volume", "right", 0.7),
            Column("By", share=1.1),
            Column("How", share=1.9),
        ),
        tuple(_row(one, "volume", one.basis) for one in found),
        totals=("Together, as far as known", None, None, _sum(found, "volume"), None, None)
        if found
        else (),
        note=_not_known(found),
        has_boxes=True,
        empty="Nothing on the cart holds water.",
    )


def tubes_table(job: Job) -> Table:
    """Tubes, the lowest first, with how far they hang below their ends."""
    found = holding_tubes(job.analysis)
    rows = []
    for one in found:
        low = Value(one.low_m, "length")
        dip = Value(one.dip_m, "length") if one.dip_m else None
        volume = Value(one.volume, "small volume", 0) if one.volume is not None else "free end"
        rows.append((one.name, one.kind, low, dip, volume, one.how))
    return Table(
        "drain-down-tubes",
        "Drain down: tubes, the lowest first",
        (
            Column("From and to", share=1.5),
            Column("Tube", share=1.0),
            Column("Lowest place", "length", "right", 0.7),
            Column("Hangs below its way out", "length", "right", 0.8),
            Column("Holds", "small volume", "right", 0.6),
            Column("How", share=1.6),
        ),
        tuple(rows),
        tuple("care" if one.dip_m else "" for one in found),
        totals=("Together", None, None, None, _sum(found, "small volume"), None) if found else (),
        has_boxes=True,
        empty="No tube is on the plan.",
    )


def _row(one: Holding, dimension: str, basis: str) -> tuple[Cell, ...]:
    volume = Value(one.volume, dimension, 2) if one.volume is not None else "not known"
    return (one.name, one.kind, Value(one.low_m, "length"), volume, basis, one.how)


def _sum(found: tuple[Holding, ...], dimension: str) -> Value:
    return Value(total(found), dimension, 0 if dimension == "small volume" else 2)


def _not_known(found: tuple[Holding, ...]) -> str:
    names = list(unknown(found))
    if not names:
        return ""
    return f"How much is in it nobody has entered: {', '.join(names)}. Its maker's sheet says."
