"""Backward/forward sweep over a tree of cords: currents and voltages of every conductor.

A set of segments hangs on supplies. A segment carries all conductors of its
supply, each with the same one-way impedance; the neutral is a conductor like
the others, so that out and back, and a shared neutral, come out by themselves.
Backward: the currents of all loads are added up towards the supply. Forward:
the voltages that these currents leave are worked out towards the loads. This
repeats until no load's current changes.

The method: Shirmohammadi, Hong, Semlyen, Luo, "A compensation-based power flow
method for weakly meshed distribution and transmission networks", IEEE
Transactions on Power Systems 3 (1988), with the neutral kept.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from .newton import newton
from .parts import Draw, Segment

TOLERANCE_A = 1e-6
_MOST_SWEEPS = 40
"""Ordinary cords need four to ten; what is not settled by then is left to Newton's method."""
_LEAST_STEP = 1 / 64


@dataclass(slots=True)
class Flow:
    """What a sweep found."""

    converged: bool
    sweeps: int
    load_a: list[complex] = field(default_factory=list)
    """Current of each load, from its p to its q."""
    load_v: list[complex] = field(default_factory=list)
    """Voltage of each load, p above q."""
    segment_a: list[list[complex]] = field(default_factory=list)
    """Current of each segment's conductors, away from the supply."""
    segment_v: list[Sequence[complex]] = field(default_factory=list)
    """Volts at each segment's far end."""


def sweep(
    segments: Sequence[Segment],
    draws: Sequence[Draw],
    on: Sequence[bool] | None = None,
    tolerance_a: float = TOLERANCE_A,
) -> Flow:
    """Solve a tree.

    Args:
        segments: parents before children.
        draws: the loads.
        on: which of them draw; all if None.
        tolerance_a: largest change of a load's current at which to stop, in amperes.

    Each load steps as if its heater stood alone behind its own cords, which
    settles any cord by itself. Where many loads share a cord so long and thin
    that they swing together, steps are made shorter, and at last Newton's
    method takes over. `converged` is false if even that did not settle.
    """
    flow = Flow(False, 0)
    flow.load_a = [0j] * len(draws)
    flow.segment_v = [segment.source for segment in segments]
    flow.segment_a = [[0j] * len(segment.source) for segment in segments]
    active = [index for index in range(len(draws)) if on is None or on[index]]
    live = _carrying(segments, draws, active)
    shares = _own_steps(segments, draws)
    changes = [0j] * len(draws)
    step, before = 1.0, float("inf")
    while flow.sweeps < _MOST_SWEEPS:
        flow.sweeps += 1
        worst, swing = _update(draws, active, flow, step, shares, changes)
        _backward(segments, draws, active, live, flow)
        _forward(segments, live, flow)
        if worst <= tolerance_a:
            flow.converged = True
            break
        if worst >= before or (swing < 0 and worst > 0.5 * before):
            step = max(step / 2, _LEAST_STEP)
        elif swing > 0 and worst > 0.8 * before:
            step = min(step * 1.25, 1.0)
        before = worst
    if not flow.converged:
        _settle(segments, draws, active, live, flow, tolerance_a)
    for index, segment in enumerate(segments):
        if not live[index] and segment.parent >= 0:
            flow.segment_v[index] = flow.segment_v[segment.parent]
    flow.load_v = [
        flow.segment_v[draw.segment][draw.p] - flow.segment_v[draw.segment][draw.q]
        for draw in draws
    ]
    return flow


def _settle(
    segments: Sequence[Segment],
    draws: Sequence[Draw],
    active: list[int],
    live: list[bool],
    flow: Flow,
    tolerance_a: float,
) -> None:
    """Find the currents by Newton's method and the voltages that go with them."""
    on = [draws[index] for index in active]
    start = [flow.load_a[index] for index in active]
    for index, current in zip(active, newton(segments, on, start, tolerance_a), strict=True):
        flow.load_a[index] = current
    _backward(segments, draws, active, live, flow)
    _forward(segments, live, flow)
    none = [0j] * len(draws)
    worst, _ = _update(draws, active, flow, 0.0, none, list(none))
    flow.converged = worst <= 10 * tolerance_a


def _carrying(segments: Sequence[Segment], draws: Sequence[Draw], active: list[int]) -> list[bool]:
    """Which segments carry anything at all; at the others' ends are their parents' volts."""
    live = [False] * len(segments)
    for index in active:
        live[draws[index].segment] = True
    for index in range(len(segments) - 1, -1, -1):
        if live[index] and segments[index].parent >= 0:
            live[segments[index].parent] = True
    return live


def _own_steps(segments: Sequence[Segment], draws: Sequence[Draw]) -> list[complex]:
    """Share of a change that a load takes: all of it, but for what its own cords give back."""
    ohm = [0j] * len(segments)
    for index, segment in enumerate(segments):
        ohm[index] = segment.impedance_ohm + (ohm[segment.parent] if segment.parent >= 0 else 0j)
    return [1 / (1 + 2 * ohm[draw.segment] * draw.model.conductance) for draw in draws]


def _update(
    draws: Sequence[Draw],
    active: list[int],
    flow: Flow,
    step: float,
    shares: list[complex],
    changes: list[complex],
) -> tuple[float, float]:
    """Let every load draw at the voltage it has.

    Returns the largest change asked for, and whether the changes go on in the
    direction of the last ones (above zero) or swing back (below).
    """
    worst = swing = 0.0
    load_a, segment_v = flow.load_a, flow.segment_v
    for index in active:
        draw = draws[index]
        volts = segment_v[draw.segment]
        change = draw.model.current(volts[draw.p] - volts[draw.q]) - load_a[index]
        load_a[index] += step * shares[index] * change
        swing += (change * changes[index].conjugate()).real
        changes[index] = change
        worst = max(worst, abs(change))
    return worst, swing


def _backward(
    segments: Sequence[Segment],
    draws: Sequence[Draw],
    active: list[int],
    live: list[bool],
    flow: Flow,
) -> None:
    amps = flow.segment_a
    for index, row in enumerate(amps):
        if live[index]:
            amps[index] = [0j] * len(row)
    for index in active:
        draw, current = draws[index], flow.load_a[index]
        row = amps[draw.segment]
        row[draw.p] += current
        row[draw.q] -= current
    for index in range(len(segments) - 1, -1, -1):
        parent = segments[index].parent
        if parent >= 0 and live[index]:
            up, row = amps[parent], amps[index]
            for conductor, current in enumerate(row):
                up[conductor] += current


def _forward(segments: Sequence[Segment], live: list[bool], flow: Flow) -> None:
    volts = flow.segment_v
    for index, segment in enumerate(segments):
        if not live[index]:
            continue
        above = segment.source if segment.parent < 0 else volts[segment.parent]
        z = segment.impedance_ohm
        if z:
            row = flow.segment_a[index]
            volts[index] = [v - z * i for v, i in zip(above, row, strict=True)]
        else:
            volts[index] = above
