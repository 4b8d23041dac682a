"""What to say about leakage to earth: devices that will trip, and places that must have one."""

import math
from collections.abc import Iterator

from ..build import Appliance, Basin, Box, Build, Item, Load, Outlet
from ..build.geometry import bounds, port_position
from ..limits import Profile, power_connector, profile
from ..limits.leakage_times import leakage_times
from ..power.leakage_results import Leakage
from ..power.results import PowerResult
from ..units import Phrase, Value, capitalised
from .finding import Finding
from .power_numbers import leakage_number
from .power_trip import span
from .power_words import PowerWords

_Rectangle = tuple[float, float, float, float]
"""Left, top, right, bottom [m]."""


def rules(words: PowerWords) -> Iterator[Finding]:
    """Judge the sum of what leaks behind every device."""
    for leakage in words.power.leakages:
        yield from _sum(words, leakage)


def _milli(amps: float) -> Value:
    return Value(amps, "leakage")


def _sum(words: PowerWords, leakage: Leakage) -> Iterator[Finding]:
    items = tuple(leak.item for leak in leakage.leaks)
    budget = words.profile.standing_leakage_a
    lines = tuple(
        Phrase.of(
            "{name}: {amps}" + ("" if leak.known else " at most ({rule})"),
            name=words.name(leak.item),
            amps=_milli(leak.amps),
            **({} if leak.known else {"rule": leak.rule}),
        )
        for leak in leakage.leaks
    )
    known = leakage.known_a
    sure = leakage.protected is True
    device = words.name(leakage.key)
    if known > leakage.budget_a + 1e-9:
        trips = known >= leakage.trip_a - 1e-9
        if trips:
            lines = (*lines, *_time_line(words, known))
        yield Finding(
            "stop" if trips and sure else "care",
            "power.leakage",
            Phrase.of(
                "{known} leak to earth behind {device}, {limit} are allowed",
                known=_milli(known),
                device=device,
                limit=_milli(leakage.budget_a),
            ),
            Phrase.of(
                (
                    "Its earth-leakage device trips at {trip}"
                    if sure
                    else "If it has an earth-leakage device, that trips at {trip}"
                )
                + ("" if trips else " and may do so from {hold} on")
                + ", with no overload and nothing broken. Spread these appliances over more "
                "protected outlets.",
                trip=_milli(leakage.trip_a),
                **({} if trips else {"hold": _milli(leakage.hold_a)}),
            ),
            (leakage.key, *items),
            value=_milli(known),
            limit=_milli(leakage.budget_a),
            source=budget.citation,
            working=lines,
            number=leakage_number(leakage, "known"),
        )
        return
    unknown = tuple(leak.item for leak in leakage.leaks if not leak.known)
    if unknown and leakage.most_a > leakage.budget_a + 1e-9:
        yield Finding(
            "note",
            "power.leakage-unknown",
            Phrase.of("What leaks to earth behind {device} is not known", device=device),
            Phrase.of(
                "{names} may leak so much that all together reach {most}; {limit} are allowed. Ask "
                "their makers, or spread them over more protected outlets.",
                names=words.names(unknown),
                most=_milli(leakage.most_a),
                limit=_milli(leakage.budget_a),
            ),
            (leakage.key, *unknown),
            value=_milli(leakage.most_a),
            limit=_milli(leakage.budget_a),
            number=leakage_number(leakage, "most"),
            source=budget.citation,
            working=lines,
        )


def _time_line(words: PowerWords, leak_a: float) -> Iterator[Phrase]:
    times = leakage_times(words.profile.region)
    longest_s = times.longest_s(leak_a)
    if longest_s is not None:
        yield Phrase.of(
            "At {amps} it trips within {time}: {rule} ({source})",
            amps=_milli(leak_a),
            time=span(longest_s),
            rule=times.rule,
            source=times.citation,
        )


# --- where a device must be ----------------------------------------------------------------------


