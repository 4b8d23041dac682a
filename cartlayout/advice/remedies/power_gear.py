"""Equipment of the power side exchanged for some that gives more, from the stock."""

from collections.abc import Iterator
from functools import partial

from ...analysis import Analysis
from ...build import Battery, Box, Build, Extension, Generator, Item, Strip
from ...findings import Finding
from ...network.replace import replace_with
from ...stock import StockEntry, stock
from ...units import Phrase, UnitSystem, show_pair
from .model import Candidate, Source

_MOST = 3


def greater(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The next greater of its sort in the place of what is too small."""
    for item_id in finding.items:
        item = analysis.build.item(item_id)
        if item is None or item.locked:
            continue
        role = item.specification.electrical
        if not isinstance(role, (Strip, Extension, Box, Generator, Battery)):
            continue
        for one in _greater(analysis.build, item)[:_MOST]:
            yield _exchanged(analysis.build, item, one, finding.code)


def _size(role: object) -> tuple[float, ...]:
    """What makes one greater than another of its sort."""
    if isinstance(role, (Strip, Extension)):
        return (role.rating.si,)
    if isinstance(role, Box):
        main = role.main.si if role.main is not None else 0.0
        return (main * {"single-phase": 1.0, "split-phase": 2.0, "three-phase": 3.0}[role.system],)
    if isinstance(role, Generator):
        return (role.running.si, role.surge.si)
    if isinstance(role, Battery):
        return (role.energy.si, role.running.si)
    return (0.0,)


def _greater(build: Build, item: Item) -> list[StockEntry]:
    role = item.specification.electrical
    found = []
    for one in stock():
        other = one.specification
        if other is None or type(other.electrical) is not type(role):
            continue
        if one.regions and build.region not in one.regions:
            continue
        if _size(other.electrical) > _size(role):
            found.append(one)
    return sorted(found, key=lambda one: (_size(_role(one)), one.name))


def _role(one: StockEntry) -> object:
    return one.specification.electrical if one.specification is not None else None


def _exchanged(build: Build, item: Item, one: StockEntry, code: str) -> Candidate:
    return Candidate(
        "exchange",
        Phrase.of("Exchange {item} for {other}", item=item.name, other=one.name),
        4,
        partial(_with_other, build, item.id, one),
        (item.id,),
        told=partial(_told, item.id, code.removeprefix("power.").replace("-", " ")),
    )


def _told(item_id: str, name: str, after: Analysis) -> Phrase:
    """What it gives or carries then, of what it may."""
    found = [one for key, one in after.power.limits if key == item_id and one.name == name]
    if not found:
        return Phrase("Nothing is asked of it then")
    worst = max(found, key=lambda one: one.value / one.limit if one.limit else 0.0)
    pair = show_pair(worst.value, worst.limit, worst.dimension, UnitSystem.US, apart=False)
    return Phrase.of("Then it is {pair}", pair=pair)


def _with_other(build: Build, item_id: str, one: StockEntry) -> Build:
    return replace_with(build, item_id, one).build


SOURCES: dict[str, tuple[Source, ...]] = dict.fromkeys(
    (
        "power.strip",
        "power.extension",
        "power.main",
        "power.plug",
        "power.leg",
        "power.generator",
        "power.inverter",
        "power.surge",
        "power.battery-energy",
        "power.fuel",
        "power.discharge",
        "power.starts-together",
    ),
    (greater,),
)
