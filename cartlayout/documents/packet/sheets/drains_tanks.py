"""The drain and tank sheet: fall and capacity of every drain, waste against fresh, the day."""

import math
from collections.abc import Iterator

from ....build import Drain, Tank
from ....findings import Finding
from ....limits import profile
from ....limits.drain_practice import drain_practice
from ....units import Phrase, UnitSystem, Value, capitalised, counted
from ....water.drain_results import AirGap, DrainPumpState, DrainState, VesselDay
from ....water.results import WaterBalance
from ..content import Cell, Column, Content, Facts, Job, Paragraph, Part, Table

_HOW = (
    "Fall is held against the flattest stretch between two given heights; a piece as short as a "
    "hand need not fall by itself. What a drain carries is counted after Manning, half full."
)
_TRICKLE = 1e-9
_KINDS = {"fresh": "fresh", "reservoir": "filled by hand", "waste": "waste"}


def drains_tanks(job: Job) -> Content:
    """The sheet, with every drain tube that leads somewhere and every vessel."""
    parts: list[Part] = []
    balance = job.analysis.water.balance
    if balance is not None:
        parts += _waste_against_fresh(job, balance)
        parts += [_vessels(job, balance), _shares(balance)]
    parts.append(_drains(job))
    parts.append(Paragraph(_manning(), "muted"))
    for table in (_pumps(job), _air_gaps(job)):
        if table.rows:
            parts.append(table)
    applies = balance is not None or bool(job.analysis.water.drains)
    return Content("drains-tanks", "Drains and tanks", "inspector", tuple(parts), applies=applies)


def _column(title: str, dimension: str, share: float = 0.7) -> Column:
    return Column(title, dimension, "right", share)


def _volume(volume: float) -> Value:
    return Value(volume, "volume")


def _bore(job: Job, bore_m: float) -> Value:
    return Value(bore_m, "length", 2 if job.system is UnitSystem.US else 0)


def _name(job: Job, item_id: str) -> str:
    item = job.build.item(item_id)
    return item.name if item is not None else item_id


def _manning() -> str:
    n = drain_practice().manning_n
    return f"{_HOW} Roughness {n.value:g} ({n.citation})."


# --- waste against fresh --------------------------------------------------------------------------


def _waste_against_fresh(job: Job, balance: WaterBalance) -> Iterator[Part]:
    """What the rule asks, what there is, and what the day of service will bring beside it."""
    rule = profile(job.build.region).waste_ratio
    if balance.fresh <= 0.0 and balance.waste <= 0.0:
        rule_words = f"{capitalised(rule.rule)} ({rule.citation})"
        yield Paragraph(f"{rule_words}. {_ratio_note(balance)}")
        yield Facts(tuple(_day_facts(job, balance)), "A day of service as planned")
        return
    yield Table(
        "waste-ratio",
        "Waste tanks against fresh tanks",
        (
            Column("Rule", share=2.0),
            _column("Fresh on board", "volume", 0.8),
            Column("Times", "number", "right", 0.4),
            _column("Waste asked", "volume", 0.8),
            _column("Waste there is", "volume", 0.8),
            _column("To spare", "volume"),
            Column("Source", share=1.6),
        ),
        tuple(_ratio_rows(job, balance, rule.rule)),
        tuple(_ratio_marks(job, balance)),
        note=_ratio_note(balance),
    )
    yield Facts(tuple(_day_facts(job, balance)), "A day of service as planned")


def _ratio_rows(job: Job, balance: WaterBalance, rule: str) -> Iterator[tuple[Cell, ...]]:
    rules = [(capitalised(rule), balance.ratio, balance.waste_needed, balance.source)]
    for row in profile(job.build.region).stricter_waste_ratios:
        words = f"{row.place} asks for more"
        rules.append((words, row.ratio, balance.fresh * row.ratio, row.citation))
    # Two decimals of a gallon: 1.15 of 5 gal are 5.75.
    decimals = 2 if job.system is UnitSystem.US else 1
    for words, ratio, asked, source in rules:
        volumes = (balance.fresh, asked, balance.waste, balance.waste - asked)
        fresh, needed, waste, spare = (Value(one, "volume", decimals) for one in volumes)
        yield words, fresh, Value(ratio, "number"), needed, waste, spare, source


def _ratio_marks(job: Job, balance: WaterBalance) -> Iterator[str]:
    """The region's own rule counts; a place that asks for more is worth a look, no more."""
    if balance.fresh <= 0.0 or balance.to_drain:
        yield from [""] * (1 + len(profile(job.build.region).stricter_waste_ratios))
        return
    yield "ok" if balance.waste >= balance.waste_needed * 0.9999 else "stop"
    for row in profile(job.build.region).stricter_waste_ratios:
        yield "ok" if balance.waste >= balance.fresh * row.ratio * 0.9999 else "note"


