"""What to say about sources that run into each other: tanks and mains with nothing between.

Only a check valve, a foot valve, a shut valve and a pump the other way keep water from going
back. A regulator does not: it is no device against backflow, whatever it lets back.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from ..build import CheckValve, Item, Mains, Pump, ShutOff, Tank, TubeRun
from ..network.results import Node
from ..units import Phrase, Value
from .finding import Finding, Severity
from .water_words import PRACTICE, Place

_ALIKE_M = 0.01
"""Two tanks whose water stands no further apart than this are one tank."""


@dataclass(frozen=True, slots=True)
class _Way:
    """How water gets from one source into another."""

    runs: tuple[str, ...]
    pumped: bool


def source_rules(place: Place) -> Iterator[Finding]:
    """Judge every two sources that water can get between."""
    for joined in _joined(place):
        ways = {item.id: _ways(place, item) for item in joined}
        for first, second in combinations(joined, 2):
            there, back = ways[first.id].get(second.id), ways[second.id].get(first.id)
            if there is not None or back is not None:
                yield from _judged(place, (first, there), (second, back))


def _joined(place: Place) -> Iterator[list[Item]]:
    """Sources that tubes join, if only past pumps and valves; those of a hall are hardly ever."""
    sources = {item.id: item for item in place.build.items if _gives(item)}
    given = {item_id for island in place.water.islands for item_id in island.gives}
    empty = [item_id for item_id in sources if item_id not in given]
    for island in place.water.islands:
        here = {item_id for item_id in island.gives if item_id in sources}
        here |= {item_id for item_id in empty if island.holds(item_id)}
        if len(here) > 1:
            yield [item for item_id, item in sources.items() if item_id in here]


def _gives(item: Item) -> list[Node]:
    """Ports of a source that water leaves by; none where it is no source."""
    role = item.specification.water
    if not (isinstance(role, Mains) or (isinstance(role, Tank) and role.contents == "fresh")):
        return []
    return [
        (item.id, port.id)
        for port in item.specification.ports
        if port.medium == "water" and port.direction != "in"
    ]


# --- the ways ------------------------------------------------------------------------------------


def _ways(place: Place, source: Item) -> dict[str, _Way]:
    """Every other source that water from this one gets into, by its nearest way."""
    graph = place.network.supply
    reached: dict[Node, _Way] = {node: _Way((), False) for node in _gives(source)}
    queue = list(reached)
    found: dict[str, _Way] = {}
    for node in queue:
        item = place.items.get(node[0])
        if item is not None and item.id != source.id and node in _gives(item):
            found.setdefault(item.id, reached[node])
            continue
        if node not in graph:
            continue
        for _, other, data in graph.edges(node, data=True):
            if other not in reached and _passes(place, node, other, data):
                reached[other] = _further(reached[node], data)
                queue.append(other)
    return found


def _further(way: _Way, data: dict[str, Any]) -> _Way:
    run, inside = data.get("run"), data.get("item")
    pumped = inside is not None and isinstance(inside.specification.water, Pump)
    runs = (*way.runs, run.id) if isinstance(run, TubeRun) else way.runs
    return _Way(runs, way.pumped or pumped)


def _passes(place: Place, start: Node, end: Node, data: dict[str, Any]) -> bool:
    """Whether water gets along an edge of the supply graph that way."""
    inside = data.get("item")
    if inside is None:
        role = place.role(end[0])
        into_tank = isinstance(role, Tank) and end in _gives(place.items[end[0]])
        return not (into_tank and isinstance(role, Tank) and role.foot_valve)
    role = inside.specification.water
    if isinstance(role, ShutOff):
        return role.is_open
    if isinstance(role, CheckValve) and role.stuck_open:
        return True
    if isinstance(role, (CheckValve, Pump)):
        return not _runs_back(inside, start[1], end[1])
    return True


def _runs_back(item: Item, start: str, end: str) -> bool:
    """Whether one goes through something from its outlet to its inlet.

    Of two ports that say neither, the first is the inlet, as it is to the solver.
    """
    first, second = item.specification.port(start), item.specification.port(end)
    if first is None or second is None:
        return False
    if first.direction != second.direction:
        return first.direction == "out" or second.direction == "in"
    order = [port.id for port in item.specification.ports]
    return order.index(start) > order.index(end)


# --- what is said of them ------------------------------------------------------------------------

_One = tuple[Item, _Way | None]

_GUARD = "Put a check valve behind each of them, or a valve by hand that lets one in at a time."
_MAIN_GUARD = (
    "Feed the line by one of them at a time, or put behind {main} the air gap or the device "
    "against backflow that your local code asks for, and a check valve behind {tank}."
)
_CODE = "Food Code 5-203.14: backflow is prevented at each point of use, by an air gap or a device"


def _judged(place: Place, one: _One, other: _One) -> Iterator[Finding]:
    """Two sources, each with the way that its water takes into the other."""
    mains = [item for item, _ in (one, other) if isinstance(item.specification.water, Mains)]
    if len(mains) == 2:
        words = "Whichever stands higher pushes its water into the other's pipes. " + _GUARD
        yield _finding(place, "stop", (one, other), words, {}, _CODE)
    elif mains:
        yield _main_and_tank(place, *((one, other) if one[0] is mains[0] else (other, one)))
    else:
        yield from _tanks(place, one, other)


def _main_and_tank(place: Place, main: _One, tank: _One) -> Finding:
    told = []
    if main[1] is not None:
        told.append("{main} runs into {tank} until it overflows.")
    if tank[1] is not None:
        told.append("When {main} falls, water of {tank} gets back into pipes that others drink of.")
    names = {"main": main[0].name, "tank": tank[0].name}
    return _finding(place, "stop", (main, tank), " ".join((*told, _MAIN_GUARD)), names, _CODE)


def _tanks(place: Place, one: _One, other: _One) -> Iterator[Finding]:
    for (giver, way), (taker, _) in ((one, other), (other, one)):
        if way is not None and way.pumped:
            words = "The pump between them pushes water of {giver} into {taker} until it overflows."
            names: dict[str, Value | str] = {"giver": giver.name, "taker": taker.name}
            yield _finding(place, "stop", (one, other), f"{words} {_GUARD}", names)
            return
    high, low = sorted((one, other), key=lambda each: -_surface_m(place, each[0]))
    above_m = _surface_m(place, high[0]) - _surface_m(place, low[0])
    if high[1] is None or above_m <= _ALIKE_M or high[0].fill <= 0.0:
        return
    over = _common_m(place, high[0], low[0]) > _brim_m(place, low[0])
    words = "Water stands {above} higher in {high}: with every tap shut it runs into {low} {end}."
    names = {
        "above": Value(above_m, "distance"),
        "high": high[0].name,
        "low": low[0].name,
        "end": "until that overflows" if over else "until both stand alike",
    }
    severity: Severity = "stop" if over else "care"
    yield _finding(place, severity, (one, other), f"{words} {_GUARD}", names)


def _finding(
    place: Place,
    severity: Severity,
    pair: tuple[_One, _One],
    words: str,
    names: Mapping[str, Value | str],
    source: str = PRACTICE,
) -> Finding:
    runs = tuple(dict.fromkeys(run for _, way in pair if way is not None for run in way.runs))
    items = tuple(item.id for item, _ in pair)
    return Finding(
        severity,
        "water.sources-joined",
        Phrase.of("No check valve keeps {a} and {b} apart", a=pair[0][0].name, b=pair[1][0].name),
        Phrase.of(words, **names),
        items,
        runs,
        source=source,
        working=tuple(Phrase.of("On the way: {tube}", tube=place.tube_name(run)) for run in runs),
    )


# --- how high water stands -----------------------------------------------------------------------


def _underside_m(place: Place, tank: Item) -> float:
    node = _gives(tank)[0]
    port = tank.specification.port(node[1])
    return place.network.heights_m.get(node, 0.0) - (port.z.si if port is not None else 0.0)


def _surface_m(place: Place, tank: Item) -> float:
    deep_m = tank.specification.size.height.si * min(max(tank.fill, 0.0), 1.0)
    return _underside_m(place, tank) + deep_m


def _brim_m(place: Place, tank: Item) -> float:
    role = tank.specification.water
    overflow = role.overflow if isinstance(role, Tank) else None
    height = overflow if overflow is not None else tank.specification.size.height
    return _underside_m(place, tank) + height.si


def _common_m(place: Place, high: Item, low: Item) -> float:
    """Where both come to stand: communicating vessels with upright walls."""
    areas = [_area_m2(high), _area_m2(low)]
    surfaces = [_surface_m(place, high), _surface_m(place, low)]
    if sum(areas) <= 0.0:
        return surfaces[0]
    return sum(a * z for a, z in zip(areas, surfaces, strict=True)) / sum(areas)


def _area_m2(tank: Item) -> float:
    role, height_m = tank.specification.water, tank.specification.size.height.si
    return role.volume.si / height_m if isinstance(role, Tank) and height_m > 0.0 else 0.0
