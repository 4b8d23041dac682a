"""Which candidates there are for which finding of water, and why there may be none."""

from collections.abc import Iterator
from dataclasses import replace

from ...analysis import Analysis
from ...findings import Finding
from . import water_by_hand as hand
from . import water_checks as checks
from . import water_connect as joins
from . import water_drains as drains
from . import water_exchange as stock
from . import water_inserts as parts
from . import water_line as line
from . import water_places as places
from . import water_pumps as pumps
from . import water_settings as settings
from . import water_tubes as tubes
from .model import Candidate, Source
from .water_outcome import READERS
from .water_told import told

_TOO_LITTLE: tuple[Source, ...] = (
    hand.open_valves,
    settings.regulator_higher,
    hand.new_cartridge,
    tubes.wider_way,
    tubes.whole_way,
    tubes.shorter_way,
    stock.larger_filter,
    stock.larger_regulator,
    places.tank_higher,
    joins.fed_otherwise,
    pumps.other_pump,
    pumps.first_pump,
    pumps.all_wider,
)
"""For a tap or a heater that gets too little, the cheapest first."""

_TOO_MUCH: tuple[Source, ...] = (
    settings.regulator_lower,
    parts.regulator_before,
    parts.regulator_for_all,
    settings.switch_lower,
    pumps.other_pump,
)

_NO_FALL: tuple[Source, ...] = (drains.more_fall, drains.lead_elsewhere, drains.pump_it)

_SOURCES: dict[str, tuple[Source, ...]] = {
    # taps
    "water.flow": _TOO_LITTLE,
    "water.pressure": _TOO_LITTLE,
    "water.together": _TOO_LITTLE,
    "water.tees": _TOO_LITTLE,
    "water.never": (
        settings.regulator_higher,
        places.tank_higher,
        joins.fed_otherwise,
        pumps.other_pump,
        pumps.first_pump,
    ),
    "water.static": _TOO_MUCH,
    "water.temperature": (hand.heater_lower,),
    "water.unconnected": (joins.join_to_line, joins.fed_otherwise),
    "water.not-fed": (
        hand.open_valves,
        hand.fill_tank,
        joins.turn_round,
        places.tank_higher,
        joins.join_to_source,
        joins.fed_otherwise,
        pumps.first_pump,
    ),
    "water.not-in-use": (joins.tube_off, joins.fed_otherwise),
    "water.window": (hand.open_valves, line.wider_to_needy, line.opened_window),
    # tubes and what stands in the line
    "water.velocity": (tubes.wider_named,),
    "water.not-potable": (tubes.made_for_it,),
    "water.tube-rating": (
        tubes.made_for_it,
        parts.regulator_for_all,
        settings.regulator_lower,
        settings.switch_lower,
    ),
    "water.tube-too-hot": (tubes.made_for_it,),
    "water.tube-cold-only": (tubes.made_for_it,),
    "water.no-bore": (tubes.made_for_it,),
    "water.hammer": (
        parts.arrestor,
        parts.regulator_for_all,
        tubes.wider_named,
        tubes.made_for_it,
        line.slower_valve,
    ),
    "water.gauge-scale": (stock.longer_scale, settings.regulator_lower),
    "water.filter-flow": (stock.larger_filter,),
    "water.filter-used": (hand.new_cartridge,),
    "water.filter-life": (hand.new_cartridge,),
    "water.regulator-flow": (stock.larger_regulator,),
    "water.regulator-pushed": (settings.regulators_alike,),
    "water.regulators-in-a-row": (settings.regulators_apart,),
    # heaters
    "water.heater-pressure": _TOO_MUCH,
    "water.heater-never": (
        settings.regulator_higher,
        pumps.other_pump,
        pumps.first_pump,
        stock.other_heater,
    ),
    "water.heater-off": (*_TOO_LITTLE[:8], pumps.other_pump, stock.other_heater),
    "water.heater-lukewarm": (stock.other_heater,),
    "water.heater-closed": (parts.expansion_vessel,),
    # what comes back
    "water.check-stuck": (hand.clean_check,),
    "water.carbonator": (checks.vented_check,),
    "water.carbonator-copper": (checks.vented_check, line.no_copper),
    "water.sources-joined": (checks.checks_behind,),
    # pumps and their vessels
    "water.never-stops": (settings.switch_lower, pumps.other_pump),
    "water.bypass": (settings.bypass_tighter, settings.switch_lower),
    "water.no-accumulator": (parts.add_vessel,),
    "water.vessel-small": (settings.wider_gap, parts.larger_vessel),
    "water.starts": (settings.wider_gap, parts.larger_vessel),
    "water.pre-charge": (settings.pre_charge,),
    "water.pre-charge-low": (settings.pre_charge,),
    "water.no-curve": (pumps.other_pump,),
    # suction
    "water.empty": (hand.fill_tank, hand.lower_pick_up),
    "water.starved": (
        line.shorter_suction,
        line.wider_suction,
        places.pump_lower,
        places.pump_nearer,
    ),
    "water.lift": (places.pump_lower,),
    "water.suction-head": (
        line.shorter_suction,
        line.wider_suction,
        places.pump_lower,
        places.pump_nearer,
    ),
    "water.prime": (hand.foot_valve, places.pump_lower),
    "water.suction-crest": (line.shorter_suction, places.pump_lower, places.pump_nearer),
    "water.prime-lost": (hand.lower_pick_up,),
    "water.left-behind": (hand.lower_pick_up,),
    # drains and vessels
    "water.no-drain": (drains.lead_elsewhere, drains.more_inlets),
    "water.drain-ends": (drains.lead_elsewhere, drains.more_inlets),
    "water.waste-into-fresh": (drains.lead_elsewhere, drains.more_inlets),
    "water.drain-no-fall": _NO_FALL,
    "water.drain-slope": _NO_FALL,
    "water.drain-rise": _NO_FALL,
    "water.drain-full": (tubes.wider_named, drains.more_fall, drains.lead_elsewhere),
    "water.drain-narrows": (drains.no_narrowing, drains.lead_elsewhere),
    "water.drain-backs-up": (drains.lower_end, drains.lead_elsewhere),
    "water.drain-capacity": (drains.lead_elsewhere,),
    "water.drain-pump-lift": (drains.drain_taken_lower, stock.other_drain_pump),
    "water.drain-pump-flow": (
        tubes.wider_named,
        drains.drain_taken_lower,
        stock.other_drain_pump,
    ),
    "water.waste-outlet": (stock.wider_outlet,),
    "water.air-gap": (hand.higher_outlet,),
    "water.waste-ratio": (stock.larger_waste, stock.first_waste, stock.smaller_fresh),
    "water.waste-elsewhere": (stock.larger_waste, stock.smaller_fresh),
    "water.runs-out": (stock.larger_fresh,),
    "water.fills-up": (stock.larger_waste,),
    "water.refill": (joins.fed_by_tube,),
}


