"""What of water is worth a few words on the plan: hot tubes, the fastest tube, low points."""

from functools import partial

from ...analysis import Analysis
from ...limits.water_practice import water_practice
from ...units import UnitSystem, show
from ...water.drain_results import DrainState
from ...water.results import ALL_OPEN
from .kept import Kept
from .paths import at_share, flattened, length, near_part
from .picture import XY, Box, Note, PlanOptions, RunShape, State

HOT_BY_K = 5.0
"""A tube is drawn as hot where its water is so much warmer than the venue's."""
_STILL_M_S = 0.01
"""Slower than this is what is left of solving: nothing moves."""
_SHARES = (0.5, 0.35, 0.65, 0.25, 0.75, 0.15, 0.85)


def hot_runs(analysis: Analysis) -> dict[str, float]:
    """Tubes behind heaters: run id to the temperature of their water [K]."""
    cold_k = analysis.build.venue.water_temperature.si
    return {
        run: warm_k
        for run, warm_k in analysis.water.temperatures_k.items()
        if warm_k > cold_k + HOT_BY_K
    }


def water_notes(
    analysis: Analysis, options: PlanOptions, runs: tuple[RunShape, ...], kept: Kept
) -> list[Note]:
    """The temperature of hot water, once for each; and where water is fastest, if too fast."""
    shapes = {run.id: run for run in runs if run.medium == "water"}
    notes = []
    longest: dict[int, RunShape] = {}
    for run_id, warm_k in hot_runs(analysis).items():
        shape = shapes.get(run_id)
        if shape is None:
            continue
        known = longest.get(round(warm_k))
        if known is None or length(flattened(known)) < length(flattened(shape)):
            longest[round(warm_k)] = shape
    for warm_k, shape in longest.items():
        text = f"hot, {show(warm_k, 'temperature', options.system)}"
        make = partial(_on_run, f"hot {shape.id}", text, shape, "")
        notes.append(kept.get(("hot", shape.id), (shape, text), make))
    fastest = _fastest(analysis, options, shapes)
    if fastest is not None:
        shape, text, state = fastest
        make = partial(_on_run, "fastest", text, shape, state)
        notes.append(kept.get("fastest", (shape, text, state), make))
    return notes


def _fastest(
    analysis: Analysis, options: PlanOptions, shapes: dict[str, RunShape]
) -> tuple[RunShape, str, State] | None:
    """The tube in which water is fastest in the case that is shown."""
    water = analysis.water
    case = water.cases.get(options.case) or water.cases.get(ALL_OPEN)
    found = [
        (state.velocity_m_s, run_id)
        for run_id, state in (case.runs.items() if case is not None else ())
        if run_id in shapes
    ]
    if not found:
        return None
    velocity_m_s, run_id = max(found)
    limit = water_practice().greatest_velocity_m_s.value
    if velocity_m_s < _STILL_M_S:
        return None
    fast = velocity_m_s > limit
    shown = show(velocity_m_s, "velocity", options.system, beside=limit)
    return shapes[run_id], f"{'too fast' if fast else 'fastest'} {shown}", "care" if fast else ""


def low_point_notes(
    analysis: Analysis, runs: tuple[RunShape, ...], system: UnitSystem, kept: Kept
) -> list[Note]:
    """Where a drain has water that cannot run on."""
    shown = {run.id for run in runs if run.medium == "drain"}
    notes: list[Note] = []
    for drain in analysis.water.drains:
        if drain.run in shown:
            make = partial(_low_points, drain, system)
            notes += kept.get(("low", drain.run), (drain, system), make)
    return notes


def _low_points(drain: DrainState, system: UnitSystem) -> tuple[Note, ...]:
    made = []
    for place, low in enumerate(drain.low_points):
        x, y = low.at[0] * 1000.0, low.at[1] * 1000.0
        word = "air lock" if low.sealed else "low point"
        state: State = "stop" if low.blocked else "care"
        made.append(
            Note(
                key=f"low {drain.run} {place}",
                kind="water",
                text=f"{word}, {show(low.rise_m, 'length', system)} up again",
                anchor=(x, y),
                target=Box(x, y, 0.0, 0.0),
                run=drain.run,
                state=state,
            )
        )
    return tuple(made)


def _on_run(key: str, text: str, run: RunShape, state: State) -> Note:
    places = _places(run)
    x, y = places[0]
    return Note(
        key=key,
        kind="water",
        text=text,
        anchor=(x, y),
        target=Box(x, y, 0.0, 0.0),
        run=run.id,
        state=state,
        along=places[1:],
    )


def _places(run: RunShape) -> tuple[XY, ...]:
    points = flattened(near_part(run))
    if length(points) <= 0.0:
        return (points[0],)
    return tuple(at_share(points, share)[0] for share in _SHARES)
