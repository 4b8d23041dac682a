"""Small parts put into the line: regulators, and vessels with a cushion of air."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any

from ...analysis import Analysis
from ...build import (
    Accumulator,
    Build,
    End,
    Heater,
    Mains,
    Pump,
    Regulator,
)
from ...build.edits import EditError
from ...findings import Finding
from ...network import make_network
from ...network.inserting import insert_inline, middle_of
from ...stock import StockEntry
from ...units import Phrase, Value
from ...water.results import Tap
from ..inserting import insert
from .model import Candidate
from .water_kit import (
    PLUMBER,
    exchanged,
    is_metric,
    items_on_way,
    of_the_stock,
    place,
    pressure,
    tap_of,
    taps_of,
    tube_at,
    with_role,
)
from .water_settings import charged_for

_ABOVE_NEED_PA = 20e3


# --- putting in ----------------------------------------------------------------------------------


def put_at(build: Build, end: End, entries: Sequence[StockEntry]) -> tuple[Build, str]:
    """Put the first that goes into the tube at a port next to this port.

    Raises:
        EditError: none goes in, or there is no room; the reason of the last.
    """
    reason = "the stock has none for this region"
    for entry in entries:
        try:
            return insert(build, end, entry)
        except EditError as error:
            reason = str(error)
    run = tube_at(build, end)
    at = middle_of(build, make_network(build), run.id) if run is not None else None
    for entry in entries if at is not None else ():
        try:
            assert run is not None
            assert at is not None
            assert entry.specification is not None
            return insert_inline(build, run.id, entry.specification, *at)
        except EditError as error:
            reason = str(error)
    raise EditError(reason)


def ends_of(build: Build, item_id: str, way: str) -> list[End]:
    """Water ports of an item, "in" or "out", that a tube ends at."""
    item = build.item(item_id)
    ports = item.specification.ports if item is not None else ()
    ends = [End(item_id, one.id) for one in ports if (one.medium, one.direction) == ("water", way)]
    return [end for end in ends if tube_at(build, end) is not None]


def _entries(build: Build, kind: type[Any]) -> list[StockEntry]:
    return [entry for entry, _ in of_the_stock(build, kind)]


# --- regulators ----------------------------------------------------------------------------------


def _regulated(build: Build, end: End, set_pa: float) -> Build:
    after, item_id = put_at(build, end, _entries(build, Regulator))
    return with_role(after, item_id, set_point=pressure(build, set_pa))


def regulator_before(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A regulator before a tap or a heater that can see too much; then one for the whole line."""
    build, names = analysis.build, place(analysis)
    if finding.limit is None or not finding.items:
        return
    item_id = finding.items[0]
    tap = tap_of(analysis, finding)
    needs_pa = tap.least_pa if tap is not None else _needs_pa(analysis, item_id)
    entry = next((role for _, role in of_the_stock(build, Regulator)), None)
    creep_pa = max(entry.creep.si, 0.0) if entry is not None else 0.0
    top_pa = finding.limit.si - creep_pa
    points = [0.5 * (needs_pa + top_pa), top_pa - _ABOVE_NEED_PA]
    ends = [End(tap.item, tap.port)] if tap is not None else ends_of(build, item_id, "in")
    for set_pa in (one for one in points if needs_pa < one < top_pa):
        for end in ends:
            yield _regulator(build, end, set_pa, "before", names.name(item_id), item_id)


