"""Which `Number` a limit of the power side is: findings, boards and workings agree in it here."""

from collections.abc import Iterator

from ..power.leakage_results import Leakage
from ..power.results import Circuit, Limit, PowerResult
from .number import Number

_OF_SUPPLIES = (
    "generator",
    "inverter",
    "surge",
    "starts together",
    "leg",
    "fuel",
    "discharge",
    "battery energy",
)
_OF_APPLIANCES = {"voltage": "volts", "drop": "drop"}


def circuit_number(circuit: Circuit, limit: Limit) -> Number:
    """Of a limit of a circuit."""
    outlet = limit.items[0] if limit.name == "venue limit" and limit.items else ""
    return Number("circuit", circuit.key, limit.name, outlet)


def other_number(owner: str, limit: Limit) -> Number:
    """Of a limit of an item or of a run."""
    if limit.run:
        return Number("wire", limit.run, limit.name)
    if limit.name in _OF_SUPPLIES:
        return Number("power supply", owner, limit.name)
    if limit.name in _OF_APPLIANCES:
        return Number("appliance", owner, _OF_APPLIANCES[limit.name])
    return Number("equipment", owner, limit.name)


def leakage_number(leakage: Leakage, what: str) -> Number:
    """Of what is stated to leak behind a device ("known"), or of the most that may ("most")."""
    return Number("leakage", leakage.key, what, leakage.circuit)


def limits_of(power: PowerResult) -> Iterator[tuple[Number, Limit]]:
    """Every limit of a power side with its number."""
    for circuit in power.circuits:
        for limit in circuit.limits:
            yield circuit_number(circuit, limit), limit
    for owner, limit in power.limits:
        yield other_number(owner, limit), limit
