"""Which `Number` a result of the body side is: findings, Details and workings agree in it here."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from ..body.results import BodyResult, Clash, EdgeTilt, Lift, PassageCheck
from .number import Number

MOVED = "moved"
"""The cart as it travels."""
MOVED_TILT = Number("tilt", MOVED, "angle", "worst")
"""Of the lean over the worst edge as the cart is moved."""


def balance_number(what: str, case: str, of: str = "") -> Number:
    """Of mass ("mass") or of a coordinate of its centre ("x", "y", "z").

    Args:
        what: which.
        case: "full", "empty", "now", "worst", or "least" of a foot.
        of: empty for the cart as it stands, `MOVED`, or the edge or foot that it is worst for.
    """
    return Number("balance", of, what, case)


def contents_number(item_id: str) -> Number:
    """Of the mass of what is in a vessel when it is full."""
    return Number("contents", item_id, "mass")


def edge_key(body: BodyResult, tilt: EdgeTilt) -> str:
    """The name of an edge of the support in numbers: "edge 0"."""
    edges = body.support.edges if body.support is not None else ()
    index = next((at for at, edge in enumerate(edges) if (edge.a, edge.b) == (tilt.a, tilt.b)), 0)
    return f"edge {index}"


def tilt_number(body: BodyResult, tilt: EdgeTilt, case: str = "worst") -> Number:
    """Of the lean over one edge of the support: "worst", "full" or "empty"."""
    return Number("tilt", edge_key(body, tilt), "angle", case)


def foot_number(index: int, case: str = "worst") -> Number:
    """Of the load on one foot, in the order of the cart's casters."""
    return Number("foot", f"foot {index}", "load", case)


def caster_rule_number(rule: str) -> Number:
    """Of what a rule asks of every caster: "thirds" or "one less"."""
    return Number("foot", "", rule, "full")


def travel_number(what: str) -> Number:
    """Of the cart as it is moved: "wide", "deep", "high", "mass"."""
    return Number("travel", "", what)


def push_number(where: str, what: str) -> Number:
    """Of a force: `where` "level" or "steep", `what` "force to start" or "force to keep going"."""
    return Number("push", where, what)


def passage_number(index: int, check: PassageCheck) -> Number:
    """Of one number of a passage, in the order of the way."""
    return Number("passage", str(index), check.what)


def lift_number(lift: Lift) -> Number:
    """Of the mass of one lift."""
    return Number("lift", lift.items[0] if len(lift.items) == 1 else lift.name, "mass")


def leaf_number(leaf: str) -> Number:
    """Of what stands on a raised leaf."""
    return Number("leaf", leaf, "load")


def reach_number(item_id: str) -> Number:
    """Of how far in hands have to go to work something."""
    return Number("reach", item_id, "depth")


def clash_numbers(clashes: Iterable[Clash]) -> Iterator[tuple[Number, Clash]]:
    """Each with the `Number` of what is left of its space, or of how far it is in the way.

    Something may stand in two legs of the cart at once: what would be called alike is counted.
    """
    seen: Counter[Number] = Counter()
    for clash in clashes:
        number = _clash_number(clash)
        seen[number] += 1
        if seen[number] > 1:
            number = replace(number, case=f"{number.case} {seen[number]}")
        yield number, clash


def _clash_number(clash: Clash) -> Number:
    other = clash.items[1] if len(clash.items) > 1 else clash.detail
    if clash.need_m > 0.0:
        return Number("clearance", clash.items[0], f"{clash.side}, {clash.purpose}", other)
    return Number("clash", clash.items[0], clash.code, other)


def level_number(level: str) -> Number:
    """Of the share of a level that nothing stands on."""
    return Number("level", level, "free")


def run_number(run_id: str, what: str = "length") -> Number:
    """Of a run's way: "length", or "bend" for its tightest."""
    return Number("run", run_id, what)
