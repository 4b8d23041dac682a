"""Which tube goes onto which connector, with what adapter and at what loss."""

import itertools
import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from .fittings import fitting_loss
from .rows import LimitsError, Row, Sourced, Status, weakest
from .tables import read_table
from .tubes import TubeRow, tube_row, tubes
from .water_connectors import water_connector

_FILE = "end_fittings.json"

Making = Literal["direct", "adapter", "reducer"]
"""direct: made for each other. adapter: a stock part between the two systems. reducer: a part
that also changes the size, or goes from inch to metric."""
_TROUBLE: dict[Making, int] = {"direct": 0, "adapter": 1, "reducer": 2}


class _Rule(Sourced, frozen=True):
    tubes: tuple[str, ...]
    connectors: tuple[str, ...]
    making: Making
    name: str
    """What it is called; {tube} and {connector} stand for the two."""
    fittings: tuple[str, ...] = ()
    """Names of the fittings table whose loss is paid here."""
    passage_share: float | None = None
    """Narrowest bore of the part as a share of the tube's, where it is narrower."""
    open_end: bool = False


class _Table(Row, frozen=True):
    rules: tuple[_Rule, ...]


@dataclass(frozen=True, slots=True)
class EndFitting:
    """How a tube is fastened to a connector."""

    name: str
    making: Making
    loss_coefficient: float
    """Velocity heads in the tube's bore, in the worse direction of flow."""
    source: str
    status: Status


@cache
def _end_fittings() -> dict[tuple[str, str], EndFitting]:
    found: dict[tuple[str, str], EndFitting] = {}
    for place, rule in enumerate(read_table(_FILE, _Table).rules):
        where = f"{_FILE}: rules[{place}]"
        for tube_name in rule.tubes:
            for key in rule.connectors:
                made = _made(rule, tube_name, key, where)
                if (tube_name, key) in found:
                    raise LimitsError(f"{where}: {tube_name} on {key} is there already")
                found[tube_name, key] = made
    return found


def _made(rule: _Rule, tube_name: str, key: str, where: str) -> EndFitting:
    tube, connector = tube_row(tube_name), water_connector(key)
    if tube is None:
        raise LimitsError(f"{where}: there is no tube '{tube_name}'")
    if connector is None:
        raise LimitsError(f"{where}: there is no connector '{key}'")
    bores = [tube.bore.si]
    if rule.passage_share is not None:
        bores.append(tube.bore.si * rule.passage_share)
    if connector.bore_m is not None and not rule.open_end:
        bores.append(connector.bore_m)
    loss = sum(change_loss(one, other, tube.bore.si) for one, other in itertools.pairwise(bores))
    used: list[Sourced] = [rule]
    for name in rule.fittings:
        fitting = fitting_loss(name)
        if fitting is None:
            raise LimitsError(f"{where}: there is no fitting '{name}'")
        loss += fitting.loss_coefficient
        used.append(fitting)
    return EndFitting(
        rule.name.format(tube=tube.name, connector=connector.key),
        rule.making,
        loss,
        "; ".join(dict.fromkeys(one.citation for one in used)),
        weakest(*(one.status for one in used)),
    )


def change_loss(bore_m: float, other_bore_m: float, reference_bore_m: float) -> float:
    """Velocity heads of a sudden change of bore, in the worse direction.

    Widening costs (1 - A1/A2)^2 and narrowing 0.5 (1 - A2/A1) velocity heads of the narrow side
    (fluid-mechanics minor-loss sheets); the heads are given on the reference bore.
    """
    narrow, wide = sorted((bore_m, other_bore_m))
    share = (narrow / wide) ** 2
    return float(
        max((1 - share) ** 2, 0.5 * (1 - share)) * (reference_bore_m / narrow) ** 4,
    )


def end_fitting(tube_name: str, connector_key: str) -> EndFitting | None:
    """How a tube goes onto a connector, or None where it does not."""
    return _end_fittings().get((tube_name, connector_key))


@cache
def tubes_between(connector_a: str, connector_b: str, medium: str = "water") -> tuple[TubeRow, ...]:
    """Tubes that go onto both connectors, best first.

    Best is what needs the fewest adapters, then what has the bore nearest to the narrower
    connector's; drinking-water tube goes before the rest for water, and what is seldom taken
    comes last.
    """
    ends = [water_connector(connector_a), water_connector(connector_b)]
    if any(end is None or medium not in end.media for end in ends):
        return ()
    bores = [end.bore_m for end in ends if end is not None and end.bore_m is not None]
    ranked = []
    for place, tube in enumerate(tubes()):
        fitted = (end_fitting(tube.name, connector_a), end_fitting(tube.name, connector_b))
        if medium not in tube.media or fitted[0] is None or fitted[1] is None:
            continue
        trouble = _TROUBLE[fitted[0].making] + _TROUBLE[fitted[1].making]
        off = abs(math.log(tube.bore.si / min(bores))) if bores else 0.0
        unfit = medium == "water" and not tube.potable
        ranked.append((unfit, tube.seldom, trouble, round(off, 6), place, tube))
    return tuple(row[-1] for row in sorted(ranked, key=lambda row: row[:-1]))
