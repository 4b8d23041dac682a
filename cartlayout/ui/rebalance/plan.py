"""What a rebalance comes to: worked out away from the window, as plain values."""

import time
from collections.abc import Sequence
from dataclasses import dataclass

from ...analysis import Analysis, analyse
from ...build import Build
from ...power.assign import (
    MOST_MORE,
    REACH,
    Answer,
    Missing,
    assigned,
    barred,
    best,
    goes,
    make_problem,
    missing,
    moved,
)
from ..long_work import Watch

_MOST_S = 2.0
_TRIES = 6
"""Answers that are tried, each without the ways for which a cord was found too short."""
_LEAST_S = 0.3
"""For another answer."""


@dataclass(frozen=True, slots=True)
class Move:
    """One load that goes elsewhere."""

    item: str
    name: str
    before: str
    """What it is plugged into now; empty where it is in nothing."""
    after: str


@dataclass(frozen=True, slots=True)
class Plan:
    """The best assignment that was found, tried."""

    before: Analysis
    after: Analysis | None
    """None where nothing would move."""
    answer: Answer
    moves: tuple[Move, ...]
    missing: Missing | None
    """What it takes where no assignment works."""
    short: tuple[str, ...] = ()
    """Names of what has no outlet in reach of its cord."""

    @property
    def works(self) -> bool:
        """Whether it leaves nothing over."""
        return goes(self.answer)


def plan(before: Analysis, watch: Watch) -> Plan | None:
    """Find the best assignment for a build and try it; None where it was stopped."""
    build, network = before.build, before.network
    problem = make_problem(build, network)
    after = None
    until = time.monotonic() + _MOST_S
    for left in reversed(range(_TRIES)):
        most_s = max(until - time.monotonic(), _LEAST_S)
        answer = best(problem, most_s, lambda _, share: watch(0.8 * share))
        if answer.stopped or not watch(0.8):
            return None
        places = moved(problem, answer)
        after = analyse(assigned(build, problem, answer), before) if places else None
        too_far = _too_far(after, places)
        fewer = barred(problem, too_far)
        if fewer.ways == problem.ways or not left:
            break  # all reach, or those that do not have no better place
        problem = fewer
    lacking = None
    if not goes(answer):
        lacking = missing(build, problem, goes_on=lambda: watch(0.85))
        if lacking is None:
            return None
    if not watch(0.9):
        return None
    names = {item.id: item.name for item in build.items}
    holders = {load.item: load.receptacle for load in problem.loads}
    moves = []
    for item_id, node in places:
        old = holders.get(item_id)
        moves.append(
            Move(
                item_id,
                names[item_id],
                _socket(build, old) if old is not None else "",
                _socket(build, node),
            )
        )
    short = tuple(
        problem.loads[way.load].name
        for way in problem.ways
        if REACH in way.breaks and answer.chosen[way.load] == way.place
    )
    return Plan(before, after, answer, tuple(moves), lacking, short)


def _too_far(
    after: Analysis | None, places: Sequence[tuple[str, tuple[str, str]]]
) -> set[tuple[str, str]]:
    """(item, host) of loads whose cords turn out too short for the way round what stands there."""
    if after is None:
        return set()
    short = {item for one in after.findings if one.code == "power.cord-short" for item in one.items}
    return {(item, node[0]) for item, node in places if item in short}


def _socket(build: Build, node: tuple[str, str]) -> str:
    item = build.item(node[0])
    name = item.name if item is not None else node[0]
    many = (
        item is not None
        and sum(
            port.medium == "power" and port.direction != "in" for port in item.specification.ports
        )
        > 1
    )
    return f"{name}, {node[1]}" if many else name


def verdict(found: Plan) -> tuple[str, str]:
    """A mark and a sentence that says what the plan is worth."""
    names = {item.id: item.name for item in found.before.build.items}
    if not found.works:
        lacking = found.missing.told(names) if found.missing is not None else ""
        needs = f" What is missing: {lacking}." if lacking else _TOO_MUCH
        cords = f" No outlet in reach of the cord: {', '.join(found.short)}." if found.short else ""
        return "stop", f"No assignment holds every limit.{cords}{needs}"
    proof = "Proven to be the best there is." if found.answer.proven else _gap(found.answer)
    if not found.moves:
        return "ok", f"Every load is where it should be. {proof}"
    return "ok", proof


_TOO_MUCH = (
    f" Nothing was found with up to {MOST_MORE} more circuits or {MOST_MORE} loads fewer: "
    "What to Ask the Venue For lists the circuits that carry it all."
)
_AIMS = {
    "overload": "what is over its limits",
    "peak": "the fullest circuit",
    "legs": "the evenness of the legs",
    "moves": "the number of moves",
    "cord": "the way of the cords",
}


def _gap(answer: Answer) -> str:
    """What may still be better, and by how much at most."""
    open_ones = [(name, gap) for name, gap in answer.gaps if gap > 1e-6]
    if not open_ones:
        return "The best that was found in the time; there may be a better one."
    told = ", ".join(f"{_AIMS.get(name, name)} by {gap:.1%}" for name, gap in open_ones)
    return f"There may be a better one, at most: {told}."
