"""The tap table: what every inlet asks, what it gets case by case, who takes from it, and why."""

import math
from collections.abc import Iterator, Sequence

from ....advice.sensitivity.ranges import origin_of
from ....findings.number import Number
from ....units import Value, capitalised
from ....water.results import ALL_OPEN, ALL_SHUT, Tap, TapState, alone
from ....water.supply_results import Robbed, SupplyWindow
from ....workings.water_taps import flow_number, pressure_number, static_number
from ...one_line.water_words import tap_state
from ..content import Cell, Column, Content, Job, Paragraph, Part, Table
from ..typical import typical_note

_HOW = (
    "Gauge pressures at the inlet while the source pushes least: a pump at its cut-in, mains at "
    "their least; at rest the highest that the line can see. A tap alone can read lower than with "
    "everything open, because alone the pump goes on and off, and with everything open it runs. "
    "Figures that are typical or from a handbook are those of the kind: read the maker's sheet."
)


def taps(job: Job) -> Content:
    """The sheet, with every inlet that a tube could feed."""
    parts: list[Part] = [Paragraph(_HOW, "muted")]
    if not job.analysis.water.taps:
        parts.append(Paragraph("Nothing on the plan takes water from a tube."))
        return Content("taps", "Taps", "inspector", tuple(parts), applies=False)
    parts += [_taps(job), _cases(job)]
    together = job.analysis.water.together
    worst = _robbed(job, "taps-together", "Who takes pressure from whom", _worst(together))
    for table in (worst, _supplies(job), _ladders(job)):
        if table.rows:
            parts.append(table)
    parts += typical_note(job, _numbers(job))
    every = _robbed(job, "taps-together-all", "Every two taps open together", together)
    return Content("taps", "Taps", "inspector", tuple(parts), file_tables=(every,))


def _numbers(job: Job) -> Iterator[Number]:
    """What the tables of taps tell: at rest, and in each case that opens the tap."""
    for tap in job.analysis.water.taps:
        yield static_number(tap)
        for case, state in tap.states.items():
            if state.open:
                yield pressure_number(tap, case)
                yield flow_number(tap, case)


def _pressure(pressure_pa: float, beside: float | None = None) -> Value:
    return Value(pressure_pa, "pressure", None, beside)


def _flow(flow: float, beside: float | None = None) -> Value:
    return Value(flow, "flow", None, beside)


def _column(title: str, dimension: str = "pressure", share: float = 0.8) -> Column:
    return Column(title, dimension, "right", share)


def _name(job: Job, tap: Tap) -> str:
    several = sum(one.item == tap.item for one in job.analysis.water.taps) > 1
    return f"{tap.name}, {tap.port}" if several else tap.name


# --- taps -----------------------------------------------------------------------------------------


def _taps(job: Job) -> Table:
    """One row a tap: what it asks beside what it gets alone and with everything open."""
    heights = job.analysis.network.heights_m
    rows: list[tuple[Cell, ...]] = []
    marks: list[str] = []
    for tap in job.analysis.water.taps:
        height = heights.get((tap.item, tap.port))
        rows.append(
            (
                _name(job, tap),
                Value(height, "length") if height is not None else None,
                Value(tap.temperature_k, "temperature") if tap.fed else None,
                _pressure(tap.least_pa),
                _pressure(tap.greatest_pa),
                _flow(tap.required_flow),
                _seen(tap.static_pa, tap) if tap.fed else "not fed",
                *_at(tap, alone(tap.name)),
                *_at(tap, ALL_OPEN),
                _stated_by(job, tap),
                capitalised(tap.assumed),
            )
        )
        marks.append(tap_state(job.analysis, tap) or "ok")
    columns: tuple[Column, ...] = (
        Column("Tap", share=1.6),
        _column("Height", "length", 0.7),
        _column("Water", "temperature", 0.6),
        _column("Asks at least"),
        _column("May see"),
        _column("Asks", "flow"),
        _column("At rest"),
        _column("Alone"),
        _column("Alone", "flow"),
        _column("All open"),
        _column("All open", "flow"),
        Column("Stated by", share=0.9),
        Column("Assumed", share=1.4),
    )
    if not any(tap.assumed for tap in job.analysis.water.taps):
        columns, rows = columns[:-1], [row[:-1] for row in rows]
    return Table("taps", "Every tap against what its maker asks", columns, tuple(rows),
                 tuple(marks))  # fmt: skip


