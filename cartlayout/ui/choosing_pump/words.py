"""What is said of a supply's window and of a pump that was tried, prepared as plain values."""

import math

from ...advice.pumps import PumpChoice
from ...units import UnitSystem, show, show_plain
from ...water.supply_results import Arrival, SupplyWindow, WindowEdge
from ..details.facts import Fact


def window_facts(window: SupplyWindow, system: UnitSystem) -> tuple[Fact, ...]:
    """What the supply has to give, and which tap sets each edge."""
    facts = []
    if window.least is not None:
        facts.append(Fact("At least", _edge(window.least, system), tip=_LEAST))
    if window.greatest is not None:
        facts.append(Fact("At most", _edge(window.greatest, system), tip=_GREATEST))
    return tuple(facts)


_LEAST = "At the outlet while water runs, so that every tap still has its pressure and its flow."
_GREATEST = "At the outlet with everything shut, so that nothing behind it sees more than it may."


def _edge(edge: WindowEdge, system: UnitSystem) -> str:
    if not math.isfinite(edge.pressure_pa):
        return f"no pressure suffices: {edge.name}"
    return f"{show(edge.pressure_pa, 'pressure', system)}: {edge.name}"


def arrival_facts(arrival: Arrival, system: UnitSystem) -> tuple[Fact, ...]:
    """What a gauge may show on arrival at a venue whose pressure nobody knows."""
    behind = f"after {arrival.behind}" if arrival.filtered else f"at {arrival.behind}"
    facts = [Fact("Gauge", behind)]
    if math.isfinite(arrival.greatest_pa):
        facts.append(Fact("All shut", f"at most {show(arrival.greatest_pa, 'pressure', system)}"))
    facts += [
        Fact(one.case, f"at least {show(one.least_pa, 'pressure', system)}")
        for one in arrival.open
        if math.isfinite(one.least_pa)
    ]
    return tuple(facts)


def short_words(choice: PumpChoice, system: UnitSystem) -> str:
    """The second line of a pump in the list."""
    if choice.reason is not None:
        return choice.reason.shown(system)
    gives = (
        f"{show_plain(choice.cut_in_pa, 'pressure', system)} to "
        f"{show(choice.cut_out_pa, 'pressure', system)}"
    )
    spare = f"{choice.worst_share:.0%} to spare" if math.isfinite(choice.worst_share) else ""
    return " · ".join(part for part in (gives, spare, _cushion(choice)) if part)


def _cushion(choice: PumpChoice) -> str:
    cushion = choice.cushion
    if cushion is None:
        return "no accumulator"
    return f"with {cushion.name}" if cushion.key else ""


def verdict(choice: PumpChoice) -> str:
    """Name of its mark."""
    if not choice.fits:
        return "stop"
    restless = choice.cushion is not None and not choice.cushion.enough
    return "care" if choice.new_stops or restless else "ok"


def choice_facts(choice: PumpChoice, system: UnitSystem) -> tuple[Fact, ...]:
    """Everything about a pump that was tried."""
    margins = (
        ("Spare flowing", choice.pressure, "pressure", "Over what taps need while water runs."),
        ("Spare flow", choice.flow, "flow", "What it gives at the pressure needed, over the draw."),
        ("Spare at rest", choice.static, "pressure", "Under what taps and tubes may see."),
    )
    one_name = len({margin.name for _, margin, _, _ in margins if margin is not None}) == 1
    facts = []
    for label, margin, dimension, tip in margins:
        if margin is None:
            continue
        name = "" if one_name else f", {margin.name}"
        state = "ok" if margin.spare >= 0.0 else "stop"
        value = f"{show(margin.spare, dimension, system)}{name}"
        facts.append(Fact(label, value, state, f"{tip} Least at {margin.name}."))
    if one_name and facts:
        facts.insert(0, Fact("Least to spare", f"at {_margin_name(choice)}"))
    cushion = choice.cushion
    if cushion is not None:
        useful = show(cushion.useful_volume, "small volume", system, 0)
        charge = show(cushion.pre_charge_pa, "pressure", system)
        name = cushion.name if cushion.key else "the one there"
        state = "ok" if cushion.enough else "care"
        facts += [
            Fact("Accumulator", f"{name}, {useful} useful, charged to {charge}"),
            Fact("Starts", f"up to {cushion.starts_per_hour:,.0f} an hour", state),
            Fact("Shortest run", show(cushion.shortest_run_s, "seconds", system), state),
        ]
    return tuple(facts)


def _margin_name(choice: PumpChoice) -> str:
    margins = (choice.pressure, choice.flow, choice.static)
    return next((one.name for one in margins if one is not None), "")
