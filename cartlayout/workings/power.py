"""Which module knows the working of which numbers of the power side."""

from . import power_circuit, power_equipment, power_leakage, power_load, power_supply
from .subjects import Subject

POWER: dict[str, Subject] = {
    "circuit": Subject(power_circuit.working, power_circuit.numbers),
    "power supply": Subject(power_supply.working, power_supply.numbers),
    "appliance": Subject(power_load.working, power_load.numbers),
    "wire": Subject(power_equipment.wire_working, power_equipment.wire_numbers),
    "equipment": Subject(power_equipment.equipment_working, power_equipment.equipment_numbers),
    "leakage": Subject(power_leakage.working, power_leakage.numbers),
}
"""By `Number.subject`, in the order in which a sheet tells them."""