def place_rules(build: Build, power: PowerResult) -> Iterator[Finding]:
    """Receptacles of the venue that need a device, by where they are."""
    rules_ = profile(build.region)
    used = set(power.fed_from.values())
    sinks = [item for item in build.items if _is_sink(item)]
    by_host = _by_host(power)
    for item in build.items:
        role = item.specification.electrical
        if not isinstance(role, Outlet) or role.gfci is True or item.id not in used:
            continue
        if all(_protects(build, one) for one in by_host[item.id]):
            continue  # the box is the first thing on its cord, and protects what hangs on it
        found = _why(build, item, sinks, rules_, by_host)
        if found is None:
            continue
        why, source, others = found
        known = role.gfci is False
        yield Finding(
            "stop" if known else "care",
            "power.no-leakage-protection" if known else "power.leakage-protection-unknown",
            Phrase.of(
                "{outlet} has no earth-leakage protection"
                if known
                else "Whether {outlet} has earth-leakage protection is not known",
                outlet=item.name,
            ),
            Phrase.of(
                "{why}. Ask for a protected outlet, or put a listed portable device first on its "
                "cord; a licensed electrician decides.",
                why=why,
            ),
            (item.id, *others),
            source=source,
        )


def _protects(build: Build, item_id: str) -> bool:
    item = build.item(item_id)
    role = item.specification.electrical if item is not None else None
    return isinstance(role, Box) and role.gfci is True


def _by_host(power: PowerResult) -> dict[str, list[str]]:
    """What is plugged into each item."""
    found: dict[str, list[str]] = {}
    for one, host in power.fed_from.items():
        found.setdefault(host, []).append(one)
    return found


def _why(
    build: Build,
    outlet: Item,
    sinks: list[Item],
    rules_: Profile,
    by_host: dict[str, list[str]],
) -> tuple[str, str, tuple[str, ...]] | None:
    everywhere = rules_.leakage_protection_up_to_a
    if everywhere is not None and _rating_a(outlet) <= everywhere.value:
        return capitalised(everywhere.rule), everywhere.citation, ()
    if build.venue.outdoors and rules_.outdoor_protection is not None:
        return capitalised(rules_.outdoor_protection.rule), rules_.outdoor_protection.citation, ()
    near = rules_.wet_distance_m
    if near is None:
        return None
    for sink in sinks:
        away_m = _away_m(build, outlet, sink)
        if away_m <= near.value:
            text = f"It is {away_m:.1f} m from {sink.name}; {near.rule}"
            return text, near.citation, (sink.id,)
    return _heavy_beside_a_sink(build, outlet, sinks, rules_, by_host)


def _heavy_beside_a_sink(
    build: Build,
    outlet: Item,
    sinks: list[Item],
    rules_: Profile,
    by_host: dict[str, list[str]],
) -> tuple[str, str, tuple[str, ...]] | None:
    """A fastened or stationary appliance near a sink, however far its outlet is."""
    near, heavy = rules_.wet_distance_m, rules_.wet_appliances_from_kg
    if near is None or heavy is None:
        return None
    ahead = list(by_host[outlet.id])
    while ahead:
        item = build.item(ahead.pop())
        if item is None or _protects(build, item.id):
            continue
        ahead += by_host.get(item.id, ())
        role = item.specification.electrical
        if not isinstance(role, Load):
            continue
        if not (role.fastened or role.hardwired or item.specification.mass.si > heavy.value):
            continue
        for sink in sinks:
            if sink.id != item.id and _apart_m(bounds(item), bounds(sink)) <= near.value:
                text = f"{item.name} on it stands beside {sink.name}; {heavy.rule}"
                return text, heavy.citation, (item.id, sink.id)
    return None


def _apart_m(one: _Rectangle, other: _Rectangle) -> float:
    left, top, right, bottom = one
    left2, top2, right2, bottom2 = other
    across = max(left - right2, left2 - right, 0.0)
    along = max(top - bottom2, top2 - bottom, 0.0)
    return math.hypot(across, along)


def _rating_a(outlet: Item) -> float:
    found = [
        connector.amps
        for port in outlet.specification.ports
        if (connector := power_connector(port.connector)) is not None and connector.amps is not None
    ]
    return min(found, default=0.0)


def _is_sink(item: Item) -> bool:
    role = item.specification.water
    return "sink" in item.specification.kind and isinstance(role, (Appliance, Basin))


def _away_m(build: Build, outlet: Item, sink: Item) -> float:
    """Shortest way that a cord could take from a receptacle to the edge of a sink."""
    ports = [port for port in outlet.specification.ports if port.medium == "power"]
    left, top, right, bottom = bounds(sink)
    least = math.inf
    for port in ports:
        x, y, _ = port_position(build.cart, outlet, port)
        dx = max(left - x, 0.0, x - right)
        dy = max(top - y, 0.0, y - bottom)
        least = min(least, math.hypot(dx, dy))
    return least
