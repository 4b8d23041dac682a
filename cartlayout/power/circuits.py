"""What each breaker protects, before anything is computed."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from ..build import Battery, Box, Branch, Build, Generator, Item, Outlet, Port
from ..limits import LimitsError, Profile
from ..network.results import Node
from .systems import ConductorSet, conductor_set

UNKNOWN = "unknown"
"""Key of the one circuit that outlets nobody knows anything about are taken to share."""


@dataclass(slots=True)
class CircuitDraft:
    """A circuit and where it begins; `meter` is set when the walk reaches it."""

    key: str
    name: str
    items: tuple[str, ...]
    rating_a: float
    assumed: str
    """What was taken for granted about the rating; empty if it was given."""
    receptacles: tuple[Node, ...]
    several: bool
    """Two or more receptacles, or nobody knows how many."""
    source: ConductorSet | None = None
    """Of a venue's circuit or a supply's branch; a box's comes from what feeds it."""
    legs: tuple[int, ...] = ()
    leg_names: tuple[str, ...] = ()
    voltage_v: float = 0.0
    parent: str | None = None
    shared: bool = False
    kind: Literal["venue", "box", "supply"] = "venue"
    """supply: a breaker of a generator or an inverter, whose rating is its own."""
    meter: int = -1
    letter: str = ""


@dataclass(slots=True)
class VenueCircuit:
    """Outlets of the venue that hang on one breaker."""

    draft: CircuitDraft
    outlets: list[Item] = field(default_factory=list)


def receptacles_of(item: Item) -> tuple[Node, ...]:
    """Nodes of an item that give power."""
    return tuple((item.id, port.id) for port in item.specification.ports if gives_power(port))


def gives_power(port: Port) -> bool:
    """Tell whether a port is a receptacle."""
    return port.medium == "power" and port.direction != "in"


def venue_circuits(build: Build, profile: Profile) -> list[VenueCircuit]:
    """The venue's circuits in the order of the build.

    Outlets of one circuit name and one system are one circuit. Outlets whose
    circuit nobody knows are taken to share one; only those of another system
    or voltage class, which cannot be behind the same breaker, are kept apart.
    """
    groups: dict[str, list[Item]] = {}
    for item in build.items:
        if isinstance(item.specification.electrical, Outlet):
            key = _group_key(item.specification.electrical, profile)
            first = _outlet(groups[key][0]) if key in groups else None
            if first is not None and first.system != item.specification.electrical.system:
                key = f"{key}/{item.specification.electrical.system}"
            groups.setdefault(key, []).append(item)
    return [_venue_circuit(key, outlets, profile) for key, outlets in groups.items()]


def _group_key(outlet: Outlet, profile: Profile) -> str:
    usual_v = profile.usual_voltages_v.value[0]
    plain = outlet.system == "single-phase"
    if outlet.circuit is not None:
        return f"venue/{outlet.circuit}"
    if plain and 0.8 * usual_v <= outlet.voltage.si <= 1.25 * usual_v:
        return UNKNOWN
    return f"{UNKNOWN}/{outlet.voltage.si:.0f} V {outlet.system}"


def _venue_circuit(key: str, outlets: list[Item], profile: Profile) -> VenueCircuit:
    roles = [_outlet(item) for item in outlets]
    receptacles = tuple(node for item in outlets for node in receptacles_of(item))
    given = [role.breaker.si for role in roles if role.breaker is not None]
    if given:
        rating_a, assumed = min(given), ""
    else:
        rating_a, assumed = _assumed_breaker(outlets, profile)
    source = conductor_set(roles[0].system, roles[0].voltage.si)
    unknown = all(role.circuit is None for role in roles)
    shared = any(role.shared for role in roles)
    draft = CircuitDraft(
        key=key,
        name=_names(item.name for item in outlets),
        items=tuple(item.id for item in outlets),
        rating_a=rating_a,
        assumed=assumed,
        receptacles=receptacles,
        several=len(receptacles) > 1 or unknown or shared,
        source=source,
        legs=source.legs,
        leg_names=source.name_of(source.legs),
        voltage_v=roles[0].voltage.si,
        shared=shared,
    )
    return VenueCircuit(draft, outlets)


