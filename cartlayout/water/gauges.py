"""What every gauge should show, beside what somebody read off it.

A needle that goes to and fro with a pump is right anywhere between cut-in and cut-out, and a
gauge is only as good as its class: a share of its full scale, wherever the needle stands.
"""

from collections.abc import Iterable, Iterator, Sequence

from ..build import Build, Gauge, Item
from ..limits.water_practice import water_practice
from ..network.results import Node
from .gauge_results import GaugeReading, GaugeState
from .hydraulics import Key
from .islands import Island
from .results import ALL_SHUT

Opened = Sequence[tuple[str, frozenset[Key]]]
"""Names of cases with the taps open in each."""


def gauge_states(build: Build, islands: Iterable[Island], opened: Opened) -> tuple[GaugeState, ...]:
    """Every gauge of a build, in its order.

    Args:
        build: says what was read off.
        islands: of the build.
        opened: its cases; of those that open nothing of a gauge's line only "All shut" is told.
    """
    at = {item_id: island for island in islands for item_id in island.gauges}
    if not at:
        return ()
    return tuple(
        _state(item, item.specification.water, at[item.id], opened)
        for item in build.items
        if item.id in at and isinstance(item.specification.water, Gauge)
    )


def gauge_node(item: Item) -> Node | None:
    """Where a gauge feels the pressure."""
    ports = (port.id for port in item.specification.ports if port.medium == "water")
    port_id = next(ports, None)
    return (item.id, port_id) if port_id is not None else None


def gauge_error_pa(gauge: Gauge) -> float:
    """How far a gauge may be off [Pa]."""
    return max(gauge.full_scale.si, 0.0) * water_practice().gauge_error_share.value


def _state(item: Item, gauge: Gauge, island: Island, opened: Opened) -> GaugeState:
    node = gauge_node(item)
    read = {one.case: one.pressure.si for one in item.readings}
    found = tuple(_readings(node, island, opened, read)) if node is not None else ()
    known = {name for name, _ in opened}
    return GaugeState(
        item=item.id,
        name=item.name,
        fed=bool(found),
        full_scale_pa=gauge.full_scale.si,
        error_pa=gauge_error_pa(gauge),
        readings=found,
        unknown=tuple(case for case in read if case not in known),
    )


def _readings(
    node: Node, island: Island, opened: Opened, read: dict[str, float]
) -> Iterator[GaugeReading]:
    for name, taps in opened:
        mine = taps & island.taps
        if not mine and name != ALL_SHUT and name not in read:
            continue
        solved = island.solved(mine)
        high_pa = solved.high.pressures_pa.get(node)
        low_pa = solved.low.pressures_pa.get(node)
        if high_pa is None or low_pa is None:
            continue
        if not (solved.high.converged and solved.low.converged):
            continue
        # No dial shows less than nothing: air comes in where water hangs.
        low_pa, high_pa = max(min(low_pa, high_pa), 0.0), max(low_pa, high_pa, 0.0)
        yield GaugeReading(name, low_pa, high_pa, read.get(name))
