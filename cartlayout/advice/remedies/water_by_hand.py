"""What is opened, filled, cleaned or set by hand: valves, tanks, heaters, cartridges, outlets."""

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Appliance, Build, Filter, Heater, Item, ShutOff, Tank
from ...build.edits import EditError, replace_item
from ...findings import Finding
from ...units import Phrase, Value
from .model import Candidate
from .water_kit import items_on_way, length, place, taps_of, temperature, with_role

_AGAINST_GERMS_K = 333.15
"""60 degC: World Health Organization, Legionella and the prevention of legionellosis (2007); from
memory."""
_STORED_WARM = (
    "Water that is stored below 60 °C (140 °F) can breed legionella; a mixing valve at the tap may "
    "be the better way. Ask your local authority."
)
_ABOVE_BOTTOM = 0.02
"""Of a tank's height: a pick-up on the bottom itself draws what has settled. Common practice, no
source."""


def open_valves(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Open a valve by hand that shuts a tap off, or stands half shut before it."""
    build, names = analysis.build, place(analysis)
    ids = [one for one in finding.items if isinstance(names.role(one), ShutOff)]
    for tap in taps_of(analysis, finding):
        ids += [one.id for one in items_on_way(analysis, tap, ShutOff)]
    for item_id in dict.fromkeys(ids):
        role = names.role(item_id)
        if not isinstance(role, ShutOff) or (role.is_open and role.closed_share <= 0.0):
            continue
        words = "Open {valve}" if not role.is_open else "Open {valve} all the way"
        yield Candidate(
            "open valve",
            Phrase.of(words, valve=names.name(item_id)),
            0,
            partial(with_role, build, item_id, is_open=True, closed_share=0.0),
            (item_id,),
        )


def fill_tank(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Fill what is empty."""
    for item, _ in _fresh_tanks(analysis, finding):
        if item.fill < 1.0:
            yield Candidate(
                "fill",
                Phrase.of("Fill {tank}", tank=item.name),
                0,
                partial(_filled, analysis.build, item.id),
                (item.id,),
            )


def _filled(build: Build, item_id: str) -> Build:
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    return replace_item(build, replace(item, fill=1.0))


def heater_lower(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A heater set no warmer than the inlet behind it may have."""
    build = analysis.build
    if finding.limit is None:
        return
    for item_id in finding.items[1:]:
        item = build.item(item_id)
        if item is None or not isinstance(item.specification.water, Heater):
            continue
        outlet = temperature(build, finding.limit.si - 0.5)
        yield Candidate(
            "heater setting",
            Phrase.of(
                "Set {heater} to {outlet}", heater=item.name, outlet=Value(outlet.si, "temperature")
            ),
            0,
            partial(with_role, build, item_id, outlet=outlet),
            (item_id,),
            (_STORED_WARM,) if _stores(item.specification.water, outlet.si) else (),
        )


def _stores(role: Heater, outlet_k: float) -> bool:
    """Whether it would keep warm water below what keeps germs down."""
    return role.least_flow is None and outlet_k < _AGAINST_GERMS_K


def new_cartridge(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A fresh cartridge in a filter that a finding names, or on the way to its tap."""
    build, names = analysis.build, place(analysis)
    ids = [one for one in finding.items if isinstance(names.role(one), Filter)]
    for tap in taps_of(analysis, finding):
        ids += [one.id for one in items_on_way(analysis, tap, Filter)]
    for item_id in dict.fromkeys(ids):
        role = names.role(item_id)
        if isinstance(role, Filter) and role.used > 0.0:
            yield Candidate(
                "new cartridge",
                Phrase.of("Put a new cartridge in {filter}", filter=names.name(item_id)),
                1,
                partial(with_role, build, item_id, used=0.0),
                (item_id,),
            )


def clean_check(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A check valve cleaned, or replaced by one of the same kind."""
    build = analysis.build
    for item_id in finding.items[:1]:
        yield Candidate(
            "clean valve",
            Phrase.of(
                "Clean the seat of {valve}, or replace it by a new one of its kind",
                valve=place(analysis).name(item_id),
            ),
            1,
            partial(with_role, build, item_id, stuck_open=False),
            (item_id,),
            ("See that it holds before you serve: water must not come back past it.",),
        )


def _fresh_tanks(analysis: Analysis, finding: Finding) -> Iterator[tuple[Item, Tank]]:
    for item_id in finding.items:
        item = analysis.build.item(item_id)
        role = item.specification.water if item is not None else None
        if item is not None and isinstance(role, Tank) and role.contents == "fresh":
            yield item, role


def lower_pick_up(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A pick-up let down to just above the bottom of its tank."""
    build = analysis.build
    for item, role in _fresh_tanks(analysis, finding):
        low = length(build, _ABOVE_BOTTOM * item.specification.size.height.si)
        if role.pick_up.si <= low.si:
            continue
        yield Candidate(
            "pick-up",
            Phrase.of(
                "Let the pick-up of {tank} down to {height} above its bottom",
                tank=item.name,
                height=Value(low.si, "length"),
            ),
            1,
            partial(with_role, build, item.id, pick_up=low),
            (item.id,),
        )


def foot_valve(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A foot valve at the pick-up of a tank."""
    for item, role in _fresh_tanks(analysis, finding):
        if not role.foot_valve:
            yield Candidate(
                "foot valve",
                Phrase.of("Put a foot valve on the pick-up of {tank}", tank=item.name),
                3,
                partial(with_role, analysis.build, item.id, foot_valve=True),
                (item.id,),
            )


def higher_outlet(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """An air gap made as large as it has to be."""
    build, names = analysis.build, place(analysis)
    if finding.limit is None or not finding.items:
        return
    gap = length(build, finding.limit.si + 1e-3)
    role = names.role(finding.items[0])
    words = "Raise the outlet of {item} until {gap} of open air are below it"
    if not isinstance(role, Appliance):
        words = "End the tube {gap} of open air above {item}"
    yield Candidate(
        "air gap",
        Phrase.of(words, item=names.name(finding.items[0]), gap=Value(gap.si, "length")),
        1,
        partial(with_role, build, finding.items[0], air_gap=gap),
        (finding.items[0],),
        ("The local authority decides what an air gap must be.",),
    )