def _ratio_note(balance: WaterBalance) -> str:
    if balance.to_drain:
        return (
            "All waste leaves through the venue's drain, so no tank has to hold it; the ratio is "
            "told for a place without one. The local authority decides."
        )
    if balance.fresh <= 0.0:
        return "No fresh tank is on board. The local authority decides what waste has to be held."
    return "The local authority decides which of these holds."


def _day_facts(job: Job, balance: WaterBalance) -> Iterator[tuple[str, Cell]]:
    service = job.build.service
    drinks = service.drinks_per_hour * service.hours.si / 3600.0
    yield "Service", Value(service.hours.si, "duration")
    yield "Drinks", Value(drinks, "count")
    yield "Fresh water used", _volume(balance.fresh_per_day)
    yield "Let down the drain", _volume(balance.waste_per_day)
    if balance.fresh_per_day > 0.0:
        share = balance.waste_per_day / balance.fresh_per_day
        yield "Of the fresh water used", Value(share, "share")
    yield "Waste leaves by", "the venue's drain" if balance.to_drain else "tanks on board"


# --- vessels --------------------------------------------------------------------------------------


def _vessels(job: Job, balance: WaterBalance) -> Table:
    rows = tuple(_vessel_row(job, one) for one in balance.vessels)
    marks = tuple("care" if one.visits > 0 else "ok" for one in balance.vessels)
    columns = (
        Column("Vessel", share=1.6),
        Column("Holds", share=0.9),
        _column("Volume", "volume"),
        _column("Over the day", "volume"),
        _column("Of its volume", "share"),
        Column("Lasts until", share=1.2),
        _column("Drinks until then", "count"),
        Column("Has to be", share=1.2),
        _column("Stands at", "length"),
    )
    return Table("vessels", "Vessels over the day", columns, rows, marks,
                 empty="No vessel is on the plan.")  # fmt: skip


def _vessel_row(job: Job, one: VesselDay) -> tuple[Cell, ...]:
    ends = one.visits > 0 and math.isfinite(one.lasts_s)
    lasts = Phrase.of("{hours} of service", hours=Value(one.lasts_s, "duration"))
    act = "emptied" if one.kind == "waste" else "filled"
    times = "once" if one.visits == 1 else counted(one.visits, "time")
    return (
        ", ".join(_name(job, item) for item in one.items),
        _KINDS[one.kind],
        _volume(one.volume),
        _volume(one.per_day),
        Value(one.per_day / one.volume, "share") if one.volume > 0.0 else None,
        lasts if ends else "the whole day",
        Value(one.drinks, "count") if ends and math.isfinite(one.drinks) else None,
        f"{act} {times}" if ends else "",
        _lowest(job, one),
    )


def _lowest(job: Job, one: VesselDay) -> Cell:
    """Height of the lowest of its ports."""
    heights = [
        height for (item, _), height in job.analysis.network.heights_m.items() if item in one.items
    ]
    return Value(min(heights), "length") if heights else None


def _shares(balance: WaterBalance) -> Table:
    rows = tuple(
        (
            "fresh water for" if one.kind == "fresh" else "down the drain",
            one.name,
            _volume(one.per_day),
        )
        for one in balance.shares
    )
    columns = (Column("Where", share=1.0), Column("What", share=2.0), _column("A day", "volume"))
    return Table("water-of-the-day", "What the water is used for", columns, rows,
                 empty="The service plan uses no water.")  # fmt: skip


# --- drains ---------------------------------------------------------------------------------------


def _drains(job: Job) -> Table:
    rows = [_drain_row(job, one) for one in job.analysis.water.drains]
    marks = tuple(_drain_mark(job, one) for one in job.analysis.water.drains)
    columns: tuple[Column, ...] = (
        Column("From", share=1.1),
        Column("To", share=1.0),
        Column("Tube", share=1.3),
        _column("Bore", "length", 0.5),
        _column("Length", "distance", 0.6),
        _column("Falls", "length", 0.6),
        _column("Flattest", "percent", 0.7),
        _column("Asked", "percent", 0.6),
        _column("Carries half full", "flow", 0.9),
        _column("Carries full", "flow", 0.8),
        _column("Comes", "flow", 0.8),
        Column("In the case", share=1.2),
        Column("Remarks", share=1.6),
    )
    if not any(row[-1] for row in rows):
        columns, rows = columns[:-1], [row[:-1] for row in rows]
    return Table("drains", "Drains", columns, tuple(rows), marks, note=_asked(job),
                 empty="No drain tube leads anywhere.")  # fmt: skip


def _asked(job: Job) -> str:
    """Which rules the falls are held against."""
    bores = {one.bore_m for one in job.analysis.water.drains if not one.pumped}
    rules = {
        f"{capitalised(row.rule)} ({row.citation})."
        for bore in bores
        if (row := profile(job.build.region).drain_slope(bore)) is not None
    }
    return " ".join(sorted(rules))


