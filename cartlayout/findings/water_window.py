"""What to say about the window that a supply has to hit, and about mains nobody measured."""

from collections.abc import Iterator

from ..build import Mains, Pump
from ..units import Phrase, Value
from ..water.results import ALL_OPEN, ALL_SHUT, Tap, alone
from ..water.supply_results import SetPoint, WindowEdge
from ..water.window import Empty, Supply
from .finding import Finding
from .number import Number
from .water_words import PRACTICE, Place, bar, rate


def window_rules(place: Place) -> Iterator[Finding]:
    """Judge every pump and mains tap by the window of what hangs on it."""
    for item in place.build.items:
        role = item.specification.water
        if isinstance(role, (Pump, Mains)):
            yield from _empty(place, item.id)
        if isinstance(role, Mains) and (role.least is None or role.greatest is None):
            yield from _unknown(place, item.id, role)


# --- no pressure does for all --------------------------------------------------------------------


def _empty(place: Place, item_id: str) -> Iterator[Finding]:
    if all(_is_well(place, tap) for tap in place.water.taps):
        return  # what the supplies give does for all: there is a pressure that does
    supply = place.water.supply(item_id)
    if supply is None or all(
        _is_well(place, tap) for tap in place.water.taps if (tap.item, tap.port) in supply.by_node
    ):
        return
    empty = supply.emptiness
    if empty is not None:
        yield _no_pressure(place, supply, empty)


def _is_well(place: Place, tap: Tap) -> bool:
    """Whether a tap has what it wants in every case, and sees no more than it may."""
    if not tap.fed or tap.static_pa > tap.greatest_pa + 20.0:
        return False
    return all(
        state.flow_ok and state.lowest_pa >= tap.least_pa - 20.0
        for state in tap.states.values()
        if state.open
    )


def _no_pressure(place: Place, supply: Supply, empty: Empty) -> Finding:
    least, greatest = empty.least, empty.greatest
    remedy, values = _remedy(place, supply, empty)
    # Which tap fails is said, as a stop, of the tap itself; this is why no other pump mends it.
    return Finding(
        "care",
        "water.window",
        Phrase.of("No pressure of {supply} does for all its taps", supply=supply.item.name),
        Phrase.of(
            "{needy} needs {least} there while water flows{when}; {tender} may see no more than "
            "{greatest} there with every tap shut. " + remedy,
            needy=least.name,
            least=bar(least.pressure_pa),
            when=_when(least),
            tender=greatest.name,
            greatest=bar(greatest.pressure_pa),
            **values,
        ),
        tuple(
            dict.fromkeys(
                one
                for one in (
                    supply.item.id,
                    least.item,
                    greatest.item,
                    *(point.item for point in empty.set_points),
                )
                if one
            )
        ),
        (greatest.run,) if greatest.run else (),
        value=bar(least.pressure_pa),
        number=Number("supply", supply.item.id, "least"),
        limit=bar(greatest.pressure_pa),
        source=place.source_of(greatest.item) if greatest.item else "the tube's rating",
        working=tuple(_point_working(place, point) for point in empty.set_points),
    )


def _when(edge: WindowEdge) -> str:
    if edge.case == alone(edge.name):
        return ""
    return " with everything open" if edge.case == ALL_OPEN else f" in the case '{edge.case}'"


