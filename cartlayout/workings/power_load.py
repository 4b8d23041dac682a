"""Workings of one appliance: the amps it counts with, and what it gets behind its cords."""

import math
from collections.abc import Iterator

from ..analysis import Analysis
from ..build import Item, Load
from ..findings.number import Number
from ..power.loads import load_model, nameplate_amps
from ..power.placed import PlacedLoad
from ..power.results import EVERYTHING_ON
from ..power.running import Running, plug_watts
from ..power.trace import PowerTrace
from ..units import Phrase, Value
from .making import Draft
from .model import Symbol, Working
from .power_drop import drop_working, volts_working
from .power_parts import amperes, trace_of, typical_loads, volts, watts
from .power_terminals import drawn_working, watts_working
from .provenance import provenance

_SAME_V = 1e-9
ROOT_3 = math.sqrt(3.0)


def numbers(analysis: Analysis) -> Iterator[Number]:
    """What is known of every appliance that power reaches, with everything on."""
    trace = trace_of(analysis)
    if trace is None:
        return
    for placed in trace.tree.loads:
        if placed.part == 0:
            for what in ("counted", "volts", "drop", "amps", "watts"):
                yield Number("appliance", placed.item.id, what)


def working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a number of an appliance."""
    trace = trace_of(analysis)
    case = number.case or EVERYTHING_ON
    if trace is None or case not in trace.flows:
        return None
    indices = [
        index for index, placed in enumerate(trace.tree.loads) if placed.item.id == number.of
    ]
    if not indices:
        return None
    match number.what:
        case "counted":
            return _counted(trace, number, case, indices[0])
        case "volts":
            return volts_working(analysis, trace, number, case, indices)
        case "drop":
            return drop_working(analysis, trace, number, case, indices)
        case "amps":
            return drawn_working(analysis, trace, number, case, indices)
        case "watts":
            return watts_working(analysis, trace, number, case, indices)
    return None


# --- as it counts against a breaker -----------------------------------------------------------


def _counted(trace: PowerTrace, number: Number, case: str, index: int) -> Working:
    placed = trace.loads[case][index]
    draft = Draft(number, Phrase.of("Amps that {item} counts with", item=placed.item.name))
    if not trace.on[case][index]:
        draft.step("it is off in this case", "I", "", amperes(0.0))
        return draft.done(amperes(0.0))
    result = counted_steps(draft, trace, placed, case)
    return draft.done(result)


def counted_steps(draft: Draft, trace: PowerTrace, placed: PlacedLoad, case: str) -> Value:
    """Add how one load's amps on a leg come about at the supply's own voltage, before any cord."""
    load, supply_v = placed.load, abs(placed.volts) * placed.across
    result = amperes(placed.model.governing_amps(abs(placed.volts)) * placed.line)
    if load.current is None and load.power is None:
        draft.step(f"no watts or amps are given for {placed.item.name}", "I", "", amperes(0.0))
        draft.assume("what nobody states counts as nothing: read the nameplate")
        return result
    if supply_v == 0.0:
        draft.step("its plug finds no voltage between its contacts", "I", "", amperes(0.0))
        return result
    nameplate = _nameplate_steps(draft, placed)
    typical_loads(draft, [placed.item])
    share = _share_steps(draft, trace, placed, case)
    _at_the_supply(draft, placed, nameplate, share, result)
    return result


def _nameplate_steps(draft: Draft, placed: PlacedLoad) -> Symbol:
    """Amps at the rated voltage."""
    load, item = placed.load, placed.item
    source, is_typical = provenance(item, "electrical")
    amps = amperes(nameplate_amps(load))
    if load.current is not None:
        says = f"amps of {item.name}" + ("; they govern over its watts" if load.power else "")
        return Symbol("I_n", says, amps, source, is_typical)
    assert load.power is not None
    given: tuple[Symbol, ...] = (
        Symbol("P_n", f"watts of {item.name}", watts(load.power.si), source, is_typical),
        _rated_volts(item, load),
    )
    expression = "P_n / V_n"
    if load.phases == 3:
        expression = "P_n / (sqrt(3) * V_n)"
    if load.power_factor != 1.0:
        real = min(max(abs(load.power_factor), 0.05), 1.0)
        given = (*given, Symbol("k_p", "power factor", Value(real, "number"), source, is_typical))
        expression = "P_n / (V_n * k_p)" if load.phases == 1 else "P_n / (sqrt(3) * V_n * k_p)"
    return draft.step("at its rated voltage", "I_n", expression, amps, *given)


def _rated_volts(item: Item, load: Load) -> Symbol:
    source, is_typical = provenance(item, "electrical")
    return Symbol("V_n", "its rated voltage", volts(load.voltage.si), source, is_typical)


def _share_steps(draft: Draft, trace: PowerTrace, placed: PlacedLoad, case: str) -> Symbol | None:
    """What a motor takes by its maker's table, as a share of its nameplate; None: as that says."""
    if placed.parts > 1:
        return None
    own = load_model(placed.load)
    if own.rated_w <= 0.0 or abs(placed.model.rated_w - own.rated_w) <= 1e-12 * own.rated_w:
        return None
    running = trace.running.get(placed.item.id)
    taken = _table_steps(draft, placed, running, own.rated_w, case)
    rated = Symbol("P_r", "watts of its nameplate", watts(own.rated_w))
    share = placed.model.rated_w / own.rated_w
    return draft.step(
        "against its nameplate", "k", "P_t / P_r", Value(share, "number"), taken, rated
    )


