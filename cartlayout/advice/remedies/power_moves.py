"""Plugs put elsewhere: one load, one strip, or as many as it takes."""

from collections.abc import Callable, Iterable, Iterator
from functools import partial

from ...analysis import Analysis
from ...build import Box, Build, End, Extension, Item, Load, Outlet, Strip
from ...build.edits import EditError
from ...findings import Finding
from ...network import free_receptacles
from ...network.results import Node
from ...power.assign import Answer, Place, Problem, assigned, best, goes, moved, rated
from ...units import Phrase
from .model import Candidate, Source
from .plugs import (
    behind,
    circuit_behind,
    plug_port,
    plugged_into,
    problem_of,
    socket_name,
    taken_nodes,
)
from .power_words import carries

_EACH = 2
"""Places that are tried for one load before another load has its turn."""
_MOST_MOVES = 8
_MOST_S = 0.3
"""For a whole new assignment."""
_EPS = 1e-6
Prefers = Callable[[Analysis, Place], bool]


def loads_meant(analysis: Analysis, finding: Finding) -> list[str]:
    """Loads that a finding is about, the heaviest first: those it names, and those behind them."""
    found: dict[str, None] = {}
    for item_id in finding.items:
        item = analysis.build.item(item_id)
        if item is None:
            continue
        if isinstance(item.specification.electrical, Load):
            found[item_id] = None
        else:
            for one in behind(analysis, item_id):
                other = analysis.build.item(one)
                if other is not None and isinstance(other.specification.electrical, Load):
                    found[one] = None
    return sorted(found, key=lambda one: -_amps(analysis, one))


def _amps(analysis: Analysis, item_id: str) -> float:
    circuit = analysis.power.circuit_of(item_id)
    loads = circuit.loads if circuit is not None else ()
    return next((one.amps for one in loads if one.item == item_id), 0.0)


def move_loads(
    analysis: Analysis, finding: Finding, prefers: Prefers | None = None
) -> Iterator[Candidate]:
    """Every load that is meant in every other place for it, what leaves least over first."""
    problem = problem_of(analysis)
    meant = set(loads_meant(analysis, finding))
    ranked = _ranked(analysis, problem, meant, prefers)
    given: dict[str, int] = {}
    late: list[tuple[str, Node]] = []
    for number, (item_id, node) in enumerate(ranked):
        if number >= 4 * _MOST_MOVES:
            break
        given[item_id] = given.get(item_id, 0) + 1
        if given[item_id] > _EACH:
            late.append((item_id, node))
        else:
            yield plug_in(analysis, item_id, node)
    for item_id, node in late[:_MOST_MOVES]:
        yield plug_in(analysis, item_id, node)


def plug_in(analysis: Analysis, item_id: str, node: Node) -> Candidate:
    """One plug into one receptacle."""
    build = analysis.build
    item = build.item(item_id)
    circuit = circuit_behind(analysis, node)
    on = f" (circuit {circuit.letter})" if circuit is not None else ""
    return Candidate(
        "move load",
        Phrase.of(
            "Plug {item} into {socket}{on}",
            item=item.name if item is not None else item_id,
            socket=socket_name(build, node),
            on=on,
        ),
        0,
        partial(plugged_into, build, item_id, node),
        (item_id, node[0]),
        told=_told_circuit(item_id),
    )


def _told_circuit(item_id: str) -> Callable[[Analysis], Phrase]:
    def told(after: Analysis) -> Phrase:
        circuit = after.power.circuit_of(item_id)
        if circuit is None:
            return Phrase("It is then fed by nothing")
        return carries(circuit)

    return told


def _ranked(
    analysis: Analysis, problem: Problem, meant: set[str], prefers: Prefers | None
) -> list[tuple[str, Node]]:
    """(load, free receptacle), what leaves least over first, then what needs no longer cord."""
    taken = taken_nodes(analysis.build)
    now = tuple(load.now for load in problem.loads)
    found = []
    for way in problem.ways:
        load, place = problem.loads[way.load], problem.places[way.place]
        if load.item not in meant or way.place == load.now or place.extra:
            continue
        node = next((one for one in place.nodes if one not in taken), None)
        if node is None:
            continue
        chosen = (*now[: way.load], way.place, *now[way.load + 1 :])
        after = rated(problem, chosen)
        first = prefers is not None and not prefers(analysis, place)
        cost = (
            first,
            round(after.overload, 6),
            after.broken,
            _indirect(analysis, place),
            after.peak,
        )
        found.append((cost, load.item, node))
    return [(item, node) for _, item, node in sorted(found)]


def _indirect(analysis: Analysis, place: Place) -> bool:
    item = analysis.build.item(place.host)
    return item is not None and isinstance(item.specification.electrical, (Strip, Extension))


# --- strips, cords and boxes -----------------------------------------------------------------


