"""The accumulator that goes with a pump: what the line has, charged anew, or one of the stock."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from msgspec.structs import replace

from ..analysis import Analysis, analyse
from ..build import Accumulator, Build, End, Item, Pump
from ..build.edits import EditError, replace_item
from ..limits.water_practice import water_practice
from ..network.replace import replace_with
from ..stock import StockEntry, stock
from ..units import Pressure
from ..water.pump_results import PumpDuty
from .inserting import insert


@dataclass(frozen=True, slots=True)
class Cushion:
    """The accumulator that goes with a pump."""

    key: str
    """In the stock; empty where the one in the build is kept."""
    name: str
    item: str
    """Id in the build that was tried."""
    volume: float
    """Whole vessel [m3]."""
    pre_charge_pa: float
    useful_volume: float
    """Between the pump's cut-in and cut-out [m3]."""
    shortest_run_s: float
    starts_per_hour: float
    """At the worst draw there could be."""
    enough: bool
    """It keeps the pump from starting too often and too briefly."""


def pre_charge_pa(role: Pump) -> float:
    """What to charge a vessel to: a little below the cut-in."""
    below_pa = water_practice().pre_charge_below_cut_in_pa.value
    return max(min(role.cut_in.si, role.cut_out.si) - below_pa, 0.0)


def is_calm(role: Pump, duty: PumpDuty) -> bool:
    """Whether a pump runs long enough at each start, and starts no more often than it may."""
    if duty.shortest_run_s < water_practice().shortest_run_s.value:
        return False
    most = role.starts_per_hour
    return most is None or duty.most_starts_per_hour <= most


def cushioned(tried: Analysis, pump_id: str) -> tuple[Analysis, Cushion | None]:
    """A build with the vessel that its pump wants, and what that vessel does.

    A pump that is calm with nothing but the tubes gets none. The vessel of the line is charged for
    the pump; where it is too small the smallest of the stock that is not takes its place. Where
    there is none, one is put in behind the pump.
    """
    duty, role = _duty(tried, pump_id), _role(tried.build, pump_id)
    if duty is None or role is None or (duty.accumulator is None and is_calm(role, duty)):
        return tried, None
    best: tuple[Analysis, Cushion] | None = None
    for build, item_id, key in _vessels(tried.build, pump_id, duty):
        charged = _charged(build, item_id, role)
        trial = analyse(charged, tried)
        told = _told(trial, pump_id, item_id, key)
        if told is None:
            continue
        if best is None or told.shortest_run_s > best[1].shortest_run_s:
            best = trial, told
        if told.enough:
            break
    return best or (tried, None)


def _vessels(build: Build, pump_id: str, duty: PumpDuty) -> Iterator[tuple[Build, str, str]]:
    """Builds with a vessel, its id and its key in the stock: what is there first, then larger."""
    there = build.item(duty.accumulator) if duty.accumulator is not None else None
    volume = 0.0
    if there is not None:
        volume = _volume(there)
        yield build, there.id, ""
    outlet = _outlet(build, pump_id)
    for entry in _by_size(build):
        if entry.specification is None or _size(entry) <= volume:
            continue
        try:
            if there is not None:
                replaced = replace_with(build, there.id, entry)
                if not replaced.of("dropped"):
                    yield replaced.build, there.id, entry.key
            elif outlet is not None:
                inserted, item_id = insert(build, outlet, entry)
                yield inserted, item_id, entry.key
        except EditError:
            continue


def _by_size(build: Build) -> list[StockEntry]:
    vessels = [
        one
        for one in stock()
        if one.specification is not None
        and isinstance(one.specification.water, Accumulator)
        and (not one.regions or build.region in one.regions)
    ]
    return sorted(vessels, key=_size)


def _size(entry: StockEntry) -> float:
    role = entry.specification.water if entry.specification is not None else None
    return role.volume.si if isinstance(role, Accumulator) else math.inf


def _volume(item: Item) -> float:
    role = item.specification.water
    return role.volume.si if isinstance(role, Accumulator) else 0.0


def _outlet(build: Build, pump_id: str) -> End | None:
    item = build.item(pump_id)
    ports = item.specification.ports if item is not None else ()
    return next(
        (End(pump_id, one.id) for one in ports if (one.medium, one.direction) == ("water", "out")),
        None,
    )


def _charged(build: Build, item_id: str, pump: Pump) -> Build:
    item = build.item(item_id)
    role = item.specification.water if item is not None else None
    if item is None or not isinstance(role, Accumulator):
        return build
    unit = "psi" if build.units == "US" else "bar"
    charge = Pressure.from_si(pre_charge_pa(pump), unit, 0 if unit == "psi" else 1)
    specification = replace(item.specification, water=replace(role, pre_charge=charge))
    return replace_item(build, replace(item, specification=specification))


def _duty(tried: Analysis, pump_id: str) -> PumpDuty | None:
    return next((one for one in tried.water.duties if one.item == pump_id), None)


def _role(build: Build, item_id: str) -> Pump | None:
    item = build.item(item_id)
    role = item.specification.water if item is not None else None
    return role if isinstance(role, Pump) else None


def _told(trial: Analysis, pump_id: str, item_id: str, key: str) -> Cushion | None:
    duty, pump, item = _duty(trial, pump_id), _role(trial.build, pump_id), trial.build.item(item_id)
    role = item.specification.water if item is not None else None
    if duty is None or pump is None or item is None or not isinstance(role, Accumulator):
        return None
    return Cushion(
        key=key,
        name=item.name if not key else item.specification.name,
        item=item_id,
        volume=role.volume.si,
        pre_charge_pa=role.pre_charge.si,
        useful_volume=duty.useful_volume,
        shortest_run_s=duty.shortest_run_s,
        starts_per_hour=duty.most_starts_per_hour,
        enough=is_calm(pump, duty),
    )
