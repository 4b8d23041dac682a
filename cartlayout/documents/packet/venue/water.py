"""Water and drain that are asked for, from the venue's pipes or by hand."""

import math
from collections.abc import Iterator

from ....build import Drain, Mains, Tank
from ....units import Phrase, Value, counted
from ....water.drain_results import DrainState
from ..content import Cell, Column, Job, Table
from .places import where


def water_and_drain(job: Job) -> Table:
    """Mains and drains with what they have to give and take; vessels that are carried."""
    rows = [*_mains(job), *_drains(job), *_vessels(job)]
    return Table(
        "venue-water",
        "Water and drain",
        (
            Column("What", share=0.9),
            Column("Place and connection", share=1.8),
            Column("We need", share=2.0),
            Column("Conditions", share=1.8),
        ),
        tuple(rows),
        empty="The cart uses no water.",
    )


def _mains(job: Job) -> Iterator[tuple[Cell, ...]]:
    build, water = job.build, job.analysis.water
    for item in build.items:
        role = item.specification.water
        if not isinstance(role, Mains):
            continue
        window = water.window(item.id)
        port = next((one for one in item.specification.ports if one.medium == "water"), None)
        place: Cell = item.name
        if port is not None:
            place = where(build, item, port, f"{item.name}, {port.connector}")
        if window is None:
            yield ("Mains water, W", place, "nothing: no tap gets its water from it", "")
            continue
        known = role.least is not None and role.greatest is not None
        yield (
            "Mains water, W",
            place,
            _asked_of_mains(window.flow, window.least_pa, window.greatest_pa),
            "drinking water, shut off by hand at the outlet"
            + ("" if known else "; which pressure is there at rest, least and greatest?"),
        )


def _asked_of_mains(flow: float, least_pa: float, greatest_pa: float) -> Phrase:
    """Flow and pressures at its outlet: least with water running, most at rest."""
    if least_pa > greatest_pa or not math.isfinite(least_pa):
        return Phrase.of(
            "{flow}; no single pressure does for every tap: see the findings",
            flow=Value(flow, "flow"),
        )
    if not math.isfinite(greatest_pa):
        return Phrase.of(
            "{flow} at {least} or more while it runs",
            flow=Value(flow, "flow"),
            least=Value(least_pa, "pressure"),
        )
    return Phrase.of(
        "{flow} at {least} or more while it runs, {most} or less at rest",
        flow=Value(flow, "flow"),
        least=Value(least_pa, "pressure"),
        most=Value(greatest_pa, "pressure"),
    )


def _drains(job: Job) -> Iterator[tuple[Cell, ...]]:
    build, water = job.build, job.analysis.water
    for item in build.items:
        if not isinstance(item.specification.water, Drain):
            continue
        mine = [one for one in water.drains if one.end[0] == item.id]
        most = max((sum(_by_case(mine, case)) for case in _cases(mine)), default=0.0)
        port = next((one for one in item.specification.ports if one.medium == "drain"), None)
        place: Cell = item.name
        if port is not None:
            place = where(build, item, port, item.name)
        balance = water.balance
        a_day = balance.waste_per_day if balance is not None and balance.to_drain else None
        needs = Phrase.of("takes {flow} of waste water", flow=Value(most, "flow"))
        if a_day is not None:
            needs = Phrase.of(
                "takes {flow} of waste water, {day} a day",
                flow=Value(most, "flow"),
                day=Value(a_day, "volume"),
            )
        yield ("Drain, D", place, needs, "coffee grounds and milk are kept out; over an air gap")


def _by_case(drains: list[DrainState], case: str) -> Iterator[float]:
    return (one.arriving.get(case, 0.0) for one in drains)


def _cases(drains: list[DrainState]) -> set[str]:
    return {case for one in drains for case in one.arriving}


def _vessels(job: Job) -> Iterator[tuple[Cell, ...]]:
    """What is carried in and out by hand."""
    balance = job.analysis.water.balance
    tanks = [
        (item, item.specification.water)
        for item in job.build.items
        if isinstance(item.specification.water, Tank)
    ]
    fresh = [role for _, role in tanks if role.contents == "fresh"]
    waste = [role for _, role in tanks if role.contents == "waste"]
    if fresh and balance is not None:
        yield (
            "Filling by hand",
            _amount("{number} on the cart, {all} together", fresh),
            _a_day(balance.fresh_per_day, "used in a day"),
            "a drinking-water tap to fill at, on the way to the cart",
        )
    if waste and balance is not None:
        yield (
            "Emptying by hand",
            _amount("{number} on the cart, {all} together", waste),
            _a_day(balance.waste_per_day, "of waste water in a day"),
            "a sink or drain where waste water may be poured away",
        )


def _amount(template: str, roles: list[Tank]) -> Phrase:
    return Phrase.of(
        template,
        number=counted(len(roles), "vessel"),
        all=Value(sum(one.volume.si for one in roles), "volume"),
    )


def _a_day(volume: float, words: str) -> Phrase:
    return Phrase.of("{volume} {words}", volume=Value(volume, "volume"), words=words)
