"""What to say about filters, regulators and bypasses, and about the ways things are fed."""

from collections.abc import Iterator

from ..build import Appliance, Filter, Pump
from ..build.feeding import FEED_WORDS, unused_tubes
from ..limits.water_practice import water_practice
from ..units import Phrase, Value
from ..water.element_results import FilterState, RegulatorState
from ..water.results import ALL_OPEN
from .finding import Finding
from .number import Number
from .water_words import PRACTICE, Place, bar, rate


def element_rules(place: Place) -> Iterator[Finding]:
    """Judge what stands in the line, and how appliances are fed."""
    for cartridge in place.water.filters:
        yield from _filter_flow(place, cartridge)
        yield from _filter_life(place, cartridge)
    for regulator in place.water.regulators:
        yield from _regulator(place, regulator)
    yield from _bypasses(place)
    yield from _level_probes(place)
    yield from _unused(place)


# --- filters -----------------------------------------------------------------------------------


def _filter_flow(place: Place, cartridge: FilterState) -> Iterator[Finding]:
    rated, flow, name = cartridge.rated_flow, cartridge.flow, place.name(cartridge.item)
    if rated <= 0.0 or flow <= rated * 1.001:
        return
    case = cartridge.case
    drawing = [
        tap for tap in place.water.taps if tap.states[case].open and tap.states[case].flow > 0.0
    ]
    drawing.sort(key=lambda tap: -tap.states[case].flow)
    single = drawing[0] if len(drawing) == 1 else None
    yield Finding(
        "note" if case == ALL_OPEN else "care",
        "water.filter-flow",
        Phrase.of(
            "{filter} carries {flow}, {share} of its rating",
            filter=name,
            flow=rate(flow),
            share=Value(flow / rated, "share"),
        ),
        Phrase.of(
            "It is rated for {rated}; {tap} asks more. Filling governs, not the small draw of "
            "brewing: take a larger filter, or restrict the fill.",
            rated=rate(rated),
            tap=single.name,
        )
        if single is not None
        else Phrase.of(
            "It is rated for {rated}; the case '{case}' asks more, {tap} most of it. Take a larger "
            "filter, or do not open so much at once.",
            rated=rate(rated),
            case=case,
            tap=drawing[0].name if drawing else name,
        ),
        (cartridge.item, *((drawing[0].item,) if drawing else ())),
        value=rate(flow),
        limit=rate(rated),
        number=Number("filter", cartridge.item, "flow", case),
        source=place.source_of(cartridge.item),
    )


def _filter_life(place: Place, cartridge: FilterState) -> Iterator[Finding]:
    role, name = place.role(cartridge.item), place.name(cartridge.item)
    if not isinstance(role, Filter):
        return
    if role.used >= 1.0:
        yield Finding(
            "care",
            "water.filter-used",
            Phrase.of("{filter} is used up", filter=name),
            Phrase.of("It takes twice what a clean one does. Change the cartridge."),
            (cartridge.item,),
            source=place.source_of(cartridge.item),
        )
        return
    limit = water_practice().filter_days_ahead
    days, drinks, left = cartridge.days_left, cartridge.drinks_left, cartridge.left
    if days is None or drinks is None or left is None or days >= limit.value:
        return
    lasts = Phrase.of(
        "{filter} lasts {drinks} drinks more, {days} of service",
        filter=name,
        drinks=f"{drinks:,.0f}",
        days=_days(days),
    )
    yield Finding(
        "care" if days < 1.0 else "note",
        "water.filter-life",
        lasts,
        Phrase.of(
            "It still treats {left}, and a drink takes {each} through it. Have the next cartridge "
            "with you{missing}.",
            left=Value(left, "volume"),
            each=Value(cartridge.per_drink, "small volume"),
            missing=_HARDNESS_MISSING if cartridge.hardness_missing else "",
        ),
        (cartridge.item,),
        source=place.source_of(cartridge.item),
        working=_life_working(place, role, cartridge),
    )


_HARDNESS_MISSING = (
    ". How long it lasts goes by hardness: enter the venue's and what its capacity is stated for"
)


def _days(days: float) -> str:
    if days < 1.0:
        return "less than a day"
    return "1 day" if days < 2.0 else f"{days:.0f} days"


