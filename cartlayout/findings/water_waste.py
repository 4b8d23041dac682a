"""What to say about where the water goes: drains, waste against fresh, how long it lasts."""

import math
from collections.abc import Iterator

from ..build import Appliance, Basin, Drain, DrainPump, Item, Mains, Tank
from ..limits import profile
from ..units import Phrase, Value
from ..water.drain_results import VesselDay
from ..water.drain_ways import drain_ends, drain_outlets
from ..water.results import WaterBalance
from .finding import Finding
from .number import Number
from .water_words import PRACTICE, Place


def waste_rules(place: Place) -> Iterator[Finding]:
    """Judge drains and vessels."""
    for item in place.build.items:
        if isinstance(item.specification.water, (Appliance, Basin)):
            yield from _drain(place, item)
    balance = place.water.balance
    if balance is not None:
        yield from _room_for_waste(place, balance)
        yield from _enough_but_not_everywhere(place, balance)
        yield from _runs_out(place, balance)


def _volume(m3: float) -> Value:
    return Value(m3, "volume")


def _drain(place: Place, item: Item) -> Iterator[Finding]:
    for outlet in drain_outlets(item):
        ends = [end for end in drain_ends(place.network, outlet) if end != outlet]
        if not ends:
            yield Finding(
                "stop",
                "water.no-drain",
                Phrase.of("{item} has no drain", item=item.name),
                Phrase.of(
                    "Its waste water would run into the cart. Lead a drain tube from it to the "
                    "waste tank or a floor drain."
                ),
                (item.id,),
                source=PRACTICE,
            )
            continue
        for end in ends:
            yield from _ends_wrong(place, item, end)


def _ends_wrong(place: Place, item: Item, end: tuple[str, str]) -> Iterator[Finding]:
    role = place.role(end[0])
    if isinstance(role, Drain) or (isinstance(role, Tank) and role.contents == "waste"):
        return
    target = place.name(end[0])
    if isinstance(role, (Tank, Mains)):
        yield Finding(
            "stop",
            "water.waste-into-fresh",
            Phrase.of("Waste from {item} runs into {target}", item=item.name, target=target),
            Phrase.of("That is where drinking water comes from. Lead it to a waste tank."),
            (item.id, end[0]),
            source=PRACTICE,
        )
        return
    what = "a drain pump that leads nowhere" if isinstance(role, DrainPump) else "no waste tank"
    yield Finding(
        "stop",
        "water.drain-ends",
        Phrase.of("The drain of {item} ends in {target}", item=item.name, target=target),
        Phrase.of(
            "That is {what}. Lead it on to the waste tank or a floor drain.",
            what=what,
        ),
        (item.id, end[0]),
    )


def _room_for_waste(place: Place, balance: WaterBalance) -> Iterator[Finding]:
    """The waste tank against the fresh one, as the region's rule asks."""
    if balance.to_drain or balance.fresh <= 0.0 or balance.waste >= balance.waste_needed * 0.9999:
        return
    tanks = _tanks(place, "waste")
    fresh = _tanks(place, "fresh")
    stricter = _stricter(place, balance)
    more = f" Some places ask for more: {stricter}." if stricter else ""
    title = "Waste tank {waste}, must be {needed} for {fresh} fresh"
    if not tanks:
        title = "No waste tank; {needed} are needed for {fresh} fresh"
    words: dict[str, Value | str] = {
        "waste": _volume(balance.waste),
        "needed": _volume(balance.waste_needed),
        "fresh": _volume(balance.fresh),
    }
    yield Finding(
        "stop",
        "water.waste-ratio",
        Phrase.of(title, **words),
        Phrase.of(
            "The waste must hold {larger} more than the fresh water on board, or it overflows: ice "
            "and poured-away drinks go down the drain as well.{more} Take a larger waste tank or a "
            "smaller fresh one; the local authority decides.",
            larger=Value(balance.ratio - 1.0, "share"),
            more=more,
        ),
        (*tanks, *fresh),
        value=_volume(balance.waste),
        limit=_volume(balance.waste_needed),
        number=Number("tank", "waste", "needed"),
        source=balance.source,
        working=(
            Phrase.of(
                "Needed = {fresh} x {ratio} = {needed}",
                fresh=_volume(balance.fresh),
                ratio=Value(balance.ratio, "number"),
                needed=_volume(balance.waste_needed),
            ),
        ),
    )


def _stricter(place: Place, balance: WaterBalance) -> str:
    """Places that ask for more than the region does, each with its share."""
    rows = profile(place.build.region).stricter_waste_ratios
    return ", ".join(
        f"{row.place} {row.ratio - 1:.0%} larger" for row in rows if row.ratio > balance.ratio
    )


