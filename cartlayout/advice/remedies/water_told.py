"""What comes of a remedy, in words, where a finding of water has no number that changes."""

from collections.abc import Callable

from ...analysis import Analysis
from ...findings import Finding
from ...units import Phrase


def told(finding: Finding) -> Callable[[Analysis], Phrase]:
    """What comes of a remedy where there is no number to tell."""
    words = Phrase(_WORDS.get(finding.code, "It is not so any more"))
    return lambda _: words


_WORDS: dict[str, str] = {
    "water.bypass": "Its switch stops it before its bypass lets everything back",
    "water.tube-rating": "It bears what stands in it",
    "water.hammer": "It bears the knock",
    "water.no-bore": "Water gets through",
    "water.no-curve": "What it gives is known",
    "water.gauge-scale": "Its scale reaches as far as the line stands",
    "water.filter-flow": "It is rated for what it carries",
    "water.regulator-flow": "It is made for what it carries",
    "water.regulator-pushed": "Both hold the line at the same pressure",
    "water.regulators-in-a-row": "They are set far enough apart",
    "water.heater-never": "It switches on",
    "water.heater-off": "It switches on",
    "water.heater-lukewarm": "It warms all that runs through it",
    "water.heater-pressure": "It bears what it sees",
    "water.static": "It sees no more than it may",
    "water.vessel-small": "The pump runs long enough at each start",
    "water.starts": "The pump starts no more often than it may",
    "water.suction-crest": "It climbs all the way to the pump",
    "water.suction-head": "It has the suction head that it needs",
    "water.lift": "It lifts no more than it can",
    "water.drain-full": "It carries what comes",
    "water.drain-pump-lift": "It lifts no more than it can",
    "water.drain-pump-flow": "It moves what comes",
    "water.runs-out": "It lasts the day",
    "water.fills-up": "It takes what comes in a day",
    "water.prime-lost": "It draws no air before the service ends",
    "water.refill": "Nobody has to fill it by hand during the service",
    "water.unconnected": "It gets water",
    "water.not-fed": "It gets water",
    "water.never": "It gets what it needs",
    "water.flow": "It gets what it needs",
    "water.pressure": "It gets what it needs",
    "water.together": "It gets what it needs while others draw",
    "water.tees": "Its tees leave enough, however the water parts in them",
    "water.window": "There is a pressure that does for all",
    "water.not-potable": "All of the line is for drinking water",
    "water.tube-too-hot": "It bears water so hot",
    "water.tube-cold-only": "It is made for warm water",
    "water.check-stuck": "It shuts again",
    "water.carbonator": "A vented double check valve stands before it",
    "water.carbonator-copper": "No copper on its side of the vented double check valve",
    "water.sources-joined": "A check valve keeps them apart",
    "water.heater-closed": "What swells has room",
    "water.no-accumulator": "A vessel gives water while the pump rests",
    "water.prime": "The suction line stays full while the pump rests",
    "water.no-drain": "Its waste has somewhere to go",
    "water.drain-ends": "Its waste has somewhere to go",
    "water.waste-into-fresh": "Waste stays away from drinking water",
    "water.drain-no-fall": "It runs off",
    "water.drain-slope": "It runs off",
    "water.drain-rise": "It runs off",
    "water.drain-narrows": "It grows, or stays as wide, all the way down",
    "water.drain-backs-up": "Nothing runs back",
    "water.drain-capacity": "The drain takes what comes",
    "water.waste-ratio": "The waste holds what is asked for the fresh water on board",
    "water.waste-elsewhere": "The waste holds what is asked there too",
    "water.waste-outlet": "It empties through a wide outlet",
    "water.empty": "It can be drawn from",
    "water.not-in-use": "No tube is left that nothing runs through",
    "water.starved": "It has enough on its suction side",
    "water.level-probe": "Its probe feels the water",
}