def _remedy(place: Place, supply: Supply, empty: Empty) -> tuple[str, dict[str, Value | str]]:
    points = empty.set_points
    if not points:
        if empty.greatest.run:
            return "Take a stronger tube, or lose less on the way.", {}
        return (
            "No regulator opens that either: lose less on the way (wider tubes, a larger filter), "
            "or open fewer taps at a time.",
            {},
        )
    values: dict[str, Value | str] = {}
    told = []
    for at, point in enumerate(points):
        values[f"tap{at}"], values[f"set{at}"] = point.name, bar(point.set_point_pa)
        if point.regulator:
            values[f"old{at}"] = place.name(point.regulator)
            told.append(f"set {{old{at}}} before {{tap{at}}} to {{set{at}}}")
        else:
            told.append(f"put a regulator before {{tap{at}}}, set to {{set{at}}}")
    text = " and ".join(told)
    text = text[0].upper() + text[1:]
    if (empty.least.item, empty.least.port) == (empty.greatest.item, empty.greatest.port):
        text = (
            f"Lose less on the way to it (a wider tube, a larger filter). Or {' and '.join(told)}"
        )
    least, greatest = empty.opened_least, empty.opened_greatest
    if least is not None and greatest is not None:
        values["from"], values["to"] = bar(least.pressure_pa), bar(greatest.pressure_pa)
        return f"{text}: then anything from {{from}} to {{to}} does (tried).", values
    if least is not None:
        values["from"] = bar(least.pressure_pa)
        return f"{text}: then anything above {{from}} does (tried).", values
    return f"{text} (tried).", values


def _point_working(place: Place, point: SetPoint) -> Phrase:
    return Phrase.of(
        "{tap}: set points from {least} (what it needs, with the regulator's fall at its flow) to "
        "{greatest} (what it may see, less what a shut regulator creeps up)",
        tap=point.name,
        least=bar(point.least_pa),
        greatest=bar(point.greatest_pa),
    )


# --- mains nobody measured -----------------------------------------------------------------------


def _unknown(place: Place, item_id: str, role: Mains) -> Iterator[Finding]:
    item = place.items[item_id]
    if not any(place.connected((item_id, port.id)) for port in item.specification.ports):
        return
    supply = place.water.supply(item_id)
    if supply is None or not supply.taps:
        detail = Phrase.of(
            "{usual} is taken for it. Gauge it on arrival, with all taps shut and with one open, "
            "and enter its least and greatest.",
            usual=bar(role.usual.si),
        )
    else:
        detail = _what_to_gauge(place, supply, role)
    yield Finding(
        "note",
        "water.mains-unknown",
        Phrase.of("How far the pressure of {mains} goes up and down is not known", mains=item.name),
        detail,
        (item_id,),
        source=PRACTICE,
    )


def _what_to_gauge(place: Place, supply: Supply, role: Mains) -> Phrase:
    """Where to hold the gauge, and what it should show there."""
    node, behind = supply.gauge_place()
    cases = place.water.cases
    at_rest_pa = cases[ALL_SHUT].pressures_pa.get(node, 0.0) if ALL_SHUT in cases else 0.0
    text = "{usual} is taken for it. Gauge it on arrival, behind {filter}"
    if behind is supply.item:
        text = "{usual} is taken for it. Gauge it on arrival, behind the filter where there is one"
    text += ": about {rest} with all taps shut"
    values: dict[str, Value | str] = {
        "usual": bar(role.usual.si),
        "filter": behind.name,
        "rest": bar(at_rest_pa),
    }
    hungriest = max(
        (
            tap
            for tap in place.water.taps
            if (tap.item, tap.port) in supply.by_node and alone(tap.name) in tap.states
        ),
        key=lambda tap: tap.states[alone(tap.name)].flow,
        default=None,
    )
    if hungriest is not None and alone(hungriest.name) in cases:
        case = alone(hungriest.name)
        open_pa = cases[case].pressures_pa.get(node, 0.0)
        text += ", {open} with {tap} open ({flow})"
        values |= {
            "open": bar(open_pa),
            "tap": hungriest.name,
            "flow": rate(hungriest.states[case].flow),
        }
    edge = supply.greatest
    text += ". Enter its least and greatest."
    if edge is not None:
        text += " With all taps shut it may stand at {greatest} at most, for the sake of {tender}."
        values |= {
            "greatest": bar(supply.rest.pressure_pa(node, edge.pressure_pa)),
            "tender": edge.name,
        }
    return Phrase.of(text, **values)
