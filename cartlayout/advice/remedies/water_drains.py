"""Drains that fall, are wide enough, and end where waste belongs."""

from collections.abc import Iterator
from functools import partial

from ...analysis import Analysis
from ...build import (
    Basin,
    Build,
    Drain,
    DrainPump,
    End,
    Item,
    Tank,
    TubeRun,
)
from ...build.edits import EditError, remove
from ...build.geometry import end_position
from ...findings import Finding
from ...limits import TubeRow
from ...network import connect, fitting_ends
from ...stock import StockEntry
from ...stock.placing import placed
from ...units import Phrase
from ...water.drain_results import DrainState
from .model import Candidate
from .water_kit import ELECTRICIAN, exchanged, is_metric, of_the_stock, place
from .water_places import back_on_cart, higher, lower, nearer_end, on_level
from .water_pumps import PLUG, plugged_in
from .water_tubes import fitting_rows, one_tube, shorter

_MOST_ENDS = 4
_SAME_BORE = 1.03


def _drains(analysis: Analysis, finding: Finding) -> list[tuple[TubeRun, DrainState]]:
    build = analysis.build
    return [
        (run, one)
        for one in analysis.water.drains
        if one.run in finding.runs and isinstance(run := build.run(one.run), TubeRun)
    ]


# --- fall ----------------------------------------------------------------------------------------


