"""What the workings of water have in common: places, symbols, and where a figure is from."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..analysis import Analysis
from ..build import Item
from ..build.specification import Origin
from ..network.results import Node
from ..units import Phrase, Value
from ..water.hydraulics import Key, State
from ..water.islands import Island
from ..water.properties import STANDARD_GRAVITY, Fluid
from .model import Number, Step, Symbol

TYPICAL = "typical"
_BASES = {
    "typical": "typical figure",
    "handbook": "handbook figure",
    "standard": "standard figure",
}


@dataclass(frozen=True, slots=True)
class Place:
    """An island of the supply side in one case."""

    analysis: Analysis
    island: Island
    case: str
    open_taps: frozenset[Key]

    @property
    def low(self) -> State:
        """Where the sources push least."""
        return self.island.solved(self.open_taps).low

    @property
    def high(self) -> State:
        """Where the sources push hardest."""
        return self.island.solved(self.open_taps).high

    @property
    def fluid(self) -> Fluid:
        """The water as it comes."""
        return self.island.model.fluid

    def item(self, item_id: str) -> Item | None:
        """An item of the build."""
        return self.analysis.build.item(item_id)

    def height_m(self, node: Key) -> float:
        """At which cold water would weigh as what stands there does."""
        return self.island.model.sketch.heights_m[node]


def place_of(analysis: Analysis, item_id: str, case: str) -> Place | None:
    """The island of an item, with the taps of a case open; None where there is no such case."""
    water = analysis.water
    opened = dict(water.opened).get(case)
    if opened is None:
        opened = water.pairs.get(case)
    island = next((one for one in water.islands if one.holds(item_id)), None)
    if opened is None or island is None:
        return None
    return Place(analysis, island, case, opened & island.taps)


def cases_of(analysis: Analysis, item_id: str) -> Iterator[str]:
    """Names of the cases that open a tap of an item's island."""
    island = next((one for one in analysis.water.islands if one.holds(item_id)), None)
    for name, opened in analysis.water.opened:
        if island is not None and opened & island.taps:
            yield name


def symbol(
    name: str,
    meaning: str,
    si: float,
    dimension: str,
    source: str = "",
    *,
    typical: bool = False,
    number: Number | None = None,
    decimals: int | None = None,
) -> Symbol:
    """One letter with what is put in for it."""
    return Symbol(name, meaning, Value(si, dimension, decimals), source, typical, number)


def step(
    says: str, name: str, expression: str, symbols: tuple[Symbol, ...], si: float, dimension: str
) -> Step:
    """One line of a working."""
    return Step(says, name, expression, symbols, Value(si, dimension))


def gravity() -> Symbol:
    """The usual g."""
    return symbol("g", "gravity", STANDARD_GRAVITY, "gravity", "ISO 80000-3, standard value")


def density(fluid: Fluid, temperature_k: float) -> Symbol:
    """Of the water as it comes."""
    return symbol(
        "rho", "density of water", fluid.density_kg_m3, "density", _at(temperature_k, "Kell (1975)")
    )


def weight(place: Place) -> Symbol:
    """Pressure of a column of water, for each length of height."""
    return symbol(
        "gamma",
        "weight of a column of water",
        place.fluid.head_pa(1.0),
        "pressure gradient",
        _at(temperature_k(place.analysis), "density after Kell (1975)"),
    )


def weight_step(place: Place) -> Step:
    """How that came about."""
    return step(
        "what a column of water weighs",
        "gamma",
        "rho*g",
        (density(place.fluid, temperature_k(place.analysis)), gravity()),
        place.fluid.head_pa(1.0),
        "pressure gradient",
    )


def _at(temperature_k: float, source: str) -> str:
    return f"{source}, at {temperature_k - 273.15:.0f} °C"


def temperature_k(analysis: Analysis) -> float:
    """Of the venue's water."""
    return analysis.build.venue.water_temperature.si


def origin(item: Item | None, *words: str) -> tuple[str, bool]:
    """What the numbers of a part of an item's specification rest on, and whether only typical.

    Args:
        item: None is from nowhere.
        words: that a part's description has, the surest first.
    """
    found = _origin(item, words)
    if found is None:
        return "as entered", False
    return _BASES.get(found.basis, found.basis), found.basis == TYPICAL


def cited(item: Item | None, *words: str) -> str:
    """The same with all that is said of where they are from, for a limit."""
    found = _origin(item, words)
    if found is None:
        return "as entered"
    return f"{found.basis}, {found.note}" if found.note else found.basis


def _origin(item: Item | None, words: tuple[str, ...]) -> Origin | None:
    for word in words:
        for one in item.specification.origins if item is not None else ():
            if word in one.of.lower():
                return one
    return None


def typical_phrase(what: str, item: Item | None, *words: str) -> tuple[Phrase, ...]:
    """That a figure is typical, where it is."""
    if not origin(item, *words)[1] or item is None:
        return ()
    return (
        Phrase.of(
            "The {what} of {item}: typical of its kind; nobody has read it off this one.",
            what=what,
            item=item.name,
        ),
    )


def of_port(node: Node) -> str:
    """How a `Number` names a port."""
    return f"{node[0]}.{node[1]}"
