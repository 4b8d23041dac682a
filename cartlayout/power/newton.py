"""Newton's method for the load currents, where sweeps alone would swing too long.

The unknowns are the currents of the loads. What each sees is its supply less
the drops that all currents leave on the way it shares with them, so that one
small dense matrix holds the whole tree.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from .parts import Draw, Segment

_MOST_STEPS = 60
_MOST_HALVINGS = 12
_NUDGE = 1e-5
"""Share of a voltage by which it is moved to see how a load's current follows."""

Reals = npt.NDArray[np.float64]
Phasors = npt.NDArray[np.complex128]


def newton(
    segments: Sequence[Segment],
    draws: Sequence[Draw],
    start_a: Sequence[complex],
    tolerance_a: float,
) -> list[complex]:
    """Load currents of a tree; the best found, which the caller checks.

    Args:
        segments: parents before children.
        draws: the loads that are on.
        start_a: currents to start from.
        tolerance_a: largest error of a current at which to stop, in amperes.
    """
    no_load = np.array(
        [segments[one.segment].source[one.p] - segments[one.segment].source[one.q] for one in draws]
    )
    shared = _shared_ohm(segments, draws)
    current: Phasors = np.array(start_a, dtype=complex)
    error = _error(draws, no_load, shared, current)
    for _ in range(_MOST_STEPS):
        if float(np.max(np.abs(error), initial=0.0)) <= tolerance_a:
            break
        step = _step(draws, no_load - shared @ current, shared, error)
        length = 1.0
        for _ in range(_MOST_HALVINGS):
            trial = current + length * step
            trial_error = _error(draws, no_load, shared, trial)
            if np.linalg.norm(trial_error) < np.linalg.norm(error):
                break
            length /= 2
        current, error = trial, trial_error
    return [complex(one) for one in current]


def _shared_ohm(segments: Sequence[Segment], draws: Sequence[Draw]) -> Phasors:
    """Volts that a load loses for each ampere of another."""
    conductors = max((len(segment.source) for segment in segments), default=0)
    passes = np.zeros((len(segments) * conductors, len(draws)))
    for column, draw in enumerate(draws):
        at = draw.segment
        while at >= 0:
            passes[at * conductors + draw.p, column] += 1
            passes[at * conductors + draw.q, column] -= 1
            at = segments[at].parent
    ohm = np.repeat([segment.impedance_ohm for segment in segments], conductors)
    shared: Phasors = np.asarray(passes.T @ (ohm[:, None] * passes), dtype=complex)
    return shared


def _error(draws: Sequence[Draw], no_load: Phasors, shared: Phasors, current: Phasors) -> Phasors:
    volts = no_load - shared @ current
    wanted = [draw.model.current(complex(u)) for draw, u in zip(draws, volts, strict=True)]
    error: Phasors = current - np.array(wanted, dtype=complex)
    return error


def _step(draws: Sequence[Draw], volts: Phasors, shared: Phasors, error: Phasors) -> Phasors:
    count = len(draws)
    follows: Reals = np.zeros((2 * count, 2 * count))
    for row, (draw, u) in enumerate(zip(draws, volts, strict=True)):
        nudge = _NUDGE * max(abs(u), 1.0)
        here = draw.model.current(complex(u))
        for column, direction in ((row, 1.0), (row + count, 1j)):
            change = (draw.model.current(complex(u) + nudge * direction) - here) / nudge
            follows[row, column], follows[row + count, column] = change.real, change.imag
    ohm = np.block([[shared.real, -shared.imag], [shared.imag, shared.real]])
    matrix = np.eye(2 * count) + follows @ ohm
    right = -np.concatenate([error.real, error.imag])
    try:
        found = np.linalg.solve(matrix, right)
    except np.linalg.LinAlgError:
        found = right
    step: Phasors = found[:count] + 1j * found[count:]
    return step
