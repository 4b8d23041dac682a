"""Equipment of the stock in the place of what is too small or not made for it."""

import math
from collections.abc import Iterator
from functools import partial
from typing import Any

from shapely import Polygon

from ...analysis import Analysis
from ...build import (
    Build,
    DrainPump,
    End,
    Filter,
    Gauge,
    Heater,
    Item,
    Regulator,
    Tank,
    WaterRole,
)
from ...build.geometry import outline
from ...findings import Finding
from ...limits import profile, water_connector
from ...network import connect, fitting_ends
from ...stock import StockEntry
from ...stock.placing import placed
from ...units import Phrase
from ...water.drain_ways import drain_outlets
from .model import Candidate
from .water_kit import (
    ELECTRICIAN,
    PLUMBER,
    exchanged,
    is_metric,
    items_on_way,
    of_the_stock,
    taps_of,
    with_role,
)
from .water_places import on_level

_MOST = 3
_TAKES_OUT = "See that it takes out of the water what the old one is there for."


def _exchange(
    build: Build, item: Item, entry: StockEntry, kind: str, cautions: tuple[str, ...] = ()
) -> Candidate:
    return Candidate(
        kind,
        Phrase.of("Take {new} in the place of {old}", new=entry.name, old=item.name),
        4,
        partial(exchanged, build, item.id, entry),
        (item.id,),
        cautions,
    )


def _named(analysis: Analysis, finding: Finding, kind: type[Any]) -> Iterator[Item]:
    for item_id in finding.items:
        item = analysis.build.item(item_id)
        if item is not None and isinstance(item.specification.water, kind):
            yield item


# --- filters, regulators -------------------------------------------------------------------------