def _stated_by(job: Job, tap: Tap) -> str:
    """What the inlet's figures rest on; typical ones nobody has checked on this piece."""
    item = job.build.item(tap.item)
    origin = origin_of(item, "pressure", "inlet", "water") if item is not None else None
    return origin.basis if origin is not None else "not told"


def _at(tap: Tap, case: str) -> tuple[Cell, Cell]:
    state = tap.states.get(case)
    if state is None or not tap.fed:
        return None, None
    return _got(state.pressure_pa, tap, state), _flow_got(tap, state)


def _got(pressure_pa: float, tap: Tap, state: TapState) -> Value:
    """A pressure that is too low never reads like the limit; one that holds need not differ."""
    return _pressure(pressure_pa, None if state.pressure_ok else tap.least_pa)


def _flow_got(tap: Tap, state: TapState) -> Value:
    return _flow(state.flow, None if state.flow_ok else tap.required_flow)


def _seen(pressure_pa: float, tap: Tap) -> Value:
    """A pressure against what the tap may see."""
    over = pressure_pa > tap.greatest_pa
    return _pressure(pressure_pa, tap.greatest_pa if over else None)


# --- cases ----------------------------------------------------------------------------------------


def _cases(job: Job) -> Table:
    """Every tap in every case in which it is open, and at rest."""
    rows, marks = [], []
    for tap in job.analysis.water.taps:
        if not tap.fed:
            continue
        for case, state in tap.states.items():
            if not state.open and case != ALL_SHUT:
                continue
            rows.append(
                (
                    _name(job, tap),
                    case,
                    _pressure(tap.least_pa) if state.open else None,
                    *_range(tap, state),
                    _pressure(tap.greatest_pa),
                    _flow(tap.required_flow) if state.open else None,
                    _flow_got(tap, state) if state.open else None,
                    _short(state),
                )
            )
            fine = state.pressure_ok and state.flow_ok
            marks.append("ok" if fine else tap_state(job.analysis, tap) or "care")
    columns = (
        Column("Tap", share=1.6),
        Column("Case", share=2.0),
        _column("Asks at least"),
        _column("Lowest"),
        _column("Highest"),
        _column("May see"),
        _column("Asks", "flow"),
        _column("Gets", "flow"),
        Column("Short of", share=1.2),
    )
    return Table("taps-by-case", "Every tap in every case", columns, tuple(rows), tuple(marks),
                 empty="No tap is fed.")  # fmt: skip


def _range(tap: Tap, state: TapState) -> tuple[Cell, Cell]:
    """Between what the pressure lies; at rest only the highest counts."""
    if not state.open:
        return None, _seen(tap.static_pa, tap)
    return _got(state.lowest_pa, tap, state), _seen(state.highest_pa, tap)


def _short(state: TapState) -> str:
    if state.pressure_ok and state.flow_ok:
        return ""
    if not state.open:
        return "over what it may see"
    if not state.pressure_ok and not state.flow_ok:
        return "pressure and flow"
    return "flow" if state.pressure_ok else "pressure"


# --- who takes from whom --------------------------------------------------------------------------


_MOST_ROBBED = 3
"""Of what takes from a tap, besides everything open, the worst so many are on paper."""


def _worst(together: Sequence[Robbed]) -> list[Robbed]:
    """All that fails, everything open, and the worst of the rest; by taps as they come."""
    found, count = [], dict[tuple[str, str], int]()
    for one in together:
        key = (one.item, one.port)
        counts = not one.fails and one.case != ALL_OPEN
        if counts and count.get(key, 0) >= _MOST_ROBBED:
            continue
        count[key] = count.get(key, 0) + counts
        found.append(one)
    return found


