"""A pump's curve with its working points, and what its vessel holds: prepared values."""

import math
from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Accumulator, Item, Pump
from ...units import UnitSystem, show, show_plain
from ...units.display import unit_label
from ...water import pump_curve
from ...water.properties import air_pressure_pa
from ...water.pump_results import DutyPoint, PumpDuty
from ...water.results import ALL_OPEN
from ..charts import Chart, Curve, Level, Spot

_STEPS = 40


@dataclass(frozen=True, slots=True)
class Vessel:
    """An accumulator at both ends of its pump's range."""

    name: str
    low_water_share: float
    """Of the whole vessel, at cut-in."""
    high_water_share: float
    """At cut-out."""
    low: str
    high: str
    """Pressures."""
    low_water: str
    high_water: str
    useful: str
    pre_charge: str
    whole: str

    @property
    def spoken(self) -> str:
        """The picture as text, for screen readers."""
        return (
            f"{self.name}, {self.whole}, air at {self.pre_charge} when empty. "
            f"At cut-in, {self.low}: {self.low_water} of water. "
            f"At cut-out, {self.high}: {self.high_water} of water. "
            f"Gives {self.useful} between the two."
        )


def duty_of(analysis: Analysis, item_id: str) -> PumpDuty | None:
    """What a pump does, or what the pump of an accumulator does."""
    for duty in analysis.water.duties:
        if item_id in (duty.item, duty.accumulator):
            return duty
    return None


def pump_chart(analysis: Analysis, item: Item, case: str, system: UnitSystem) -> Chart | None:
    """The curve with a point for each case; None where the pump has no curve."""
    role = item.specification.water
    curve = pump_curve(role) if isinstance(role, Pump) else None
    if not isinstance(role, Pump) or curve is None:
        return None
    top_pa = max(row.pressure.si for row in role.curve)
    pressures = [top_pa * step / _STEPS for step in range(_STEPS + 1)]
    line = tuple(
        _point(flow, one, system)
        for one in pressures
        if (flow := curve.flow_at(one)) >= 0.0 and math.isfinite(flow)
    )
    duty = duty_of(analysis, item.id)
    points = duty.points if duty is not None else ()
    told = {duty.worst_case, ALL_OPEN, case} if duty is not None else set()
    return Chart(
        f"Curve of {item.name}",
        f"Flow, {unit_label('flow', system)}",
        f"Pressure added, {unit_label('pressure', system)}",
        curves=(Curve("Curve", line, strong=True), *_ranges(points, case, system)),
        levels=(
            _level("cut-out", role.cut_out.si, system),
            _level("cut-in", role.cut_in.si, system),
        ),
        spots=_spots(points, told, system),
        remark="Where it cycles, a point at cut-in and one at cut-out. What the suction side "
        "takes, it adds besides."
        if points
        else "Nothing is drawn through it as drawn.",
    )


def _level(name: str, pressure_pa: float, system: UnitSystem) -> Level:
    shown = show(pressure_pa, "pressure", system)
    return Level(f"{name} {shown}", _number(pressure_pa, "pressure", system))


def _number(si: float, dimension: str, system: UnitSystem) -> float:
    return float(show_plain(si, dimension, system, 4).replace(",", ""))


def _point(flow: float, pressure_pa: float, system: UnitSystem) -> tuple[float, float]:
    return _number(flow, "flow", system), _number(pressure_pa, "pressure", system)


def _ranges(points: tuple[DutyPoint, ...], case: str, system: UnitSystem) -> tuple[Curve, ...]:
    """The part of the curve that the case looked at goes up and down."""
    return tuple(
        Curve(one.case, tuple(_point(*end, system) for end in one.ends))
        for one in points
        if one.case == case and len(one.ends) > 1
    )


def _spots(points: tuple[DutyPoint, ...], told: set[str], system: UnitSystem) -> tuple[Spot, ...]:
    """Points in the order of their flow, so that the arrows walk along the curve."""
    found = []
    for point in points:
        for at, (flow, pressure_pa) in enumerate(point.ends):
            x, y = _point(flow, pressure_pa, system)
            # Of the two ends of a range one name is enough.
            labelled = point.case in told and at == len(point.ends) - 1
            found.append(
                Spot(point.case, x, y, _tip(point, flow, pressure_pa, at, system), labelled)
            )
    return tuple(sorted(found, key=lambda one: one.x))


def _tip(point: DutyPoint, flow: float, pressure_pa: float, at: int, system: UnitSystem) -> str:
    end = "" if not point.cycles else ", at cut-in" if at == 0 else ", at cut-out"
    words = [
        f"{point.case}{end}",
        f"{show(flow, 'flow', system)} at {show(pressure_pa, 'pressure', system)} added",
    ]
    if point.cycles:
        words.append(f"{show(point.demand, 'flow', system)} drawn, {cycle_words(point, system)}")
    else:
        words.append("runs without a stop")
    if point.current_a is not None:
        words.append(f"takes up to {show(point.current_a, 'current', system)}")
    return "\n".join(words)


def cycle_words(point: DutyPoint, system: UnitSystem) -> str:
    """Such as "on 4.1 s, off 2.0 s, 590 starts an hour"."""
    if not point.cycles or not math.isfinite(point.on_s + point.off_s):
        return "runs without a stop"
    on, off = show(point.on_s, "seconds", system), show(point.off_s, "seconds", system)
    return f"on {on}, off {off}, {point.starts_per_hour:.0f} starts an hour"


def vessel_of(analysis: Analysis, item: Item, system: UnitSystem) -> Vessel | None:
    """The vessel of a pump, or this one, at both ends of the pump's range."""
    duty = duty_of(analysis, item.id)
    held = analysis.build.item(duty.accumulator) if duty and duty.accumulator else None
    role = held.specification.water if held is not None else None
    if duty is None or held is None or not isinstance(role, Accumulator):
        return None
    air_pa = air_pressure_pa(analysis.build.venue.altitude_m)
    whole = role.volume.si
    low, high = (
        _water(role, pressure_pa, air_pa) for pressure_pa in (duty.cut_in_pa, duty.cut_out_pa)
    )
    return Vessel(
        name=held.name,
        low_water_share=low / whole if whole > 0.0 else 0.0,
        high_water_share=high / whole if whole > 0.0 else 0.0,
        low=show(duty.cut_in_pa, "pressure", system),
        high=show(duty.cut_out_pa, "pressure", system),
        low_water=show(low, "small volume", system, 0),
        high_water=show(high, "small volume", system, 0),
        useful=show(duty.useful_volume, "small volume", system, 0),
        pre_charge=show(role.pre_charge.si, "pressure", system),
        whole=show(whole, "small volume", system, 0),
    )


def _water(role: Accumulator, pressure_pa: float, air_pa: float) -> float:
    """Water in the vessel at a gauge pressure [m3]; its air goes by Boyle."""
    absolute = pressure_pa + air_pa
    cushion = role.pre_charge.si + air_pa
    if absolute <= 0.0 or absolute <= cushion:
        return 0.0
    return role.volume.si * (1.0 - cushion / absolute)