def larger_filter(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A filter that is rated for more, named or on the way to the tap; of the same kind first."""
    found = {one.id: one for one in _named(analysis, finding, Filter)}
    if not found:
        for tap in taps_of(analysis, finding):
            found |= {one.id: one for one in items_on_way(analysis, tap, Filter)}
    for item in found.values():
        kind = _word(item.specification.name)
        for entry in larger_entries(analysis, item)[:_MOST]:
            cautions = () if _word(entry.name) == kind else (_TAKES_OUT,)
            yield _exchange(analysis.build, item, entry, "larger filter", cautions)


def larger_entries(analysis: Analysis, item: Item) -> list[StockEntry]:
    """Filters that are rated for more than one is; of its kind first, then the smallest."""
    role = item.specification.water
    if not isinstance(role, Filter):
        return []
    kind = _word(item.specification.name)
    larger = [
        (_word(entry.name) != kind, other.rated_flow.si, entry.key, entry)
        for entry, other in of_the_stock(analysis.build, Filter)
        if other.rated_flow.si > role.rated_flow.si
        and (role.softens, role.purifies) == (other.softens, other.purifies)
    ]
    return [row[-1] for row in sorted(larger, key=lambda one: one[:-1])]


def _word(name: str) -> str:
    return name.split()[0].casefold() if name.split() else ""


def larger_regulator(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A regulator made for more, named or on the way to the tap, set alike."""
    build = analysis.build
    found = list(_named(analysis, finding, Regulator))
    if not found:
        for tap in taps_of(analysis, finding)[:1]:
            found += items_on_way(analysis, tap, Regulator)[:1]
    for item in found:
        for entry, role in of_the_stock(build, Regulator):
            if not _is_larger(item.specification.water, role):
                continue
            yield Candidate(
                "larger regulator",
                Phrase.of(
                    "Take {new} in the place of {old}, set alike", new=entry.name, old=item.name
                ),
                4,
                partial(_set_alike, build, item, entry),
                (item.id,),
            )


def _is_larger(now: WaterRole | None, other: Regulator) -> bool:
    if not isinstance(now, Regulator) or now.rated_flow is None or other.rated_flow is None:
        return False
    return other.rated_flow.si > 1.01 * now.rated_flow.si


def _set_alike(build: Build, item: Item, entry: StockEntry) -> Build:
    role = item.specification.water
    assert isinstance(role, Regulator)
    return with_role(exchanged(build, item.id, entry), item.id, set_point=role.set_point)


# --- tanks ---------------------------------------------------------------------------------------


def _tanks(build: Build, contents: str) -> list[tuple[StockEntry, Tank]]:
    """Of the stock: those in the build's own sizes first, the smallest first."""
    found = [(e, r) for e, r in of_the_stock(build, Tank) if r.contents == contents]
    metric = build.units == "metric"
    return sorted(
        found, key=lambda one: (is_metric(one[0]) is not metric, one[1].volume.si, one[0].key)
    )


def _tank_items(build: Build, contents: str) -> list[Item]:
    return [
        one
        for one in build.items
        if isinstance(role := one.specification.water, Tank) and role.contents == contents
    ]


def _volume(item: Item) -> float:
    role = item.specification.water
    return role.volume.si if isinstance(role, Tank) else 0.0


def _others(
    analysis: Analysis, contents: str, item: Item, span: tuple[float, float], kind: str
) -> Iterator[Candidate]:
    """Tanks of the stock of some volume in the place of one, the nearest in size first."""
    now = _volume(item)
    rows = [one for one in _tanks(analysis.build, contents) if _within(span, one[1])]
    metric = analysis.build.units == "metric"
    rows.sort(key=lambda one: (is_metric(one[0]) is not metric, abs(one[1].volume.si - now)))
    for entry, _ in rows[:_MOST]:
        yield _exchange(analysis.build, item, entry, kind)


def _within(span: tuple[float, float], role: Tank) -> bool:
    return span[0] <= role.volume.si <= span[1]


def larger_waste(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A waste tank that holds what is asked, in the place of one."""
    short = _short(finding)
    for item in _tank_items(analysis.build, "waste"):
        span = (0.9999 * (_volume(item) + short), math.inf)
        yield from _others(analysis, "waste", item, span, "larger waste tank")


def _short(finding: Finding) -> float:
    """By how much a volume falls short."""
    if finding.value is None or finding.limit is None:
        return 0.0
    return abs(finding.limit.si - finding.value.si)


def first_waste(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A waste tank on a cart that has none, on its lowest level, with the drains led to it."""
    build = analysis.build
    levels = sorted(build.cart.levels, key=lambda one: one.height.si)
    if _tank_items(build, "waste") or finding.limit is None or not levels:
        return
    fit = [e for e, r in _tanks(build, "waste") if r.volume.si >= finding.limit.si * 0.9999]
    for entry in fit[:_MOST]:
        yield Candidate(
            "add waste tank",
            Phrase.of(
                "Stand {new} on {level}, and lead the drains that end nowhere to it",
                new=entry.name,
                level=levels[0].name,
            ),
            4,
            partial(_with_waste, build, entry, levels[0].name),
            finding.items,
        )


def _with_waste(build: Build, entry: StockEntry, level: str) -> Build:
    left, rear, right, front = Polygon(outline(build.cart)).bounds
    after, ids = placed(build, entry, level, 0.5 * (left + right), 0.5 * (rear + front))
    after = on_level(after, ids[0], level)
    for item in build.items:
        for node in drain_outlets(item):
            outlet = End(*node)
            free = [end for end in fitting_ends(after, outlet) if end.item == ids[0]]
            if free:
                after, _ = connect(after, outlet, free[0])
    return after


def smaller_fresh(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A fresh tank small enough for the waste there is, in the place of one."""
    balance = analysis.water.balance
    if balance is None or balance.waste_needed <= 0.0 or balance.fresh <= 0.0:
        return
    ratio = (finding.limit.si if finding.limit is not None else 0.0) / balance.fresh
    over = balance.fresh - balance.waste / ratio if ratio > 0.0 else 0.0
    for item in _tank_items(analysis.build, "fresh"):
        span = (0.0, _volume(item) - over)
        yield from _others(analysis, "fresh", item, span, "smaller fresh tank")


def larger_fresh(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A fresh tank that lasts the day, with the waste tank that goes with it where it has to."""
    build = analysis.build
    short = _short(finding)
    ratio = analysis.water.balance.ratio if analysis.water.balance is not None else 1.0
    for item in _named(analysis, finding, Tank):
        least = _volume(item) + short
        for entry, role in [one for one in _tanks(build, "fresh") if one[1].volume.si >= least][:2]:
            yield _exchange(build, item, entry, "larger fresh tank")
            yield from _both(analysis, item, entry, role.volume.si - _volume(item), ratio)


def _both(
    analysis: Analysis, fresh: Item, entry: StockEntry, more: float, ratio: float
) -> Iterator[Candidate]:
    build, balance = analysis.build, analysis.water.balance
    if balance is None or balance.to_drain:
        return
    needed = (balance.fresh + more) * ratio - balance.waste
    for waste in _tank_items(build, "waste"):
        fit = [e for e, r in _tanks(build, "waste") if r.volume.si >= _volume(waste) + needed]
        for other in fit[:1] if needed > 0.0 else ():
            yield Candidate(
                "larger tanks",
                Phrase.of(
                    "Take {new} in the place of {old}, and {new_waste} in the place of {old_waste}",
                    new=entry.name,
                    old=fresh.name,
                    new_waste=other.name,
                    old_waste=waste.name,
                ),
                4,
                partial(_two, build, (fresh.id, entry), (waste.id, other)),
                (fresh.id, waste.id),
            )


def _two(build: Build, one: tuple[str, StockEntry], other: tuple[str, StockEntry]) -> Build:
    return exchanged(exchanged(build, *one), *other)


def wider_outlet(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A waste tank of at least the same room whose outlet is as wide as is asked."""
    build = analysis.build
    asked_m = profile(build.region).waste_drain_bore_m.value
    for item in _named(analysis, finding, Tank):
        rows = [
            entry
            for entry, role in _tanks(build, "waste")
            if role.volume.si >= _volume(item) * 0.9999 and _outlet_m(entry) * 1.03 >= asked_m
        ]
        for entry in rows[:_MOST]:
            yield _exchange(build, item, entry, "other waste tank")


def _outlet_m(entry: StockEntry) -> float:
    """Bore of a waste tank's outlet; endless where it is emptied by tipping it."""
    ports = entry.specification.ports if entry.specification is not None else ()
    rows = [
        water_connector(one.connector)
        for one in ports
        if (one.medium, one.direction) == ("drain", "out")
    ]
    return min(
        (row.bore_m for row in rows if row is not None and row.bore_m is not None), default=math.inf
    )


# --- heaters, gauges, drain pumps ----------------------------------------------------------------


def other_heater(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A heater that works with what the line has."""
    for item in _named(analysis, finding, Heater):
        rows = [
            (role.least_flow.si if role.least_flow is not None else 0.0, entry)
            for entry, role in of_the_stock(analysis.build, Heater)
            if entry.key != item.specification.stock
        ]
        for _, entry in sorted(rows, key=lambda one: (one[0], one[1].key))[:_MOST]:
            yield _exchange(analysis.build, item, entry, "other heater", (ELECTRICIAN, PLUMBER))


def longer_scale(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A gauge that reaches as high as its line stands."""
    shown_pa = finding.value.si if finding.value is not None else math.inf
    for item in _named(analysis, finding, Gauge):
        for entry, role in of_the_stock(analysis.build, Gauge):
            if role.full_scale.si >= shown_pa:
                yield _exchange(analysis.build, item, entry, "other gauge")


def other_drain_pump(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A stronger drain pump."""
    for item in _named(analysis, finding, DrainPump):
        role = item.specification.water
        assert isinstance(role, DrainPump)
        for entry, other in of_the_stock(analysis.build, DrainPump):
            if other.lift.si > role.lift.si or other.flow.si > role.flow.si:
                yield _exchange(analysis.build, item, entry, "other drain pump", (ELECTRICIAN,))
