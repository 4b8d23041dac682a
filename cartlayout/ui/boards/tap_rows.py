"""What the taps board shows, prepared as plain values before anything is painted."""

import math
from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Item
from ...documents.water_lines import robbed_words
from ...findings.number import Number
from ...units import UnitSystem, show, show_pair, show_plain
from ...units.display import unit_label
from ...water.results import ALL_OPEN, Tap, TapState, alone
from ...water.supply_results import Robbed
from ...workings.water_taps import flow_number, pressure_number, static_number

_INLET_WORDS = ("pressure", "inlet", "water")
"""Words by which a specification's origin is that of its inlet's window, the surest first."""
_ABOUT_TAPS = {"water.pressure", "water.flow", "water.static", "water.never", "water.not-fed"}


@dataclass(frozen=True, slots=True)
class TapRow:
    """One tap as the board shows it; pressures in pascals, gauge."""

    key: tuple[str, str]
    item: str
    name: str
    numbers: str
    state: str
    """The worst the findings say: "ok", "care", "stop"; "note": not fed."""
    least_pa: float
    greatest_pa: float
    static_pa: float | None
    static_ok: bool
    open_pa: float | None
    open_ok: bool
    tip: str
    line: str = ""
    """Under the bar: shut, alone, and with the tap that takes most from it."""
    line_bad: bool = False
    """The tap that is open as well lets it fall short."""
    told: tuple[Number, ...] = ()
    """What each of its numbers is, in their order, then the pressure when it is shut."""
    about: tuple[str, ...] = ()
    """Typical figures that its numbers rest on."""

    @property
    def spoken(self) -> str:
        """The row as one sentence, for screen readers."""
        return f"{self.name}: {self.numbers}, {'holds' if self.state == 'ok' else self.state}" + (
            f". {self.line}" if self.line else ""
        )


@dataclass(frozen=True, slots=True)
class PressureScale:
    """A common scale for all taps."""

    top_pa: float
    ticks: tuple[tuple[float, str], ...]
    unit: str


def tap_rows(analysis: Analysis, case: str, system: UnitSystem) -> tuple[TapRow, ...]:
    """One row a tap, in the order of the build."""
    said = _said(analysis)
    robbed: dict[tuple[str, str], tuple[Robbed, ...]] = {}
    for one in analysis.water.together:  # by taps, the worst first
        if one.case != ALL_OPEN:
            key = (one.item, one.port)
            robbed[key] = (*robbed.get(key, ()), one)
    return tuple(
        _row(
            tap,
            case,
            system,
            said.get(tap.item, ""),
            _origin(analysis.build.item(tap.item)),
            robbed.get((tap.item, tap.port), ()),
        )
        for tap in analysis.water.taps
    )


def _said(analysis: Analysis) -> dict[str, str]:
    """The worst that the findings say about the pressure and flow of each item's taps."""
    found: dict[str, str] = {}
    for finding in analysis.findings:  # stops come first
        if finding.code in _ABOUT_TAPS and finding.severity != "note" and finding.items:
            found.setdefault(finding.items[0], finding.severity)
    return found


def state_in(tap: Tap, case: str) -> TapState | None:
    """The tap with water running: in the case looked at, or alone where it is shut there."""
    return tap.states.get(case_in(tap, case))


def case_in(tap: Tap, case: str) -> str:
    """The case that `state_in` is of; empty where none opens the tap."""
    for name in (case, alone(tap.name)):
        state = tap.states.get(name)
        if state is not None and state.open:
            return name
    return next((name for name, state in tap.states.items() if state.open), "")


def _row(
    tap: Tap,
    case: str,
    system: UnitSystem,
    said: str,
    origin: str,
    robbed: tuple[Robbed, ...],
) -> TapRow:
    state = state_in(tap, case) if tap.fed else None
    static_ok = tap.static_pa <= tap.greatest_pa
    if not tap.fed:
        numbers, verdict = "not fed", said or "note"
    elif state is None:
        numbers = f"shut {show(tap.static_pa, 'pressure', system)}"
        verdict = said or "ok"
    else:
        short = not state.flow_ok
        flows = show_pair(state.flow, tap.required_flow, "flow", system, apart=short)
        numbers = f"{show(state.pressure_pa, 'pressure', system)}   {flows}"
        holds = static_ok and state.pressure_ok and state.flow_ok
        verdict = said or ("ok" if holds else "care")
    return TapRow(
        key=(tap.item, tap.port),
        item=tap.item,
        name=tap.name,
        numbers=numbers,
        state=verdict,
        least_pa=tap.least_pa,
        greatest_pa=tap.greatest_pa,
        static_pa=tap.static_pa if tap.fed else None,
        static_ok=static_ok,
        open_pa=state.pressure_pa if state is not None else None,
        open_ok=state is None or state.pressure_ok,
        tip=_tip(tap, state, system, origin, robbed),
        line=_line(tap, robbed, system) if tap.fed else "",
        line_bad=bool(robbed) and robbed[0].fails,
        told=_told(tap, state, case_in(tap, case)),
    )


