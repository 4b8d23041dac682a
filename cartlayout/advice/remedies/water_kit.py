"""What the remedies of water share: what is on the way, what the stock has, one part changed."""

from collections.abc import Callable, Iterator
from types import UnionType
from typing import Any

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Build, End, Item, TubeRun, WaterRole
from ...build.edits import EditError, replace_item
from ...findings import Finding
from ...findings.water_words import Place
from ...limits import TubeRow, material
from ...network.replace import replace_with
from ...stock import StockEntry, stock
from ...units import Flow, Length, Pressure, Temperature
from ...water.results import Tap

ELECTRICIAN = "Have a licensed electrician check what it is plugged into."
PLUMBER = "Have a licensed plumber check it; the local code decides."

Change = Callable[[Build], Build]


def place(analysis: Analysis) -> Place:
    """Short ways to ask about a build and its water."""
    return Place(analysis.build, analysis.network, analysis.water)


def tap_of(analysis: Analysis, finding: Finding) -> Tap | None:
    """The tap that a finding is about: by its name where an item has several inlets."""
    if not finding.items:
        return None
    named = dict(finding.title.values).get("tap")
    taps = [tap for tap in analysis.water.taps if tap.item == finding.items[0]]
    return next((tap for tap in taps if tap.name == named), taps[0] if taps else None)


def taps_of(analysis: Analysis, finding: Finding) -> list[Tap]:
    """The tap a finding is about, or those behind what it is about."""
    tap = tap_of(analysis, finding)
    if tap is not None:
        return [tap]
    named = {*finding.items, *finding.runs}
    return [
        one
        for one in analysis.water.taps
        if one.fed and any(step.id in named for step in one.ladder)
    ]


def tubes_on_way(analysis: Analysis, tap: Tap) -> tuple[TubeRun, ...]:
    """Tubes from the source to a tap, the first at the source."""
    build = analysis.build
    return tuple(run for step in tap.ladder if isinstance(run := build.run(step.id), TubeRun))


def items_on_way(analysis: Analysis, tap: Tap, kind: type[Any] | UnionType) -> tuple[Item, ...]:
    """Equipment of a kind from the source to a tap, the nearest to the tap first."""
    found = (analysis.build.item(step.id) for step in reversed(tap.ladder))
    return tuple(
        one for one in found if one is not None and isinstance(one.specification.water, kind)
    )


def greedy_first(tap: Tap) -> list[str]:
    """Ids of what is on the way to a tap, what takes most pressure first."""
    steps = sorted(tap.ladder, key=lambda step: -step.loss_pa)
    return [step.id for step in steps if step.loss_pa > 0.0]


# --- the stock ---------------------------------------------------------------------------------


def of_the_stock(build: Build, kind: type[Any]) -> Iterator[tuple[StockEntry, Any]]:
    """Single pieces of a kind that are sold where the build is, each with what it is to water."""
    for entry in stock():
        role = entry.specification.water if entry.specification is not None else None
        if isinstance(role, kind) and (not entry.regions or build.region in entry.regions):
            yield entry, role


def is_metric(entry: StockEntry) -> bool:
    """Whether a piece is made for metric tube."""
    ports = entry.specification.ports if entry.specification is not None else ()
    return any("mm" in one.connector for one in ports)


def exchanged(build: Build, item_id: str, entry: StockEntry) -> Build:
    """The build with one item exchanged and everything that was joined to it still joined.

    Raises:
        EditError: a tube or a plug would be left over.
    """
    replaced = replace_with(build, item_id, entry)
    lost = replaced.of("dropped")
    if lost:
        raise EditError(f"{entry.name} does not take all that is joined there: {lost[0].text}")
    return replaced.build


# --- one part changed --------------------------------------------------------------------------


def with_role(build: Build, item_id: str, **fields: Any) -> Build:
    """Change what an item is to the water side.

    Raises:
        EditError: there is no such item.
    """
    item = build.item(item_id)
    if item is None or item.specification.water is None:
        raise EditError(f"there is no '{item_id}' with water in it")
    role: WaterRole = replace(item.specification.water, **fields)
    return replace_item(build, replace(item, specification=replace(item.specification, water=role)))


def pressure(build: Build, pressure_pa: float) -> Pressure:
    """A pressure as somebody would set it: whole psi, or hundredths of a bar."""
    us = build.units == "US"
    return Pressure.from_si(pressure_pa, "psi" if us else "bar", 0 if us else 2)


def length(build: Build, length_m: float) -> Length:
    """A length as somebody would measure it."""
    us = build.units == "US"
    return Length.from_si(length_m, "in" if us else "mm", 2 if us else 0)


def flow(build: Build, flow_m3_s: float) -> Flow:
    """A flow in the build's units."""
    return Flow.from_si(flow_m3_s, "gal/min" if build.units == "US" else "L/min", 2)


def temperature(build: Build, temperature_k: float) -> Temperature:
    """A temperature in whole degrees of the build's units."""
    return Temperature.from_si(temperature_k, "degF" if build.units == "US" else "degC", 0)


def tube_at(build: Build, end: End) -> TubeRun | None:
    """The tube that ends at a port, with both its ends on something."""
    return next((one for one in build.tubes if one.b is not None and end in (one.a, one.b)), None)


def bears(row: TubeRow, temperature_k: float) -> bool:
    """Whether a tube is made for water so warm."""
    return row.rated_pa(temperature_k) is not None and not material(row.material).cold_only