def move_hosts(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Strips, extension cords and boxes that a finding names, each into another receptacle."""
    for item_id in finding.items:
        item = analysis.build.item(item_id)
        if item is None or not isinstance(item.specification.electrical, (Strip, Extension, Box)):
            continue
        yield from _elsewhere(analysis, item)


def _elsewhere(analysis: Analysis, item: Item) -> Iterator[Candidate]:
    plug = plug_port(item)
    if plug is None or item.locked:
        return
    seen: set[tuple[str, str]] = set()
    now = analysis.power.fed_from.get(item.id)
    ends = free_receptacles(analysis.build, End(item=item.id, port=plug.id))
    for end in sorted(ends, key=lambda one: not _is_outlet(analysis.build, one.item)):
        circuit = circuit_behind(analysis, (end.item, end.port))
        key = (end.item, circuit.key if circuit is not None else "")
        if end.item == now and circuit == analysis.power.circuit_of(item.id):
            continue
        if key not in seen:
            seen.add(key)
            yield plug_in(analysis, item.id, (end.item, end.port))


def _is_outlet(build: Build, item_id: str) -> bool:
    item = build.item(item_id)
    return item is not None and isinstance(item.specification.electrical, Outlet)


# --- several at once -------------------------------------------------------------------------

_ANSWERS: list[tuple[Problem, Answer]] = []
"""The last assignment that was found; every finding of one build would find the same."""


def rebalance(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """All loads where they are best, where no single move does it."""
    problem = problem_of(analysis)
    meant = set(loads_meant(analysis, finding))
    if len(problem.loads) < 2 or len(meant) < 1 or _one_is_enough(problem, meant):
        return
    answer = _answer(problem)
    places = moved(problem, answer) if goes(answer) else ()
    if len(places) < 2 or not meant & {item for item, _ in places}:
        return
    yield _all_moved(analysis, problem, answer, places)


def _all_moved(
    analysis: Analysis, problem: Problem, answer: Answer, places: Iterable[tuple[str, Node]]
) -> Candidate:
    build = analysis.build
    items = tuple(dict.fromkeys(item for item, _ in places))
    steps = [f"{_name(build, item)} into {socket_name(build, node)}" for item, node in places]
    return Candidate(
        "rebalance",
        Phrase.of("Move {count} plugs: {steps}", count=str(len(steps)), steps="; ".join(steps)),
        1,
        partial(_assigned, build, problem, answer),
        items,
        told=_told_fullest,
    )


def _told_fullest(after: Analysis) -> Phrase:
    circuits = [one for one in after.power.circuits if one.loads]
    fullest = max(circuits, key=lambda one: one.share, default=None)
    return carries(fullest) if fullest is not None else Phrase("Nothing is then fed")


def _assigned(build: Build, problem: Problem, answer: Answer) -> Build:
    return assigned(build, problem, answer)


def _answer(problem: Problem) -> Answer:
    for known, answer in list(_ANSWERS):
        if known is problem:
            return answer
    found = best(problem, _MOST_S)
    _ANSWERS[:] = [(problem, found)]
    return found


def _one_is_enough(problem: Problem, meant: set[str]) -> bool:
    """Whether some single move leaves nothing over, so that nobody has to move several."""
    now = tuple(load.now for load in problem.loads)
    for way in problem.ways:
        load = problem.loads[way.load]
        if load.item in meant and way.place != load.now and not way.breaks:
            after = rated(problem, (*now[: way.load], way.place, *now[way.load + 1 :]))
            if after.overload <= _EPS and not after.broken:
                return True
    return False


def _name(build: Build, item_id: str) -> str:
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    return item.name


# --- to a protected outlet -------------------------------------------------------------------


def to_protected(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Loads on an outlet without a device, into one that has one."""
    yield from move_loads(analysis, finding, _is_protected)


def _is_protected(analysis: Analysis, place: Place) -> bool:
    circuit = analysis.power.circuit(place.circuit)
    hosts = (place.host, *(circuit.items if circuit is not None else ()))
    for host in hosts:
        item = analysis.build.item(host)
        role = item.specification.electrical if item is not None else None
        if isinstance(role, (Outlet, Box)) and role.gfci is True:
            return True
    return False


_OVER: tuple[Source, ...] = (move_loads, rebalance)

SOURCES: dict[str, tuple[Source, ...]] = {
    "power.total": _OVER,
    "power.neutral": _OVER,
    "power.continuous": _OVER,
    "power.one-appliance": (move_loads,),
    "power.fastened": _OVER,
    "power.own-circuit": _OVER,
    "power.venue-limit": _OVER,
    "power.two-circuits": _OVER,
    "power.shared": _OVER,
    "power.starts-together": (move_loads,),
    "power.strip": (move_loads, move_hosts, rebalance),
    "power.extension": (move_loads, move_hosts, rebalance),
    "power.main": _OVER,
    "power.plug": (move_loads, rebalance),
    "power.receptacle": (move_loads, move_hosts, rebalance),
    "power.cord": (move_loads, rebalance),
    "power.leg": _OVER,
    "power.generator": _OVER,
    "power.inverter": _OVER,
    "power.surge": (move_loads,),
    "power.battery-energy": (move_loads,),
    "power.discharge": _OVER,
    "power.wrong-voltage": (move_loads, move_hosts),
    "power.no-voltage": (move_loads, move_hosts),
    "power.voltage": (move_loads,),
    "power.drop": (move_loads, move_hosts),
    "power.cord-short": (move_loads, move_hosts),
    "power.chained-strips": (move_hosts, move_loads),
    "power.chained-cords": (move_hosts, move_loads),
    "power.leakage": (move_loads,),
    "power.leakage-unknown": (move_loads,),
    "power.no-leakage-protection": (to_protected,),
    "power.leakage-protection-unknown": (to_protected,),
    "network.power.misfit": (move_loads, move_hosts),
}