def _robbed(job: Job, key: str, title: str, together: Sequence[Robbed]) -> Table:
    rows, marks = [], []
    names = {(tap.item, tap.port): _name(job, tap) for tap in job.analysis.water.taps}
    for one in together:
        others = ", ".join(names.get((by.item, by.port), by.name) for by in one.by)
        rows.append(
            (
                names.get((one.item, one.port), one.name),
                others,
                _pressure(one.alone_pa, one.pressure_pa),
                _pressure(one.pressure_pa, one.alone_pa),
                _pressure(one.fall_pa),
                _flow(one.alone_flow),
                _flow(one.flow),
            )
        )
        marks.append("care" if one.fails else "ok")
    columns = (
        Column("Tap", share=1.3),
        Column("Open as well", share=2.4),
        _column("Alone"),
        _column("With these"),
        _column("They take"),
        _column("Alone", "flow"),
        _column("With these", "flow"),
    )
    return Table(key, title, columns, tuple(rows),
                 tuple(marks))  # fmt: skip


# --- supplies -------------------------------------------------------------------------------------


def _supplies(job: Job) -> Table:
    windows = job.analysis.water.windows
    columns = (
        Column("Supply", share=1.2),
        _column("Gives least", share=0.8),
        _column("Gives most", share=0.8),
        _column("Has to give, flowing", share=1.1),
        Column("Because of", share=1.2),
        _column("May stand at, at rest", share=1.1),
        Column("Because of", share=1.2),
        _column("At once", "flow", 0.7),
        Column("Remarks", share=2.0),
    )
    rows = tuple(_supply_row(job, one) for one in windows)
    marks = tuple("ok" if one.is_hit else "care" for one in windows)
    return Table("supplies", "What the supply has to give", columns, rows, marks)


def _supply_row(job: Job, one: SupplyWindow) -> tuple[Cell, ...]:
    least, greatest = one.least, one.greatest
    has_least = least is not None and math.isfinite(least.pressure_pa)
    has_most = greatest is not None and math.isfinite(greatest.pressure_pa)
    return (
        one.name,
        _pressure(one.low_pa, one.least_pa if has_least else None),
        _pressure(one.high_pa, one.greatest_pa if has_most else None),
        _pressure(one.least_pa, one.low_pa) if has_least else None,
        least.name if least is not None else "nothing asks for pressure",
        _pressure(one.greatest_pa, one.high_pa) if has_most else None,
        greatest.name if greatest is not None and has_most else "nothing suffers",
        _flow(one.flow),
        _remarks(job, one),
    )


def _remarks(job: Job, one: SupplyWindow) -> str:
    said = []
    if not one.known:
        said.append("its range is assumed")
    said += [f"no pressure feeds {need.name or need.case}" for need in one.unreachable]
    if one.least is not None and not one.unreachable and not one.is_open:
        said.append("no one pressure does for all")
    for point in one.set_points:
        at = _pressure(point.set_point_pa).shown(job.system)
        what = "set the regulator" if point.regulator else "a regulator"
        said.append(f"{what} before {point.name} at {at} opens it")
    return capitalised("; ".join(said))


# --- where the pressure goes ----------------------------------------------------------------------


def _ladders(job: Job) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for tap in job.analysis.water.taps:
        name = _name(job, tap)
        for step in tap.ladder:
            rows.append((name, step.name, _pressure(step.loss_pa), _pressure(step.pressure_pa)))
    columns = (
        Column("Tap, alone open", share=1.4),
        Column("On the way", share=2.2),
        _column("Takes"),
        _column("Left behind it"),
    )
    note = "Negative: it adds, as a pump does, or a fall in height."
    title = "Where the pressure goes on the way to each tap"
    return Table("taps-ladders", title, columns, tuple(rows), note=note)
