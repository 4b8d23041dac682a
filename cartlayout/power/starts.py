"""Everything starting at once, as it does when the power comes back after an interruption.

Makers size a generator for one start at a time, and a breaker's rating says nothing of the first
seconds. But motors whose switches are closed, or whose thermostats call, all start in the same
moment when a breaker is put back or a supply comes on again.
"""

from collections.abc import Iterator, Sequence

from ..limits.breaker_times import BreakerStandard
from ..units import Phrase, Value
from .circuits import CircuitDraft
from .limits_check import PRACTICE, OnCircuit, holds, leg_sums
from .loads import start_watts
from .placed import PlacedLoad
from .results import Limit
from .working import amps, sum_line

NAME = "starts together"


def circuit_starts(
    draft: CircuitDraft, loads: Sequence[OnCircuit], standard: BreakerStandard
) -> Iterator[Limit]:
    """Amps of a circuit with every motor starting, where its breaker also trips by magnetism.

    Only where the standard fixes from how many times the rating on that may happen. What type a
    venue's breaker is nobody knows, so the one that acts first is taken.
    """
    if not standard.instant or draft.kind == "supply" or draft.rating_a <= 0.0:
        return
    starters = [one for one in loads if one.is_first and one.placed.load.start_multiple > 1.0]
    if not starters:
        return
    sums = leg_sums(draft, loads, lambda one: max(one.placed.load.start_multiple, 1.0))
    value = max(sums.values(), default=0.0)
    first = min(standard.instant, key=lambda one: one.holds)
    limit_a = first.holds * draft.rating_a
    yield Limit(
        NAME,
        value,
        limit_a,
        "current",
        f"type {first.type} does not trip at once up to {first.holds:g} times its rating",
        first.citation,
        holds(value, limit_a),
        f"the type of the breaker is not known, so it may be type {first.type}",
        (*(_line(one) for one in loads if one.is_first), sum_line(value, limit_a)),
        tuple(one.placed.item.id for one in starters),
    )


def _line(one: OnCircuit) -> Phrase:
    multiple = one.placed.load.start_multiple
    if multiple <= 1.0:
        return Phrase.of("{name}: {amps}", name=one.placed.item.name, amps=amps(one.line_a))
    return Phrase.of(
        "{name} starts: {multiple} x {amps} = {start}",
        name=one.placed.item.name,
        multiple=Value(multiple, "number"),
        amps=amps(one.line_a),
        start=amps(multiple * one.line_a),
    )


def supply_starts(
    behind: Sequence[PlacedLoad], running_w: float, surge_w: float, source: str
) -> Iterator[Limit]:
    """Watts of a generator or an inverter with every motor behind it starting.

    Args:
        behind: the loads on it.
        running_w: of all of them together [W].
        surge_w: that it gives for a start [W].
        source: of the surge.
    """
    extra = {
        load.item.id: (load, load.parts * (start_watts(load.load, load.model) - load.model.rated_w))
        for load in behind
        if load.part == 0
    }
    starting = sorted(
        ((load, more_w) for load, more_w in extra.values() if more_w > 0.0),
        key=lambda one: -one[1],
    )
    if len(starting) < 2:
        return  # one start is what the surge is held against anyway
    value = running_w + sum(more_w for _, more_w in starting)
    yield Limit(
        NAME,
        value,
        surge_w,
        "power",
        "running watts plus every start at once, as after an interruption",
        f"{PRACTICE}; surge: {source}",
        holds(value, surge_w),
        working=(
            Phrase.of("running: {watts}", watts=Value(running_w, "power")),
            *(
                Phrase.of(
                    "{name} starts: {extra} more",
                    name=load.item.name,
                    extra=Value(more_w, "power"),
                )
                for load, more_w in starting
            ),
        ),
        items=tuple(load.item.id for load, _ in starting),
    )
