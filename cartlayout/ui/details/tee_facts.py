"""What a tee takes in the case that is shown, by how the water parts in it."""

from collections.abc import Iterator

from ...analysis import Analysis
from ...build import Item
from ...units import UnitSystem, show
from ...water import ALL_OPEN
from ...water.properties import water
from ...water.tees import TITLE, TeeWay, is_tee, ways_in
from .fact import Fact


def tee_facts(analysis: Analysis, item: Item, case: str, system: UnitSystem) -> Iterator[Fact]:
    """A line for every way that water takes through a tee; nothing where it rests."""
    cases = analysis.water.cases
    state = cases.get(case) or cases.get(ALL_OPEN)
    if state is None or not is_tee(item):
        return
    venue = analysis.build.venue
    density = water(venue.water_temperature.si, venue.altitude_m).density_kg_m3
    for way in ways_in(item, analysis.network, state.runs, density):
        yield Fact(
            "By the branch" if way.branch else "Straight on",
            f"{_pressure(way.by_share_pa, system)}, counted {_pressure(way.counted_pa, system)}",
            tip=_tip(way, system),
        )


def _pressure(pressure_pa: float, system: UnitSystem) -> str:
    return show(pressure_pa, "pressure", system, 2 if system is UnitSystem.US else 3)


def _tip(way: TeeWay, system: UnitSystem) -> str:
    gains = ""
    if way.by_share_pa < 0.0:
        why = "the other stream draws it along" if way.branch else "what goes on is slower"
        gains = f" Less than nothing: {why}."
    share = show(way.share, "share", system)
    return (
        f"What it takes with {share} of the water by the branch. Counted: the loss stated for its "
        f"ports, whatever the share.{gains} {TITLE}."
    )
