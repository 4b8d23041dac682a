"""A day of service: what fresh water is used for, who fills the waste, what is empty or full first.

The service plan says how much water a drink and its rinsing take. An appliance
that takes a stated amount for a drink takes that; what appliances state together
is never more than the plan has. What is left over is shared by those that state
nothing. Ice, poured-away drinks and the rest come down the drain besides.
Water filled in by hand comes out of the vessels on board like any other.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ..build import Appliance, Basin, Build, Drain, Item, Mains, Tank
from ..network.results import Network
from .drain_results import DayShare, VesselDay, VesselKind
from .drain_ways import drain_ends, drain_outlets
from .taking import appliances, per_drink

_S_PER_HOUR = 3600.0
_ICE_WATER_KG_M3 = 1000.0
"""Of melted ice, near enough."""


@dataclass(frozen=True, slots=True)
class Day:
    """The whole day."""

    fresh_per_day: float
    waste_per_day: float
    shares: tuple[DayShare, ...]
    vessels: tuple[VesselDay, ...]


def day_of(build: Build, network: Network) -> Day:
    """What a build's service plan makes of its vessels. Never raises on a build that loads."""
    return _Day(build, network).told()


class _Day:
    def __init__(self, build: Build, network: Network) -> None:
        self.build = build
        self.network = network
        self.items = {item.id: item for item in build.items}
        plan = build.service
        self.seconds = max(plan.hours.si, 0.0)
        self.drinks = self.seconds / _S_PER_HOUR * max(plan.drinks_per_hour, 0.0)
        rinsers = appliances(build)[1]
        self.for_drinks = self.drinks * max(plan.water_per_drink.si, 0.0)
        self.for_rinsing = self.drinks * max(plan.rinse_per_drink.si, 0.0)
        self.uses = {item_id: self.drinks * use for item_id, use in per_drink(build).items()}
        """Item id to what it takes over the day [m3]."""
        self.rinsers = [item for item, _ in rinsers]
        self.tanks = [
            item
            for item in build.items
            if isinstance(item.specification.water, Tank)
            and item.specification.water.contents == "waste"
        ]
        self.into: dict[str, float] = {}
        """Id of each waste tank to what is let into it."""

    def told(self) -> Day:
        shares = [*self._fresh(), *self._waste()]
        waste = sum(one.per_day for one in shares if one.kind == "waste")
        vessels = [*self._fresh_vessels(), *self._reservoirs(), *self._waste_vessels()]
        vessels.sort(key=lambda one: one.lasts_s)
        return Day(
            fresh_per_day=self.for_drinks + self.for_rinsing,
            waste_per_day=waste,
            shares=tuple(one for one in shares if one.per_day > 0.0),
            vessels=tuple(vessels),
        )

    # --- fresh water ---------------------------------------------------------------------------

    def _by_hand(self) -> Iterator[tuple[Item, float, float]]:
        """Appliances filled by hand, with what they hold and take."""
        for item in self.build.items:
            role = item.specification.water
            if isinstance(role, Appliance) and role.feed == "own reservoir" and role.reservoir:
                yield item, max(role.reservoir.si, 0.0), self.uses.get(item.id, 0.0)

    def _fresh(self) -> Iterator[DayShare]:
        by_hand = 0.0
        for item, _, use in self._by_hand():
            by_hand += use
            yield DayShare(f"filled by hand into {item.name}", "fresh", use, (item.id,))
        rinsing = sum(
            use for item, _, use in self._by_hand() if item.id in {one.id for one in self.rinsers}
        )
        yield DayShare("drinks", "fresh", max(self.for_drinks - by_hand + rinsing, 0.0))
        yield DayShare(
            "rinsing",
            "fresh",
            max(self.for_rinsing - rinsing, 0.0),
            tuple(item.id for item in self.rinsers),
        )

    def _fresh_vessels(self) -> Iterator[VesselDay]:
        supply = self.network.supply
        fed = any(
            (item.id, port.id) in supply and supply.degree((item.id, port.id)) > 0
            for item in self.build.items
            if isinstance(item.specification.water, Mains)
            for port in item.specification.ports
        )
        jugs = [
            (item.id, max(item.specification.water.volume.si, 0.0))
            for item in self.build.items
            if isinstance(item.specification.water, Tank)
            and item.specification.water.contents == "fresh"
        ]
        volume = sum(one for _, one in jugs)
        if volume > 0.0 and not fed:
            ids = tuple(item_id for item_id, _ in jugs)
            yield self._vessel(ids, "fresh", volume, self.for_drinks + self.for_rinsing)

    def _reservoirs(self) -> Iterator[VesselDay]:
        for item, volume, use in self._by_hand():
            if volume > 0.0:
                yield self._vessel((item.id,), "reservoir", volume, use)

    # --- waste ---------------------------------------------------------------------------------

    def _waste(self) -> Iterator[DayShare]:
        plan = self.build.service
        yield self._share("rinse water", self.for_rinsing, self.rinsers)
        for item in self.build.items:
            role = item.specification.water
            if isinstance(role, Appliance) and 0.0 < role.drained_share < 1.0:
                let_go = self.uses.get(item.id, 0.0) * role.drained_share
                yield self._share(f"drained by {item.name}", let_go, [item])
        sinks = [
            item
            for item in self.build.items
            if isinstance(item.specification.water, Basin)
            and not any(port.direction == "in" for port in item.specification.ports)
        ]
        poured = sinks or self.rinsers
        ice = self.drinks * max(plan.ice_per_drink.si, 0.0) / _ICE_WATER_KG_M3
        yield self._share("melted ice", ice, poured)
        away = self.drinks * max(plan.poured_away_per_drink.si, 0.0)
        yield self._share("drinks poured away", away, poured)
        besides = max(plan.waste_besides_fresh.si, 0.0)
        yield self._share("syrups, cleaning and the rest", besides, poured)

    def _share(self, name: str, per_day: float, through: list[Item]) -> DayShare:
        """One stream, in equal parts through the items that let it go; the tanks get theirs."""
        into: dict[str, float] = {}
        for item in through:
            ends = ends_of(self.network, self.items, item)
            for end in ends:
                into[end] = into.get(end, 0.0) + per_day / len(through) / len(ends)
        lost = per_day - sum(into.values())
        if lost > 1e-12 and self.tanks:  # nothing leads it away: it is carried to the tanks
            for tank in self.tanks:
                end = drained_to(self.network, self.items, tank) or tank.id
                into[end] = into.get(end, 0.0) + lost / len(self.tanks)
        for end, part in into.items():
            self.into[end] = self.into.get(end, 0.0) + part
        return DayShare(name, "waste", per_day, tuple(item.id for item in through), tuple(into))

    def _waste_vessels(self) -> Iterator[VesselDay]:
        for tank in self.tanks:
            role = tank.specification.water
            if isinstance(role, Tank) and not drained_to(self.network, self.items, tank):
                volume = max(role.volume.si, 0.0)
                if volume > 0.0:
                    yield self._vessel((tank.id,), "waste", volume, self.into.get(tank.id, 0.0))

    def _vessel(
        self, items: tuple[str, ...], kind: VesselKind, volume: float, per_day: float
    ) -> VesselDay:
        share = volume / per_day if per_day > 0.0 else math.inf
        return VesselDay(
            items=items,
            kind=kind,
            volume=volume,
            per_day=per_day,
            lasts_s=self.seconds * share if math.isfinite(share) else math.inf,
            drinks=self.drinks * share if math.isfinite(share) else math.inf,
            visits=_visits(per_day, volume),
        )


