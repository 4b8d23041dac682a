"""What an appliance draws at a voltage."""

import math
from dataclasses import dataclass

from msgspec.structs import replace

from ..build import Load
from ..units import Current, Power, Voltage

_HELD_DOWN_TO = 0.7
"""Share of rated voltage down to which electronics and motors hold their power.

Below it they are taken as an impedance, the usual way to keep a load flow
from asking for endless amps of a supply that has collapsed.
"""


@dataclass(frozen=True, slots=True)
class LoadModel:
    """A heater and a part that holds its power, side by side.

    The heater is a constant resistance: its amps follow the voltage, its watts
    the square. The rest draws constant complex power, so its amps go the other way.
    """

    rated_v: float
    heater_w: float
    """At rated voltage."""
    held_va: complex
    """Constant complex power of the rest, watts and lagging vars."""
    conductance: float
    """Of the heater, siemens."""
    low_admittance: complex
    """Of the rest below the voltage down to which it holds its power."""

    def current(self, u: complex) -> complex:
        """Amps drawn at a voltage, both as phasors."""
        held = self.held_va
        if not held:
            return self.conductance * u
        if abs(u) < _HELD_DOWN_TO * self.rated_v:
            return (self.conductance + self.low_admittance) * u
        return self.conductance * u + (held / u).conjugate()

    def governing_amps(self, volts: float) -> float:
        """Amps to hold against a limit on a supply of that voltage, before any cord.

        A heater is taken at the supply's voltage. What holds its power is
        never credited with fewer amps than its nameplate for a supply that
        stands above its rating.
        """
        if self.rated_v <= 0:
            return 0.0
        held_v = min(volts, self.rated_v)
        lowest_v = _HELD_DOWN_TO * self.rated_v
        amps = self.conductance * volts + 0j
        if held_v >= lowest_v:
            amps += self.held_va.conjugate() / held_v
        else:
            amps += self.low_admittance * volts
        return abs(amps)

    def watts(self, u: complex) -> float:
        """Real power used at a voltage."""
        return (u * self.current(u).conjugate()).real

    def scaled(self, share: float) -> "LoadModel":
        """The same load drawing a share of it, or a multiple."""
        return LoadModel(
            self.rated_v,
            self.heater_w * share,
            self.held_va * share,
            self.conductance * share,
            self.low_admittance * share,
        )

    @property
    def rated_amps(self) -> float:
        """Amps at rated voltage."""
        return self.governing_amps(self.rated_v)

    @property
    def rated_w(self) -> float:
        """Watts at rated voltage."""
        return self.heater_w + self.held_va.real


def nameplate_amps(load: Load) -> float:
    """Amps by the nameplate at rated voltage; its amps govern over watts where both are given."""
    if load.current is not None:
        return load.current.si
    return amps_by_watts(load) or 0.0


def amps_by_watts(load: Load) -> float | None:
    """Amps that the watts alone would give, or None without watts."""
    if load.power is None or load.voltage.si <= 0:
        return None
    legs = math.sqrt(3) if load.phases == 3 else 1.0
    return load.power.si / (legs * load.voltage.si * _power_factor(load))


def a_third(load: Load, *, to_neutral: bool) -> Load:
    """What one leg of a three-phase load is, as a load of its own.

    Args:
        load: the whole.
        to_neutral: each third hangs between its leg and the neutral (a star); else between two
            legs (a delta). Balanced, both draw the same from every leg.
    """
    root = math.sqrt(3)
    over_v, over_a = (root, 1.0) if to_neutral else (1.0, root)
    return replace(
        load,
        phases=1,
        voltage=Voltage(f"{load.voltage.si / over_v:.12g} V"),
        power=None if load.power is None else Power(f"{load.power.si / 3:.12g} W"),
        current=None if load.current is None else Current(f"{load.current.si / over_a:.12g} A"),
    )


def load_model(load: Load) -> LoadModel:
    """Turn a nameplate into a model that draws exactly the nameplate's amps at rated voltage.

    Where a nameplate gives amps and watts and the watts are fewer than volts
    times amps, both are kept and their quotient is the power factor. Watts
    that are more than that cannot be; there the amps govern.
    """
    rated_v = load.voltage.si
    if rated_v <= 0:
        return LoadModel(0.0, 0.0, 0j, 0.0, 0j)
    legs = math.sqrt(3) if load.phases == 3 else 1.0
    apparent_va = nameplate_amps(load) * rated_v * legs
    real_w = apparent_va * _power_factor(load)
    if load.current is not None and load.power is not None and load.power.si <= apparent_va:
        real_w = load.power.si
    heater_w = real_w * min(max(load.resistive_share, 0.0), 1.0)
    vars_ = math.sqrt(max(apparent_va**2 - real_w**2, 0.0))
    held_va = complex(real_w - heater_w, vars_)
    if abs(held_va) < 1e-9 * max(apparent_va, 1.0):
        held_va = 0j
    lowest_v = _HELD_DOWN_TO * rated_v
    return LoadModel(
        rated_v=rated_v,
        heater_w=heater_w,
        held_va=held_va,
        conductance=heater_w / rated_v**2,
        low_admittance=held_va.conjugate() / lowest_v**2,
    )


def line_amps(load: Load, model: LoadModel, volts: float) -> float:
    """Amps to hold against a breaker's rating: in each line that an appliance hangs on.

    Args:
        load: the nameplate.
        model: of the whole of it.
        volts: of the supply between its contacts; between two legs for three phases.
    """
    return model.governing_amps(volts) / (math.sqrt(3) if load.phases == 3 else 1.0)


def start_watts(load: Load, model: LoadModel) -> float:
    """Watts while it starts, at rated voltage."""
    return model.rated_w * max(load.start_multiple, 1.0)


def _power_factor(load: Load) -> float:
    return min(max(abs(load.power_factor), 0.05), 1.0)