def _told(tap: Tap, state: TapState | None, case: str) -> tuple[Number, ...]:
    """In the order of the numbers on the row."""
    if not tap.fed:
        return ()
    if state is None:
        return (static_number(tap),)
    return pressure_number(tap, case), flow_number(tap, case), static_number(tap)


def _line(tap: Tap, robbed: tuple[Robbed, ...], system: UnitSystem) -> str:
    """Such as "shut 59.0 · alone 41.1 · with Pitcher rinser 38.9 psi"."""
    parts = [f"shut {show_plain(tap.static_pa, 'pressure', system)}"]
    by_itself = tap.states.get(alone(tap.name))
    if robbed:
        first = robbed[0]
        names = " and ".join(one.name for one in first.by)
        was = show_plain(first.alone_pa, "pressure", system, beside=first.pressure_pa)
        now = show_plain(first.pressure_pa, "pressure", system, beside=first.alone_pa)
        parts += [f"alone {was}", f"with {names} {now}"]
    elif by_itself is not None:
        parts.append(f"alone {show_plain(by_itself.pressure_pa, 'pressure', system)}")
    return f"{' · '.join(parts)} {unit_label('pressure', system)}"


def _origin(item: Item | None) -> str:
    """Where the window of an inlet is from, as its specification says."""
    origins = item.specification.origins if item is not None else ()
    for words in _INLET_WORDS:
        for one in origins:
            if words in one.of.lower():
                return f"{one.basis}, {one.note}" if one.note else one.basis
    return ""


_MOST_TOLD = 3
"""Of those who take pressure from a tap, in its tip."""


def _tip(
    tap: Tap,
    state: TapState | None,
    system: UnitSystem,
    origin: str,
    robbed: tuple[Robbed, ...],
) -> str:
    lines = [
        tap.name,
        f"Its maker allows {show(tap.least_pa, 'pressure', system)} while water runs "
        f"to {show(tap.greatest_pa, 'pressure', system)} at any time, "
        f"and asks for {show(tap.required_flow, 'flow', system)}.",
    ]
    if not tap.fed:
        lines.append("No water reaches it as drawn.")
        return "\n".join(lines)
    lines.append(f"Shut (static, the highest its line can see): {_p(tap.static_pa, system)}.")
    if state is not None:
        lines.append(
            f"Open (flowing): {_p(state.pressure_pa, system)} and "
            f"{show(state.flow, 'flow', system)}, at the end of the pump's range that is worse."
        )
    lines += [robbed_words(one, system) for one in robbed[:_MOST_TOLD]]
    if tap.assumed:
        lines.append(f"Assumed: {tap.assumed}")
    if origin:
        lines.append(f"Limits from: {origin}")
    return "\n".join(lines)


def _p(pressure_pa: float, system: UnitSystem) -> str:
    return show(pressure_pa, "pressure", system)


def pressure_scale(
    rows: tuple[TapRow, ...], system: UnitSystem, highest_pa: float = 0.0
) -> PressureScale:
    """A scale from zero that holds every window and every reading, with round ticks."""
    edges = (max(row.greatest_pa, row.static_pa or 0.0, row.open_pa or 0.0) for row in rows)
    return scale_to(max([highest_pa, *edges]), system)


def scale_to(highest_pa: float, system: UnitSystem) -> PressureScale:
    """A scale from zero to a little over a pressure, with round ticks."""
    unit_pa = 1e5 if system is UnitSystem.METRIC else 6894.757293168
    wanted = max(highest_pa, 1e5) * 1.04 / unit_pa
    step = _round_step(wanted / 4)
    count = math.ceil(wanted / step)
    ticks = tuple(
        (index * step * unit_pa, show_plain(index * step * unit_pa, "pressure", system, 0))
        for index in range(count + 1)
    )
    return PressureScale(count * step * unit_pa, ticks, unit_label("pressure", system))


def _round_step(rough: float) -> float:
    size = 10.0 ** math.floor(math.log10(rough))
    return next(step * size for step in (1.0, 2.0, 5.0, 10.0) if step * size >= rough * 0.999)
