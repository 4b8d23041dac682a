"""What can still be plugged into a circuit."""

from typing import NamedTuple

from ..limits import Profile
from .results import EVERYTHING_ON, Circuit, PowerResult


class Room(NamedTuple):
    """Amps left, and the name of the limit that leaves the fewest."""

    amps: float
    binding: str


def room(circuit: Circuit, profile: Profile, power: PowerResult | None = None) -> Room:
    """How many more amps a circuit takes before one of its limits is reached.

    What is added is taken to run for a whole service, since nobody knows it
    yet, where the region has a rule for that. Never below 0.

    Args:
        circuit: the circuit.
        profile: rules of the region.
        power: if given, the circuits that feed this one are held to their limits too.
    """
    factor = profile.continuous_factor.value if profile.continuous_factor is not None else 1.0
    left = [Room(circuit.rating_a - circuit.amps.get(EVERYTHING_ON, 0.0), "total")]
    if profile.continuous_factor is not None and "/inverter" not in circuit.key:
        used = next((one.value for one in circuit.limits if one.name == "continuous"), None)
        counted = circuit.amps.get(EVERYTHING_ON, 0.0) if used is None else used
        left.append(Room((circuit.rating_a - counted) / factor, "continuous"))
    for one in circuit.limits:
        if one.name == "venue limit" and circuit.voltage_v > 0:
            left.append(Room((one.limit - one.value) / circuit.voltage_v, "venue limit"))
    if power is not None:
        left += _above(circuit, profile, power)
    least = min(left, key=lambda one: one.amps)
    return Room(max(least.amps, 0.0), least.binding)


def room_left(circuit: Circuit, profile: Profile, power: PowerResult | None = None) -> float:
    """Amps left on a circuit by whichever limit binds; see `room`."""
    return room(circuit, profile, power).amps


def _above(circuit: Circuit, profile: Profile, power: PowerResult) -> list[Room]:
    """Room on what feeds a circuit: the circuit above its box, its generator, its battery."""
    left: list[Room] = []
    parent = power.circuit(circuit.parent) if circuit.parent is not None else None
    if parent is not None:
        left.append(Room(room(parent, profile, power).amps, f"circuit {parent.letter}"))
    for item_id, one in power.limits:
        if item_id not in circuit.items or circuit.voltage_v <= 0:
            continue
        if one.name in ("generator", "inverter"):
            left.append(Room((one.limit - one.value) / circuit.voltage_v, one.name))
        elif one.name in ("main", "leg"):
            left.append(Room(one.limit - one.value, one.name))
    return left
