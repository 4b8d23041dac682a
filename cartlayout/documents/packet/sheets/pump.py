"""The pump and accumulator sheet: switch, vessel, duty in every case, suction, curve."""

import math
from collections.abc import Iterator

from ....build import Accumulator, Item, Pump
from ....limits.water_practice import water_practice
from ....units import Phrase, UnitSystem, Value, capitalised, show, show_plain
from ....units.display import unit_label
from ....water import pump_curve
from ....water.pump_results import DutyPoint, PumpDuty, Suction
from ...one_line.curve import Graph, Spot, graph_elements
from ...plan.picture import Box
from ..content import (
    Cell,
    Column,
    Content,
    Drawn,
    Facts,
    Job,
    Paragraph,
    Part,
    Picture,
    Table,
)

_CURVE_STEPS = 40
_HEIGHT = 72.0
_WIDTH = 180.0
_HOW = (
    "Vessels by Boyle's law with absolute pressures. Set the pre-charge with the line empty and "
    "open. Starts: with the vessel as it is; without it only the stretch of the tubes gives."
)


def pump(job: Job) -> Content:
    """The sheet, with every demand pump of the build."""
    water = job.analysis.water
    parts: list[Part] = [Paragraph(_HOW, "muted")]
    if not water.duties:
        parts.append(Paragraph("No demand pump feeds a tap on the plan."))
    for duty in water.duties:
        item = job.build.item(duty.item)
        if item is not None:
            parts += _one(job, duty, item)
    if water.duties:
        parts.append(_duty_table(job))
    for table in (_swings(job), _suctions(job)):
        if table.rows:
            parts.append(table)
    applies = bool(water.duties or water.suctions)
    return Content("pump", "Pump and accumulator", "builder", tuple(parts), applies=applies)


def _value(si: float, dimension: str, decimals: int | None = None) -> Value:
    return Value(si, dimension, decimals)


def _column(title: str, dimension: str, share: float = 0.7) -> Column:
    return Column(title, dimension, "right", share)


def _name(job: Job, item_id: str) -> str:
    item = job.build.item(item_id)
    return item.name if item is not None else item_id


# --- one pump -------------------------------------------------------------------------------------


def _one(job: Job, duty: PumpDuty, item: Item) -> Iterator[Part]:
    role = item.specification.water
    assert isinstance(role, Pump)
    yield Facts(tuple(_switch(duty, role)), f"{item.name}: switch and starts")
    for place, vessel_id in enumerate(duty.vessels):
        vessel = job.build.item(vessel_id)
        if vessel is not None and isinstance(vessel.specification.water, Accumulator):
            yield Facts(tuple(_vessel(duty, vessel, place == 0)), vessel.name)
    if duty.vessels:
        rule = water_practice().pre_charge_below_cut_in_pa
        yield Paragraph(f"{capitalised(rule.rule)} ({rule.citation}).", "muted")
    if not duty.vessels:
        yield Paragraph("No accumulator works with this pump: only the stretch of the tubes gives.")
    graph = _graph(job, duty, role)
    if graph is not None:
        yield Picture(_Curve(graph), _HEIGHT, _HEIGHT, f"Curve of {item.name}")
        yield Paragraph(
            "Numbers are those of the cases in the duty table; where the pump cycles, a point at "
            "cut-in and one at cut-out. What the suction side takes, it adds besides.",
            "muted",
        )


def _switch(duty: PumpDuty, role: Pump) -> Iterator[tuple[str, Cell]]:
    yield "Cut-in", _value(duty.cut_in_pa, "pressure")
    yield "Cut-out", _value(duty.cut_out_pa, "pressure")
    yield "Reaches cut-out", "yes" if duty.reaches_cut_out else "no: it would never stop"
    if role.bypass is not None:
        yield "Bypass opens", _value(role.bypass.opens.si, "pressure")
        yield "Bypass full", _value(role.bypass.full.si, "pressure")
    yield "Useful, all vessels", _value(duty.useful_volume, "small volume", 0)
    yield "Stretch of the tubes", _value(duty.stretch, "small volume")
    if math.isfinite(duty.shortest_run_s):
        yield "Shortest run", _value(duty.shortest_run_s, "seconds")
        yield "Shortest run advised", _value(water_practice().shortest_run_s.value, "seconds")
    yield "Starts an hour, worst draw", _value(duty.most_starts_per_hour, "count")
    yield "Starts an hour, in service", _value(duty.service_starts_per_hour, "count")
    yield (
        "Starts an hour, its maker allows",
        _value(role.starts_per_hour, "count") if role.starts_per_hour is not None else "not stated",
    )
    if duty.current_a is not None:
        yield "Greatest current", _value(duty.current_a, "current")
    if role.voltage is not None:
        yield "At", _value(role.voltage.si, "voltage", 0)


