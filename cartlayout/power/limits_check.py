"""The limits of a circuit, each named apart: a number, its limit, the rule, its source."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..build import Build, Item, Load, Outlet
from ..limits import Profile, power_connector
from ..network.results import Node
from ..units import Phrase, Value
from .circuits import CircuitDraft
from .placed import PlacedLoad, PowerTree
from .results import CircuitLoad, Limit
from .totals import Totals
from .working import amps, load_line, sum_line, total_lines

PRACTICE = "common practice, no source"
ROUNDING = 1.005
"""Nameplates are rounded: a 3 kW kettle on a 13 A plug at 230 V is 13.04 A and is sold so."""
_LARGEST_SHARED_CIRCUIT_A = 30.0
"""The one-appliance rules speak of 15, 20 and 30 A circuits; larger ones feed one thing each."""


@dataclass(frozen=True, slots=True)
class OnCircuit:
    """A load as one circuit sees it."""

    placed: PlacedLoad
    amps: float
    continuous: bool
    assumed_continuous: bool
    receptacle_a: float | None
    """Rating of the circuit's own receptacle on its way, not that of a strip behind it."""

    @property
    def line_a(self) -> float:
        """Amps on a leg: more than those of the part where it hangs between two legs."""
        return self.amps * self.placed.line

    @property
    def is_first(self) -> bool:
        """Not the second or third part of a three-phase load."""
        return self.placed.part == 0

    @property
    def summary(self) -> CircuitLoad:
        """For the results."""
        return CircuitLoad(
            self.placed.item.id,
            self.line_a,
            self.continuous,
            self.assumed_continuous,
            self._conductors,
        )

    @property
    def _conductors(self) -> tuple[str, ...]:
        """Names of all that it hangs between."""
        placed = self.placed
        p, q = placed.draw.p, placed.draw.q
        if placed.parts == 1:
            return placed.source.name_of((p, q))
        star = q == placed.source.neutral
        return placed.source.names if star else placed.source.name_of(placed.source.legs)


def holds(value: float, limit: float) -> bool:
    """Tell whether a number is within its limit, but for the rounding of nameplates."""
    return value <= limit * ROUNDING + 1e-9


def loads_on(
    build: Build, tree: PowerTree, draft: CircuitDraft, totals: Totals, profile: Profile
) -> list[OnCircuit]:
    """The loads of a circuit with everything on, heaviest first."""
    found = []
    items = tree.items
    for index in tree.loads_behind.get(draft.meter, ()):
        placed, counted = tree.loads[index], totals.load_a[index]
        continuous, assumed = is_continuous(build, placed, profile)
        found.append(
            OnCircuit(
                placed, counted, continuous, assumed, _receptacle_a(items, tree, draft, placed)
            )
        )
    return sorted(found, key=lambda one: -one.amps)


def is_continuous(build: Build, placed: PlacedLoad, profile: Profile) -> tuple[bool, bool]:
    """Whether a load counts as continuous, and whether that is only assumed.

    The hours that make a load continuous are included: exactly three hours count. A load
    whose longest run nobody knows counts as continuous in a service that is that long.
    """
    continuous = is_continuous_load(build, placed.load, profile)
    return continuous, continuous and placed.load.longest_run is None


def is_continuous_load(build: Build, load: Load, profile: Profile) -> bool:
    """Whether a load counts as continuous, wherever it is plugged in."""
    if profile.continuous_hours is None:
        return False
    limit_s = profile.continuous_hours.value * 3600.0 - 1e-6
    run = load.longest_run if load.longest_run is not None else build.service.hours
    return run.si >= limit_s


def _receptacle_a(
    items: Mapping[str, Item], tree: PowerTree, draft: CircuitDraft, placed: PlacedLoad
) -> float | None:
    nearest: Node | None = None
    for meter in placed.meters:
        if meter == draft.meter:
            break
        if tree.meters[meter].kind == "receptacle":
            nearest = tree.meters[meter].node
    return receptacle_rating_a(items, nearest) if nearest is not None else None


def receptacle_rating_a(items: Mapping[str, Item], node: Node) -> float | None:
    """Amps that a receptacle is rated for, or None where the tables do not know it."""
    item = items.get(node[0])
    port = item.specification.port(node[1]) if item is not None else None
    connector = power_connector(port.connector) if port is not None else None
    return connector.amps if connector is not None else None


def circuit_limits(
    tree: PowerTree,
    draft: CircuitDraft,
    loads: Sequence[OnCircuit],
    totals: Totals,
    profile: Profile,
) -> tuple[Limit, ...]:
    """Everything that a circuit is held against."""
    items = tree.items
    found = [*_breaker(draft, loads, totals, profile)]
    if draft.kind != "supply":
        found += _continuous(draft, loads, profile)
        found += _one_appliance(draft, loads, profile)
        found += _fastened(draft, loads, profile)
        found += _receptacles(items, draft, profile)
    found += _own_circuit(draft, loads, profile)
    found += _venue_limits(items, tree, draft, totals)
    return tuple(found)