def _table_steps(
    draft: Draft, placed: PlacedLoad, running: Running | None, nameplate_w: float, case: str
) -> Symbol:
    """Watts at the plug where the motor works, by its maker's table of currents."""
    result = watts(placed.model.rated_w)
    says = "at the plug, by its maker's table where it works"
    if running is None:
        return draft.step(says, "P_t", "", result)
    own_a = running.greatest_a if case == EVERYTHING_ON else running.case(case)
    if own_a is None:
        return draft.step(says, "P_t", "", result)
    current = Symbol("I_t", "amps of its maker's table there", amperes(own_a), "maker's sheet")
    if running.voltage_v is None or running.voltage_v <= 0.0:
        table = Symbol("I_m", "the table's greatest current", amperes(running.table_a))
        rated = Symbol("P_r", "watts of its nameplate", watts(nameplate_w))
        draft.assume("the greatest current of the table is what the nameplate means")
        return draft.step(says, "P_t", "P_r * I_t / I_m", result, rated, current, table)
    pressed = Symbol("V_m", "voltage of the motor", volts(running.voltage_v))
    bare_w = running.voltage_v * own_a
    if abs(plug_watts(placed.load, running, nameplate_w, own_a) - bare_w) <= 1e-9 * bare_w:
        return draft.step(says, "P_t", "V_m * I_t", result, pressed, current)
    efficiency = Symbol(
        "eta",
        "efficiency of its adapter",
        Value(bare_w / plug_watts(placed.load, running, nameplate_w, own_a), "share"),
        "common practice, no source",
        True,
    )
    return draft.step(says, "P_t", "V_m * I_t / eta", result, pressed, current, efficiency)


def _at_the_supply(
    draft: Draft, placed: PlacedLoad, nameplate: Symbol, share: Symbol | None, result: Value
) -> None:
    """The amps on the supply that there is."""
    load, model = placed.load, placed.model
    supply_v, rated_v = abs(placed.volts) * placed.across, load.voltage.si
    parts: tuple[Symbol, ...] = (nameplate, *((share,) if share is not None else ()))
    amps = "k * I_n" if share is not None else "I_n"
    if load.phases == 3 and placed.parts == 1:
        amps = f"sqrt(3) * {amps}"
        draft.note("a three-phase load on fewer than three legs: all of it hangs between two")
    supply = Symbol("V_s", "voltage of the supply where it is plugged in", volts(supply_v))
    rated = _rated_volts(placed.item, load)
    if abs(supply_v - rated_v) <= _SAME_V * rated_v:
        says = f"counted on {supply_v:.4g} V, which is what it is rated for"
        draft.step(says, "I", amps, result, *parts)
    elif not model.held_va:
        says = "a heater's amps follow the voltage"
        draft.step(says, "I", f"{amps} * V_s / V_n", result, *parts, supply, rated)
    elif model.heater_w == 0.0 and supply_v >= rated_v:
        says = "a motor is not credited with fewer amps where the supply stands above its rating"
        draft.step(says, "I", amps, result, *parts)
    elif model.heater_w == 0.0 and supply_v >= 0.7 * rated_v:
        says = "a motor or electronics hold their power, so they draw more of a lower voltage"
        draft.step(says, "I", f"{amps} * V_n / V_s", result, *parts, supply, rated)
    else:
        _mixed(draft, placed, parts, result)