def _outlet(item: Item) -> Outlet:
    role = item.specification.electrical
    assert isinstance(role, Outlet)
    return role


def _assumed_breaker(outlets: list[Item], profile: Profile) -> tuple[float, str]:
    """The least breaker that any of the receptacles may be behind."""
    ports = [port for item in outlets for port in item.specification.ports if gives_power(port)]
    rating_a = min(
        (_assumed_behind(port.connector, profile) for port in ports), default=_least_known(profile)
    )
    return rating_a, "the breaker is not known, so the least that its receptacles may be behind"


def _assumed_behind(connector: str, profile: Profile) -> float:
    try:
        return profile.unknown_breaker(connector).amps
    except LimitsError:
        return _least_known(profile)


def _least_known(profile: Profile) -> float:
    known = [row.amps for row in profile.unknown_breakers]
    return min(known, default=profile.breaker_sizes_a.value[0])


def box_circuits(item: Item, box: Box) -> list[CircuitDraft]:
    """The branches of a box; what feeds it is not known yet."""
    known = set(receptacles_of(item))
    return [_branch(item, branch, known) for branch in box.branches]


def generator_circuits(item: Item, generator: Generator) -> list[CircuitDraft]:
    """The branches of a generator."""
    source = conductor_set(generator.system, generator.voltage.si)
    if generator.full_power is True and len(source.legs) > 1:
        # Both windings side by side: one leg with everything, and nothing between two legs.
        source = conductor_set("single-phase", abs(source.volts[0]))
    drafts, known = [], set(receptacles_of(item))
    for branch in generator.branches:
        draft = _branch(item, branch, known)
        draft.kind = "supply"
        if len(branch.legs) > 1 and len(source.legs) < 2 <= len(branch.legs):
            drafts.append(draft)
            continue
        draft.source = source
        set_legs(draft, source, branch_legs(branch, source.legs))
        drafts.append(draft)
    return drafts


def battery_circuit(item: Item, battery: Battery) -> CircuitDraft:
    """A battery's inverter as one circuit, rated by its running watts."""
    source = conductor_set("single-phase", battery.voltage.si)
    receptacles = receptacles_of(item)
    draft = CircuitDraft(
        key=f"{item.id}/inverter",
        name=item.name,
        items=(item.id,),
        rating_a=battery.running.si / battery.voltage.si if battery.voltage.si > 0 else 0.0,
        assumed="",
        receptacles=receptacles,
        several=len(receptacles) > 1,
        source=source,
        kind="supply",
    )
    set_legs(draft, source, source.legs)
    return draft


def branch_legs(branch: Branch, legs: tuple[int, ...]) -> tuple[int, ...]:
    """Which of the legs that arrive a branch is wired to.

    A box for two legs that is fed from one has both of its bars on that leg.
    """
    if not legs:
        return ()
    named = {"L": legs[0], "L1": legs[0], "L2": legs[min(1, len(legs) - 1)]}
    named["L3"] = legs[2 if len(legs) > 2 else 0]
    return tuple(dict.fromkeys(named[leg] for leg in branch.legs))


def set_legs(draft: CircuitDraft, source: ConductorSet, legs: tuple[int, ...]) -> None:
    """Tell a circuit which conductors it has."""
    draft.legs = legs
    draft.leg_names = source.name_of(legs)
    if len(legs) > 1:
        draft.voltage_v = abs(source.between(legs[0], legs[1]))
    elif legs:
        draft.voltage_v = abs(source.volts[legs[0]])


def _branch(item: Item, branch: Branch, known: set[Node]) -> CircuitDraft:
    receptacles = tuple((item.id, port) for port in branch.ports if (item.id, port) in known)
    return CircuitDraft(
        key=f"{item.id}/{branch.name}",
        name=f"{item.name}, {branch.name}",
        items=(item.id,),
        rating_a=branch.breaker.si,
        assumed="",
        receptacles=receptacles,
        several=len(receptacles) > 1,
        leg_names=tuple(branch.legs),
        kind="box",
    )


def letter(index: int) -> str:
    """A, B ... Z, AA, AB ..."""
    text = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def _names(names: Iterable[str]) -> str:
    every = list(names)
    if len(every) <= 2:
        return " and ".join(every)
    return f"{every[0]}, {every[1]} and {len(every) - 2} more"
