"""The legs of a whole generator side by side, above the circuits of its breakers."""

from PySide6.QtGui import QPainter

from ...analysis import Analysis
from ...build import Generator, Item
from ...documents.theme import Accent
from ...findings.number import Number
from ...findings.power_numbers import other_number
from ...power.results import EVERYTHING_ON, Limit
from ...units import UnitSystem, show, show_pair
from .circuit_bar import CircuitBar
from .circuit_rows import CircuitRow, LegBar

_LEAST_A = 0.05


class SupplyLegs(CircuitBar):
    """Bars of legs in plain ink: they belong to no circuit, and no load is dragged onto them."""

    def accent(self) -> Accent:
        theme = self._theme
        return Accent(
            fill=theme.ink_muted,
            on_fill=theme.panel,
            ink=theme.ink_muted,
            line=theme.ink_muted,
            dash=(),
        )

    def paint_badge(self, painter: QPainter) -> float:
        return 1.0


def supply_legs(analysis: Analysis, case: str, system: UnitSystem) -> tuple[CircuitRow, ...]:
    """One row a generator with several legs: what each carries of what it may, and the neutral."""
    found = []
    for item in analysis.build.items:
        role = item.specification.electrical
        cases = analysis.power.conductor_amps.get(item.id)
        if not isinstance(role, Generator) or cases is None:
            continue
        amps = cases.get(case, cases.get(EVERYTHING_ON, {}))
        limit = next(
            (one for key, one in analysis.power.limits if key == item.id and one.name == "leg"),
            None,
        )
        if len(amps) > 2 and limit is not None and limit.limit > 0.0:
            told = (other_number(item.id, limit),) if case == EVERYTHING_ON else ()
            found.append(_row(item, amps, limit, system, told))
    return tuple(found)


def _row(
    item: Item,
    amps: dict[str, float],
    limit: Limit,
    system: UnitSystem,
    told: tuple[Number, ...],
) -> CircuitRow:
    legs = {leg: value for leg, value in amps.items() if leg != "N"}
    fullest, lightest = max(legs.values()), min(legs.values())
    apart = show(fullest - lightest, "current", system)
    if not limit.holds:
        verdict = f"a leg over by {show(limit.value - limit.limit, 'current', system)}", "stop"
    elif fullest < _LEAST_A:
        verdict = "nothing on it", "note"
    else:
        verdict = ("legs even" if fullest - lightest < _LEAST_A else f"legs {apart} apart"), "ok"
    shown = {leg: value for leg, value in amps.items() if leg != "N" or value >= _LEAST_A}
    assumed = f"\nAssumed: {limit.assumed}" if limit.assumed else ""
    return CircuitRow(
        key=f"{item.id}/legs",
        letter="",
        title=f"{item.name}, legs",
        numbers=show_pair(fullest, limit.limit, "current", system),
        verdict=verdict[0],
        state=verdict[1],
        segments=(),
        legs=tuple(
            LegBar(f"{leg} {show(value, 'current', system)}", value / limit.limit, leg == "N")
            for leg, value in shown.items()
        ),
        share=fullest / limit.limit,
        items=(item.id,),
        tip=f"{item.name}: {limit.rule}. {limit.source}{assumed}",
        tail=", legs",
        told=told,
    )