def _with_words(source: Source) -> Source:
    """The same candidates, told in words where the finding has no number."""

    def sourced(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
        for one in source(analysis, finding):
            yield one if one.told is not None else replace(one, told=told(finding))

    return sourced


SOURCES: dict[str, tuple[Source, ...]] = {
    code: tuple(_with_words(one) for one in sources) for code, sources in _SOURCES.items()
}

_MOST_OF_STOCK = (
    "No single part of the stock gives so much in this line; open fewer taps at once, or feed it "
    "by a supply of its own."
)

_NO_TUBE = "No tube of the tables that is made for it goes onto both of its connectors."

REASONS: dict[str, str] = {
    "water.tube-cold-only": _NO_TUBE,
    "water.tube-too-hot": _NO_TUBE,
    "water.tube-rating": _NO_TUBE,
    "water.not-potable": _NO_TUBE,
    "water.no-bore": _NO_TUBE,
    "water.unconnected": (
        "No line with water has a free port that fits its inlet; place a source and a tee first."
    ),
    "water.hammer": (
        "Where the line stands over its rating with every tap shut, mend that first; else it takes "
        "a larger vessel than there is room for."
    ),
    "water.no-accumulator": (
        "Nothing goes in behind it as it is joined now; lead its outlet to the line first."
    ),
    "water.no-drain": (
        "No waste tank or floor drain lies low enough and near enough; move it, or place one first."
    ),
    "water.together": _MOST_OF_STOCK,
    "water.flow": _MOST_OF_STOCK,
    "water.pressure": _MOST_OF_STOCK,
    "water.window": _MOST_OF_STOCK,
    "water.air-gap-unknown": "Only who measures it can say how large the gap is.",
    "water.mains-unknown": "Only a gauge at the venue can say what its tap stands at.",
    "water.gauge": "The gauge is read on the cart: ask what explains it, and look there.",
    "water.level-probe": (
        "Only the maker of the machine can say how pure its water may be, and what to blend in."
    ),
    "water.not-converged": (
        "No pressures are known for it, so nothing can be tried: look for valves and regulators "
        "that work against each other."
    ),
    "water.no-curve": "Only the maker's sheet says what it gives.",
    "water.drain-capacity": "Only the venue can give a larger drain; open fewer taps together.",
    "water.regulator-flow": "The stock has no regulator made for more; restrict what it feeds.",
    "water.filter-flow": (
        "The stock has no filter of its kind for more; restrict the fill, or open less at once."
    ),
    "water.heater-lukewarm": (
        "The stock has no heater of more power that the cart feeds; restrict the flow at the tap."
    ),
    "water.drain-pump-lift": "The stock has no drain pump that lifts more; lead its tube lower.",
    "water.drain-pump-flow": "The stock has no drain pump that moves more; let less run at once.",
    "water.waste-outlet": "The stock has no waste tank with an outlet so wide.",
    "water.runs-out": (
        "No fresh tank of the stock that stands on this cart lasts so long; plan to refill it."
    ),
    "water.fills-up": (
        "No waste tank of the stock that stands on this cart takes so much; plan to empty it."
    ),
    "water.refill": "It is filled by hand as it is made; keep a jug at hand.",
    "water.gauge-scale": "The stock has no gauge with a scale so long.",
    "water.filter-life": "Have the next cartridge with you.",
}

__all__ = ["READERS", "REASONS", "SOURCES"]
