"""What gauges should show, beside each, and whether what was read off agrees."""

from functools import partial

from ...analysis import Analysis
from ...units import UnitSystem, show, show_plain
from ...water.gauge_results import GaugeReading, GaugeState
from ...water.results import ALL_OPEN, ALL_SHUT
from .kept import Kept
from .picture import BodyShape, Note, PlanOptions, State

_ONE_NUMBER_PA = 500.0
"""Ends of a range that are nearer than this are one number."""


def gauge_notes(
    analysis: Analysis, options: PlanOptions, bodies: dict[str, BodyShape], kept: Kept
) -> list[Note]:
    """One for every gauge that water stands at."""
    notes = []
    for gauge in analysis.water.gauges:
        body = bodies.get(gauge.item)
        if body is None or not gauge.fed:
            continue
        text, state = gauge_text(gauge, options)
        key = f"gauge {gauge.item}"
        make = partial(_note, key, text, state, body)
        notes.append(kept.get(key, (text, state, body), make))
    return notes


def gauge_text(gauge: GaugeState, options: PlanOptions) -> tuple[str, State]:
    """What a gauge should show: in the case that is shown, or from everything open to all shut.

    Where something was read in that case, what was read against it.
    """
    system = options.system
    shown = gauge.reading(options.case)
    if shown is not None and shown.read_pa is not None:
        return _read(gauge, shown, system)
    if shown is not None and shown.case not in (ALL_OPEN, ALL_SHUT):
        return _range(shown.low_pa, shown.high_pa, system), ""
    low_pa = min(one.low_pa for one in gauge.readings)
    high_pa = max(one.high_pa for one in gauge.readings)
    return _range(low_pa, high_pa, system), ""


def _read(gauge: GaugeState, shown: GaugeReading, system: UnitSystem) -> tuple[str, State]:
    read_pa = shown.read_pa or 0.0
    if not gauge.is_off(shown):
        return f"reads {show(read_pa, 'pressure', system)}", "ok"
    should_pa = shown.high_pa if read_pa > shown.high_pa else shown.low_pa
    number = show_plain(read_pa, "pressure", system, beside=should_pa)
    return f"reads {number} of {show(should_pa, 'pressure', system)}", "care"


def _range(low_pa: float, high_pa: float, system: UnitSystem) -> str:
    if high_pa - low_pa < _ONE_NUMBER_PA:
        return show(high_pa, "pressure", system)
    return f"{show_plain(low_pa, 'pressure', system)} to {show(high_pa, 'pressure', system)}"


def _note(key: str, text: str, state: State, body: BodyShape) -> Note:
    return Note(
        key=key,
        kind="water",
        text=text,
        anchor=body.centre,
        target=body.box,
        item=body.id,
        state=state,
    )