def regulator_for_all(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """One regulator behind a mains tap, or behind the filters after it, for all that it feeds."""
    build, names = analysis.build, place(analysis)
    creep_pa = max((max(r.creep.si, 0.0) for _, r in of_the_stock(build, Regulator)), default=0.0)
    for maker in _makers(analysis, finding)[:1]:
        taps = [one for one in analysis.water.taps if maker in {step.id for step in one.ladder}]
        top_pa = min((one.greatest_pa for one in taps), default=0.0) - creep_pa - _ABOVE_NEED_PA
        if finding.limit is not None and finding.limit.dimension == "pressure":
            top_pa = min(top_pa, finding.limit.si - creep_pa - _ABOVE_NEED_PA)
        needs_pa = max((one.least_pa for one in taps), default=0.0)
        for item_id in _before_it_parts(analysis, maker, taps):
            for end in ends_of(build, item_id, "out") if top_pa > needs_pa else ():
                yield _regulator(build, end, top_pa, "behind", names.name(item_id), item_id)


def _before_it_parts(analysis: Analysis, maker: str, taps: Sequence[Tap]) -> list[str]:
    """Ids of the main and of what all its taps get their water through, from the main on."""
    ways = [[step.id for step in one.ladder] for one in taps]
    shared = [one for one in ways[0] if all(one in way for way in ways)] if ways else []
    items = [one for one in shared if analysis.build.item(one) is not None]
    return [maker, *(one for one in items if one != maker)][:4]


def _regulator(
    build: Build, end: End, set_pa: float, where: str, name: str, item_id: str
) -> Candidate:
    point = pressure(build, set_pa)
    return Candidate(
        "add regulator",
        Phrase.of(
            f"Put a regulator {where} {{item}}, set to {{set}}",
            item=name,
            set=Value(point.si, "pressure"),
        ),
        3,
        partial(_regulated, build, end, set_pa),
        (item_id,),
        (PLUMBER,) if where == "behind" else (),
    )


def _needs_pa(analysis: Analysis, item_id: str) -> float:
    role = place(analysis).role(item_id)
    if isinstance(role, Heater) and role.least_pressure is not None:
        return role.least_pressure.si
    return 0.0


def _makers(analysis: Analysis, finding: Finding) -> list[str]:
    """Mains taps before what a finding is about."""
    found = [
        one.id for tap in taps_of(analysis, finding) for one in items_on_way(analysis, tap, Mains)
    ]
    return list(dict.fromkeys(found))


# --- vessels -------------------------------------------------------------------------------------


def vessels_of(build: Build) -> list[tuple[StockEntry, Accumulator]]:
    """Accumulators of the stock, one of each size, the smallest first."""
    metric = build.units == "metric"
    found: dict[float, tuple[StockEntry, Accumulator]] = {}
    for one in _all_vessels(build):
        if one[1].volume.si not in found or is_metric(one[0]) is metric:
            found[one[1].volume.si] = one
    return list(found.values())


def _all_vessels(build: Build) -> list[tuple[StockEntry, Accumulator]]:
    return sorted(of_the_stock(build, Accumulator), key=lambda one: (one[1].volume.si, one[0].key))


def add_vessel(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """An accumulator behind a pump that has none, the smallest first, charged for it."""
    build = analysis.build
    for item_id in finding.items:
        item = build.item(item_id)
        if item is None or not isinstance(item.specification.water, Pump):
            continue
        for end in ends_of(build, item_id, "out")[:1]:
            for entry, role in vessels_of(build):
                yield Candidate(
                    "add accumulator",
                    Phrase.of(
                        "Put an accumulator of {volume} behind {pump}, charged to suit its cut-in",
                        volume=Value(role.volume.si, "volume"),
                        pump=item.name,
                    ),
                    3,
                    partial(cushioned, build, end, entry),
                    (item_id,),
                )


def cushioned(build: Build, end: End, entry: StockEntry) -> Build:
    """A vessel behind a pump's outlet, charged for it."""
    after, vessel = put_at(build, end, [entry])
    return charged_for(after, end.item, vessel)


def larger_vessel(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A larger accumulator in the place of one, the next size first, charged for its pump."""
    build = analysis.build
    vessels = [one for one in finding.items if is_(build, one, Accumulator)]
    pumps = [one for one in finding.items if is_(build, one, Pump)]
    for vessel, pump in zip(vessels, pumps, strict=False):
        item = build.item(vessel)
        assert item is not None
        role = item.specification.water
        assert isinstance(role, Accumulator)
        for entry, larger in vessels_of(build):
            if larger.volume.si <= role.volume.si:
                continue
            yield Candidate(
                "larger accumulator",
                Phrase.of(
                    "Take an accumulator of {volume} in the place of {vessel}",
                    volume=Value(larger.volume.si, "volume"),
                    vessel=item.name,
                ),
                4,
                partial(_larger, build, vessel, pump, entry),
                (vessel, pump),
            )
        yield from add_vessel(analysis, finding)


def _larger(build: Build, vessel: str, pump: str, entry: StockEntry) -> Build:
    return charged_for(exchanged(build, vessel, entry), pump, vessel)


def is_(build: Build, item_id: str, kind: type[Any]) -> bool:
    """Whether an item is of a kind."""
    item = build.item(item_id)
    return item is not None and isinstance(item.specification.water, kind)


def arrestor(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A small vessel beside a valve that knocks."""
    build = analysis.build
    for surge in analysis.water.surges:
        if surge.item not in finding.items:
            continue
        for entry, _ in vessels_of(build)[:1]:
            yield Candidate(
                "arrestor",
                Phrase.of(
                    "Put a small accumulator as an arrestor beside {tap}, charged to {charge}",
                    tap=surge.name,
                    charge=Value(pressure(build, 0.9 * surge.static_pa).si, "pressure"),
                ),
                3,
                partial(_arrested, build, End(surge.item, surge.port), entry, surge.static_pa),
                (surge.item,),
            )
        return


def _arrested(build: Build, end: End, entry: StockEntry, static_pa: float) -> Build:
    after, vessel = put_at(build, end, [entry])
    return with_role(after, vessel, pre_charge=pressure(build, 0.9 * static_pa))


def expansion_vessel(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Room for what swells in a heater: a vessel before it, charged to what the line stands at."""
    build, heater = analysis.build, finding.items[0]
    state = next((one for one in analysis.water.heaters if one.item == heater), None)
    charge_pa = 0.9 * state.static_pa if state is not None else 0.0
    for end in ends_of(build, heater, "in")[:1]:
        for entry, role in vessels_of(build)[1:3]:
            yield Candidate(
                "expansion vessel",
                Phrase.of(
                    "Put a vessel of {volume} before {heater}, charged to {charge}",
                    volume=Value(role.volume.si, "volume"),
                    heater=place(analysis).name(heater),
                    charge=Value(pressure(build, charge_pa).si, "pressure"),
                ),
                3,
                partial(_expands, build, end, entry, charge_pa),
                (heater,),
                ("Keep the heater's relief valve free, with a drain.", PLUMBER),
            )


def _expands(build: Build, end: End, entry: StockEntry, charge_pa: float) -> Build:
    after, vessel = put_at(build, end, [entry])
    return with_role(after, vessel, pre_charge=pressure(build, charge_pa))
