"""What a supply gives against what it has to give, prepared as plain values."""

import math
from dataclasses import dataclass

from ...analysis import Analysis
from ...findings.number import Number
from ...units import UnitSystem, counted, show, show_plain
from ...water.supply_results import SupplyWindow

_OF_PUMPS = ("useful volume", "most starts", "shortest run")


@dataclass(frozen=True, slots=True)
class SupplyRow:
    """A pump or a mains tap as a board shows it; pressures in pascals, gauge, at its outlet."""

    item: str
    name: str
    numbers: str
    state: str
    """"ok" inside its window, "care" outside of it, "stop" where there is no window."""
    words: str
    """One line under the bar."""
    least_pa: float
    greatest_pa: float
    """Of the window; infinite where nothing limits it."""
    low_pa: float
    high_pa: float
    """What it gives now: at the low end where the window's lower edge is set, since a pump that
    does not come to rest there stands above its cut-in."""
    is_open: bool
    tip: str
    told: tuple[Number, ...] = ()
    """What it has to give at least and at most, for whoever asks how that came about."""

    @property
    def top_pa(self) -> float:
        """The highest pressure that a scale has to hold."""
        edges = (self.least_pa, self.greatest_pa, self.low_pa, self.high_pa)
        return max(edge for edge in (0.0, *edges) if math.isfinite(edge))

    @property
    def spoken(self) -> str:
        """The row as one sentence, for screen readers."""
        return f"{self.name}: {self.numbers}, {self.words}"


def supply_rows(analysis: Analysis, system: UnitSystem) -> tuple[SupplyRow, ...]:
    """One row a supply, in the order of the build."""
    return tuple(supply_row(analysis, one, system) for one in analysis.water.windows)


def supply_row(analysis: Analysis, window: SupplyWindow, system: UnitSystem) -> SupplyRow:
    """The row of one supply."""
    low = show_plain(window.low_pa, "pressure", system)
    high = show(window.high_pa, "pressure", system)
    assumed = "" if window.known else ", assumed"
    return SupplyRow(
        item=window.item,
        name=window.name,
        numbers=f"{low} to {high}{assumed}",
        state="ok" if window.is_hit else "care" if window.is_open else "stop",
        words=f"{_verdict(window, system)}{_starts(analysis, window)}",
        least_pa=window.least_pa,
        greatest_pa=window.greatest_pa,
        low_pa=_runs_at(window),
        high_pa=window.high_pa,
        is_open=window.is_open,
        tip=_tip(analysis, window, system),
        told=(
            Number("supply", window.item, "least"),
            Number("supply", window.item, "greatest"),
            *(Number("pump", window.item, what) for what in _OF_PUMPS),
        ),
    )


def _runs_at(window: SupplyWindow) -> float:
    """What a pump gives in the case that asks most of it; of mains the least they may have."""
    case = window.least.case if window.least is not None else ""
    for need in window.needs:
        if window.kind == "pump" and need.counts and need.case == case and need.given_pa > 0.0:
            return need.given_pa
    return window.low_pa


def _verdict(window: SupplyWindow, system: UnitSystem) -> str:
    """In a few words, how it stands."""
    if window.unreachable:
        first = window.unreachable[0]
        return f"no pressure feeds {first.name or first.case}"
    if not window.is_open:
        names = ", ".join(one.name for one in window.set_points)
        return f"no pressure for all: regulate {names}" if names else "no pressure does for all"
    if window.is_hit:
        return f"{show(window.flow, 'flow', system)} at once"
    if window.high_pa > window.greatest_pa and window.greatest is not None:
        return f"too high for {window.greatest.name}"
    name = window.least.name if window.least is not None else window.name
    return f"too little for {name}"


def _starts(analysis: Analysis, window: SupplyWindow) -> str:
    duty = next((one for one in analysis.water.duties if one.item == window.item), None)
    if not window.is_open:
        return ""  # there is something worse to say
    if duty is None or not 0.0 < duty.most_starts_per_hour < math.inf:
        return ""
    vessel = "" if duty.accumulator is not None else ", no accumulator"
    return f" · up to {duty.most_starts_per_hour:,.0f} starts an hour{vessel}"


def _tip(analysis: Analysis, window: SupplyWindow, system: UnitSystem) -> str:
    lines = [
        window.name,
        f"Has to give {show(window.flow, 'flow', system)} at once, for "
        f"{counted(len(window.flow_taps), 'tap')}: {', '.join(window.flow_taps)}.",
    ]
    least, greatest = window.least, window.greatest
    if least is not None and math.isfinite(least.pressure_pa):
        lines.append(
            f"At least {show(least.pressure_pa, 'pressure', system)} at its outlet while water "
            f"runs: {least.name} sets it."
        )
    if greatest is not None and math.isfinite(greatest.pressure_pa):
        lines.append(
            f"At most {show(greatest.pressure_pa, 'pressure', system)} at rest: "
            f"{greatest.name} sets it."
        )
    if window.kind == "pump" and least is not None:
        lines.append(f"There it gives {show(_runs_at(window), 'pressure', system)} now.")
    duty = next((one for one in analysis.water.duties if one.item == window.item), None)
    if duty is not None and duty.accumulator is not None:
        useful = show(duty.useful_volume, "small volume", system, 0)
        lines.append(f"Its accumulator gives {useful} between cut-out and cut-in.")
    return "\n".join(lines)
