"""What a motor takes where it works, by its maker's table, against what its nameplate says.

How it is read. A nameplate is what an inspector reads, so its amps are held against every limit,
as long as the table does not ask for more; then the table governs. In a case that a person made
up, where it is known what is drawn, the motor counts with what the table says there, at the
hungriest moment of its run: a diaphragm pump takes most just before its switch stops it.

The table's amps are at the motor's own voltage. Behind an adapter they come to
volts x amps / efficiency at the plug. Where the motor's voltage is not known, the table's
greatest current is taken to be what the nameplate means.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from ..build import Load
from ..limits.water_practice import water_practice
from .loads import LoadModel

_SAME_VOLTAGE = 0.2
"""Share by which a motor's voltage may differ from its plug's with no adapter between."""
_ROUNDING = 0.02
"""Share by which a table may exceed a nameplate that was rounded."""


@dataclass(frozen=True, slots=True)
class Running:
    """A motor's currents [A], at its own voltage [V]."""

    voltage_v: float | None
    """None: not known."""
    table_a: float
    """The greatest in its maker's table."""
    greatest_a: float
    """Where it works hardest."""
    by_case: tuple[tuple[str, float], ...] = ()
    """The person's own cases in which it runs, and the greatest current in each."""

    def case(self, name: str) -> float | None:
        """Current in a case of that name, or None where it does not run."""
        return next((amps for own, amps in self.by_case if own == name), None)


def plug_watts(load: Load, running: Running, nameplate_w: float, amps: float) -> float:
    """Watts at the plug of a motor that takes a current [A] at its own voltage."""
    if running.voltage_v is None or running.voltage_v <= 0.0:
        return nameplate_w * amps / running.table_a if running.table_a > 0.0 else nameplate_w
    watts = running.voltage_v * amps
    if abs(running.voltage_v - load.voltage.si) <= _SAME_VOLTAGE * load.voltage.si:
        return watts
    return watts / water_practice().adapter_efficiency.value


def at_most(load: Load, model: LoadModel, running: Running | None) -> LoadModel:
    """What counts against limits: the nameplate, or the table where that says more."""
    share = over_nameplate(load, model, running)
    return model.scaled(share) if share > 1.0 + _ROUNDING else model


def over_nameplate(load: Load, model: LoadModel, running: Running | None) -> float:
    """Watts of the hungriest working point as a share of the nameplate's; 0 if nobody knows."""
    if running is None or model.rated_w <= 0.0:
        return 0.0
    return plug_watts(load, running, model.rated_w, running.greatest_a) / model.rated_w


def in_case(load: Load, model: LoadModel, running: Running, case: str) -> LoadModel:
    """What it draws in a case of the person's own; as on its nameplate if that says no more."""
    amps = running.case(case)
    if amps is None or model.rated_w <= 0.0:
        return model
    return model.scaled(plug_watts(load, running, model.rated_w, amps) / model.rated_w)


Runnings = Mapping[str, Running]
"""Item id to what its motor takes."""