def _enough_but_not_everywhere(place: Place, balance: WaterBalance) -> Iterator[Finding]:
    """The region's rule is kept; some places of it have one of their own."""
    rows = [
        row
        for row in profile(place.build.region).stricter_waste_ratios
        if balance.waste < balance.fresh * row.ratio * 0.9999
    ]
    if balance.to_drain or balance.fresh <= 0.0 or not rows:
        return
    if balance.waste < balance.waste_needed * 0.9999:
        return
    most = max(rows, key=lambda row: row.ratio)
    yield Finding(
        "note",
        "water.waste-elsewhere",
        Phrase.of(
            "Some places ask for a waste tank of {needed}",
            needed=_volume(balance.fresh * most.ratio),
        ),
        Phrase.of(
            "Here {waste} for {fresh} fresh are enough by the region's rule. {places}: ask the "
            "local authority before you serve there.",
            waste=_volume(balance.waste),
            fresh=_volume(balance.fresh),
            places=_stricter(place, balance),
        ),
        (*_tanks(place, "waste"), *_tanks(place, "fresh")),
        value=_volume(balance.waste),
        limit=_volume(balance.fresh * most.ratio),
        number=Number("tank", "waste", "needed elsewhere"),
        source="; ".join(row.citation for row in rows),
    )


def _tanks(place: Place, contents: str) -> tuple[str, ...]:
    return tuple(
        item.id
        for item in place.build.items
        if isinstance(item.specification.water, Tank)
        and item.specification.water.contents == contents
    )


def _runs_out(place: Place, balance: WaterBalance) -> Iterator[Finding]:
    """Vessels that are empty or full before the day is over, the first of them named first."""
    first = balance.first
    for vessel in balance.vessels:
        if vessel.visits <= 0:
            continue
        also = ""
        if vessel is first and sum(1 for one in balance.vessels if one.visits > 0) > 1:
            also = " It is what ends first."
        if vessel.kind == "waste":
            yield _fills_up(place, balance, vessel, also)
        elif vessel.kind == "fresh":
            yield _lasts(place, balance, vessel, also)
        else:
            yield _by_hand(place, vessel, also)


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _lasts(place: Place, balance: WaterBalance, vessel: VesselDay, also: str) -> Finding:
    """How much of the service the fresh water lasts, where no mains refills it."""
    return Finding(
        "care",
        "water.runs-out",
        Phrase.of(
            "Water lasts {lasts} of {hours}",
            lasts=Value(vessel.lasts_s, "duration"),
            hours=Value(place.build.service.hours.si, "duration"),
        ),
        Phrase.of(
            "The service plan uses {needed}, {fresh} are on board: {drinks} drinks.{also} Bring "
            "more, or plan to refill {times} and to empty the waste.",
            needed=_volume(vessel.per_day),
            fresh=_volume(vessel.volume),
            drinks=Value(float(math.floor(vessel.drinks)), "count"),
            times=_times(vessel.visits),
            also=also,
        ),
        vessel.items,
        value=_volume(vessel.volume),
        limit=_volume(vessel.per_day),
        number=Number("vessel", vessel.items[0], "lasts", vessel.kind),
        source="service plan of this build",
        working=_share_lines(balance, "fresh"),
    )


def _fills_up(place: Place, balance: WaterBalance, vessel: VesselDay, also: str) -> Finding:
    """How much of the service the waste tank takes, where the venue's drain does not."""
    return Finding(
        "care",
        "water.fills-up",
        Phrase.of(
            "Waste is full after {lasts} of {hours}",
            lasts=Value(vessel.lasts_s, "duration"),
            hours=Value(place.build.service.hours.si, "duration"),
        ),
        Phrase.of(
            "The service plan lets {coming} down into it, it takes {room}.{also} Empty it {times} "
            "in between, or take a larger one.",
            coming=_volume(vessel.per_day),
            room=_volume(vessel.volume),
            times=_times(vessel.visits),
            also=also,
        ),
        vessel.items,
        number=Number("vessel", vessel.items[0], "lasts", vessel.kind),
        value=_volume(vessel.per_day),
        limit=_volume(vessel.volume),
        source="service plan of this build",
        working=_share_lines(balance, "waste"),
    )


def _by_hand(place: Place, vessel: VesselDay, also: str) -> Finding:
    """A reservoir that somebody has to fill in the middle of the service."""
    name = place.name(vessel.items[0])
    return Finding(
        "note",
        "water.refill",
        Phrase.of("{item} is filled by hand {times}", item=name, times=_times(vessel.visits)),
        Phrase.of(
            "Its reservoir of {room} is empty after {lasts}; the service plan has it take "
            "{needed}.{also} Keep a jug at hand, or give it a tube.",
            room=_volume(vessel.volume),
            lasts=Value(vessel.lasts_s, "duration"),
            needed=_volume(vessel.per_day),
            also=also,
        ),
        vessel.items,
        number=Number("vessel", vessel.items[0], "lasts", vessel.kind),
        value=_volume(vessel.volume),
        limit=_volume(vessel.per_day),
        source="service plan of this build",
    )


def _share_lines(balance: WaterBalance, kind: str) -> tuple[Phrase, ...]:
    """What it is used for, or who fills it, the most first."""
    shares = sorted(
        (one for one in balance.shares if one.kind == kind), key=lambda one: -one.per_day
    )
    return tuple(
        Phrase.of("{name}: {volume}", name=one.name, volume=_volume(one.per_day)) for one in shares
    )
