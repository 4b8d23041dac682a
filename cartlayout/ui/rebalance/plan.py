"""What a rebalance comes to: worked out away from the window, as plain values."""

from dataclasses import dataclass

from ...analysis import Analysis, analyse
from ...build import Build
from ...power.assign import (
    MOST_MORE,
    Answer,
    Missing,
    assigned,
    best,
    goes,
    make_problem,
    missing,
    moved,
)
from ..long_work import Watch

_MOST_S = 2.0


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

    @property
    def works(self) -> bool:
        """Whether it leaves nothing over."""
        return goes(self.answer)


def plan(before: Analysis, watch: Watch) -> Plan | None:
    """Find the best assignment for a build and try it; None where it was stopped."""
    build, network = before.build, before.network
    problem = make_problem(build, network)
    answer = best(problem, _MOST_S, lambda _, share: watch(0.8 * share))
    if answer.stopped or not watch(0.8):
        return None
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
    for item_id, node in moved(problem, answer):
        old = holders.get(item_id)
        moves.append(
            Move(
                item_id,
                names[item_id],
                _socket(build, old) if old is not None else "",
                _socket(build, node),
            )
        )
    after = analyse(assigned(build, problem, answer), before) if moves else None
    return Plan(before, after, answer, tuple(moves), lacking)


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
        return "stop", f"No assignment holds every limit.{needs}"
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