def _mixed(draft: Draft, placed: PlacedLoad, parts: tuple[Symbol, ...], result: Value) -> None:
    """A heater beside something that holds its power."""
    model, line = placed.model, placed.line
    pieces = model_symbols(draft, placed, parts)
    supply_v = abs(placed.volts)
    supply = Symbol("V_s", "voltage of the supply between its contacts", volts(supply_v))
    held_v = min(supply_v, model.rated_v)
    is_low = held_v < 0.7 * model.rated_v
    held = Symbol(
        "V_h",
        "voltage down to which the rest holds its power"
        if is_low
        else "the same, but not more than its rating",
        volts(0.7 * model.rated_v if is_low else held_v),
    )
    own = "(G * V_s + P_k / V_h)**2 + (Q / V_h)**2"
    if is_low:
        own = "(G * V_s + P_k * V_s / V_h**2)**2 + (Q * V_s / V_h**2)**2"
    expression = f"sqrt({own})"
    if line != 1.0:
        expression = f"sqrt(3) * {expression}"
    draft.step(
        "heater and the rest together, added as phasors",
        "I",
        expression,
        result,
        *pieces,
        supply,
        held,
    )


def model_symbols(
    draft: Draft, placed: PlacedLoad, parts: tuple[Symbol, ...] = ()
) -> tuple[Symbol, ...]:
    """How a nameplate is parted into a heater and a part that holds its power.

    Args:
        draft: where the steps go.
        placed: the load; of three phases a third.
        parts: amps of the nameplate, and what the table asks for as a share of it.
    """
    model, load = placed.model, placed.load
    source, is_typical = provenance(placed.item, "electrical")
    which = "of one third " if placed.parts > 1 else ""
    real_w = model.heater_w + model.held_va.real
    apparent_va = math.hypot(real_w, model.held_va.imag)
    apparent = _apparent(draft, placed, parts, apparent_va)
    power = _real(draft, placed, apparent, real_w)
    share = Symbol(
        "k_h",
        "share of the watts that is a heater",
        Value(min(max(load.resistive_share, 0.0), 1.0), "share"),
        source,
        is_typical,
    )
    heater = draft.step(
        f"watts {which}that are a heater", "P_h", "P * k_h", watts(model.heater_w), power, share
    )
    rest = draft.step(
        f"watts {which}that are held",
        "P_k",
        "P - P_h",
        watts(model.held_va.real),
        power,
        heater,
    )
    rated = Symbol("V_r", "rated voltage between its contacts", volts(model.rated_v))
    conductance = draft.step(
        "conductance of the heater",
        "G",
        "P_h / V_r**2",
        Value(model.conductance, "conductance"),
        heater,
        rated,
    )
    if model.held_va.imag == 0.0:
        vars_ = Symbol("Q", "no vars: amps and volts in step", Value(0.0, "power"))
    else:
        vars_ = draft.step(
            f"vars {which}".rstrip(),
            "Q",
            "sqrt(S**2 - P**2)",
            watts(model.held_va.imag),
            apparent,
            power,
        )
    return conductance, rest, vars_


def _apparent(
    draft: Draft, placed: PlacedLoad, parts: tuple[Symbol, ...], apparent_va: float
) -> Symbol:
    """Volt-amperes of the load, or of a third of it."""
    says = "volt-amperes" + (" of one third" if placed.parts > 1 else "")
    if not parts:
        return Symbol("S", says, watts(apparent_va))
    expression = "k * I_n * V_n" if len(parts) > 1 else "I_n * V_n"
    if placed.load.phases == 3:
        expression = f"sqrt(3) * {expression}" + (" / 3" if placed.parts > 1 else "")
    rated = _rated_volts(placed.item, placed.load)
    return draft.step(says, "S", expression, watts(apparent_va), *parts, rated)


def _real(draft: Draft, placed: PlacedLoad, apparent: Symbol, real_w: float) -> Symbol:
    """Watts: the nameplate's where it has them as well, else by the power factor."""
    load = placed.load
    source, is_typical = provenance(placed.item, "electrical")
    factor = real_w / apparent.value.si if apparent.value.si else 1.0
    nameplate_va = nameplate_amps(load) * load.voltage.si * (ROOT_3 if load.phases == 3 else 1.0)
    given = load.current is not None and load.power is not None and load.power.si <= nameplate_va
    if given or load.power_factor == 1.0:
        says = "watts of the nameplate" if given else "watts: amps and volts in step"
        if given and placed.parts > 1:
            says = "a third of the watts of the nameplate"
        return Symbol("P", says, watts(real_w), source, is_typical)
    power_factor = Symbol("k_p", "power factor", Value(factor, "number"), source, is_typical)
    return draft.step("watts", "P", "S * k_p", watts(real_w), apparent, power_factor)
