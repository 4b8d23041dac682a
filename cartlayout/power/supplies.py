"""What generators and batteries on board can give, and for how long."""

import math
from collections.abc import Iterator

from ..build import Battery, Build, Generator, Item, Venue
from ..limits.derating import derating
from ..units import Phrase, Value
from .limits_check import PRACTICE, holds
from .loads import start_watts
from .placed import PlacedLoad
from .results import Limit
from .starts import supply_starts
from .totals import Totals
from .working import amps

_HALF = 0.5


def derated_share(role: Generator, venue: Venue) -> tuple[float, tuple[Phrase, ...], str]:
    """What is left of a generator's rating where it stands, how that comes about, and the source.

    Both losses are taken off the rating one after the other. Never below 0.
    """
    losses = derating()
    high_m = max(venue.altitude_m - role.rated_altitude.si, 0.0)
    hot_k = max(venue.ambient.si - role.rated_ambient.si, 0.0)
    thin = max(1.0 - losses.altitude.per_m * high_m, 0.0)
    warm = max(1.0 - losses.heat.per_k * hot_k, 0.0)
    lines, sources = [], []
    if thin < 1.0:
        lines.append(
            Phrase.of(
                "{height} above the {base} it is rated up to: {share} left",
                height=Value(high_m, "distance"),
                base=Value(role.rated_altitude.si, "distance"),
                share=Value(thin, "percent"),
            )
        )
        sources.append(losses.altitude.citation)
    if warm < 1.0:
        lines.append(
            Phrase.of(
                "{now} around it, rated up to {base}: {share} left",
                now=Value(venue.ambient.si, "temperature"),
                base=Value(role.rated_ambient.si, "temperature"),
                share=Value(warm, "percent"),
            )
        )
        sources.append(losses.heat.citation)
    return thin * warm, tuple(lines), "; ".join(sources)


def leg_limit_a(role: Generator, venue: Venue, legs: int, leg_v: float) -> float:
    """Amps that a leg of a generator may carry where it stands; 0 where that is not known."""
    share = derated_share(role, venue)[0]
    if role.full_power is True or legs < 2:
        return share * role.running.si / leg_v if leg_v > 0.0 else 0.0
    if role.leg_current is not None:
        return share * role.leg_current.si
    return share * role.running.si / role.voltage.si if role.voltage.si > 0.0 else 0.0


def fuel_hours(role: Generator, running_w: float) -> float | None:
    """Hours that the fuel lasts at a load; None where nothing is known of it.

    Between half and full load, and below, along the straight line through both points; with
    only one of them known, by that one, which is the safe side below it.
    """
    if role.fuel is None or role.running.si <= 0.0:
        return None
    full = role.burn_full.si if role.burn_full is not None else None
    half = role.burn_half.si if role.burn_half is not None else None
    share = running_w / role.running.si
    if full is not None and half is not None:
        burn = half + (full - half) * (share - _HALF) / (1.0 - _HALF)
    else:
        burn = full if full is not None else half or 0.0
    return role.fuel.si / burn / 3600.0 if burn > 0.0 else None


def supply_limits(
    build: Build, item: Item, meter: int, behind: list[PlacedLoad], totals: Totals
) -> Iterator[tuple[str, Limit]]:
    """(item id, limit) of a generator or a battery with everything on."""
    role = item.specification.electrical
    if not isinstance(role, (Generator, Battery)):
        return
    running_w = totals.watts[meter]
    thin_air: tuple[Phrase, ...] = ()
    left, by = 1.0, ""
    if isinstance(role, Generator):
        left, thin_air, by = derated_share(role, build.venue)
    source = f"nameplate; {by}" if by else "nameplate"
    may_w, may_surge_w = left * role.running.si, left * role.surge.si
    heaviest = sorted(behind, key=lambda one: -one.model.rated_w * one.parts)
    ids = tuple(dict.fromkeys(load.item.id for load in heaviest))
    name = "generator" if isinstance(role, Generator) else "inverter"
    lines = tuple(
        Phrase.of(
            "{name}: {watts}",
            name=load.item.name,
            watts=Value(load.parts * load.model.watts(load.volts), "power"),
        )
        for load in behind
        if load.part == 0
    )
    yield (
        item.id,
        Limit(
            name,
            running_w,
            may_w,
            "power",
            "running watts together",
            source,
            holds(running_w, may_w),
            working=(*lines, *thin_air),
            items=ids,
        ),
    )
    extra_w, starter = max(
        (
            (load.parts * (start_watts(load.load, load.model) - load.model.rated_w), load)
            for load in behind
            if load.part == 0
        ),
        key=lambda one: one[0],
        default=(0.0, None),
    )
    surge_w = running_w + extra_w
    if starter is not None and extra_w > 0:
        lines = (
            *lines,
            Phrase.of(
                "{name} starts: {extra} more",
                name=starter.item.name,
                extra=Value(extra_w, "power"),
            ),
        )
    yield (
        item.id,
        Limit(
            "surge",
            surge_w,
            may_surge_w,
            "power",
            "running watts plus the largest start, one motor starting at a time",
            f"{source}; generator sizing practice of makers' manuals",
            holds(surge_w, may_surge_w),
            working=(*lines, *thin_air),
            items=(starter.item.id,) if starter is not None and extra_w > 0 else (),
        ),
    )
    for one in supply_starts(behind, running_w, may_surge_w, source):
        yield item.id, one
    if isinstance(role, Generator):
        yield from _legs(build, item, role, meter, behind, totals)
        yield from _fuel(build, item, role, totals.taken_w[meter])
    else:
        yield from _energy(build, item, role, totals.taken_w[meter])
        yield from _discharge(item, role, totals.taken_w[meter])


