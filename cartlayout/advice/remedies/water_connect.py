"""Taps joined to the line, parts turned the right way round, other ways to feed an appliance."""

import math
from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import (
    Appliance,
    Build,
    CheckValve,
    End,
    Filter,
    Fitting,
    Heater,
    Item,
    Mains,
    Port,
    Pump,
    Regulator,
    Tank,
    TubeRun,
)
from ...build.edits import EditError, add_run, free_id, remove, replace_item, replace_run, with_
from ...build.feeding import FEED_WORDS, feed_by, feed_modes, unused_tubes
from ...build.geometry import end_position
from ...build.water import FeedMode
from ...findings import Finding
from ...limits import end_fitting
from ...network import connect, fitting_ends
from ...network.inserting import middle_of
from ...network.room import nearest_free
from ...stock import StockEntry
from ...stock.placing import placed
from ...units import Phrase
from .model import Candidate
from .water_kit import of_the_stock, place

_MOST_ENDS = 3
_ONE_WAY = (Pump, CheckValve, Regulator, Filter, Heater)


# --- joining a tap to the line -------------------------------------------------------------------


def join_to_line(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A tube from the nearest free port of a line that has water, or from a tee cut into a tube."""
    for end in _bare_inlets(analysis, finding):
        build = _cleared(analysis.build, end)
        item = build.item(end.item)
        assert item is not None
        for other in _free_ports(analysis, build, end)[:_MOST_ENDS]:
            where = build.item(other.item)
            yield Candidate(
                "connect",
                Phrase.of(
                    "Run a tube to {item} from {where}",
                    item=item.name,
                    where=where.name if where is not None else other.item,
                ),
                2,
                partial(_joined, build, other, end),
                (item.id, other.item),
            )
        for run in _near_tubes(analysis, end)[:2]:
            for entry in _tees(build, run)[:1]:
                yield Candidate(
                    "add tee",
                    Phrase.of(
                        "Cut a tee into the {tube}, and run a tube to {item} from there",
                        tube=place(analysis).tube_name(run.id),
                        item=item.name,
                    ),
                    3,
                    partial(_teed, analysis, run, entry, end),
                    (item.id,),
                )


def _joined(build: Build, a: End, b: End) -> Build:
    return connect(build, a, b)[0]


def _cleared(build: Build, end: End) -> Build:
    """Without what ends at an inlet and brings it no water: a tube joined to something else."""
    return remove(build, run_ids=[run.id for run in build.runs if end in (run.a, run.b)])


def _bare_inlets(analysis: Analysis, finding: Finding) -> list[End]:
    """Inlets of an appliance that no tube ends at."""
    names = place(analysis)
    found = []
    for item_id in finding.items[:1]:
        role = names.role(item_id)
        for inlet in role.inlets if isinstance(role, Appliance) else ():
            if not names.connected((item_id, inlet.port)):
                found.append(End(item_id, inlet.port))
    return found


def _fed_items(analysis: Analysis) -> set[str]:
    """Ids of everything on the way to a tap that has water, and of sources."""
    found = {step.id for tap in analysis.water.taps if tap.fed for step in tap.ladder}
    for item in analysis.build.items:
        role = item.specification.water
        if isinstance(role, Mains) or (isinstance(role, Tank) and role.contents == "fresh"):
            found.add(item.id)
    return found


def _free_ports(analysis: Analysis, build: Build, end: End) -> list[End]:
    """Free ports that water may come from: those of a line with water first, then the nearest."""
    fed = _fed_items(analysis)
    here = end_position(build, end)
    ranked = []
    for other in fitting_ends(build, end):
        item, there = build.item(other.item), end_position(build, other)
        if item is None or there is None or here is None or not _gives(item, other):
            continue
        away_m = sum(abs(p - q) for p, q in zip(here, there, strict=True))
        line = isinstance(item.specification.water, Fitting)
        ranked.append((item.id not in fed, not line, away_m, other.item, other.port, other))
    found: dict[str, End] = {}
    for row in sorted(ranked, key=lambda one: one[:-1]):
        found.setdefault(row[3], row[-1])
    return list(found.values())


def _gives(item: Item, end: End) -> bool:
    port = item.specification.port(end.port)
    if port is None or isinstance(item.specification.water, Appliance):
        return False
    return port.direction != "in"


def _near_tubes(analysis: Analysis, end: End) -> list[TubeRun]:
    """Tubes that have water in them, the one whose middle is nearest first."""
    build = analysis.build
    here, fed = end_position(build, end), _fed_items(analysis)
    ranked = []
    for run in build.tubes:
        at = middle_of(build, analysis.network, run.id)
        if run.id in fed and at is not None and here is not None and run.b is not None:
            ranked.append((abs(at[0] - here[0]) + abs(at[1] - here[1]), run.id, run))
    return [row[-1] for row in sorted(ranked, key=lambda one: one[:-1])]


# --- a tee cut into a tube -----------------------------------------------------------------------


def _tees(build: Build, run: TubeRun) -> list[StockEntry]:
    """Tees of the stock that a tube goes onto, without a reducer first."""
    found = []
    for entry, _ in of_the_stock(build, Fitting):
        ports = entry.specification.ports if entry.specification is not None else ()
        fits = [end_fitting(run.tube.name, port.connector) for port in ports]
        if len(ports) == 3 and all(one is not None for one in fits):
            making = [one.making for one in fits if one is not None]
            found.append((making.count("reducer"), making.count("adapter"), entry.key, entry))
    return [row[-1] for row in sorted(found, key=lambda one: one[:-1])]


def _teed(analysis: Analysis, run: TubeRun, entry: StockEntry, end: End) -> Build:
    """Cut a tube, put a tee there, and join a port to its third way."""
    after, tee = tee_in(analysis, run, entry)
    return connect(_cleared(after, end), tee, end)[0]


def tee_in(analysis: Analysis, run: TubeRun, entry: StockEntry) -> tuple[Build, End]:
    """Cut a tube and put a tee between; the tee's free port.

    Raises:
        EditError: there is no room, or the tube has an end in nothing.
    """
    build = analysis.build
    at, far = middle_of(build, analysis.network, run.id), run.b
    level = _level_of(build, run)
    if at is None or far is None or level is None:
        raise EditError("only a tube that joins two ports can be cut")
    after, ids = placed(build, entry, level, *at)
    tee = after.item(ids[0])
    if tee is None:  # it has just been placed
        raise EditError("the tee could not be placed")
    others = with_(after, items=tuple(one for one in after.items if one.id != tee.id))
    after = replace_item(after, nearest_free(others, tee))
    first, second, third = (port.id for port in tee.specification.ports)
    after = replace_run(
        after, replace(run, b=End(tee.id, first), length=None, waypoints=(), fittings=())
    )
    rest = replace(
        run,
        id=free_id(after, run.id),
        a=End(tee.id, second),
        b=far,
        length=None,
        waypoints=(),
        fittings=(),
    )
    return add_run(after, rest), End(tee.id, third)


def _level_of(build: Build, run: TubeRun) -> str | None:
    levels = [one.name for one in build.cart.levels]
    ends = (build.item(end.item) for end in (run.b, run.a) if end is not None)
    return next((item.level for item in ends if item is not None and item.level in levels), None)


# --- a line that leads to no source, and parts the wrong way round -------------------------------


def join_to_source(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The piece of line that a dry tap hangs on, joined to a tank, a main or what they feed.

    Tubes with an end in nothing are taken up: where one hangs, the line most likely goes on.
    """
    names = place(analysis)
    tap = next((one for one in analysis.water.taps if one.item in finding.items[:1]), None)
    if tap is None or tap.fed:
        return
    loose = [run for run in analysis.build.tubes if run.b is None]
    build = remove(analysis.build, run_ids=[run.id for run in loose])
    hung = {run.a.item for run in loose}
    piece = {node[0] for node in names.reached_from((tap.item, tap.port))}
    for a, b in _joints(analysis, build, piece, hung)[:_MOST_ENDS]:
        words = "Run a tube to {item} from {where}"
        if hung & {a.item, b.item}:
            words = "Lead the loose tube on: to {item} from {where}"
        yield Candidate(
            "connect",
            Phrase.of(words, item=names.name(b.item), where=names.name(a.item)),
            2,
            partial(_led_on, build, a, b, loose),
            (b.item, a.item),
        )


def _led_on(build: Build, a: End, b: End, loose: list[TubeRun]) -> Build:
    """Join two ports; by the tube that hung loose at one of them, where it goes onto both."""
    after, run_id = connect(build, a, b)
    run = after.run(run_id)
    for old in loose:
        if isinstance(run, TubeRun) and old.a in (a, b) and _goes_onto(build, old, (a, b)):
            return replace_run(after, replace(run, tube=old.tube, spare=old.spare))
    return after


def _goes_onto(build: Build, run: TubeRun, ends: tuple[End, End]) -> bool:
    for end in ends:
        item = build.item(end.item)
        port = item.specification.port(end.port) if item is not None else None
        if port is None or end_fitting(run.tube.name, port.connector) is None:
            return False
    return True


def _joints(
    analysis: Analysis, build: Build, piece: set[str], hung: set[str]
) -> list[tuple[End, End]]:
    """Free ports with water, each with one of a dry piece: first where a loose tube hung."""
    watered = _watered(analysis) - piece
    found: dict[tuple[str, str], tuple[tuple[object, ...], End, End]] = {}
    for item_id in sorted(piece):
        item = build.item(item_id)
        for port in item.specification.ports if item is not None else ():
            if port.medium != "water" or port.direction == "out":
                continue
            mine = End(item_id, port.id)
            for other in fitting_ends(build, mine):
                giver = build.item(other.item)
                if giver is None or other.item not in watered or not _gives(giver, other):
                    continue
                key = len({item_id, other.item} & hung) * -1, _apart_m(build, mine, other)
                rank = (*key, item_id, other.item, port.id, other.port)
                best = found.get((item_id, other.item))
                if best is None or rank < best[0]:
                    found[item_id, other.item] = rank, other, mine
    return [(row[1], row[2]) for row in sorted(found.values(), key=lambda one: one[0])]


def _apart_m(build: Build, one: End, other: End) -> float:
    here, there = end_position(build, one), end_position(build, other)
    if here is None or there is None:
        return math.inf
    return sum(abs(p - q) for p, q in zip(here, there, strict=True))


def _watered(analysis: Analysis) -> set[str]:
    """Ids of sources, and of everything in one piece of line with one."""
    names, found = place(analysis), set[str]()
    for item in analysis.build.items:
        role = item.specification.water
        if isinstance(role, Mains) or (isinstance(role, Tank) and role.contents == "fresh"):
            found.add(item.id)
            for port in item.specification.ports:
                if port.medium == "water":
                    found |= {node[0] for node in names.reached_from((item.id, port.id))}
    return found


def turn_round(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A pump, a check valve or a regulator on the way to a dry tap, turned the other way round."""
    names = place(analysis)
    tap = next((one for one in analysis.water.taps if one.item in finding.items[:1]), None)
    if tap is None:
        return
    piece = {node[0] for node in names.reached_from((tap.item, tap.port))}
    for item_id in sorted(piece):
        item = names.items[item_id]
        if not isinstance(item.specification.water, _ONE_WAY):
            continue
        ports = [port for port in item.specification.ports if port.medium == "water"]
        if len(ports) == 2:
            yield Candidate(
                "turn round",
                Phrase.of("Turn {item} round in its line", item=item.name),
                1,
                partial(_swapped, analysis.build, item.id, ports[0], ports[1]),
                (item.id,),
            )


def _swapped(build: Build, item_id: str, one: Port, other: Port) -> Build:
    ways = {
        End(item_id, one.id): End(item_id, other.id),
        End(item_id, other.id): End(item_id, one.id),
    }
    after = build
    for run in build.tubes:
        a = ways.get(run.a, run.a)
        b = ways.get(run.b, run.b) if run.b is not None else None
        if (a, b) != (run.a, run.b):
            after = replace_run(after, replace(run, a=a, b=b))
    return after


# --- how an appliance is fed ---------------------------------------------------------------------


def fed_otherwise(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Another way that its maker lets an appliance be fed; an idle tube is taken off."""
    build = analysis.build
    for item_id in finding.items[:1]:
        item = build.item(item_id)
        for mode in feed_modes(item)[1:] if item is not None else ():
            assert item is not None
            yield Candidate(
                "feed mode",
                Phrase.of("Feed {item} {how}", item=item.name, how=FEED_WORDS[mode]),
                1,
                partial(_fed, build, item_id, mode),
                (item_id,),
                told=_by_hand if mode == "own reservoir" else None,
            )


def _by_hand(_: Analysis) -> Phrase:
    return Phrase("It takes its water from its own reservoir")


def _fed(build: Build, item_id: str, mode: FeedMode) -> Build:
    after = feed_by(build, item_id, mode)
    item = after.item(item_id)
    idle = unused_tubes(after, item) if item is not None else ()
    return remove(after, run_ids=[run.id for run in idle])


def fed_by_tube(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """An appliance that is filled by hand, plumbed: by a tube from the line."""
    build = analysis.build
    for item_id in finding.items[:1]:
        item = build.item(item_id)
        for mode in feed_modes(item)[1:] if item is not None else ():
            assert item is not None
            yield Candidate(
                "feed mode",
                Phrase.of("Feed {item} {how}", item=item.name, how=FEED_WORDS[mode]),
                2,
                partial(_plumbed, analysis, item_id, mode),
                (item_id,),
            )


def _plumbed(analysis: Analysis, item_id: str, mode: FeedMode) -> Build:
    after = feed_by(analysis.build, item_id, mode)
    item = after.item(item_id)
    role = item.specification.water if item is not None else None
    for inlet in role.inlets if isinstance(role, Appliance) else ():
        end = End(item_id, inlet.port)
        if any(end in (run.a, run.b) for run in after.tubes):
            continue
        free = [one for one in fitting_ends(after, end) if _is_fitting(after, one)]
        if not free:
            raise EditError(f"no port of the line is free for {item_id}")
        after, _ = connect(after, free[0], end)
    return after


def _is_fitting(build: Build, end: End) -> bool:
    item = build.item(end.item)
    return item is not None and isinstance(item.specification.water, Fitting)


def tube_off(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A tube that nothing runs through, taken off."""
    build = analysis.build
    if finding.items and finding.runs:
        yield Candidate(
            "tube off",
            Phrase.of(
                "Take the tube off {item}, and plug its inlet",
                item=place(analysis).name(finding.items[0]),
            ),
            2,
            partial(remove, build, run_ids=finding.runs),
            finding.items[:1],
        )
