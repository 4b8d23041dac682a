"""Everything on the cart that holds water: how much, and how low it lies. SI throughout."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ....analysis import Analysis
from ....body.weights import WATER_KG_M3
from ....build import (
    VENUE,
    Accumulator,
    Appliance,
    DrainPump,
    Filter,
    Heater,
    Item,
    Pump,
    Tank,
    TubeRun,
)
from ....network.results import Route
from ....water.accumulator import useful_volume_m3
from ....water.properties import air_pressure_pa

_BY_HAND = ("kettle", "coffee urn")
"""Kinds that are filled by hand and have no part in the water side."""
_DIP_M = 0.005
"""A bow less deep than that is how a tube lies (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Holding:
    """A part that holds water."""

    id: str
    name: str
    kind: str
    volume: float | None
    """m3 at the most; None: nobody knows."""
    low_m: float
    """Height of its lowest place above the floor."""
    basis: str
    """On what the volume rests."""
    how: str
    """How it is emptied."""
    dip_m: float = 0.0
    """Of a tube: how far it hangs below the lower of its ends, or of where its water goes."""


def holding_items(analysis: Analysis) -> tuple[Holding, ...]:
    """Vessels, appliances, filters: the lowest first."""
    found = [
        one for item in analysis.build.items if item.level != VENUE
        if (one := _item(analysis, item)) is not None
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda one: (one.low_m, one.name)))


def holding_tubes(analysis: Analysis) -> tuple[Holding, ...]:
    """Supply and drain tubes: the lowest first."""
    found = [_tube(analysis, run) for run in analysis.build.tubes]
    return tuple(sorted(found, key=lambda one: (one.low_m, one.name)))


# --- items --------------------------------------------------------------------------------------


def _item(analysis: Analysis, item: Item) -> Holding | None:
    """None where it holds no water worth a line: a tee, a gauge, a valve."""
    made = item.specification
    found = _volume(analysis, item)
    if found is None:
        return None
    volume, basis, how = found
    heights = [
        analysis.network.heights_m[item.id, port.id]
        for port in made.ports
        if port.medium in ("water", "drain") and (item.id, port.id) in analysis.network.heights_m
    ]
    solid = analysis.body.solids.get(item.id)
    if solid is not None:
        heights.append(solid.load.z_m - made.size.height.si / 2)
    low_m = min(heights, default=0.0)
    return Holding(item.id, item.name, made.kind, volume, low_m, basis, how)


def _volume(analysis: Analysis, item: Item) -> tuple[float | None, str, str] | None:
    match item.specification.water:
        case Tank() as tank:
            what = "rinse it" if tank.contents == "fresh" else "empty it where waste may go"
            return tank.volume.si, "its volume", f"{what}, leave it open to dry"
        case Accumulator() as vessel:
            return _in_vessel(analysis, item, vessel), *_VESSEL
        case Filter():
            return _by_mass(item), _basis(item), "shut before and after it, open its housing"
        case Heater():
            return _by_mass(item), _basis(item), "power off and cooled down first, then its drain"
        case DrainPump() as pump:
            return pump.sump.si, "its sump", "run it until it draws air; unplugged, tip it out"
        case Pump():
            return _by_mass(item), _basis(item), _PUMP
        case Appliance() as appliance:
            return _appliance(item, appliance)
        case None if item.specification.kind in _BY_HAND:
            return _by_mass(item), _basis(item), "unplugged and cooled down, pour it out"
        case _:
            return None


_PUMP = "unplugged: take both tubes off it, tip it until nothing comes out of its head"
_VESSEL = (
    "its volume and pre-charge, at cut-out",
    "pump off, a tap open: its air pushes the water out",
)


def _appliance(item: Item, role: Appliance) -> tuple[float | None, str, str] | None:
    if role.reservoir is not None and role.feed == "own reservoir":
        return role.reservoir.si, "its reservoir", "unplugged and cooled down, as its maker says"
    volume = _by_mass(item)
    if volume is None and item.specification.electrical is None:
        return None  # a faucet or a rinser: it runs out by itself
    return volume, _basis(item), "unplugged and cooled down, as its maker says"


def _by_mass(item: Item) -> float | None:
    made = item.specification
    if made.mass_full is None or made.mass_full.si <= made.mass.si:
        return None
    return (made.mass_full.si - made.mass.si) / WATER_KG_M3


def _basis(item: Item) -> str:
    return "its mass full and empty" if _by_mass(item) is not None else "not stated"


def _in_vessel(analysis: Analysis, item: Item, vessel: Accumulator) -> float:
    """What stands in it while the line is at its highest."""
    highest = max(
        (duty.cut_out_pa for duty in analysis.water.duties if item.id in duty.vessels),
        default=0.0,
    )
    air_pa = air_pressure_pa(analysis.build.venue.altitude_m)
    charge_pa = vessel.pre_charge.si
    return useful_volume_m3(vessel.volume.si, charge_pa, charge_pa, highest, air_pa)


# --- tubes ----------------------------------------------------------------------------------------


def _tube(analysis: Analysis, run: TubeRun) -> Holding:
    build = analysis.build
    ends = [build.item(end.item) for end in (run.a, run.b) if end is not None]
    names = [one.name if one is not None else "?" for one in ends]
    route = analysis.network.routes.get(run.id)
    length = run.length.si if run.length is not None else route.length_m if route else None
    volume = math.pi / 4 * run.tube.bore.si**2 * length if length is not None else None
    drain = next((one for one in analysis.water.drains if one.run == run.id), None)
    dip_m = _dip_m(route) if route is not None else 0.0
    if drain is not None:
        dip_m = max((one.rise_m for one in drain.low_points), default=0.0)
    how = "runs out once both ends are open"
    if dip_m > _DIP_M:
        how = "does not run out: take an end off, or blow it out"
    return Holding(
        id=run.id,
        name=" to ".join(names) if len(names) == 2 else f"{names[0]}, free end",
        kind=run.tube.name,
        volume=volume,
        low_m=_lowest_m(analysis, run, route),
        basis="bore and length",
        how=how,
        dip_m=dip_m if dip_m > _DIP_M else 0.0,
    )


def _lowest_m(analysis: Analysis, run: TubeRun, route: Route | None) -> float:
    if route is not None and route.points:
        return min(z for _, _, z in route.points)
    return analysis.network.heights_m.get((run.a.item, run.a.port), 0.0)


def _dip_m(route: Route) -> float:
    """How far a way hangs below the lower of its ends."""
    heights = [z for _, _, z in route.points]
    return max(min(heights[0], heights[-1]) - min(heights), 0.0) if heights else 0.0


def total(holdings: tuple[Holding, ...]) -> float:
    """All that is known of them [m3]."""
    return sum(one.volume for one in holdings if one.volume is not None)


def unknown(holdings: tuple[Holding, ...]) -> Iterator[str]:
    """Names of those nobody knows about."""
    return (one.name for one in holdings if one.volume is None)
