"""Workings of tanks, waste and the day of service."""

import math
from collections.abc import Iterator

from ..analysis import Analysis
from ..build import Item, Tank
from ..limits import profile
from ..units import Phrase, Value
from ..water.drain_results import DayShare, VesselDay
from ..water.results import WaterBalance
from .model import Held, Number, Step, Symbol, Working
from .water_parts import origin, step, symbol

_S_PER_HOUR = 3600.0
ELSEWHERE = Number("tank", "waste", "needed elsewhere")
"""Where a place asks for more than its region does."""


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Waste that is needed, what the day takes and brings, and each vessel over the day."""
    balance = analysis.water.balance
    if balance is None:
        return
    if balance.fresh > 0.0:
        yield Number("tank", "waste", "needed")
        if profile(analysis.build.region).strictest_waste_ratio is not None:
            yield ELSEWHERE
    if balance.fresh_per_day > 0.0:
        yield Number("tank", "fresh", "day")
    if balance.waste_per_day > 0.0:
        yield Number("tank", "waste", "day")
    for vessel in balance.vessels:
        if math.isfinite(vessel.lasts_s):
            yield Number("vessel", vessel.items[0], "lasts", vessel.kind)


def working(analysis: Analysis, number: Number) -> Working | None:
    """One number of the day."""
    balance = analysis.water.balance
    if balance is None:
        return None
    if number.subject == "vessel":
        vessel = next(
            (
                one
                for one in balance.vessels
                if one.items[0] == number.of and one.kind == number.case
            ),
            None,
        )
        return _vessel(analysis, vessel, number) if vessel is not None else None
    if number in (Number("tank", "waste", "needed"), ELSEWHERE):
        return _needed(analysis, balance, number)
    if (number.of, number.what) == ("fresh", "day"):
        return _fresh(analysis, balance, number)
    return _waste(balance, number) if (number.of, number.what) == ("waste", "day") else None


def _tanks(analysis: Analysis, contents: str) -> list[tuple[Item, Tank]]:
    return [
        (item, role)
        for item in analysis.build.items
        if isinstance(role := item.specification.water, Tank) and role.contents == contents
    ]


def _sum(analysis: Analysis, contents: str, total: float) -> Iterator[Step]:
    """The volume of all tanks of one sort, where there are several."""
    each = tuple(
        symbol(f"V_{at}", item.name, role.volume.si, "volume", origin(item, "volume")[0])
        for at, (item, role) in enumerate(_tanks(analysis, contents), 1)
    )
    if each:
        says = f"all {contents} water tanks"
        yield step(says, "V", " + ".join(one.name for one in each), each, total, "volume")


def _needed(analysis: Analysis, balance: WaterBalance, number: Number) -> Working | None:
    if balance.fresh <= 0.0:
        return None
    ratio, source, where = balance.ratio, balance.source, ""
    needed = balance.waste_needed
    if number == ELSEWHERE:
        row = profile(analysis.build.region).strictest_waste_ratio
        if row is None:
            return None
        ratio, source, where = row.ratio, row.citation, f", as {row.place} asks"
        needed = balance.fresh * ratio
    steps = (
        *_sum(analysis, "fresh", balance.fresh),
        step(
            "waste that has to find room",
            "V_w",
            "k*V",
            (
                symbol("k", "times the fresh water", ratio, "factor", source),
                symbol("V", "fresh water on board", balance.fresh, "volume"),
            ),
            needed,
            "volume",
        ),
    )
    held: tuple[Held, ...] = ()
    if balance.waste > 0.0:
        held = (
            Held(
                Value(balance.waste, "volume"),
                "the waste tanks have to hold as much",
                source,
                balance.waste >= needed - 1e-9,
            ),
        )
    title = Phrase.of("Waste tank that is needed for the fresh water on board{where}", where=where)
    notes = (Phrase.of("Everything runs into the venue's drain."),) if balance.to_drain else ()
    return Working(number, title, steps[-1].result, steps, held, notes=notes)


def _drinks(analysis: Analysis) -> tuple[Step, Symbol]:
    """How many drinks a day of service has."""
    plan = analysis.build.service
    hours = max(plan.hours.si, 0.0)
    rate = max(plan.drinks_per_hour, 0.0) / _S_PER_HOUR
    made = step(
        "drinks of the day",
        "n",
        "t*r",
        (
            symbol("t", "hours of service", hours, "duration", "service plan"),
            symbol("r", "drinks", rate, "starts an hour", "service plan"),
        ),
        hours * rate,
        "count",
    )
    return made, symbol("n", "drinks of the day", hours * rate, "count")


def _fresh(analysis: Analysis, balance: WaterBalance, number: Number) -> Working:
    plan = analysis.build.service
    made, drinks = _drinks(analysis)
    steps = (
        made,
        step(
            "fresh water of the day",
            "V",
            "n*(V_d + V_r)",
            (
                drinks,
                symbol(
                    "V_d",
                    "for a drink",
                    max(plan.water_per_drink.si, 0.0),
                    "small volume",
                    "service plan",
                ),
                symbol(
                    "V_r",
                    "for rinsing after it",
                    max(plan.rinse_per_drink.si, 0.0),
                    "small volume",
                    "service plan",
                ),
            ),
            balance.fresh_per_day,
            "volume",
        ),
    )
    title = Phrase.of("Fresh water of a day of service")
    return Working(number, title, steps[-1].result, steps, assumptions=_planned())


def _planned() -> tuple[Phrase, ...]:
    return (Phrase.of("The day goes by the service plan, drink for drink."),)


def _waste(balance: WaterBalance, number: Number) -> Working | None:
    shares = [one for one in balance.shares if one.kind == "waste"]
    if not shares:
        return None
    each = tuple(_share(at, one) for at, one in enumerate(shares, 1))
    total = step(
        "everything that goes down the drain",
        "V",
        " + ".join(one.name for one in each),
        each,
        balance.waste_per_day,
        "volume",
    )
    title = Phrase.of("Waste water of a day of service")
    return Working(number, title, total.result, (total,), assumptions=_planned())


def _share(at: int, share: DayShare) -> Symbol:
    return symbol(f"V_{at}", share.name, share.per_day, "volume", "service plan")


_ENDS = {"fresh": "is empty", "reservoir": "is empty", "waste": "is full"}


def _vessel(analysis: Analysis, vessel: VesselDay, number: Number) -> Working:
    names = [analysis.build.item(one) for one in vessel.items]
    name = " and ".join(item.name for item in names if item is not None)
    hours = max(analysis.build.service.hours.si, 0.0)
    made = step(
        f"it {_ENDS[vessel.kind]} after",
        "t",
        "t_day*V/V_day",
        (
            symbol("t_day", "hours of service", hours, "duration", "service plan"),
            symbol("V", "it holds", vessel.volume, "volume"),
            symbol(
                "V_day",
                "over the day",
                vessel.per_day,
                "volume",
                number=Number("tank", "fresh", "day") if vessel.kind == "fresh" else None,
            ),
        ),
        vessel.lasts_s,
        "duration",
    )
    held = Held(
        Value(hours, "duration"),
        "a day of service",
        "service plan",
        vessel.visits == 0,
        is_least=True,
    )
    end = _ENDS[vessel.kind]
    title = Phrase.of("When {vessel} {end}", vessel=name, end=end)
    return Working(number, title, made.result, (made,), (held,), _planned())
