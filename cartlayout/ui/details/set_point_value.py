"""A regulator's set point and the taps behind it, prepared as plain values: no widgets."""

from dataclasses import dataclass

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Appliance, Build, Item, Opening, Regulator
from ...build.edits import replace_item
from ...units import Pressure, UnitSystem, show, show_plain
from ...water.results import ALL_OPEN, Tap, alone
from .fact import Fact

PSI_PA = 6894.757293168
BAR_STEP_PA = 5e3


@dataclass(frozen=True, slots=True)
class Allowed:
    """Where a tap behind the regulator has enough and does not suffer; set points in pascals."""

    name: str
    least_pa: float
    greatest_pa: float


@dataclass(frozen=True, slots=True)
class SetPointValue:
    """What the slider shows."""

    item: str
    set_pa: float
    top_pa: float
    """The end of the scale."""
    step_pa: float
    least_pa: float
    greatest_pa: float
    """Set points between which all taps behind are served, as near as the line now tells."""
    allowed: tuple[Allowed, ...]
    answers: tuple[Fact, ...]
    system: UnitSystem

    @property
    def spoken(self) -> str:
        """The slider as text, for screen readers."""
        return (
            f"Set point {show(self.set_pa, 'pressure', self.system)}, of use between "
            f"{show(self.least_pa, 'pressure', self.system)} and "
            f"{show(self.greatest_pa, 'pressure', self.system)}"
        )


def set_point_of(analysis: Analysis, item: Item, system: UnitSystem) -> SetPointValue | None:
    """A regulator and the taps whose water runs through it; None where it is no regulator."""
    role = item.specification.water
    if not isinstance(role, Regulator):
        return None
    set_pa = role.set_point.si
    taps = tuple(
        tap for tap in analysis.water.taps if any(step.id == item.id for step in tap.ladder)
    )
    allowed = tuple(_allowed(analysis, tap, item.id, set_pa) for tap in taps)
    least_pa = max((one.least_pa for one in allowed), default=0.0)
    greatest_pa = min((one.greatest_pa for one in allowed), default=set_pa)
    step_pa = PSI_PA if system is UnitSystem.US else BAR_STEP_PA
    tops = [tap.greatest_pa for tap in taps if tap.greatest_pa < 20e5]
    top_pa = max([set_pa, least_pa, 4e5, *(1.15 * one for one in tops)])
    return SetPointValue(
        item.id,
        set_pa,
        min(top_pa, max(set_pa, 12e5)),
        step_pa,
        least_pa,
        greatest_pa,
        allowed,
        tuple(_answer(tap, system) for tap in taps)
        or (Fact("Behind it", "no tap that is fed", "care"),),
        system,
    )


def _allowed(analysis: Analysis, tap: Tap, regulator_id: str, set_pa: float) -> Allowed:
    """The tap's window, moved by what lies between it and the regulator.

    Where the regulator holds the pressure down, what the tap has now is that far below or above
    the set point, and stays so to a good part as the set point goes up and down.
    """
    state = next((one for one in analysis.water.regulators if one.item == regulator_id), None)
    flowing = tap.states.get(alone(tap.name))
    below_pa = set_pa - flowing.pressure_pa if flowing is not None else 0.0
    above_pa = tap.static_pa - set_pa
    needed_pa = tap.least_pa
    if flowing is not None and _opens(analysis, tap) and flowing.flow > 0.0:
        # What leaves to the open goes by the square root of the pressure.
        needed_pa = max(needed_pa, flowing.pressure_pa * (tap.required_flow / flowing.flow) ** 2)
    holds = state is not None and state.holds
    resting = state is not None and state.shut_pa >= set_pa
    return Allowed(
        tap.name,
        needed_pa + (max(below_pa, 0.0) if holds else 0.0),
        tap.greatest_pa - (max(above_pa, 0.0) if resting else 0.0),
    )


def _opens(analysis: Analysis, tap: Tap) -> bool:
    item = analysis.build.item(tap.item)
    role = item.specification.water if item is not None else None
    return isinstance(role, Appliance) and any(
        inlet.port == tap.port and isinstance(inlet.behaviour, Opening) for inlet in role.inlets
    )


def _answer(tap: Tap, system: UnitSystem) -> Fact:
    by_itself, everything = tap.states.get(alone(tap.name)), tap.states.get(ALL_OPEN)
    open_words = []
    holds = tap.static_pa <= tap.greatest_pa
    for state, words in ((by_itself, "alone"), (everything, "all open")):
        if state is not None and state.open:
            open_words.append(f"{show_plain(state.pressure_pa, 'pressure', system)} {words}")
            holds = holds and state.pressure_ok and state.flow_ok
    shut = f"{show(tap.static_pa, 'pressure', system)} shut"
    return Fact(
        tap.name,
        ", ".join((*open_words, shut)),
        "ok" if holds else "stop",
        f"Allowed {show_plain(tap.least_pa, 'pressure', system)} to "
        f"{show(tap.greatest_pa, 'pressure', system)}",
    )


def with_set_point(build: Build, item_id: str, pressure: Pressure) -> Build:
    """Set a regulator to another pressure.

    Raises:
        EditError: there is no such item.
    """
    item = build.item(item_id)
    role = item.specification.water if item is not None else None
    if item is None or not isinstance(role, Regulator) or pressure == role.set_point:
        return build
    specification = replace(item.specification, water=replace(role, set_point=pressure))
    return replace_item(build, replace(item, specification=specification))


def as_pressure(pressure_pa: float, system: UnitSystem) -> Pressure:
    """A set point as it would be written."""
    if system is UnitSystem.US:
        return Pressure.from_si(pressure_pa, "psi", 0)
    return Pressure.from_si(pressure_pa, "bar", 2)