def _breaker(
    draft: CircuitDraft, loads: Sequence[OnCircuit], totals: Totals, profile: Profile
) -> Iterator[Limit]:
    row = totals.conductors[draft.meter] if draft.meter >= 0 else ()
    total = max(row[:-1], default=0.0)
    heaviest = row[:-1].index(total) if row else 0
    there = [
        (one.placed, one.line_a)
        for one in loads
        if (one.is_first and one.placed.parts > 1)
        or (one.placed.parts == 1 and _touches(one.placed, heaviest))
    ]
    yield Limit(
        "total",
        total,
        draft.rating_a,
        "current",
        "the total on a circuit never exceeds its rating",
        "NFPA 70 (NEC) 210.23, 2023"
        if profile.region == "US"
        else "IEC 60364-4-43 433.1 (from memory)",
        holds(total, draft.rating_a),
        draft.assumed,
        total_lines(there, total, draft.rating_a) if total else (),
        tuple(placed.item.id for placed, _ in there),
    )
    if len(draft.legs) > 1:
        yield Limit(
            "neutral",
            row[-1],
            draft.rating_a,
            "current",
            "the neutral carries what the legs leave over, added as phasors",
            "NFPA 70 (NEC) 220.61(A), 2023",
            holds(row[-1], draft.rating_a),
            draft.assumed,
        )


def leg_sums(
    draft: CircuitDraft, loads: Sequence[OnCircuit], times: Callable[[OnCircuit], float]
) -> dict[int, float]:
    """Leg of a circuit to its amps, added as phasors, with each load's counted so many times."""
    sums: dict[int, complex] = {}
    for one in loads:
        size = abs(one.placed.volts)
        if not size:
            continue
        counted = one.amps * times(one) * one.placed.volts / size
        for conductor, sign in ((one.placed.draw.p, 1), (one.placed.draw.q, -1)):
            if conductor in draft.legs:
                sums[conductor] = sums.get(conductor, 0j) + sign * counted
    return {conductor: abs(amps_) for conductor, amps_ in sums.items()}


def _touches(placed: PlacedLoad, conductor: int) -> bool:
    return conductor in (placed.draw.p, placed.draw.q)


def _continuous(
    draft: CircuitDraft, loads: Sequence[OnCircuit], profile: Profile
) -> Iterator[Limit]:
    rule = profile.continuous_factor
    if rule is None or not any(one.continuous for one in loads):
        return
    sums = leg_sums(draft, loads, lambda one: rule.value if one.continuous else 1.0)
    if not sums:
        return
    leg = max(sums, key=lambda conductor: sums[conductor])
    value = sums[leg]
    there = [one for one in loads if _touches(one.placed, leg)]
    lines = [_continuous_line(one, rule.value) for one in there]
    yield Limit(
        "continuous",
        value,
        draft.rating_a,
        "current",
        rule.rule,
        rule.citation,
        holds(value, draft.rating_a),
        (
            "the longest run of some loads is not known, so they count as continuous"
            if any(one.assumed_continuous for one in there)
            else ""
        ),
        (*lines, sum_line(value, draft.rating_a)),
        tuple(one.placed.item.id for one in there if one.continuous),
    )


def _continuous_line(one: OnCircuit, factor: float) -> Phrase:
    if not one.continuous:
        return Phrase.of(
            "{name}: {amps}, not continuous", name=one.placed.item.name, amps=amps(one.amps)
        )
    return Phrase.of(
        "{name}: {factor} x {amps} = {counted}" + (" (assumed)" if one.assumed_continuous else ""),
        name=one.placed.item.name,
        factor=Value(factor, "number"),
        amps=amps(one.amps),
        counted=amps(factor * one.amps),
    )


def _one_appliance(
    draft: CircuitDraft, loads: Sequence[OnCircuit], profile: Profile
) -> Iterator[Limit]:
    """The appliance that comes nearest to what its receptacle allows it."""
    if not draft.several or draft.rating_a > _LARGEST_SHARED_CIRCUIT_A:
        return
    worst: tuple[float, OnCircuit, float, str] | None = None
    for one in loads:
        allowed = _allowed_a(draft, one, profile)
        if allowed is None or not _plugged_in(draft, one):
            continue
        limit_a, source = allowed
        share = one.line_a / limit_a if limit_a else 0.0
        if worst is None or share > worst[0]:
            worst = (share, one, limit_a, source)
    if worst is None:
        return
    _, one, limit_a, source = worst
    yield Limit(
        "one appliance",
        one.line_a,
        limit_a,
        "current",
        "on a circuit with several receptacles one plug-in appliance takes 80 % at most",
        source,
        holds(one.line_a, limit_a),
        draft.assumed,
        (load_line(one.placed, one.line_a),),
        (one.placed.item.id,),
    )


