"""Where no pressure does for all: regulators before the taps that want less, tried in the line.

A regulator serves the one appliance that needs less, and the supply may then push as hard as the
others need (common practice, no source). The tap that breaks first as the supply goes up gets one,
then the next, until one pressure does for all or a tap cannot be helped.
"""

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..limits.water_practice import water_practice
from .fixed_source import FixedSource, regulated
from .hydraulics import Characteristic, Key, Limiter
from .model import TapPlace
from .reach import AtRest, Limit
from .supply_results import SetPoint

if TYPE_CHECKING:
    from .window import Supply

_STEP_PA = 5e3
"""Set points are told in twentieths of a bar."""
_TOP_PA = 10e5
"""Tried where nothing is left that could suffer."""
_HALVINGS = 34
"""Of a span that reaches from one to two: to a part in 10^10."""

Opened = tuple[tuple[SetPoint, ...], FixedSource, list[tuple[float, Limit]]]


class SetPoints:
    """Regulators that open the window of one supply."""

    def __init__(self, supply: "Supply") -> None:
        self.supply = supply
        self._sketch = supply.bare.copy()
        self._set_pa: dict[Key, float] = dict(supply.others_pa)
        self._points: list[SetPoint] = []

    def opened(self, cases: Sequence[frozenset[Key]]) -> Opened | None:
        """The regulators, the line with them, and its limits; None where none open it.

        Args:
            cases: open taps of every case that counts; one that is part of another may be left out.
        """
        edges = self.supply.edges
        for _ in self.supply.taps:
            if not edges or not self._add(edges[0][1]):
                return None
            rest = AtRest(self._sketch, self.supply.outlets, self._set_pa)
            edges = [*rest.lowest(self.supply.limits(self._sketch))]
            top_pa = edges[0][0] if edges else _TOP_PA
            with_these = tuple((one.item, one.port) for one in self._points)
            source = self.supply.fixed_source(self._sketch, self._set_pa, with_these)
            if top_pa >= 0.0 and all(source.is_enough(opened, top_pa) for opened in cases):
                return tuple(self._points), source, edges
        return None

    def _add(self, limit: Limit) -> bool:
        """Put a regulator before the tap of a limit; whether that can be done."""
        tap = next(
            (
                one
                for one in self.supply.taps
                if one.item.id == limit.item and one.inlet.port == limit.port
            ),
            None,
        )
        if tap is None or any(
            (one.item, one.port) == (limit.item, limit.port) for one in self._points
        ):
            return False
        there = self.supply.rest.regulator(tap.node)
        limiter = self._sketch.limiters[there][2] if there is not None else _typical(0.0)
        least_pa, greatest_pa = self._span(tap, limiter)
        if not 0.0 < greatest_pa >= least_pa:
            return False
        set_pa = _round_between(least_pa, greatest_pa)
        if there is not None:
            self._set_pa[there] = set_pa
        else:
            regulated(self._sketch, tap.node, _typical(set_pa))
        self._points.append(
            SetPoint(
                tap.item.id,
                tap.inlet.port,
                tap.name,
                set_pa,
                least_pa,
                greatest_pa,
                str(there) if there is not None else "",
            )
        )
        return True

    def _span(self, tap: TapPlace, limiter: Limiter) -> tuple[float, float]:
        """Set points that feed a tap and spare it."""
        _, characteristic, outlet_pa = self._sketch.taps[tap.node]
        required = tap.inlet.required_flow.si
        flow = max(required, _flow_at(characteristic, tap.inlet.least_pressure.si - outlet_pa))
        if flow > characteristic.greatest:
            flow = characteristic.greatest
        needed_pa = max(
            tap.inlet.least_pressure.si, characteristic.loss(min(flow, required))[0] + outlet_pa
        )
        return (
            needed_pa + limiter.droop * flow,
            tap.inlet.greatest_pressure.si - limiter.creep_pa,
        )


def _typical(set_pa: float) -> Limiter:
    """A small regulator that nobody has chosen yet."""
    practice = water_practice()
    return Limiter(
        Characteristic(square=practice.regulator_open_pa_s2_m6.value, least=0.0),
        set_pa,
        practice.regulator_droop_pa_s_m3.value,
        practice.regulator_creep_pa.value,
    )


def _flow_at(characteristic: Characteristic, pressure_pa: float) -> float:
    """Flow that a pressure drives through a tap [m3/s]; its loss only grows with flow."""
    if pressure_pa <= 0.0:
        return 0.0
    low, high = 0.0, 1e-6
    while characteristic.loss(high)[0] < pressure_pa and high < 1.0:
        low, high = high, 2.0 * high
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (
            (middle, high) if characteristic.loss(middle)[0] < pressure_pa else (low, middle)
        )
    return low


def _round_between(least_pa: float, greatest_pa: float) -> float:
    """The middle of a span, rounded where that stays inside."""
    middle = 0.5 * (least_pa + greatest_pa)
    rounded = math.floor(middle / _STEP_PA + 0.5) * _STEP_PA
    return rounded if least_pa <= rounded <= greatest_pa else middle
