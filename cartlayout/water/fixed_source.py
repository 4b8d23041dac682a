"""A line with one of its sources exchanged for a place of known pressure, to find what it needs.

The least pressure that feeds some taps is found by solving the line again and again: whatever a
tap has to spare only grows with the pressure at the source, so the crossing can be closed in on
from both sides.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..build import Drawn, Heater
from .hydraulics import (
    Characteristic,
    Conditions,
    Key,
    Limiter,
    Sketch,
    Start,
    State,
    System,
    solve,
)
from .model import Model, PassedPlace, TapPlace
from .tap_state import SLACK_FLOW, SLACK_PA

Taps = frozenset[Key]
Starts = Mapping[Taps, Start]

_FIRST_TRIES_PA = (4e5, 10e5, 30e5)
"""Gauge; what no line of 30 bar feeds is not fed by pressure."""
NEAR_PA = 100.0
"""A pressure found to within so much is found."""
_AT_PA = 40.0
_MOST_SECANTS = 6
_MOST_TRIES = 40
_SHORTEST = 0.01
"""Share of what is left between both sides that each try cuts off at the least."""
_TRICKLE = 1e-9
_LEAST_SCALE_PA = 1e4
"""What a missing flow counts for, where a tap needs next to no pressure."""


@dataclass(frozen=True, slots=True)
class Least:
    """The least pressure at a source that feeds some taps."""

    pressure_pa: float
    """Gauge; infinite where none does."""
    flow: float
    """Through the source, at it."""
    last: TapPlace | PassedPlace | None
    """What is the last to have enough."""
    state: State | None = None


class FixedSource:
    """A model whose pump or mains tap is taken to hold any pressure, whatever is drawn."""

    def __init__(
        self,
        model: Model,
        sketch: Sketch,
        outlets: Sequence[Key],
        set_pa: Mapping[Key, float] | None = None,
        starts: Starts | None = None,
    ) -> None:
        """Prepare a line.

        Args:
            model: says what taps there are and what they want.
            sketch: of the model, with the source taken out.
            outlets: its nodes, to be held at one pressure.
            set_pa: set pressures of other pumps and of regulators, where not their own.
            starts: of a similar line, what solutions may start from.
        """
        self.model = model
        self.sketch = sketch
        self.outlets = tuple(outlets)
        self._set_pa = dict(set_pa or {})
        for node in self.outlets:
            sketch.fix(node, sketch.heights_m[node])
        self._system = System(sketch)
        self._wants: dict[Key, _Want] = {
            tap.node: _Want(tap, sketch.taps[tap.node][1]) for tap in model.taps
        }
        self._heaters = [(one, one.role) for one in model.passed if isinstance(one.role, Heater)]
        self._leaving = self._ways_out()
        self._tries: dict[tuple[Taps, float], _Tried] = {}
        self._last: dict[Taps, State] = {}
        """The latest steady state with these taps open."""
        self._lent = starts or {}

    def _ways_out(self) -> list[tuple[Key, float]]:
        root = self.sketch.root
        roots = {root(node) for node in self.outlets}
        links = tuple(self.sketch.links())
        leaving = [(key, 1.0) for key, a, _ in links if root(a) in roots]
        leaving += [(key, -1.0) for key, _, b in links if root(b) in roots]
        return leaving

    def solve(self, opened: Taps, pressure_pa: float, start: Start | None = None) -> State:
        """The line with some taps open and its source at a pressure [Pa, gauge]."""
        held = {self.sketch.root(node): pressure_pa for node in self.outlets}
        return solve(self._system, Conditions(opened, self._set_pa, held), start)

    @property
    def starts(self) -> Starts:
        """What the solutions of a similar line may start from."""
        return {opened: state.start for opened, state in [*self._last.items()]}

    def flow(self, state: State) -> float:
        """Through the source [m3/s]."""
        return sum(sign * state.flows.get(key, 0.0) for key, sign in self._leaving)

    def spare_pa(self, state: State, opened: Taps) -> tuple[float, TapPlace | PassedPlace | None]:
        """What the worst of the open taps has to spare [Pa], and which; less than 0: too little.

        A missing flow counts by the pressure that is missing for it, as flow goes by its root.
        """
        worst = math.inf
        found: TapPlace | PassedPlace | None = None
        for node in opened:
            want = self._wants[node]
            spare = want.spare_pa(state, self.sketch.taps[node][0])
            if spare < worst:
                worst, found = spare, want.tap
        for place, heater in self._heaters:
            flow = state.flows.get(place.key, 0.0)
            if flow <= _TRICKLE:
                continue
            spare = math.inf
            if heater.least_pressure is not None:
                spare = state.pressures_pa.get(place.inlet, 0.0) - heater.least_pressure.si
            if spare + SLACK_PA < worst:
                worst, found = spare + SLACK_PA, place
        return worst, found

    def is_enough(self, opened: Taps, pressure_pa: float) -> bool:
        """Whether every open tap has what it needs at one pressure of the source."""
        return self._tried(opened, pressure_pa).spare_pa >= 0.0

    def least(self, opened: Taps, from_pa: float = 0.0, hint: State | None = None) -> Least:
        """The least pressure of the source at which every open tap has what it needs.

        Args:
            opened: the taps.
            from_pa: it is known to be no less than this.
            hint: the line with the same taps open and its source as it is.
        """
        hint = self._last.get(opened, hint)
        if hint is not None and (quick := self._near(opened, from_pa, hint)) is not None:
            return quick
        low = self._tried(opened, from_pa)
        if low.spare_pa >= 0.0:
            return Least(from_pa, self.flow(low.state), None, low.state)
        for pressure_pa in (one for one in _FIRST_TRIES_PA if one > from_pa):
            high = self._tried(opened, pressure_pa)
            if high.spare_pa >= 0.0:
                return self._between(opened, low, high)
            low = high
        return Least(math.inf, self.flow(low.state), low.last, low.state)

    def _near(self, opened: Taps, from_pa: float, hint: State) -> Least | None:
        """Secants from a state that is known; None where they do not lead there at once.

        What a tap has to spare grows nearly with the pressure, so the first guess is good.
        """
        known_pa = hint.pressures_pa.get(self.outlets[0])
        if known_pa is None or not hint.converged:
            return None
        spare = self.spare_pa(hint, opened)[0]
        pressure_pa = known_pa - spare
        for at in range(_MOST_SECANTS):
            if at == 0 and known_pa < from_pa:
                pressure_pa = max(pressure_pa, from_pa)
            elif not from_pa < pressure_pa < _FIRST_TRIES_PA[-1]:
                return None
            tried = self._tried(opened, pressure_pa)
            if 0.0 <= tried.spare_pa < _AT_PA:
                return Least(pressure_pa, self.flow(tried.state), tried.last, tried.state)
            if pressure_pa == from_pa and tried.spare_pa >= 0.0:
                return Least(from_pa, self.flow(tried.state), None, tried.state)
            span = pressure_pa - known_pa
            slope = (tried.spare_pa - spare) / span if span else 0.0
            if not (tried.state.converged and slope > 0.0):
                return None
            known_pa, spare = pressure_pa, tried.spare_pa
            pressure_pa -= (spare - 0.5 * _AT_PA) / slope
        return None

    def _tried(self, opened: Taps, pressure_pa: float) -> "_Tried":
        tried = self._tries.get((opened, pressure_pa))
        if tried is None:
            last = self._last.get(opened)
            start = last.start if last is not None else self._lent.get(opened)
            state = self.solve(opened, pressure_pa, start)
            if state.converged:
                self._last[opened] = state
                tried = _Tried(pressure_pa, *self.spare_pa(state, opened), state)
            else:
                tried = _Tried(pressure_pa, -_LEAST_SCALE_PA, None, state)
            self._tries[opened, pressure_pa] = tried
        return tried

    def _between(self, opened: Taps, low: "_Tried", high: "_Tried") -> Least:
        """False position, and the middle wherever that has not halved what is left."""
        halved = True
        for _ in range(_MOST_TRIES):
            span = high.pressure_pa - low.pressure_pa
            if span < NEAR_PA or high.spare_pa < 0.2 * NEAR_PA:
                break
            share = -low.spare_pa / (high.spare_pa - low.spare_pa) if halved else 0.5
            share = min(max(share, _SHORTEST), 1.0 - _SHORTEST)
            middle = self._tried(opened, low.pressure_pa + share * span)
            if middle.spare_pa >= 0.0:
                high = middle
            else:
                low = middle
            halved = high.pressure_pa - low.pressure_pa <= 0.5 * span
        return Least(high.pressure_pa, self.flow(high.state), low.last or high.last, high.state)


@dataclass(frozen=True, slots=True)
class _Tried:
    """A pressure at the source, and what the worst of the open taps has to spare at it."""

    pressure_pa: float
    spare_pa: float
    last: TapPlace | PassedPlace | None
    state: State


class _Want:
    """What one tap wants, as plain numbers."""

    __slots__ = ("least_pa", "limited", "required", "scale_pa", "tap")

    def __init__(self, tap: TapPlace, characteristic: Characteristic) -> None:
        inlet = tap.inlet
        self.tap = tap
        self.least_pa = inlet.least_pressure.si - SLACK_PA
        self.required = inlet.required_flow.si * (1.0 - SLACK_FLOW)
        self.scale_pa = max(inlet.least_pressure.si, _LEAST_SCALE_PA)
        # Of one that takes no more whatever the pressure, enough says nothing of what is to spare.
        self.limited = characteristic.greatest < math.inf
        if isinstance(inlet.behaviour, Drawn):
            self.required = min(self.required, inlet.behaviour.flow.si * (1.0 - SLACK_FLOW))

    def spare_pa(self, state: State, node: Key) -> float:
        pressure_pa = state.pressures_pa.get(node)
        if pressure_pa is None:
            return -self.scale_pa
        flow = max(state.flows.get(self.tap.node, 0.0), 0.0)
        if flow <= 0.0:
            pressure_pa = max(pressure_pa, self.tap.outlet_pa)
        spare = pressure_pa - self.least_pa
        if self.required > 0.0:
            share = flow / self.required
            if share < 1.0 or not self.limited:
                spare = min(spare, (share * share - 1.0) * self.scale_pa)
        return spare


def without_pump(model: Model, pump_id: str) -> Sketch:
    """A model's sketch with one pump taken out; what was behind it hangs on nothing."""
    sketch = model.sketch.copy()
    del sketch.limiters[pump_id]
    return sketch


def without_mains(model: Model, item_id: str, nodes: Sequence[Key]) -> Sketch:
    """A model's sketch with one mains tap and the pipe behind it taken out."""
    sketch = model.sketch.copy()
    for key in model.sources.get(item_id, ()):
        sketch.fixed_pa.pop(key, None)
    for node in nodes:
        if isinstance(node, tuple):
            sketch.lines.pop(f"{item_id}/{node[1]}", None)
    return sketch


def regulated(sketch: Sketch, node: Key, limiter: Limiter) -> Key:
    """Put a regulator before a tap of a sketch; its key."""
    place, characteristic, outlet_pa = sketch.taps[node]
    behind: Key = ("regulated", node)
    sketch.node(behind, sketch.heights_m[place])
    sketch.tap(node, behind, characteristic, outlet_pa)
    key: Key = ("regulator", node)
    sketch.limiter(key, place, behind, limiter)
    return key
