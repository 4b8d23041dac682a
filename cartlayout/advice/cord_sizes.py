"""Every size of cord that a wire could have, tried on a copy: the volts its appliances then get."""

from collections.abc import Iterator
from dataclasses import dataclass

from msgspec.structs import replace

from ..analysis import Analysis, pumps_running
from ..build import Box, Build, Cord, Extension, Item, Load, Port, Run, Strip, Wire
from ..build.edits import replace_run
from ..limits import power_connector, profile
from ..limits.cords import cord_sizes
from ..network import make_network
from ..power import PowerResult, solve_power
from ..power.results import EVERYTHING_ON, Limit
from ..units import ConductorSize, Length, Phrase, Value

_MOST_OF_PLUG = 2.0
"""Thicker than what carries twice its plug's amps, no cord goes into a plug's clamp
(common practice, no source)."""
_UNKNOWN_PLUG_A = 16.0
_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class CordChoice:
    """One size of cord in the place of another."""

    name: str
    is_now: bool
    """It is the one that is there."""
    build: Build
    verdict: str
    """"ok", "care" or "stop"."""
    reason: Phrase | None
    """Why not ok."""
    appliance: str = ""
    """Name of the appliance behind it that loses most; empty where none is fed through it."""
    volts: float = 0.0
    """There, with everything on."""
    drop_share: float = 0.0
    """Lost on the whole way to it."""
    amps: float = 0.0
    """That the cord carries."""
    ampacity_a: float = 0.0
    """That it may carry, as hot as it is around it."""


def cord_of(build: Build, wire: Wire) -> Cord | None:
    """The cord of a wire: its own, or that of its plug; None where nobody knows it."""
    if wire.cord is not None:
        return wire.cord
    return next((port.cord for port in _ports(build, wire) if port.cord is not None), None)


def cord_names(build: Build, wire: Wire) -> tuple[str, ...]:
    """Sizes in the region's own measures that its plug takes, the thinnest first.

    The one that is there is among them, as it was written.
    """
    rules = profile(build.region)
    rated_a = [
        connector.amps
        for port in _ports(build, wire)
        if (connector := power_connector(port.connector)) is not None and connector.amps
    ]
    up_to_a = _MOST_OF_PLUG * (min(rated_a) if rated_a else _UNKNOWN_PLUG_A)
    sizes = list(cord_sizes(rules.region == "US", up_to_a))
    now = cord_of(build, wire)
    if now is not None and not any(same_size(size, now.size) for size in sizes):
        sizes.append(now.size)
        sizes.sort(key=lambda size: size.si)
    return tuple(size.text for size in sizes)


def with_cord(build: Build, wire: Wire, name: str, way_m: float = 0.0) -> Build:
    """The build with another size of cord in a wire; the same build where it is there already.

    Args:
        build: any build.
        wire: one of it.
        name: of the size, as `cord_names` gives it.
        way_m: how long a new cord is where no cord is known [m].
    """
    size = ConductorSize(name)
    now = cord_of(build, wire)
    if now is None:
        made = Cord(size=size, length=Length.from_si(max(way_m, 0.01), "m", 2))
    elif same_size(now.size, size):
        return build
    else:
        made = replace(now, size=size)
    return replace_run(build, replace(wire, cord=made))


def try_cords(before: Analysis, run_id: str) -> Iterator[CordChoice]:
    """Try every size, the thinnest first; nothing where there is no such wire.

    Args:
        before: of the build as it is.
        run_id: of the wire whose cord would be exchanged.
    """
    run = before.build.run(run_id)
    if not isinstance(run, Wire):
        return
    for name in cord_names(before.build, run):
        yield try_cord(before, run, name)


def try_cord(before: Analysis, wire: Wire, name: str) -> CordChoice:
    """Try one size: the power side is worked out anew, the rest does not change."""
    route = before.network.routes.get(wire.id)
    build = with_cord(before.build, wire, name, route.length_m if route is not None else 0.0)
    if build is before.build:
        power = before.power
    else:
        network = make_network(build, before.network)
        running = pumps_running(build, before.water)
        power = solve_power(build, network, before.power, running)
    fed = _behind(build, power, wire)
    verdict, reason = _judged(build, power, wire.id, fed)
    worst = max(fed, key=lambda one: power.appliances[one][EVERYTHING_ON].drop_share, default="")
    item = build.item(worst)
    state = power.appliances[worst][EVERYTHING_ON] if worst else None
    carried = power.wires.get(wire.id)
    return CordChoice(
        name=name,
        is_now=build is before.build,
        build=build,
        verdict=verdict,
        reason=reason,
        appliance=item.name if item is not None else "",
        volts=state.volts if state is not None else 0.0,
        drop_share=state.drop_share if state is not None else 0.0,
        amps=carried.amps if carried is not None else 0.0,
        ampacity_a=carried.ampacity_a if carried is not None else 0.0,
    )


