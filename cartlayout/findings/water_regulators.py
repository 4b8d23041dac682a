"""What to say about regulators that work against each other: side by side, and in a row."""

from collections.abc import Iterator

from ..build import CheckValve, Mains, Pump, Regulator
from ..network.results import Node
from ..units import Phrase
from ..water.element_results import RegulatorState
from .finding import Finding
from .water_words import PRACTICE, Place, bar

_PUSHED_PA = 10e3
"""Above set point and creep: more than any gauge's needle is wide."""
_APART_PA = 70e3
"""Two in a row set closer than this hunt against each other: common practice, no source."""
_ENDS = (Pump, CheckValve, Regulator)


def regulator_rules(place: Place) -> Iterator[Finding]:
    """Judge every regulator beside the others of its line."""
    states = {state.item: state for state in place.water.regulators}
    for state in states.values():
        yield from _pushed(place, state)
        yield from _in_a_row(place, state, states)


def _zone(place: Place, start: Node) -> set[Node]:
    """All ports that water gets to from one without passing a pump, check valve or regulator."""
    graph = place.network.supply
    seen, queue = {start}, [start]
    while queue:
        node = queue.pop()
        if node not in graph:
            continue
        for _, other, data in graph.edges(node, data=True):
            inside = data.get("item")
            if other in seen or (
                inside is not None and isinstance(inside.specification.water, _ENDS)
            ):
                continue
            seen.add(other)
            queue.append(other)
    return seen


def _pushed(place: Place, state: RegulatorState) -> Iterator[Finding]:
    role, outlet = place.role(state.item), place.outlet(state.item)
    if not isinstance(role, Regulator) or outlet is None:
        return
    allowed_pa = state.set_pa + max(role.creep.si, 0.0)
    if state.shut_pa <= allowed_pa + _PUSHED_PA:
        return
    others = tuple(
        dict.fromkeys(
            item
            for item, port in sorted(_zone(place, outlet))
            if item != state.item
            and isinstance(place.role(item), (Regulator, Pump, CheckValve, Mains))
            and (place.outlet(item) == (item, port) or isinstance(place.role(item), Mains))
        )
    )
    yield Finding(
        "care",
        "water.regulator-pushed",
        Phrase.of("{regulator} does not hold its line down", regulator=place.name(state.item)),
        Phrase.of(
            "With everything shut {shut} stand behind it, set to {set}: {others} feeds the same "
            "line and holds it higher, so that this one stays shut. Set both alike and expect one "
            "to carry most, or feed the line by one of them only.",
            shut=bar(state.shut_pa),
            set=bar(state.set_pa),
            others=", ".join(map(place.name, others)) if others else "something else",
        ),
        (state.item, *others),
        value=bar(state.shut_pa),
        limit=bar(allowed_pa),
        source=place.source_of(state.item),
    )


def _in_a_row(
    place: Place, state: RegulatorState, states: dict[str, RegulatorState]
) -> Iterator[Finding]:
    item = place.items[state.item]
    inlets = [
        (item.id, port.id)
        for port in item.specification.ports
        if port.medium == "water" and port.direction == "in"
    ]
    for inlet in inlets:
        for first_id in dict.fromkeys(one for one, _ in sorted(_zone(place, inlet))):
            first = states.get(first_id)
            if first is None or first_id == state.item:
                continue
            outlet = place.outlet(first_id)
            if outlet is None or outlet not in _zone(place, inlet):
                continue
            if first.set_pa - state.set_pa < _APART_PA:
                yield _against(place, first, state)


def _against(place: Place, first: RegulatorState, second: RegulatorState) -> Finding:
    names = {"first": place.name(first.item), "second": place.name(second.item)}
    sets = {"high": bar(first.set_pa), "low": bar(second.set_pa)}
    if first.set_pa <= second.set_pa:
        detail = Phrase.of(
            "{first} lets no more than {high} through, so {second}, set to {low}, never has "
            "anything to hold and only costs pressure. Set it lower, or take one of them out.",
            **names,
            **sets,
        )
    else:
        detail = Phrase.of(
            "{first} is set to {high} and {second} to {low}: set so close, two regulators in a row "
            "tend to hunt against each other. Set them further apart, or take one of them out.",
            **names,
            **sets,
        )
    return Finding(
        "care",
        "water.regulators-in-a-row",
        Phrase.of("{first} and {second} regulate one after the other", **names),
        detail,
        (first.item, second.item),
        source=PRACTICE,
    )