def _vessel(duty: PumpDuty, vessel: Item, is_nearest: bool) -> Iterator[tuple[str, Cell]]:
    role = vessel.specification.water
    assert isinstance(role, Accumulator)
    yield "Volume", _value(role.volume.si, "volume", 2)
    yield "Pre-charge", _value(role.pre_charge.si, "pressure")
    advised = water_practice().pre_charge_below_cut_in_pa
    yield "Pre-charge advised", _value(max(duty.cut_in_pa - advised.value, 0.0), "pressure")
    if not is_nearest:
        yield "Stands", "further from the pump"


# --- duty -----------------------------------------------------------------------------------------


def _duty_table(job: Job) -> Table:
    rows: list[tuple[Cell, ...]] = []
    marks: list[str] = []
    for duty in job.analysis.water.duties:
        item = job.build.item(duty.item)
        role = item.specification.water if item is not None else None
        allowed = role.starts_per_hour if isinstance(role, Pump) else None
        for number, point in enumerate(duty.points, 1):
            rows.append(_duty_row(job, duty, number, point))
            too_often = allowed is not None and point.starts_per_hour > allowed
            marks.append("care" if too_often or point.chatters else "ok")
    columns = (
        Column("Pump", share=1.0),
        Column("No.", align="right", share=0.4),
        Column("Case", share=1.6),
        _column("Drawn", "flow"),
        Column("Runs", share=1.1),
        _column("Flow, cut-in or running", "flow"),
        _column("Adds then", "pressure"),
        _column("Flow, cut-out", "flow"),
        _column("Adds then", "pressure"),
        _column("On", "seconds", 0.5),
        _column("Off", "seconds", 0.5),
        _column("Starts an hour", "count"),
        _column("Starts without vessel", "count"),
        _column("Takes", "current", 0.5),
    )
    note = "Where it runs all the time its one working point stands under cut-in."
    return Table("pump-duty", "Duty in every case", columns, tuple(rows), tuple(marks), note=note,
                 empty="Nothing is drawn through a pump.")  # fmt: skip


def _duty_row(job: Job, duty: PumpDuty, number: int, point: DutyPoint) -> tuple[Cell, ...]:
    low = point.ends[0] if point.ends else None
    high = point.ends[1] if len(point.ends) > 1 else None
    share = Phrase.of("{share} of the time", share=Value(point.share_on, "share"))
    cycles = point.cycles and math.isfinite(point.on_s) and math.isfinite(point.off_s)
    return (
        _name(job, duty.item),
        str(number),
        point.case,
        _value(point.demand, "flow"),
        share if point.cycles else "all the time",
        *_end(low),
        *_end(high),
        _value(point.on_s, "seconds") if cycles else None,
        _value(point.off_s, "seconds") if cycles else None,
        _value(point.starts_per_hour, "count"),
        "chatters" if point.bare_chatters else _value(point.bare_starts_per_hour, "count"),
        _value(point.current_a, "current") if point.current_a is not None else None,
    )


def _end(end: tuple[float, float] | None) -> tuple[Cell, Cell]:
    if end is None:
        return None, None
    return _value(end[0], "flow"), _value(end[1], "pressure")