def same_size(one: ConductorSize, other: ConductorSize) -> bool:
    """Whether two sizes are one, however written; AWG and metric sizes never are."""
    return abs(one.si - other.si) <= _SAME * one.si and (one.awg is None) == (other.awg is None)


def _ports(build: Build, wire: Wire) -> list[Port]:
    found = []
    for end in (wire.a, wire.b):
        item = build.item(end.item) if end is not None else None
        port = item.specification.port(end.port) if item is not None and end is not None else None
        if port is not None:
            found.append(port)
    return found


def _behind(build: Build, power: PowerResult, wire: Wire) -> list[str]:
    """Ids of the appliances that are fed through a wire."""
    if wire.id not in power.wires:
        return []
    plugged = _plugged(power, wire)
    found = []
    for item in build.items:
        if not isinstance(item.specification.electrical, Load):
            continue
        state = power.appliances.get(item.id, {}).get(EVERYTHING_ON)
        at: str | None = item.id
        for _ in range(len(build.items)):
            if at is None or at in plugged:
                break
            at = power.fed_from.get(at)
        if at in plugged and state is not None and state.fed:
            found.append(item.id)
    return found


def _plugged(power: PowerResult, run: Run) -> set[str]:
    """Id of the item whose plug a wire holds."""
    ends = {end.item for end in (run.a, run.b) if end is not None}
    return {one for one in ends if power.fed_from.get(one) in ends}


def _judged(
    build: Build, power: PowerResult, run_id: str, fed: list[str]
) -> tuple[str, Phrase | None]:
    reasons = sorted(_reasons(build, power, run_id, fed), key=lambda one: one[0] != "stop")
    return reasons[0] if reasons else ("ok", None)


def _reasons(
    build: Build, power: PowerResult, run_id: str, fed: list[str]
) -> Iterator[tuple[str, Phrase]]:
    for owner, limit in power.limits:
        if limit.holds:
            continue
        if owner == run_id and limit.name == "cord":
            yield "stop", _over(limit)
        elif owner == run_id and limit.name == "cord protection":
            yield (
                "care",
                Phrase.of(
                    "may carry {cord}, the breaker before it is {breaker}",
                    cord=Value(limit.limit, "current"),
                    breaker=Value(limit.value, "current"),
                ),
            )
        elif owner in fed and limit.name == "voltage":
            item = build.item(owner)
            low = limit.value < limit.limit
            yield (
                "stop",
                Phrase.of(
                    "{item} gets {volts}, needs {limit} at least"
                    if low
                    else "{item} gets {volts}, bears {limit} at most",
                    item=item.name if item is not None else owner,
                    volts=Value(limit.value, "voltage"),
                    limit=Value(limit.limit, "voltage"),
                ),
            )
        elif owner in fed and limit.name == "drop":
            yield (
                "care",
                Phrase.of(
                    "{share} lost on the way, {limit} is advised at most",
                    share=Value(limit.value, "percent"),
                    limit=Value(limit.limit, "percent"),
                ),
            )
    yield from _passing_on(build, power, run_id)


def _passing_on(build: Build, power: PowerResult, run_id: str) -> Iterator[tuple[str, Phrase]]:
    """A strip, extension cord or box whose cord is thinner than what it may pass on."""
    run, state = build.run(run_id), power.wires.get(run_id)
    if run is None or state is None:
        return
    for end in (run.a, run.b):
        item = build.item(end.item) if end is not None else None
        is_plugged = item is not None and item.id in _plugged(power, run)
        rated_a = _passes_on_a(item) if item is not None and is_plugged else None
        if item is not None and rated_a is not None and rated_a > state.ampacity_a > 0.0:
            yield (
                "care",
                Phrase.of(
                    "may carry {cord}, {item} is rated {rated}",
                    cord=Value(state.ampacity_a, "current"),
                    item=item.name,
                    rated=Value(rated_a, "current"),
                ),
            )


def _passes_on_a(item: Item) -> float | None:
    role = item.specification.electrical
    if isinstance(role, (Strip, Extension)):
        return role.rating.si
    return role.main.si if isinstance(role, Box) and role.main is not None else None


def _over(limit: Limit) -> Phrase:
    if limit.limit <= 0.0:
        return Phrase("not rated for any current, so thin or so hot as it is there")
    return Phrase.of(
        "carries {amps}, may carry {limit}",
        amps=Value(limit.value, "current"),
        limit=Value(limit.limit, "current"),
    )
