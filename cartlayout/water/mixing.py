"""Where heated water meets cold: how warm the mix is, in the case in which it is warmest.

At every junction the water that leaves is as warm as what comes in, weighed by its flow. Only
lines in which cold water can come round a heater are looked at; everywhere else it is plain which
tube is warm (`heating`).
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from ..build import Heater, TubeRun
from ..network.results import Node
from .cases import Solved
from .hydraulics import Key, State
from .model import Model
from .rating import is_too_hot, rating_pa
from .results import Tap
from .supply_results import TubeStatic

_TRICKLE = 1e-8
"""m3/s below which nothing is carried along."""
_WARMER_K = 0.5
"""Warmer than it comes by more than this is warm."""
_SETTLED_K = 1e-3


@dataclass(slots=True)
class Mix:
    """Temperatures where warm and cold water meet."""

    tubes_k: dict[str, float] = field(default_factory=dict)
    taps_k: dict[Node, float] = field(default_factory=dict)


def mix(model: Model, solved: Iterable[Solved]) -> Mix:
    """How warm tubes and taps get at most that both heated and unheated water reaches."""
    found = Mix()
    if not model.mixes:
        return found
    for one in solved:
        states = [one.high] if one.low is one.high else [one.high, one.low]
        for state in states:
            if state.converged:
                _take(model, state, found)
    return found


def _take(model: Model, state: State, found: Mix) -> None:
    """Remember what is warmer in this state than in any before."""
    root = model.sketch.root
    warm_k = _nodes_k(model, state)
    least_k = model.temperature_k + _WARMER_K
    for key, (a, b, _) in model.sketch.lines.items():
        flow = state.flows.get(key, 0.0)
        kind, run_id = model.links.get(key, ("", ""))
        if kind != "run" or abs(flow) <= _TRICKLE or run_id in model.temperatures_k:
            continue
        kelvin = warm_k.get(root(a if flow > 0.0 else b), 0.0)
        if kelvin > max(least_k, found.tubes_k.get(run_id, 0.0)):
            found.tubes_k[run_id] = kelvin
    for tap in model.taps:
        kelvin = warm_k.get(root(tap.node), 0.0)
        flows = state.flows.get(tap.node, 0.0) > _TRICKLE
        if flows and kelvin > max(least_k, found.taps_k.get(tap.node, 0.0)):
            found.taps_k[tap.node] = kelvin


def _nodes_k(model: Model, state: State) -> dict[Key, float]:
    """Temperature of the water at every place that water comes to from another."""
    heats = {
        place.key: place.role.outlet.si for place in model.passed if isinstance(place.role, Heater)
    }
    coming: dict[Key, list[tuple[Key, float, float | None]]] = {}
    for key, before, after, flow in _carried(model, state):
        # A heater makes its own temperature of whatever runs through it the right way.
        made_k = heats.get(key) if state.flows.get(key, 0.0) > 0.0 else None
        coming.setdefault(after, []).append((before, flow, made_k))
    cold_k = model.temperature_k
    given = {model.sketch.root(key) for key in model.sketch.fixed_pa}
    warm_k: dict[Key, float] = {}
    for _ in range(len(coming) + 1):
        change = 0.0
        for place, ways in coming.items():
            if place in given:
                continue
            carried = sum(
                flow * (warm_k.get(before, cold_k) if made_k is None else made_k)
                for before, flow, made_k in ways
            )
            kelvin = carried / sum(flow for _, flow, _ in ways)
            change = max(change, abs(kelvin - warm_k.get(place, cold_k)))
            warm_k[place] = kelvin
        if change < _SETTLED_K:
            break
    return warm_k


def _carried(model: Model, state: State) -> Iterator[tuple[Key, Key, Key, float]]:
    """Everything that water runs through: its key, where from, where to, and how much."""
    sketch = model.sketch
    for key, a, b in sketch.links():
        flow = state.flows.get(key, 0.0)
        if abs(flow) > _TRICKLE:
            before, after = (a, b) if flow > 0.0 else (b, a)
            yield key, sketch.root(before), sketch.root(after), abs(flow)


def warmer_taps(taps: tuple[Tap, ...], taps_k: dict[Node, float]) -> tuple[Tap, ...]:
    """Taps with the temperature of what is mixed for them."""
    if not taps_k:
        return taps
    return tuple(
        replace(tap, temperature_k=taps_k[tap.item, tap.port])
        if (tap.item, tap.port) in taps_k
        else tap
        for tap in taps
    )


def warmer_tubes(
    statics: tuple[TubeStatic, ...], tubes_k: dict[str, float], tubes: Iterable[TubeRun]
) -> tuple[TubeStatic, ...]:
    """What tubes may see, at the temperature of what is mixed in them."""
    if not tubes_k:
        return statics
    kinds = {run.id: run.tube for run in tubes}
    return tuple(
        replace(
            one,
            temperature_k=tubes_k[one.run],
            rating_pa=rating_pa(kinds[one.run], tubes_k[one.run]),
            too_hot=is_too_hot(kinds[one.run], tubes_k[one.run]),
        )
        if one.run in tubes_k and one.run in kinds
        else one
        for one in statics
    )