def _drain_row(job: Job, one: DrainState) -> tuple[Cell, ...]:
    run = next((tube for tube in job.build.tubes if tube.id == one.run), None)
    case, comes = one.greatest
    slope: Cell = None
    if not one.pumped:
        short = one.slope < one.asked_slope
        slope = (
            Value(one.slope, "percent", None, one.asked_slope if short else None)
            if math.isfinite(one.slope)
            else "straight down"
            if one.slope > 0.0
            else "straight up"
        )
    return (
        _name(job, one.start[0]),
        _name(job, one.end[0]),
        run.tube.name if run is not None else "",
        _bore(job, one.bore_m),
        Value(one.length_m, "distance"),
        Value(one.fall_m, "length"),
        slope,
        Value(one.asked_slope, "percent") if not one.pumped else None,
        Value(one.half_full, "flow") if not one.pumped else "pumped",
        Value(one.full, "flow") if not one.pumped else None,
        Value(comes, "flow") if comes > _TRICKLE else None,
        case if comes > _TRICKLE else "",
        capitalised("; ".join(_remarks(job, one))),
    )


def _remarks(job: Job, one: DrainState) -> Iterator[str]:
    for low in one.low_points:
        what = "air lock" if low.sealed else "low point"
        along = Value(low.along_m, "distance").shown(job.system)
        rise = Value(low.rise_m, "length").shown(job.system)
        yield f"{what} {along} along, climbs {rise} after it"
    if one.backs_up_m is not None:
        over = Value(one.backs_up_m, "length").shown(job.system)
        yield f"a full tank backs up {over} over the outlet of {_name(job, one.backs_up_to)}"
    if any(finding.code == "water.drain-narrows" for finding in _said(job, one)):
        yield "gets narrower on its way"
    if one.advisory and not one.pumped:
        yield "a rough figure: thin and slow"


def _drain_mark(job: Job, one: DrainState) -> str:
    """The worst that a finding says of this tube."""
    said = {finding.severity for finding in _said(job, one)}
    return next((mark for mark in ("stop", "care") if mark in said), "ok")


def _said(job: Job, one: DrainState) -> list[Finding]:
    """What the findings say of a drain tube."""
    return [
        finding
        for finding in job.analysis.findings
        if one.run in finding.runs and finding.code.startswith("water.drain")
    ]


# --- drain pumps, air gaps ------------------------------------------------------------------------


def _pumps(job: Job) -> Table:
    rows = tuple(_pump_row(job, one) for one in job.analysis.water.drain_pumps)
    marks = tuple(
        "ok" if one.lift_m <= one.greatest_lift_m and one.flow >= one.greatest[1] else "stop"
        for one in job.analysis.water.drain_pumps
    )
    columns = (
        Column("Drain pump", share=1.4),
        _column("Lifts", "distance"),
        _column("Can lift", "distance"),
        _column("Moves there", "flow"),
        _column("Comes", "flow"),
        Column("In the case", share=1.4),
        _column("Sump", "volume"),
        _column("Fills in", "seconds"),
        _column("Starts an hour", "count"),
    )
    return Table("drain-pumps", "Drain pumps", columns, rows, marks)


def _pump_row(job: Job, one: DrainPumpState) -> tuple[Cell, ...]:
    case, comes = one.greatest
    return (
        _name(job, one.item),
        Value(one.lift_m, "distance", None, one.greatest_lift_m),
        Value(one.greatest_lift_m, "distance"),
        Value(one.flow, "flow"),
        Value(comes, "flow"),
        case,
        Value(one.sump, "volume"),
        Value(one.fills_s, "seconds") if math.isfinite(one.fills_s) else None,
        Value(one.starts_per_hour, "count"),
    )


def _air_gaps(job: Job) -> Table:
    gaps = job.analysis.water.air_gaps
    columns = (
        Column("Air gap of", share=1.4),
        Column("Pours into", share=1.2),
        _column("Bore above it", "length"),
        _column("Asked", "length"),
        _column("Given", "length"),
        Column("Source", share=2.6),
    )
    rows = tuple(_gap_row(job, one) for one in gaps)
    marks = tuple(
        "care" if one.given_m is None else "ok" if one.given_m >= one.needed_m else "stop"
        for one in gaps
    )
    return Table("air-gaps", "Air gaps", columns, rows, marks)


def _gap_row(job: Job, one: AirGap) -> tuple[Cell, ...]:
    item = job.build.item(one.item)
    role = item.specification.water if item is not None else None
    into = "the venue's drain" if isinstance(role, Drain) else "its basin"
    if isinstance(role, Tank):
        into = "the tank"
    return (
        _name(job, one.item),
        into,
        _bore(job, one.bore_m),
        Value(one.needed_m, "length"),
        Value(one.given_m, "length") if one.given_m is not None else "not stated",
        one.source,
    )