def _plugged_in(draft: CircuitDraft, one: OnCircuit) -> bool:
    """Tell whether a load hangs on the circuit's receptacles by a plug, no breaker between."""
    load = one.placed.load
    return one.placed.circuit == draft.key and not load.fastened and not load.hardwired


def _allowed_a(draft: CircuitDraft, one: OnCircuit, profile: Profile) -> tuple[float, str] | None:
    if one.receptacle_a is not None:
        row = profile.receptacle_load(draft.rating_a, one.receptacle_a)
        if row is not None:
            return row.greatest_load_a, row.citation
    rule = profile.one_appliance_share
    return (rule.value * draft.rating_a, rule.citation) if rule is not None else None


def _fastened(draft: CircuitDraft, loads: Sequence[OnCircuit], profile: Profile) -> Iterator[Limit]:
    rule = profile.fastened_share
    loads = [one for one in loads if one.placed.circuit == draft.key and one.is_first]
    fastened = [one for one in loads if one.placed.load.fastened]
    if rule is None or not fastened or len(fastened) == len(loads):
        return
    if draft.rating_a > 20.0:  # the rule speaks of 15 and 20 A circuits
        return
    value = sum(one.line_a for one in fastened)
    limit_a = rule.value * draft.rating_a
    yield Limit(
        "fastened",
        value,
        limit_a,
        "current",
        rule.rule,
        rule.citation,
        holds(value, limit_a),
        draft.assumed,
        total_lines([(one.placed, one.line_a) for one in fastened], value, limit_a),
        tuple(one.placed.item.id for one in fastened),
    )


def _receptacles(
    items: Mapping[str, Item], draft: CircuitDraft, profile: Profile
) -> Iterator[Limit]:
    """Receptacles that may not stand behind a breaker of this size."""
    if draft.assumed:
        return
    if not draft.several:
        yield from _single_receptacle(items, draft, profile)
        return
    row = next(
        (one for one in profile.receptacles_for_circuits if one.circuit_a == draft.rating_a), None
    )
    if row is None:
        return
    for node in draft.receptacles:
        rating_a = receptacle_rating_a(items, node)
        if rating_a is not None and rating_a not in row.receptacles_a:
            yield Limit(
                "receptacle for circuit",
                rating_a,
                draft.rating_a,
                "current",
                "a circuit with several receptacles has receptacles of the ratings listed for it",
                row.citation,
                False,
                items=(node[0],),
            )
            return


def _single_receptacle(
    items: Mapping[str, Item], draft: CircuitDraft, profile: Profile
) -> Iterator[Limit]:
    rule = profile.single_receptacle
    rating_a = receptacle_rating_a(items, draft.receptacles[0]) if draft.receptacles else None
    if rule is None or rating_a is None or rating_a >= draft.rating_a:
        return
    yield Limit(
        "receptacle for circuit",
        rating_a,
        draft.rating_a,
        "current",
        rule.rule,
        rule.citation,
        False,
        items=(draft.receptacles[0][0],),
    )


def _own_circuit(
    draft: CircuitDraft, loads: Sequence[OnCircuit], profile: Profile
) -> Iterator[Limit]:
    count = sum(one.is_first for one in loads)
    alone = [
        one.placed.item.id
        for one in loads
        if one.is_first and one.placed.load.needs_own_circuit and one.placed.circuit == draft.key
    ]
    if not alone:
        return
    yield Limit(
        "own circuit",
        float(count),
        1.0,
        "count",
        "its maker asks for a circuit that feeds nothing else",
        "maker's instructions; NFPA 70 (NEC) 110.3(B)"
        if profile.region == "US"
        else "maker's instructions",
        count == 1,
        items=tuple(alone),
    )


def _venue_limits(
    items: Mapping[str, Item], tree: PowerTree, draft: CircuitDraft, totals: Totals
) -> Iterator[Limit]:
    for index, meter in enumerate(tree.meters):
        if meter.kind != "outlet" or meter.parent != draft.meter or draft.meter < 0:
            continue
        outlet = items.get(meter.key)
        role = outlet.specification.electrical if outlet is not None else None
        if outlet is None or not isinstance(role, Outlet) or role.limit is None:
            continue
        value = totals.watts[index]
        behind = tree.behind(index)
        lines = [
            Phrase.of(
                "{name}: {watts}",
                name=placed.item.name,
                watts=Value(placed.model.watts(placed.volts), "power"),
            )
            for placed in behind
        ]
        yield Limit(
            "venue limit",
            value,
            role.limit.si,
            "power",
            "what the venue allows at this outlet in total",
            "the venue",
            holds(value, role.limit.si),
            working=tuple(lines),
            items=(outlet.id, *(placed.item.id for placed in behind)),
        )