def _legs(
    build: Build, item: Item, role: Generator, meter: int, behind: list[PlacedLoad], totals: Totals
) -> Iterator[tuple[str, Limit]]:
    row = totals.conductors[meter][:-1]
    if len(row) < 2 and (role.leg_current is None or role.full_power is True):
        return  # one leg without a limit of its own is held by the running watts
    limit_a = leg_limit_a(role, build.venue, len(row), 0.0)
    if len(row) < 2 and role.leg_current is not None:
        limit_a = derated_share(role, build.venue)[0] * role.leg_current.si
    worst = max(range(len(row)), key=lambda leg: row[leg])
    on_leg = [load for load in behind if worst in (load.draw.p, load.draw.q)]
    on_leg.sort(key=lambda load: -load.model.rated_amps)
    yield (
        item.id,
        Limit(
            "leg",
            row[worst],
            limit_a,
            "current",
            "each leg of a generator carries no more than its share",
            "nameplate",
            holds(row[worst], limit_a),
            "" if role.leg_current is not None else "running watts spread evenly over the legs",
            tuple(
                Phrase.of("{leg}: {amps}", leg=leg_name, amps=amps(current))
                for leg_name, current in zip(_leg_names(behind, row), row, strict=True)
            ),
            tuple(load.item.id for load in on_leg),
        ),
    )


def _leg_names(behind: list[PlacedLoad], row: tuple[float, ...]) -> tuple[str, ...]:
    if behind:
        return behind[0].source.names[:-1]
    return tuple(f"L{number}" for number in range(1, len(row) + 1))


def battery_hours(role: Battery, running_w: float) -> float:
    """Hours that a battery carries a load; infinite if nothing draws.

    Usable energy is nominal energy times the usable share times the
    inverter's efficiency; the inverter's idle draw comes on top of the load.
    """
    usable_wh = role.energy.si / 3600.0 * role.usable_share * role.efficiency
    drawn_w = running_w + role.idle.si
    return usable_wh / drawn_w if drawn_w > 0 else float("inf")


def _fuel(
    build: Build, item: Item, role: Generator, running_w: float
) -> Iterator[tuple[str, Limit]]:
    hours = fuel_hours(role, running_w)
    if hours is None:
        return
    service_s = build.service.hours.si
    yield (
        item.id,
        Limit(
            "fuel",
            service_s,
            hours * 3600.0,
            "duration",
            "the fuel lasts the service with everything on",
            "nameplate; straight line through the burn at half and at full load",
            holds(service_s, hours * 3600.0),
            "everything is taken to be on for the whole service",
        ),
    )


def discharge_w(role: Battery, running_w: float) -> float:
    """Watts that a battery itself gives for a load behind its inverter."""
    share = role.efficiency if role.efficiency > 0.0 else 1.0
    return running_w / share + role.idle.si


def most_behind_w(role: Battery) -> float:
    """Watts behind its inverter at which a battery gives its greatest discharge; else infinite."""
    if role.greatest_discharge is None:
        return math.inf
    share = role.efficiency if role.efficiency > 0.0 else 1.0
    return max(role.greatest_discharge.si - role.idle.si, 0.0) * share


def _discharge(item: Item, role: Battery, running_w: float) -> Iterator[tuple[str, Limit]]:
    if role.greatest_discharge is None:
        return
    given_w = discharge_w(role, running_w)
    most_w = role.greatest_discharge.si
    yield (
        item.id,
        Limit(
            "discharge",
            given_w,
            most_w,
            "power",
            "the battery itself gives no more than its greatest discharge",
            "nameplate",
            holds(given_w, most_w),
            working=(
                Phrase.of(
                    "{load} / {efficiency} + {idle} idle = {given}",
                    load=Value(running_w, "power"),
                    efficiency=Value(role.efficiency, "number"),
                    idle=Value(role.idle.si, "power"),
                    given=Value(given_w, "power"),
                ),
            ),
            grows=1.0 / role.efficiency if role.efficiency > 0.0 else 1.0,
        ),
    )


def _energy(
    build: Build, item: Item, role: Battery, running_w: float
) -> Iterator[tuple[str, Limit]]:
    usable_j = role.energy.si * role.usable_share * role.efficiency
    needed_j = (running_w + role.idle.si) * build.service.hours.si
    yield (
        item.id,
        Limit(
            "battery energy",
            needed_j,
            usable_j,
            "energy",
            "energy for the whole service with everything on all the time",
            PRACTICE,
            holds(needed_j, usable_j),
            "everything is taken to be on for the whole service",
            (
                Phrase.of(
                    "usable {usable} = {energy} x {share} x {efficiency}",
                    usable=Value(usable_j, "energy"),
                    energy=Value(role.energy.si, "energy"),
                    share=Value(role.usable_share, "number"),
                    efficiency=Value(role.efficiency, "number"),
                ),
                Phrase.of(
                    "needed {needed} = {load} for {time}",
                    needed=Value(needed_j, "energy"),
                    load=Value(running_w + role.idle.si, "power"),
                    time=Value(build.service.hours.si, "duration"),
                ),
            ),
        ),
    )