def more_fall(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A drain led straight, what it ends in lower or nearer, or what it begins at higher."""
    build = analysis.build
    for run, drain in _drains(analysis, finding):
        start, end = build.item(drain.start[0]), build.item(drain.end[0])
        if run.waypoints:
            yield from shorter(analysis, [run])
        for one in (start, end):
            if one is not None:
                yield from back_on_cart(analysis, one)
        if end is not None:
            yield from lower(analysis, end)
        if start is not None:
            missing_m = drain.asked_slope * drain.flat_m - drain.fall_m
            yield from higher(analysis, start, missing_m)
        for moving in (drain.end[0], drain.start[0]):
            yield from nearer_end(analysis, run, moving)


def lower_end(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """What a drain ends in lower, or what it begins at higher."""
    build = analysis.build
    for _, drain in _drains(analysis, finding):
        end, start = build.item(drain.end[0]), build.item(finding.items[0])
        for one in (start, end):
            if one is not None:
                yield from back_on_cart(analysis, one)
        if end is not None:
            yield from lower(analysis, end)
        if start is not None and drain.backs_up_m is not None:
            yield from higher(analysis, start, drain.backs_up_m)


# --- another way ---------------------------------------------------------------------------------


def lead_elsewhere(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The same outlet led to another free inlet: a waste tank, a floor drain, a manifold."""
    build = analysis.build
    for outlet, run in _outlets(analysis, finding):
        cleared = remove(build, run_ids=(run.id,)) if run is not None else build
        old = run.b.item if run is not None and run.b is not None else ""
        for end in _inlets(analysis, cleared, outlet)[:_MOST_ENDS]:
            where = build.item(end.item)
            item = build.item(outlet.item)
            if where is None or item is None or end.item == old:
                continue
            yield Candidate(
                "lead drain",
                Phrase.of("Lead the drain of {item} to {where}", item=item.name, where=where.name),
                2,
                partial(_joined, cleared, outlet, end),
                (item.id, where.id),
            )


def _joined(build: Build, outlet: End, end: End) -> Build:
    return connect(build, outlet, end)[0]


def _outlets(analysis: Analysis, finding: Finding) -> Iterator[tuple[End, TubeRun | None]]:
    """Outlets that a finding is about, each with the drain tube that is on it now."""
    build = analysis.build
    if finding.runs:
        for run, drain in _drains(analysis, finding):
            yield End(*drain.start), run
        return
    for item_id in finding.items[:1]:
        item = build.item(item_id)
        for port in item.specification.ports if item is not None else ():
            if port.medium != "drain" or port.direction == "in":
                continue
            end = End(item_id, port.id)
            yield end, next((one for one in build.tubes if end in (one.a, one.b)), None)


def _inlets(analysis: Analysis, build: Build, outlet: End) -> list[End]:
    """Free inlets for waste: those that lie lower first, and of these the nearest."""
    here = end_position(build, outlet)
    if here is None:
        return []
    ranked = []
    for end in fitting_ends(build, outlet):
        there, item = end_position(build, end), build.item(end.item)
        if there is None or item is None or not _takes_waste(item):
            continue
        away_m = abs(there[0] - here[0]) + abs(there[1] - here[1])
        ranked.append((there[2] >= here[2], away_m, end.item, end.port, end))
    found: dict[str, End] = {}
    for row in sorted(ranked, key=lambda one: one[:-1]):
        found.setdefault(row[2], row[-1])
    return list(found.values())


def _takes_waste(item: Item) -> bool:
    role = item.specification.water
    if isinstance(role, Tank):
        return role.contents == "waste"
    return isinstance(role, (Drain, DrainPump, Basin))


# --- equipment for it ----------------------------------------------------------------------------


def pump_it(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A drain pump where waste cannot fall: below the outlet, plugged in, pushing to the end."""
    build = analysis.build
    entries = [entry for entry, _ in of_the_stock(build, DrainPump)]
    for run, drain in _drains(analysis, finding):
        start = build.item(drain.start[0])
        if start is None:
            continue
        for entry in entries:
            yield Candidate(
                "drain pump",
                Phrase.of(
                    "Put a drain pump below {item}, and let it push on to {end}",
                    item=start.name,
                    end=place(analysis).name(drain.end[0]),
                ),
                4,
                partial(_pumped, build, run, End(*drain.start), End(*drain.end), entry),
                (start.id, drain.end[0]),
                (PLUG, ELECTRICIAN),
            )


def _pumped(build: Build, run: TubeRun, outlet: End, end: End, entry: StockEntry) -> Build:
    after = remove(build, run_ids=(run.id,))
    pump_id, after = _placed(after, entry, outlet)
    ports = _item(after, pump_id).specification.ports
    drains = {one.direction: End(pump_id, one.id) for one in ports if one.medium == "drain"}
    after, _ = connect(after, outlet, drains["in"])
    after, _ = connect(after, drains["out"], end)
    return plugged_in(after, pump_id)


def _placed(build: Build, entry: StockEntry, near: End) -> tuple[str, Build]:
    """Put something on the lowest level, as near to a port as there is room."""
    at = end_position(build, near)
    levels = sorted(build.cart.levels, key=lambda one: one.height.si)
    if at is None or not levels:
        raise EditError("there is no level to stand it on")
    after, ids = placed(build, entry, levels[0].name, *at[:2])
    return ids[0], on_level(after, ids[0], levels[0].name)


def _item(build: Build, item_id: str) -> Item:
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    return item


def more_inlets(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A waste tank with more inlets in the place of one, or one more, and the drain led to it."""
    build = analysis.build
    for outlet, run in _outlets(analysis, finding):
        cleared = remove(build, run_ids=(run.id,)) if run is not None else build
        item = _item(build, outlet.item)
        for tank in [one for one in build.items if _is_waste(one)]:
            for entry in _with_more_inlets(build, tank)[:2]:
                yield Candidate(
                    "waste tank with more inlets",
                    Phrase.of(
                        "Take {new} in the place of {old}, and lead the drain of {item} to it",
                        new=entry.name,
                        old=tank.name,
                        item=item.name,
                    ),
                    4,
                    partial(_led_to_new, cleared, tank.id, entry, outlet),
                    (tank.id, item.id),
                )
        for entry in _waste_entries(build)[:2]:
            yield Candidate(
                "add waste tank",
                Phrase.of(
                    "Stand {new} below {item}, and lead its drain there",
                    new=entry.name,
                    item=item.name,
                ),
                4,
                partial(_led_to_added, cleared, entry, outlet),
                (item.id,),
            )


def _is_waste(item: Item) -> bool:
    role = item.specification.water
    return isinstance(role, Tank) and role.contents == "waste"


def _waste_entries(build: Build) -> list[StockEntry]:
    found = [(r.volume.si, e) for e, r in of_the_stock(build, Tank) if r.contents == "waste"]
    metric = build.units == "metric"
    own = [row for row in found if row[1].specification is not None and is_metric(row[1]) is metric]
    return [entry for _, entry in sorted(own or found, key=lambda one: (one[0], one[1].key))]


def _with_more_inlets(build: Build, tank: Item) -> list[StockEntry]:
    role = tank.specification.water
    least = role.volume.si if isinstance(role, Tank) else 0.0
    now = sum(1 for one in tank.specification.ports if one.direction == "in")
    return [
        entry
        for entry in _waste_entries(build)
        if entry.specification is not None
        and sum(1 for one in entry.specification.ports if one.direction == "in") > now
        and isinstance(entry.specification.water, Tank)
        and entry.specification.water.volume.si >= least
    ]


def _led_to_new(build: Build, tank: str, entry: StockEntry, outlet: End) -> Build:
    return _first_inlet(exchanged(build, tank, entry), outlet, tank)


def _led_to_added(build: Build, entry: StockEntry, outlet: End) -> Build:
    tank, after = _placed(build, entry, outlet)
    return _first_inlet(after, outlet, tank)


def _first_inlet(build: Build, outlet: End, item_id: str) -> Build:
    end = next((one for one in fitting_ends(build, outlet) if one.item == item_id), None)
    if end is None:
        raise EditError("no inlet of it takes that drain")
    return connect(build, outlet, end)[0]


# --- bores ---------------------------------------------------------------------------------------


def no_narrowing(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A drain tube as wide as what leads into it, and no wider than what it ends in."""
    for run, drain in _drains(analysis, finding):
        rows = [
            row
            for row in fitting_rows(analysis, run)
            if row.name != run.tube.name and _grows(drain, row)
        ]
        rows.sort(key=lambda row: row.bore.si)
        for row in rows[:3]:
            yield one_tube(analysis, run, row)


def _grows(drain: DrainState, row: TubeRow) -> bool:
    if drain.before_m > row.bore.si * _SAME_BORE:
        return False
    return drain.after_m <= 0.0 or row.bore.si <= drain.after_m * _SAME_BORE


def drain_taken_lower(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The tube of a drain pump led less high: the short way, or to an end that stands lower."""
    build = analysis.build
    for run_id in finding.runs:
        run = build.run(run_id)
        if not isinstance(run, TubeRun):
            continue
        yield from shorter(analysis, [run])
        for end in (run.b, run.a):
            item = build.item(end.item) if end is not None else None
            if item is not None and item.id != finding.items[0]:
                yield from lower(analysis, item)
