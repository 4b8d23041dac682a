"""The limits of everything that is no circuit: cords, plugs, strips, boxes, supplies, volts."""

from collections.abc import Iterator

from ..build import Box, Build, Extension, Item, Strip
from ..limits import CordRating, Profile, ampacity, power_connector
from ..network.results import Node
from ..units import Phrase, Value
from .cord_protection import protection_limit
from .limits_check import PRACTICE, holds
from .placed import PlacedLoad, PlacedWire, PowerTree
from .results import Limit
from .supplies import supply_limits
from .sweep import Flow
from .totals import Totals
from .working import amps

_ZERO_CELSIUS_K = 273.15
_USUAL_RANGE = 0.10
"""Taken either side of the rated voltage where a nameplate gives no range."""


def equipment_limits(
    build: Build, tree: PowerTree, totals: Totals, flow: Flow, profile: Profile
) -> Iterator[tuple[str, Limit]]:
    """(item or run id, limit) with everything on, in the order of the build."""
    items = {item.id: item for item in build.items}
    for placed in tree.wires:
        yield from _wire(build, tree, placed, totals, profile)
    for index, meter in enumerate(tree.meters):
        item = items.get(meter.key)
        if item is None:
            continue
        if meter.kind in ("strip", "extension", "main"):
            yield from _pass_on(item, totals.heaviest(index))
        elif meter.kind == "supply":
            behind = tree.behind(index)
            yield from supply_limits(build, item, index, behind, totals)
    worst: dict[str, tuple[PlacedLoad, float]] = {}
    for load, volts in zip(tree.loads, flow.load_v, strict=True):
        known = worst.get(load.item.id)
        if known is None or abs(volts) < known[1]:
            worst[load.item.id] = load, abs(volts)
    for load, part_v in worst.values():
        yield from _voltage(load, part_v * load.across, profile)


# --- cords, plugs, receptacles ---------------------------------------------------------------


def cord_rating(build: Build, placed: PlacedWire) -> CordRating | None:
    """What a wire's cord may carry, or None where nobody knows what cord it is."""
    if placed.cord is None:
        return None
    loaded = placed.cord.loaded_conductors
    legs = placed.legs
    if len(legs) > 1 and abs(sum(placed.source.volts[leg] for leg in legs)) > 1.0:
        loaded = max(loaded, 3)  # two legs of a wye: their neutral is loaded like a leg
    return ampacity(placed.cord.size, loaded, round(build.venue.ambient.si - _ZERO_CELSIUS_K, 1))


def _wire(
    build: Build, tree: PowerTree, placed: PlacedWire, totals: Totals, profile: Profile
) -> Iterator[tuple[str, Limit]]:
    carried = max(totals.conductors[placed.meter], default=0.0)
    rating = cord_rating(build, placed)
    if rating is not None:
        yield (
            placed.wire.id,
            Limit(
                "cord",
                carried,
                rating.amps,
                "current",
                "a flexible cord carries no more than its ampacity",
                rating.source,
                holds(carried, rating.amps),
                working=(
                    Phrase.of(
                        "carries {amps}; {rating}",
                        amps=amps(carried),
                        rating=rating.working,
                    ),
                ),
                items=(placed.plug[0].id,),
                run=placed.wire.id,
            ),
        )
        yield from protection_limit(build, tree, placed, rating, profile)
    plug = power_connector(placed.plug[1].connector)
    if plug is not None and plug.amps is not None:
        yield (
            placed.plug[0].id,
            Limit(
                "plug",
                carried,
                plug.amps,
                "current",
                f"the {plug.key} is rated {plug.amps:g} A",
                plug.citation,
                holds(carried, plug.amps),
                run=placed.wire.id,
            ),
        )
    yield from _receptacle(tree, placed, carried, profile)


def _receptacle(
    tree: PowerTree, placed: PlacedWire, carried: float, profile: Profile
) -> Iterator[tuple[str, Limit]]:
    item, port = placed.receptacle
    connector = power_connector(port.connector)
    if connector is None or connector.amps is None:
        return
    limit_a, source = connector.amps, connector.citation
    rule = f"the {connector.key} is rated {connector.amps:g} A"
    behind = tree.behind(placed.meter)
    draft = tree.draft(placed.circuit)
    node: Node = (item.id, port.id)
    if draft is not None and draft.kind != "supply" and draft.several and len(behind) > 1:
        row = profile.receptacle_load(draft.rating_a, connector.amps)
        if row is not None and node in draft.receptacles and row.greatest_load_a < limit_a:
            limit_a, source = row.greatest_load_a, row.citation
            rule = "plug-in load of one receptacle on a circuit with several"
    yield (
        item.id,
        Limit(
            "receptacle",
            carried,
            limit_a,
            "current",
            rule,
            source,
            holds(carried, limit_a),
            items=tuple(load.item.id for load in behind),
            run=placed.wire.id,
        ),
    )


def _pass_on(item: Item, carried: float) -> Iterator[tuple[str, Limit]]:
    role = item.specification.electrical
    if isinstance(role, Strip):
        yield item.id, _rated("strip", carried, role.rating.si, "all that is on a strip together")
    elif isinstance(role, Extension):
        yield item.id, _rated("extension", carried, role.rating.si, "an extension cord's rating")
    elif isinstance(role, Box) and role.main is not None:
        yield item.id, _rated("main", carried, role.main.si, "the main breaker of the box")


def _rated(name: str, value: float, limit: float, rule: str) -> Limit:
    return Limit(name, value, limit, "current", rule, "nameplate", holds(value, limit))


# --- volts -----------------------------------------------------------------------------------


def voltage_range_v(load: PlacedLoad) -> tuple[float, float, bool]:
    """Least and greatest voltage at an appliance, and whether its nameplate gives both."""
    role = load.load
    low = role.lowest_voltage.si if role.lowest_voltage else role.voltage.si * (1 - _USUAL_RANGE)
    high = role.highest_voltage.si if role.highest_voltage else role.voltage.si * (1 + _USUAL_RANGE)
    return low, high, role.lowest_voltage is not None and role.highest_voltage is not None


def _voltage(load: PlacedLoad, volts: float, profile: Profile) -> Iterator[tuple[str, Limit]]:
    low, high, given = voltage_range_v(load)
    supply = abs(load.volts) * load.across
    within = low * (2 - 1.0005) <= volts <= high * 1.0005
    yield (
        load.item.id,
        Limit(
            "voltage",
            volts,
            high if volts > load.load.voltage.si else low,
            "voltage",
            "the voltage at an appliance stays in its own range",
            "nameplate" if given else PRACTICE,
            within,
            "" if given else "10 % either side of its rated voltage",
            (
                Phrase.of(
                    "{supply} at the supply less {drop} on the way = {volts}",
                    supply=Value(supply, "voltage"),
                    drop=Value(supply - volts, "voltage", 2),
                    volts=Value(volts, "voltage"),
                ),
            ),
        ),
    )
    share = (supply - volts) / supply if supply else 0.0
    advice = profile.drop_branch_share
    if share > profile.drop_total_share.value:
        advice = profile.drop_total_share
    yield (
        load.item.id,
        Limit(
            "drop",
            share,
            advice.value,
            "percent",
            advice.rule,
            advice.citation,
            share <= advice.value,
            working=(
                Phrase.of(
                    "{supply} - {volts} = {drop}, out and back",
                    supply=Value(supply, "voltage"),
                    volts=Value(volts, "voltage"),
                    drop=Value(supply - volts, "voltage", 2),
                ),
            ),
        ),
    )
