"""What is missing where no assignment works: circuits that are not there, or loads too many."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement

from ...build import Build, Load
from ...limits import plug_fits, profile
from ..limits_check import is_continuous_load
from ..loads import line_amps, load_model
from .optimum import Answer, best
from .problem import Place, Problem, Row, Way
from .usual import UsualCircuit, usual_circuits

MOST_MORE = 3
_HOLES = 4
"""Receptacles on a circuit that is asked for."""


@dataclass(frozen=True, slots=True)
class More:
    """Circuits that would make everything go."""

    volts: float
    amps: float
    receptacle: str
    count: int


@dataclass(frozen=True, slots=True)
class Missing:
    """Two ways out, each the smallest: more circuits, or fewer loads."""

    more: tuple[More, ...] = ()
    """Empty where even `MOST_MORE` more do not help."""
    take_off: tuple[str, ...] = ()
    """Ids of the loads without which the rest goes."""

    def told(self, names: dict[str, str]) -> str:
        """In words: "one more 20 A circuit, or take the kettle off"."""
        ways = []
        if self.more:
            ways.append(" and ".join(_more_words(one) for one in self.more))
        if self.take_off:
            off = " and ".join(names.get(one, one) for one in self.take_off)
            ways.append(f"take {off} off")
        return ", or ".join(ways)


_COUNTS = {1: "one more", 2: "two more", 3: "three more"}


def _more_words(one: More) -> str:
    noun = "circuit" if one.count == 1 else "circuits"
    return f"{_COUNTS.get(one.count, str(one.count))} {one.amps:g} A {noun} ({one.volts:g} V)"


def goes(answer: Answer) -> bool:
    """Whether an assignment leaves nothing over, nothing broken and nothing without a place."""
    return answer.overload <= 1e-6 and not answer.broken and None not in answer.chosen


def missing(
    build: Build,
    problem: Problem,
    most_s: float = 2.0,
    goes_on: Callable[[], bool] = lambda: True,
) -> Missing | None:
    """The fewest more circuits, of the region's usual ones, and the fewest loads to take off.

    Args:
        build: any build.
        problem: of that build, without an assignment that works.
        most_s: time for each trial [s]; there may be dozens.
        goes_on: asked before every trial; False ends it, and the answer is None.
    """
    if not goes_on():
        return None
    dropped = best(problem, most_s, only_whether=True, may_drop=True)
    off = tuple(
        load.item
        for load, place in zip(problem.loads, dropped.chosen, strict=True)
        if place is None
    )
    works = dropped.overload <= 1e-6 and not dropped.broken
    more = _more(build, problem, most_s, goes_on)
    if more is None:
        return None
    return Missing(more, off if works and len(off) <= MOST_MORE else ())


def _more(
    build: Build, problem: Problem, most_s: float, goes_on: Callable[[], bool]
) -> tuple[More, ...] | None:
    kinds = _kinds(build, problem)
    for count in range(1, MOST_MORE + 1):
        for chosen in combinations_with_replacement(kinds, count):
            grown = problem
            for number, kind in enumerate(chosen):
                grown = with_circuit(build, grown, kind, f"more {number + 1}")
            if not goes_on():
                return None
            if goes(best(grown, most_s, only_whether=True)):
                counted = {kind: chosen.count(kind) for kind in dict.fromkeys(chosen)}
                return tuple(
                    More(kind.volts, kind.amps, kind.receptacle, number)
                    for kind, number in counted.items()
                )
    return ()


def _kinds(build: Build, problem: Problem) -> list[UsualCircuit]:
    """Circuits of the region that any of the loads could go on, the smaller first."""
    found = []
    for row in usual_circuits(profile(build.region)):
        plugs = [
            port.connector
            for load in problem.loads
            if (item := build.item(load.item)) is not None
            and (port := item.specification.port(load.plug[1])) is not None
        ]
        if any(plug_fits(plug, row.receptacle) for plug in plugs):
            found.append(row)
    return found


def with_circuit(build: Build, problem: Problem, kind: UsualCircuit, key: str) -> Problem:
    """The problem with one more circuit: a breaker and some receptacles at the first place."""
    rules = profile(build.region)
    at_m = problem.places[0].at_m if problem.places else (0.0, 0.0, 0.0)
    place = Place(
        key,
        key,
        kind.receptacle,
        tuple((key, str(hole)) for hole in range(_HOLES)),
        at_m,
        extra=True,
    )
    total, counted = len(problem.rows), len(problem.rows) + 1
    rows = [
        *problem.rows,
        Row(("circuit", key, "L"), kind.amps, True),
        Row(("continuous", key, "L"), kind.amps, False),
    ]
    ways = list(problem.ways)
    factor = rules.continuous_factor.value if rules.continuous_factor is not None else 1.0
    share = rules.one_appliance_share
    for index, load in enumerate(problem.loads):
        item = build.item(load.item)
        port = item.specification.port(load.plug[1]) if item is not None else None
        role = item.specification.electrical if item is not None else None
        if not isinstance(role, Load) or port is None:
            continue
        if not plug_fits(port.connector, kind.receptacle):
            continue
        amps = line_amps(role, load_model(role), kind.volts)
        longer = is_continuous_load(build, role, rules)
        broken = share is not None and amps > share.value * kind.amps * 1.005
        ways.append(
            Way(
                index,
                len(problem.places),
                ((total, amps), (counted, amps * (factor if longer else 1.0))),
                ("one appliance",) if broken else (),
                0.0,
            )
        )
    return replace(
        problem,
        places=[*problem.places, place],
        rows=rows,
        fixed=[*problem.fixed, 0.0, 0.0],
        ways=ways,
    )
