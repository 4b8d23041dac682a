"""What to say where a tap has less to spare than its tees may take beyond what was counted."""

from collections.abc import Iterator
from itertools import pairwise

from ..build import TubeRun
from ..units import Phrase, Value
from ..water.properties import water
from ..water.results import ALL_OPEN, Tap, alone
from ..water.tees import TITLE, TeeWay, is_tee, ways_in
from .finding import Finding
from .water_words import Place, bar

_NEVER_PA = 15e3
"""A tap with more to spare is not asked: 1.7 velocity heads at 4 m/s are less."""


def tee_rules(place: Place) -> Iterator[Finding]:
    """Hold every tap that only just has enough against the tees on the way to it."""
    tees = {item.id for item in place.build.items if is_tee(item)}
    if not tees:
        return
    for tap in place.water.taps:
        worst = max(_scarce(place, tap, tees), key=lambda one: one[1], default=None)
        if worst is not None:
            yield _finding(place, tap, *worst)


_Scarce = tuple[str, float, float, tuple[tuple[str, TeeWay], ...]]
"""Case, by how much it may fall short [Pa], what it has to spare [Pa], its tees."""


def _scarce(place: Place, tap: Tap, tees: set[str]) -> Iterator[_Scarce]:
    for case in (ALL_OPEN, alone(tap.name), *place.own_cases):
        state = tap.states.get(case)
        if state is None:
            continue
        spare_pa = state.pressure_pa - tap.least_pa
        if not (state.open and state.pressure_ok and spare_pa < _NEVER_PA):
            continue
        ways = tuple(_on_the_way(place, tap, case, tees))
        more_pa = sum(way.more_pa for _, way in ways)
        if more_pa > spare_pa:
            yield case, more_pa - spare_pa, spare_pa, ways


def _on_the_way(place: Place, tap: Tap, case: str, tees: set[str]) -> Iterator[tuple[str, TeeWay]]:
    venue = place.build.venue
    density = water(venue.water_temperature.si, venue.altitude_m).density_kg_m3
    states = place.water.cases[case].runs
    tubes = [run for step in place.water.ladder(tap, case) if (run := place.runs.get(step.id))]
    for before, after in pairwise(tubes):
        for tee_id in tees & set(_ports(before)) & set(_ports(after)):
            wanted = _ports(before)[tee_id], _ports(after)[tee_id]
            for way in ways_in(place.items[tee_id], place.network, states, density):
                if (way.start, way.end) == wanted:
                    yield tee_id, way


def _ports(run: TubeRun) -> dict[str, str]:
    """Item to the port that a tube ends at."""
    return {end.item: end.port for end in (run.a, run.b) if end is not None}


def _finding(
    place: Place,
    tap: Tap,
    case: str,
    short_pa: float,
    spare_pa: float,
    ways: tuple[tuple[str, TeeWay], ...],
) -> Finding:
    return Finding(
        "care",
        "water.tees",
        Phrase.of(
            "{tap} has {spare} to spare, its tees may take more", tap=tap.name, spare=bar(spare_pa)
        ),
        Phrase.of(
            "What a tee takes depends on how the water parts in it. In {case}, {more} more than "
            "was counted are possible on the way: {tap} may be {short} short. Take a wider tee or "
            "a wider tube, or gauge it.",
            case=f'"{case}"',
            more=bar(spare_pa + short_pa),
            tap=tap.name,
            short=bar(short_pa),
        ),
        (tap.item, *dict.fromkeys(tee for tee, _ in ways)),
        value=bar(spare_pa + short_pa),
        limit=bar(spare_pa),
        source=TITLE,
        working=tuple(
            Phrase.of(
                "{tee}, {way}, {share} of the water by the branch: {formula}, counted {counted}",
                tee=place.name(tee),
                way="by the branch" if way.branch else "straight on",
                share=Value(way.share, "share"),
                formula=bar(way.by_share_pa),
                counted=bar(way.counted_pa),
            )
            for tee, way in ways
        ),
    )
