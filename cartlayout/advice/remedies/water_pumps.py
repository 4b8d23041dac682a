"""Pumps: another in the place of one, or the first behind a tank or a mains tap."""

from collections.abc import Iterator, Sequence
from functools import partial

from ...analysis import Analysis
from ...build import Build, End, Item, Mains, Pump, Tank
from ...build.edits import EditError
from ...findings import Finding
from ...network import connect, free_receptacles
from ...stock import StockEntry
from ...units import Phrase
from ...water import pump_curve
from ...water.results import Tap
from .model import Candidate
from .water_inserts import cushioned, ends_of, is_, put_at, vessels_of
from .water_kit import ELECTRICIAN, PLUMBER, exchanged, items_on_way, of_the_stock, place, taps_of
from .water_settings import charged_for

_MOST_PUMPS = 3
_OF_A_MAIN = (PLUMBER, "Ask the venue whether a pump may draw from its main.")
_PLUG = "It has to be plugged in; see on which circuit."


def other_pump(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Another pump in the place of the one that feeds a tap or that a finding names."""
    build = analysis.build
    taps = taps_of(analysis, finding)
    named = [one for one in finding.items if is_(build, one, Pump)]
    on_way = [one.id for tap in taps for one in items_on_way(analysis, tap, Pump)]
    for pump in (named or on_way)[:1]:
        item = build.item(pump)
        assert item is not None
        for entry in _promising(analysis, taps, item):
            yield Candidate(
                "other pump",
                Phrase.of(
                    "Take {pump} in the place of {old}, and charge its vessel to suit",
                    pump=entry.name,
                    old=item.name,
                ),
                4,
                partial(_with_pump, analysis, pump, entry),
                (pump,),
                (ELECTRICIAN,),
            )


def _promising(analysis: Analysis, taps: Sequence[Tap], now: Item) -> list[StockEntry]:
    """Pumps that push what the taps want at the flow they want, the gentlest first."""
    build = analysis.build
    wanted = [(tap.required_flow, tap.least_pa) for tap in taps]
    spared_pa = min((tap.greatest_pa for tap in analysis.water.taps if tap.fed), default=0.0)
    ranked = []
    for entry, role in of_the_stock(build, Pump):
        curve = pump_curve(role)
        if entry.key == now.specification.stock or curve is None:
            continue
        short_pa = max((need_pa - curve.pressure_pa(rate) for rate, need_pa in wanted), default=0.0)
        short = short_pa > 0.0 or any(role.cut_in.si < need_pa for _, need_pa in wanted)
        ranked.append((short, role.cut_out.si > spared_pa, role.cut_out.si, entry.key, entry))
    return [row[-1] for row in sorted(ranked, key=lambda row: row[:-1])[:_MOST_PUMPS]]


def _with_pump(analysis: Analysis, pump: str, entry: StockEntry) -> Build:
    after = plugged_in(exchanged(analysis.build, pump, entry), pump)
    duty = next((one for one in analysis.water.duties if one.item == pump), None)
    if duty is None or duty.accumulator is None:
        return after
    return charged_for(after, pump, duty.accumulator)


def first_pump(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A pump behind a tank or a mains tap that gives too little by itself, plugged in."""
    build, names = analysis.build, place(analysis)
    taps = taps_of(analysis, finding)
    if any(items_on_way(analysis, tap, Pump) for tap in taps):
        return
    sources = [one for one in finding.items if isinstance(names.role(one), (Tank, Mains))]
    for tap in taps:
        sources += [one.id for one in items_on_way(analysis, tap, Tank | Mains)]
    for source in list(dict.fromkeys(sources))[:1]:
        item = build.item(source)
        ends = ends_of(build, source, "out")
        if item is None or not ends:
            continue
        item_role = item.specification.water
        for entry in _promising(analysis, taps, item):
            yield Candidate(
                "add pump",
                Phrase.of("Put {pump} behind {source}", pump=entry.name, source=item.name),
                4,
                partial(_pumped, build, ends[0], entry),
                (source,),
                (_PLUG, ELECTRICIAN, *(_OF_A_MAIN if isinstance(item_role, Mains) else ())),
            )


def _pumped(build: Build, end: End, entry: StockEntry) -> Build:
    after, pump = put_at(build, end, [entry])
    after = plugged_in(after, pump)
    outlets = ends_of(after, pump, "out")
    vessels = vessels_of(after)
    if outlets and vessels:
        middle = vessels[min(2, len(vessels) - 1)][0]
        try:
            after = cushioned(after, outlets[0], middle)
        except EditError:
            return after
    return after


def plugged_in(build: Build, item_id: str) -> Build:
    """Plug something into the nearest free receptacle that takes it, where it is in none.

    Where none is free it stays unplugged, and a finding says so.
    """
    item = build.item(item_id)
    ports = item.specification.ports if item is not None else ()
    for port in ports:
        if port.medium != "power" or port.direction != "in":
            continue
        end = End(item_id, port.id)
        if any(end in (wire.a, wire.b) for wire in build.wires):
            continue
        free = free_receptacles(build, end)
        if free:
            build, _ = connect(build, end, free[0])
    return build
