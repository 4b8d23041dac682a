"""Every tube of the catalogue that fits a run, tried on a copy: what its taps then have."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from msgspec.structs import replace

from ..analysis import Analysis
from ..build import Build, End, Port, TubeRun
from ..build.edits import replace_run
from ..limits import tube_row, tubes, tubes_between
from ..limits.water_practice import water_practice
from ..network import Network, make_network, tight_bends, tube_from
from ..units import Phrase, Value
from ..water import WaterResult, solve_water
from ..water.results import ALL_OPEN, Tap, TapState, alone

Reason = tuple[str, Phrase]
"""A verdict, "care" or "stop", and why."""


@dataclass(frozen=True, slots=True)
class TubeChoice:
    """One tube in the place of another."""

    name: str
    is_now: bool
    """It is the one that is there."""
    build: Build
    verdict: str
    """"ok", "care" or "stop"."""
    reason: Phrase | None
    """Why not ok."""
    tap: str = ""
    """Name of the tap behind it that has least to spare; empty where there is none."""
    case: str = ""
    pressure_pa: float = 0.0
    flow: float = 0.0
    """There."""
    velocity_m_s: float = 0.0
    """The greatest in any case."""
    half_full: float = 0.0
    """Of a drain tube: what it carries half full [m3/s]."""


def tube_names(build: Build, run: TubeRun) -> tuple[str, ...]:
    """Names of the tubes that go onto both ends of a run, with adapters; the thinnest first."""
    ports = [_port(build, run.a), _port(build, run.b)]
    known = [port for port in ports if port is not None]
    if not known:
        return ()
    medium = known[0].medium
    fitting = tubes_between(known[0].connector, known[-1].connector, medium)
    rows = fitting or tuple(row for row in tubes() if medium in row.media)
    return tuple(row.name for row in sorted(rows, key=lambda row: (row.bore.si, row.name)))


def with_tube(build: Build, run: TubeRun, name: str) -> Build:
    """The build with another tube of the catalogue; the same build where it is there already."""
    row = tube_row(name)
    if row is None or name == run.tube.name:
        return build
    return replace_run(build, replace(run, tube=tube_from(row)))


def try_tubes(before: Analysis, run_id: str) -> Iterator[TubeChoice]:
    """Try every tube that fits, the thinnest first; nothing where there is no such tube.

    Args:
        before: of the build as it is.
        run_id: of the tube that would be exchanged.
    """
    run = before.build.run(run_id)
    if not isinstance(run, TubeRun):
        return
    for name in tube_names(before.build, run):
        yield try_tube(before, run, name)


def try_tube(before: Analysis, run: TubeRun, name: str) -> TubeChoice:
    """Try one tube: way and water are worked out anew, the rest does not change."""
    build = with_tube(before.build, run, name)
    network = make_network(build, before.network)
    water = solve_water(build, network, before.water)
    verdict, reason = _judged(build, network, water, run.id)
    worst = _worst(water, run.id)
    drain = next((one for one in water.drains if one.run == run.id), None)
    tap, case, state = worst or (None, "", None)
    return TubeChoice(
        name=name,
        is_now=name == run.tube.name,
        build=build,
        verdict=verdict,
        reason=reason,
        tap=tap.name if tap is not None else "",
        case=case,
        pressure_pa=state.pressure_pa if state is not None else 0.0,
        flow=state.flow if state is not None else 0.0,
        velocity_m_s=water.fastest.get(run.id, 0.0),
        half_full=drain.half_full if drain is not None and not drain.pumped else 0.0,
    )


def _port(build: Build, end: End | None) -> Port | None:
    item = build.item(end.item) if end is not None else None
    return item.specification.port(end.port) if item is not None and end is not None else None


def behind(water: WaterResult, run_id: str) -> tuple[Tap, ...]:
    """Taps whose water runs through a tube."""
    return tuple(tap for tap in water.taps if any(step.id == run_id for step in tap.ladder))


def _worst(water: WaterResult, run_id: str) -> tuple[Tap, str, TapState] | None:
    """The tap behind a tube that has least over what it needs, alone and with everything open."""
    found = [
        (state.pressure_pa / max(tap.least_pa, 1e4), tap, case, state)
        for tap in behind(water, run_id)
        for case in (alone(tap.name), ALL_OPEN)
        if (state := tap.states.get(case)) is not None and state.open
    ]
    if not found:
        return None
    _, tap, case, state = min(found, key=lambda one: one[0])
    return tap, case, state


def _judged(
    build: Build, network: Network, water: WaterResult, run_id: str
) -> tuple[str, Phrase | None]:
    reasons = sorted(_reasons(build, network, water, run_id), key=lambda one: one[0] != "stop")
    return reasons[0] if reasons else ("ok", None)


def _reasons(build: Build, network: Network, water: WaterResult, run_id: str) -> Iterator[Reason]:
    for tap in behind(water, run_id):
        for case, state in tap.states.items():
            if state.open and not (state.pressure_ok and state.flow_ok):
                yield "stop", Phrase.of("{tap} falls short: {case}", tap=tap.name, case=case)
    for static in water.statics:
        if static.run == run_id and static.too_hot:
            yield "stop", Phrase("not made for water so hot")
        elif static.run == run_id and static.highest_pa > (static.rating_pa or math.inf):
            bears = Value(static.rating_pa or 0.0, "pressure")
            yield "stop", Phrase.of("bears only {pressure}", pressure=bears)
    yield from _of_drains(water, run_id)
    yield from _of_the_tube(build, network, water, run_id)


def _of_drains(water: WaterResult, run_id: str) -> Iterator[Reason]:
    for drain in water.drains:
        if drain.run != run_id or drain.pumped:
            continue
        if drain.greatest[1] > drain.half_full:
            flow = Value(drain.greatest[1], "flow")
            yield "stop", Phrase.of("{flow} comes to it, more than it carries", flow=flow)
        if drain.bore_m < drain.before_m:
            yield "care", Phrase("narrower than what leads into it")


def _of_the_tube(
    build: Build, network: Network, water: WaterResult, run_id: str
) -> Iterator[Reason]:
    run, route = build.run(run_id), network.routes.get(run_id)
    usual = water_practice().greatest_velocity_m_s.value
    if water.fastest.get(run_id, 0.0) > usual:
        yield "care", Phrase.of("fast: {limit} is usual at most", limit=Value(usual, "velocity"))
    if not isinstance(run, TubeRun):
        return
    if route is not None and tight_bends(run, route):
        yield "care", Phrase("bends tighter than it is made for")
    if not run.tube.potable and run_id in water.fastest:
        yield "care", Phrase("not for drinking water")
