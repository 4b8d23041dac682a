"""What stands in a line at rest: one source or regulator sets it, the rest is height."""

from ..analysis import Analysis
from ..build import Mains, Regulator, Tank
from ..network.results import Node
from ..units import Phrase, Value
from ..water.hydraulics import Key
from ..water.results import ALL_SHUT
from .model import Held, Number, Step, Symbol, Working
from .water_parts import (
    Place,
    origin,
    place_of,
    step,
    symbol,
    typical_phrase,
    weight,
    weight_step,
)

_NEAR_PA = 1.0
"""Of equal totals: the solver's own tolerance, twenty times over."""


def rest_working(
    analysis: Analysis,
    node: Node,
    number: Number,
    title: Phrase,
    held: tuple[Held, ...] = (),
) -> Working | None:
    """The highest that a place sees with everything shut; None where no water gets there."""
    place = place_of(analysis, node[0], ALL_SHUT)
    if place is None or not place.high.converged:
        return None
    pressure_pa = place.high.pressures_pa.get(node)
    if pressure_pa is None:
        return None
    source = _setter(place, node)
    result = Value(pressure_pa, "pressure")
    notes = (
        Phrase.of(
            "With everything shut nothing flows and nothing is lost: what sets the pressure is "
            "pump, main or regulator at its highest, and the height between."
        ),
    )
    if source is None:
        read = Step("held by what once let it through", "p", "", (), result)
        return Working(number, title, result, (read,), held, (), notes)
    setter, start_pa, steps, assumptions = source
    height_m = place.height_m(node) - place.height_m(setter)
    up = step(
        "at this place, higher or lower",
        "p",
        "p_0 - gamma*h",
        (
            symbol("p_0", "where it is set", start_pa, "pressure"),
            weight(place),
            symbol("h", "how much higher this place is", height_m, "distance"),
        ),
        pressure_pa,
        "pressure",
    )
    return Working(
        number, title, result, (weight_step(place), *steps, up), held, assumptions, notes
    )


Setter = tuple[Key, float, tuple[Step, ...], tuple[Phrase, ...]]


def _setter(place: Place, node: Node) -> Setter | None:
    """What holds a place at rest up: the first source or regulator at the same total."""
    sketch, pressures = place.island.model.sketch, place.high.pressures_pa
    fluid = place.fluid

    def total(key: Key) -> float:
        return pressures[key] + fluid.head_pa(sketch.heights_m[key])

    level_pa = total(node)
    seen, queue = {sketch.root(node)}, [sketch.root(node)]
    fixed = {sketch.root(key): key for key in sketch.fixed_pa}
    while queue:
        here = queue.pop(0)
        if here in fixed:
            return _source(place, fixed[here])
        for key, (_, outlet, _) in sketch.limiters.items():
            if sketch.root(outlet) == here and place.high.modes.get(key) == "holding":
                return _limiter(place, key, outlet)
        for _, a, b in sketch.links():
            for one, other in ((a, b), (b, a)):
                far = sketch.root(other)
                is_new = sketch.root(one) == here and far not in seen and other in pressures
                if is_new and abs(total(other) - level_pa) < _NEAR_PA:
                    seen.add(far)
                    queue.append(far)
    return None


def _source(place: Place, key: Key) -> Setter | None:
    if not isinstance(key, tuple):
        return None
    item = place.item(key[0])
    role = item.specification.water if item is not None else None
    start_pa = place.high.pressures_pa[key]
    name = item.name if item is not None else key[0]
    if isinstance(role, Tank):
        return key, start_pa, (tank_step(place, key),), ()
    basis = origin(item, "pressure", "residual")[0]
    given = isinstance(role, Mains) and role.greatest is not None
    meaning = f"{name} at its {'greatest' if given else 'usual pressure; no greatest is known'}"
    read = Step(f"{meaning} ({basis})", "p_0", "", (), Value(start_pa, "pressure"))
    assumed = () if given else (Phrase.of("Nobody told how high {name} may stand.", name=name),)
    return key, start_pa, (read,), (*assumed, *typical_phrase("pressure", item, "pressure"))


def tank_step(place: Place, key: Key) -> Step:
    """What the water in a vented tank stands over its outlet."""
    start_pa = place.island.model.sketch.fixed_pa[key]
    height_m = start_pa / place.fluid.head_pa(1.0)
    item = place.item(key[0]) if isinstance(key, tuple) else None
    name = item.name if item is not None else "the tank"
    return step(
        f"water in {name} over its outlet",
        "p_0",
        "gamma*h",
        (
            weight(place),
            symbol("h", "surface over outlet, as full as it is now", height_m, "distance"),
        ),
        start_pa,
        "pressure",
    )


def _limiter(place: Place, key: Key, outlet: Key) -> Setter:
    limiter = place.island.model.sketch.limiters[key][2]
    item = place.item(str(key))
    name = item.name if item is not None else str(key)
    role = item.specification.water if item is not None else None
    start_pa = limiter.set_pa + limiter.creep_pa
    if isinstance(role, Regulator):
        basis, typical = origin(item, "set point", "pressure", "droop")
        made = step(
            f"{name} with nothing flowing",
            "p_0",
            "p_set + p_creep",
            (
                symbol("p_set", "set point", limiter.set_pa, "pressure", "as set"),
                _creep(limiter.creep_pa, basis, typical),
            ),
            start_pa,
            "pressure",
        )
        return outlet, start_pa, (made,), typical_phrase("droop and creep", item, "creep")
    basis, typical = origin(item, "cut-in", "cut-out", "pressure")
    given = symbol("p_out", f"cut-out of {name}", start_pa, "pressure", basis, typical=typical)
    says = f"{name} stops at its cut-out"
    made = Step(says, "p_0", "", (given,), Value(start_pa, "pressure"))
    return outlet, start_pa, (made,), typical_phrase("switch", item, "cut-out")


def _creep(creep_pa: float, basis: str, typical: bool) -> Symbol:
    return symbol(
        "p_creep", "rise with nothing flowing", creep_pa, "pressure", basis, typical=typical
    )
