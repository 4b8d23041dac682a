"""Pumps: another in the place of one, or the first behind a tank or a mains tap."""

from collections.abc import Iterator, Sequence
from functools import partial

from ...analysis import Analysis
from ...build import (
    Accumulator,
    Appliance,
    Build,
    End,
    Filter,
    Item,
    Mains,
    Opening,
    Pump,
    Tank,
    TubeRun,
)
from ...build.edits import EditError
from ...findings import Finding
from ...network import connect, free_receptacles
from ...stock import StockEntry
from ...units import Phrase
from ...water import pump_curve
from ...water.results import Tap, alone
from ..tube_sizes import with_tube
from .model import Candidate
from .water_exchange import larger_entries
from .water_inserts import cushioned, ends_of, is_, put_at, vessels_of
from .water_kit import (
    ELECTRICIAN,
    PLUMBER,
    exchanged,
    items_on_way,
    of_the_stock,
    place,
    taps_of,
    tubes_on_way,
)
from .water_settings import charged_for
from .water_tubes import rows_between

_USUAL_LOSS_PA = 100e3
"""On the way from a pump up to a counter, through a filter: common practice, no source."""
_MOST_PUMPS = 3
_OF_A_MAIN = (PLUMBER, "Ask the venue whether a pump may draw from its main.")
PLUG = "It has to be plugged in; see on which circuit."


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
    wanted = [_asked(analysis, tap) for tap in taps]
    spared_pa = min((tap.greatest_pa for tap in analysis.water.taps if tap.fed), default=0.0)
    ranked = []
    for entry, role in of_the_stock(build, Pump):
        curve = pump_curve(role)
        if entry.key == now.specification.stock or curve is None:
            continue
        short_pa = max(
            (
                need_pa - min(curve.pressure_pa(flow), role.cut_in.si, role.cut_out.si)
                for flow, need_pa in wanted
            ),
            default=0.0,
        )
        over = role.cut_out.si > spared_pa
        rank = short_pa if short_pa > 0.0 else role.cut_out.si
        ranked.append((short_pa > 0.0, over, rank, entry.key, entry))
    return [row[-1] for row in sorted(ranked, key=lambda row: row[:-1])[:_MOST_PUMPS]]


def _asked(analysis: Analysis, tap: Tap) -> tuple[float, float]:
    """Flow that a tap wants [m3/s], and about the pressure [Pa] that a pump has to make for it.

    What is lost on the way grows with about the 1.75th power of the flow (Blasius).
    """
    role = place(analysis).role(tap.item)
    inlets = role.inlets if isinstance(role, Appliance) else ()
    behaviour = next((one.behaviour for one in inlets if one.port == tap.port), None)
    wanted_pa = tap.least_pa
    if isinstance(behaviour, Opening) and behaviour.rated.flow.si > 0.0:
        share = tap.required_flow / behaviour.rated.flow.si
        wanted_pa = max(wanted_pa, behaviour.rated.pressure.si * share * share)
    state = tap.states.get(alone(tap.name))
    lost_pa = sum(step.loss_pa for step in tap.ladder if step.loss_pa > 0.0)
    if not tap.fed:
        lost_pa = _USUAL_LOSS_PA  # nothing runs there yet that could be measured
    if state is not None and state.flow > 0.0:
        lost_pa *= min((tap.required_flow / state.flow) ** 1.75, 4.0)
    return tap.required_flow, wanted_pa + lost_pa


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
    taps = [*taps, *(one for one in analysis.water.taps if not one.fed and one not in taps)]
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
                partial(_pumped, analysis, ends[0], entry),
                (source,),
                (PLUG, ELECTRICIAN, *(_OF_A_MAIN if isinstance(item_role, Mains) else ())),
            )


def _pumped(analysis: Analysis, end: End, entry: StockEntry) -> Build:
    """A pump at a port, with the vessel that the line has, or one of its own."""
    after, pump = put_at(analysis.build, end, [entry])
    after = plugged_in(after, pump)
    names = place(analysis)
    line = sorted({node[0] for node in names.reached_from((end.item, end.port))})
    there = [one for one in line if isinstance(names.role(one), Accumulator)]
    if there:
        return charged_for(after, pump, there[0])
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


# --- several at once -----------------------------------------------------------------------------


_CLEARLY_WIDER = 1.3
"""A bore wider by so much loses about a third (its fourth power and more)."""


def all_wider(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A larger filter, or another pump, together with wider tubes all the way."""
    for tap in taps_of(analysis, finding)[:1]:
        runs = tubes_on_way(analysis, tap)
        filters = items_on_way(analysis, tap, Filter)
        pumps = items_on_way(analysis, tap, Pump)
        for item, entry in [
            *((one, entry) for one in filters for entry in larger_entries(analysis, one)[:1]),
            *((one, entry) for one in pumps[:1] for entry in _promising(analysis, [tap], one)[:1]),
        ]:
            yield Candidate(
                "wider and larger",
                Phrase.of(
                    "Take {new} in the place of {old}, and wider tube all the way to {tap}",
                    new=entry.name,
                    old=item.name,
                    tap=tap.name,
                ),
                4,
                partial(_widened, analysis, item, entry, runs),
                (item.id, tap.item),
                (ELECTRICIAN,) if item in pumps else (),
            )


def _widened(analysis: Analysis, item: Item, entry: StockEntry, runs: Sequence[TubeRun]) -> Build:
    if isinstance(item.specification.water, Pump):
        after = _with_pump(analysis, item.id, entry)
    else:
        after = exchanged(analysis.build, item.id, entry)
    for run in runs:
        now = after.run(run.id)
        rows = rows_between(after, now) if isinstance(now, TubeRun) else []
        wider = [row for row in rows if row.bore.si > run.tube.bore.si * 1.03 and not row.seldom]
        if isinstance(now, TubeRun) and wider:
            by_bore = sorted(wider, key=lambda row: row.bore.si)
            clear = [row for row in by_bore if row.bore.si >= _CLEARLY_WIDER * run.tube.bore.si]
            after = with_tube(after, now, (clear or by_bore[-1:])[0].name)
    return after
