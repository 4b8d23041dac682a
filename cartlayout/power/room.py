"""What can still be plugged into a circuit."""

from collections.abc import Iterator
from typing import NamedTuple

from ..limits import Profile
from .results import EVERYTHING_ON, Circuit, PowerResult


class Room(NamedTuple):
    """Amps left, and the name of the limit that leaves the fewest."""

    amps: float
    binding: str
    of: tuple[float, ...] = ()
    """What it was worked out from. "total", "main", "leg": limit and amps there. "continuous":
    rating, amps counted, factor, and amps as they are; where the circuit's own sum tells more
    than these, that sum and the amps that run for hours follow. "venue limit" and those of
    supplies: limit, what is taken [W], volts, and by how much it grows."""


def rooms(
    circuit: Circuit,
    profile: Profile,
    power: PowerResult | None = None,
    legs: tuple[str, ...] = (),
) -> tuple[Room, ...]:
    """How many more amps a circuit takes by each of its limits, never below 0.

    What is added is taken to run for a whole service, since nobody knows it
    yet, where the region has a rule for that. Everything starting at once is
    left out: it depends on the type of the breaker, which nobody knows, and
    on what is added being a motor; it is a finding of its own.

    Args:
        circuit: the circuit.
        profile: rules of the region.
        power: if given, the circuits that feed this one are held to their limits too.
        legs: which of the circuit's legs are meant; all of them, so the fullest, unless said.
    """
    factor = profile.continuous_factor.value if profile.continuous_factor is not None else 1.0
    total_a = _on(
        circuit.leg_amps.get(EVERYTHING_ON, {}),
        legs or circuit.legs,
        circuit.amps.get(EVERYTHING_ON, 0.0),
    )
    left = [Room(circuit.rating_a - total_a, "total", (circuit.rating_a, total_a))]
    if profile.continuous_factor is not None and "/inverter" not in circuit.key:
        used = next((one.value for one in circuit.limits if one.name == "continuous"), None)
        counted = total_a
        known: tuple[float, ...] = ()
        if used is not None:  # said of the fullest leg; of another no more is known than this
            longer_a = sum(load.amps for load in circuit.loads if load.continuous)
            counted = min(used, factor * total_a, total_a + (factor - 1.0) * longer_a)
            known = (used, longer_a)
        of = (circuit.rating_a, counted, factor, total_a, *known)
        left.append(Room((circuit.rating_a - counted) / factor, "continuous", of))
    for one in circuit.limits:
        if one.name == "venue limit" and circuit.voltage_v > 0:
            of = (one.limit, one.value, circuit.voltage_v, 1.0)
            left.append(Room((one.limit - one.value) / circuit.voltage_v, "venue limit", of))
    if power is not None:
        left += _above(circuit, profile, power, legs or circuit.legs)
    return tuple(one._replace(amps=max(one.amps, 0.0)) for one in left)


def room(circuit: Circuit, profile: Profile, power: PowerResult | None = None) -> Room:
    """How many more amps a circuit takes before one of its limits is reached; see `rooms`."""
    return min(rooms(circuit, profile, power), key=lambda one: one.amps)


def room_left(circuit: Circuit, profile: Profile, power: PowerResult | None = None) -> float:
    """Amps left on a circuit by whichever limit binds; see `rooms`."""
    return room(circuit, profile, power).amps


def _above(
    circuit: Circuit, profile: Profile, power: PowerResult, legs: tuple[str, ...]
) -> Iterator[Room]:
    """Room on what feeds a circuit: the circuit above its box, its generator, its battery.

    Only the legs that the circuit is on count: the other leg of a box may be full.
    """
    parent = power.circuit(circuit.parent) if circuit.parent is not None else None
    if parent is not None:
        least = min(rooms(parent, profile, power, legs), key=lambda one: one.amps)
        yield Room(least.amps, f"circuit {parent.letter}")
    for item_id, one in power.limits:
        if item_id not in circuit.items or circuit.voltage_v <= 0:
            continue
        if one.name in ("generator", "inverter", "discharge"):
            of = (one.limit, one.value, circuit.voltage_v, one.grows)
            yield Room((one.limit - one.value) / one.grows / circuit.voltage_v, one.name, of)
        elif one.name in ("main", "leg"):
            there = power.conductor_amps.get(item_id, {}).get(EVERYTHING_ON, {})
            there_a = _on(there, legs, one.value)
            yield Room(one.limit - there_a, one.name, (one.limit, there_a))


def _on(amps: dict[str, float], legs: tuple[str, ...], otherwise: float) -> float:
    """Amps of the fullest of some legs."""
    return max((amps[leg] for leg in legs if leg in amps), default=otherwise)