def _life_working(place: Place, role: Filter, cartridge: FilterState) -> tuple[Phrase, ...]:
    lines = []
    hardness, stated = place.build.venue.hardness, role.capacity_hardness
    if role.capacity is not None and cartridge.life is not None:
        if role.softens and hardness is not None and stated is not None:
            lines.append(
                Phrase.of(
                    "Life: {capacity} x {stated} / {now} = {life}",
                    capacity=Value(role.capacity.si, "volume"),
                    stated=Value(stated.si, "concentration"),
                    now=Value(hardness.si, "concentration"),
                    life=Value(cartridge.life, "volume"),
                )
            )
        lines.append(
            Phrase.of(
                "Left: {life} x (1 - {used} used) = {left}",
                life=Value(cartridge.life, "volume"),
                used=Value(min(max(role.used, 0.0), 1.0), "share"),
                left=Value(cartridge.left or 0.0, "volume"),
            )
        )
    return tuple(lines)


# --- regulators and pumps ----------------------------------------------------------------------


def _regulator(place: Place, regulator: RegulatorState) -> Iterator[Finding]:
    rated, flow = regulator.rated_flow, regulator.flow
    if rated is None or rated <= 0.0 or flow <= rated * 1.001:
        return
    yield Finding(
        "care",
        "water.regulator-flow",
        Phrase.of(
            "{regulator} carries {flow}, made for {rated}",
            regulator=place.name(regulator.item),
            flow=rate(flow),
            rated=rate(rated),
        ),
        Phrase.of(
            "In the case '{case}' it leaves {left}, set to {set}. Beyond its rating it falls off "
            "further than it is made for: take a larger one, or restrict the flow.",
            case=regulator.case,
            left=bar(regulator.outlet_pa),
            set=bar(regulator.set_pa),
        ),
        (regulator.item,),
        value=rate(flow),
        limit=rate(rated),
        source=place.source_of(regulator.item),
    )


def _bypasses(place: Place) -> Iterator[Finding]:
    """Pumps whose bypass lets everything back before their switch stops them."""
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Pump) or role.bypass is None:
            continue
        full_pa = role.bypass.full.si
        if full_pa > role.cut_out.si:
            continue
        yield Finding(
            "stop",
            "water.bypass",
            Phrase.of(
                "The bypass of {pump} lets everything back at {full}, its switch waits for {stop}",
                pump=item.name,
                full=bar(full_pa),
                stop=bar(role.cut_out.si),
            ),
            Phrase.of(
                "So it never stops. Screw the bypass in until it is full above the cut-out, or set "
                "the switch lower."
            ),
            (item.id,),
            value=bar(full_pa),
            limit=bar(role.cut_out.si),
            source=place.source_of(item.id),
        )


# --- how things are fed ------------------------------------------------------------------------


def _level_probes(place: Place) -> Iterator[Finding]:
    """Water with too little in it for a probe that feels it by its conductivity."""
    limit = water_practice().least_dissolved_for_probe_kg_m3
    dissolved = place.build.venue.dissolved
    poor = dissolved is not None and dissolved.si < limit.value
    purified = {
        node: one.item
        for one in place.water.filters
        if isinstance(role := place.role(one.item), Filter) and role.purifies
        for node in one.taps
    }
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Appliance) or not role.level_probe:
            continue
        makers = tuple(
            dict.fromkeys(
                purified[item.id, inlet.port]
                for inlet in role.inlets
                if (item.id, inlet.port) in purified
            )
        )
        if not makers and not poor:
            continue
        yield Finding(
            "care",
            "water.level-probe",
            Phrase.of("{item} may see an empty tank: its water is too pure", item=item.name),
            Phrase.of(
                "Its level probe feels the water by what is dissolved in it, and {why}. It may "
                "overfill, or refuse to heat. Blend in some untreated water, add minerals, or ask "
                "its maker how little it can feel.",
                why=(
                    f"{place.name(makers[0])} takes nearly everything out"
                    if makers
                    else "the venue's has next to nothing in it"
                ),
            ),
            (item.id, *makers),
            value=Value(dissolved.si, "concentration") if dissolved is not None else None,
            limit=Value(limit.value, "concentration"),
            source=limit.citation,
        )


def _unused(place: Place) -> Iterator[Finding]:
    """Tubes to an inlet that takes nothing the way its appliance is fed now."""
    for item in place.build.items:
        role = item.specification.water
        if not isinstance(role, Appliance):
            continue
        runs = unused_tubes(place.build, item)
        if not runs:
            continue
        yield Finding(
            "care",
            "water.not-in-use",
            Phrase.of("{item} takes nothing from its tube", item=item.name),
            Phrase.of(
                "It is fed {how}. Take the tube off and plug its inlet, or feed it another way.",
                how=FEED_WORDS[role.feed],
            ),
            (item.id,),
            tuple(run.id for run in runs),
            source=PRACTICE,
        )