def _visits(per_day: float, volume: float) -> int:
    """How often a vessel is empty, or full, before the day is over."""
    times = per_day / volume
    return max(math.ceil(times - 1e-9) - 1, 0) if math.isfinite(times) else 0


def ends_of(network: Network, items: dict[str, Item], item: Item) -> list[str]:
    """Ids of the waste tanks and venue's drains that an item's waste ends in."""
    found: dict[str, None] = {}
    for outlet in drain_outlets(item):
        for end in drain_ends(network, outlet):
            target = items.get(end[0])
            role = target.specification.water if target is not None else None
            if target is None or target.id == item.id:
                continue
            if isinstance(role, Tank) and role.contents == "waste":
                found[drained_to(network, items, target) or target.id] = None
            elif isinstance(role, Drain):
                found[target.id] = None
    return list(found)


def drained_to(network: Network, items: dict[str, Item], tank: Item) -> str:
    """Id of the venue's drain that a tank's own outlet leads to; empty where it is carried away."""
    return next(_drains(network, items, tank), "")


def _drains(network: Network, items: dict[str, Item], tank: Item) -> Iterator[str]:
    for outlet in drain_outlets(tank):
        for end in drain_ends(network, outlet):
            target = items.get(end[0])
            if target is not None and isinstance(target.specification.water, Drain):
                yield target.id