def _swings(job: Job) -> Table:
    rows = tuple(
        (
            _name(job, duty.item),
            swing.name,
            _value(swing.high_pa, "pressure"),
            _value(swing.low_pa, "pressure"),
            _value(swing.fall_s, "seconds"),
            _value(swing.bare_fall_s, "seconds"),
            _value(swing.drink_low_pa, "pressure") if swing.drink > 0.0 else None,
            _value(swing.bare_drink_low_pa, "pressure") if swing.drink > 0.0 else None,
        )
        for duty in job.analysis.water.duties
        for swing in duty.swings
    )
    columns = (
        Column("Pump"),
        Column("Tap, alone open", share=1.4),
        _column("Highest", "pressure"),
        _column("Lowest", "pressure"),
        _column("Falls in", "seconds"),
        _column("Without vessel", "seconds"),
        _column("Lowest over one drink", "pressure", 0.9),
        _column("The same without vessel", "pressure", 0.9),
    )
    return Table("pump-swings", "How the pressure goes up and down at the taps", columns, rows)


# --- suction --------------------------------------------------------------------------------------


def _suctions(job: Job) -> Table:
    suctions = job.analysis.water.suctions
    columns = (
        Column("Pump", share=1.0),
        Column("Draws from", share=1.0),
        _column("Lift now", "distance"),
        _column("Lift, last water", "distance"),
        _column("May lift here", "distance"),
        _column("Greatest flow", "flow"),
        _column("Loses", "pressure"),
        _column("Suction head it has", "distance", 0.9),
        _column("Suction head it needs", "distance", 0.9),
        Column("Keeps its prime", share=1.0),
        _column("Stays in the tank", "volume"),
    )
    rows = tuple(_suction_row(job, one) for one in suctions)
    marks = tuple(_suction_mark(one) for one in suctions)
    note = (
        "Net positive suction head at the greatest flow, drawing the last water: air's pressure "
        "less the water's own, as heads, less lift and losses."
    )
    return Table("pump-suction", "Suction side", columns, rows, marks, note=note)


def _suction_row(job: Job, one: Suction) -> tuple[Cell, ...]:
    needs = one.required_m
    valve = ", foot or check valve" if one.foot_valve else ""
    return (
        _name(job, one.pump),
        _name(job, one.tank),
        _value(one.lift_m, "distance"),
        Value(one.last_lift_m, "distance", None, one.lift_here_m),
        _value(one.lift_here_m, "distance"),
        _value(one.flow, "flow"),
        _value(one.loss_pa, "pressure"),
        _value(one.available_m, "distance"),
        _value(needs, "distance") if needs is not None else "not stated",
        ("yes" if one.primed else "no") + valve,
        _value(one.left_behind, "volume"),
    )


def _suction_mark(one: Suction) -> str:
    short = one.required_m is not None and one.available_m < one.required_m
    return "stop" if not one.primed or short or one.last_lift_m > one.lift_here_m else "ok"


# --- curve ----------------------------------------------------------------------------------------


class _Curve:
    """Draws a graph into the box it is given, no wider than is good to read."""

    def __init__(self, graph: Graph) -> None:
        self.graph = graph

    def __call__(self, box: Box) -> Drawn:
        width = min(box.width, _WIDTH)
        return Drawn(graph_elements(self.graph, Box(box.x, box.y, width, box.height)))


def _graph(job: Job, duty: PumpDuty, role: Pump) -> Graph | None:
    curve = pump_curve(role)
    if curve is None:
        return None
    system = job.system
    top_pa = max(row.pressure.si for row in role.curve)
    pressures = [top_pa * step / _CURVE_STEPS for step in range(_CURVE_STEPS + 1)]
    line = tuple(
        (_number(flow, "flow", system), _number(one, "pressure", system))
        for one in pressures
        if (flow := curve.flow_at(one)) >= 0.0 and math.isfinite(flow)
    )
    levels = tuple(
        (f"{name} {show(at, 'pressure', system)}", _number(at, "pressure", system))
        for name, at in (("cut-in", duty.cut_in_pa), ("cut-out", duty.cut_out_pa))
    )
    spots = tuple(
        Spot(_number(flow, "flow", system), _number(pressure, "pressure", system), str(number))
        for number, point in enumerate(duty.points, 1)
        for flow, pressure in point.ends
    )
    return Graph(
        f"Flow, {unit_label('flow', system)}",
        f"Pressure added, {unit_label('pressure', system)}",
        line,
        levels,
        spots,
    )


def _number(si: float, dimension: str, system: UnitSystem) -> float:
    return float(show_plain(si, dimension, system, 4).replace(",", ""))
