"""Operating cases of the power side: amps, volts, and every limit they are held against."""

from .move import move_to_circuit
from .results import (
    EVERYTHING_ON,
    ApplianceState,
    Circuit,
    CircuitLoad,
    Limit,
    PowerResult,
    WireState,
)
from .room import Room, room, room_left, rooms
from .running import Running
from .solve import solve_power

__all__ = [
    "EVERYTHING_ON",
    "ApplianceState",
    "Circuit",
    "CircuitLoad",
    "Limit",
    "PowerResult",
    "Room",
    "Running",
    "WireState",
    "move_to_circuit",
    "room",
    "room_left",
    "rooms",
    "solve_power",
]
