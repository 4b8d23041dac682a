"""What to say about water that can come back into the line, carbonated water above all.

Carbonated water is sour enough to take copper up. So a double check valve with a vent between
its two checks stands before whatever carbonates, and no copper between the two.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from ..build import Appliance, CheckValve, Item, Mains, Tank, TubeRun
from ..limits.water_practice import water_practice
from ..network.results import Node
from ..units import Phrase
from .finding import Finding
from .water_words import PRACTICE, Place

_COPPER = ("copper", "brass")


@dataclass(slots=True)
class _Reached:
    """Everything that water from a carbonating inlet can get back to."""

    sources: list[str] = field(default_factory=list)
    """Ids of tanks and mains taps."""
    plain_checks: list[str] = field(default_factory=list)
    """Ids of check valves on the way that have no vent."""
    vented: list[str] = field(default_factory=list)
    copper: list[str] = field(default_factory=list)
    """Ids of tubes."""


def backflow_rules(place: Place) -> Iterator[Finding]:
    """Judge check valves that are stuck, and what stands before everything that carbonates."""
    for item in place.build.items:
        valve = item.specification.water
        if isinstance(valve, CheckValve) and valve.stuck_open:
            yield _stuck(item)
    rule = water_practice().carbonator_backflow
    if not rule.value:
        return
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Appliance) or not role.carbonates:
            continue
        nodes = [(item.id, inlet.port) for inlet in role.inlets]
        reached = _back(place, [node for node in nodes if place.connected(node)])
        if reached.sources:
            yield _unguarded(item, reached, place, rule.citation)
        if reached.copper:
            yield _copper(item, reached, place, rule.citation)


def _stuck(item: Item) -> Finding:
    return Finding(
        "care",
        "water.check-stuck",
        Phrase.of("{valve} is stuck open and lets water back", valve=item.name),
        Phrase.of("Take it out, look for dirt and scale on its seat, and clean or replace it."),
        (item.id,),
        source=PRACTICE,
    )


def _back(place: Place, start: list[Node]) -> _Reached:
    """Walk back from inlets, up to vented double checks.

    A plain check valve stops nothing here: it may leak, and nobody sees it.
    """
    found = _Reached()
    seen, queue = set(start), list(start)
    supply = place.network.supply
    while queue:
        node = queue.pop(0)
        role = place.role(node[0])
        if isinstance(role, Mains) or (isinstance(role, Tank) and role.contents == "fresh"):
            _add(found.sources, node[0])
            continue
        for _, other, data in supply.edges(node, data=True):
            run = data.get("run")
            if isinstance(run, TubeRun) and any(
                metal in run.tube.material.casefold() for metal in _COPPER
            ):
                _add(found.copper, run.id)
            if isinstance(inside := data.get("item"), Item):
                valve = inside.specification.water
                if isinstance(valve, CheckValve) and valve.vented and not valve.stuck_open:
                    _add(found.vented, inside.id)
                    continue
                if isinstance(valve, CheckValve):
                    _add(found.plain_checks, inside.id)
            if other not in seen:
                seen.add(other)
                queue.append(other)
    return found


def _add(ids: list[str], one: str) -> None:
    if one not in ids:
        ids.append(one)


def _unguarded(item: Item, reached: _Reached, place: Place, source: str) -> Finding:
    if reached.plain_checks:
        plain = place.name(reached.plain_checks[0])
        detail = Phrase.of(
            "{check} before it is no double check with a vent between: if it leaks, nobody sees "
            "it, and sour water gets back to the line. Put one with a vent there, after a screen "
            "of 100 mesh, and let its vent drip where it is seen.",
            check=plain,
        )
    elif reached.vented:
        detail = Phrase.of(
            "{check} guards one way only: its water can get back to {source} past it. Put a "
            "double check with a vent where both ways meet.",
            check=place.name(reached.vented[0]),
            source=place.name(reached.sources[0]),
        )
    else:
        detail = Phrase.of(
            "Its water can get back to {source}. Put a double check valve with a vent between "
            "before it, after a screen of 100 mesh, and let its vent drip where it is seen.",
            source=place.name(reached.sources[0]),
        )
    return Finding(
        "stop",
        "water.carbonator",
        Phrase.of("Before {item} there is no vented double check valve", item=item.name),
        detail,
        (item.id, *reached.plain_checks, *reached.vented),
        source=source,
    )


def _copper(item: Item, reached: _Reached, place: Place, source: str) -> Finding:
    several = f" and {len(reached.copper) - 1} more" if len(reached.copper) > 1 else ""
    return Finding(
        "stop",
        "water.carbonator-copper",
        Phrase.of("Carbonated water from {item} can get at copper", item=item.name),
        Phrase.of(
            "It takes copper up, which makes people sick. The {tube}{several} lies on the "
            "carbonator's side of the vented double check: take plastic or stainless tube there, "
            "or set the valve behind all copper.",
            tube=place.tube_name(reached.copper[0]),
            several=several,
        ),
        (item.id,),
        tuple(reached.copper),
        source=source,
    )
