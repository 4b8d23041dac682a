"""Workings of the window a pump or a mains tap has to hit.

Windows cost a few solutions of the line each, so they are asked for one at a time.
"""

import math
from collections.abc import Iterator

from ..analysis import Analysis
from ..build import TubeRun
from ..units import Phrase, Value
from ..water.hydraulics import Key
from ..water.supply_results import SupplyWindow, WindowEdge
from .model import Held, Number, Step, Symbol, Working
from .water_parts import Place, place_of, step, symbol, weight, weight_step
from .water_tubes import tube_name

_ALL_SHUT = "All shut"
_NEAR_PA = 20.0


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Both edges of each supply's window, where it has them."""
    for supply in analysis.water.supplies:
        window = supply.window
        if window is None:
            continue
        if window.least is not None and math.isfinite(window.least_pa):
            yield Number("supply", window.item, "least")
        if window.greatest is not None:
            yield Number("supply", window.item, "greatest")


def working(analysis: Analysis, number: Number) -> Working | None:
    """The lower or the upper edge of a supply's window."""
    window = analysis.water.window(number.of)
    if window is None:
        return None
    if number.what == "least":
        return _least(analysis, window, number)
    return _greatest(analysis, window, number) if number.what == "greatest" else None


def _least(analysis: Analysis, window: SupplyWindow, number: Number) -> Working | None:
    edge = window.least
    if edge is None or not math.isfinite(edge.pressure_pa):
        return None
    tap = analysis.water.tap(edge.item, edge.port)
    given: tuple[Symbol, ...] = ()
    if tap is not None:
        given = (
            symbol("p_tap", f"least that {tap.name} needs", tap.least_pa, "pressure"),
            symbol("Q_tap", f"flow that {tap.name} needs", tap.required_flow, "flow"),
        )
    read = Step(
        f"the line is solved with {window.name} held higher and lower, until every tap that is "
        f"open has just enough; {edge.name} is the last ({edge.case})",
        "p",
        "",
        given,
        Value(edge.pressure_pa, "pressure"),
    )
    held = Held(
        Value(window.low_pa, "pressure"),
        "what it gives at the least now" if window.known else "what mains may stand at",
        "cut-in" if window.kind == "pump" else "as entered",
        window.is_hit or window.low_pa >= edge.pressure_pa,
    )
    title = Phrase.of("The least that {supply} has to give", supply=window.name)
    return Working(number, title, read.result, (read,), (held,))


def _greatest(analysis: Analysis, window: SupplyWindow, number: Number) -> Working | None:
    edge = window.greatest
    place = place_of(analysis, window.item, _ALL_SHUT)
    if edge is None or place is None:
        return None
    title = Phrase.of("The most that {supply} may give, everything shut", supply=window.name)
    held = Held(
        Value(window.high_pa, "pressure"),
        "what it gives at the most now has to stay below",
        "cut-out" if window.kind == "pump" else "as entered",
        window.high_pa <= edge.pressure_pa + _NEAR_PA,
        is_least=True,
    )
    made = _by_height(analysis, place, window, edge)
    result = Value(edge.pressure_pa, "pressure")
    if made is None:
        read = Step(
            f"the highest at rest at which {edge.name} is spared, through what is on the way",
            "p",
            "",
            (),
            result,
        )
        return Working(number, title, result, (read,), (held,))
    return Working(number, title, result, (weight_step(place), made), (held,))


def _by_height(
    analysis: Analysis, place: Place, window: SupplyWindow, edge: WindowEdge
) -> Step | None:
    """What the place may see, and the height between; None where more lies between them."""
    for node, may_pa, meaning in _places(analysis, edge):
        height_m = place.height_m(node) - place.height_m(window.outlet)
        if abs(may_pa + place.fluid.head_pa(height_m) - edge.pressure_pa) < 1.0:
            return step(
                f"so that {edge.name} stands no higher than it may",
                "p",
                "p_max + gamma*h",
                (
                    symbol("p_max", meaning, may_pa, "pressure"),
                    weight(place),
                    symbol("h", "how much higher that is", height_m, "distance"),
                ),
                edge.pressure_pa,
                "pressure",
            )
    return None


def _places(analysis: Analysis, edge: WindowEdge) -> Iterator[tuple[Key, float, str]]:
    """Where an edge may be set: node, greatest pressure there, and what that is."""
    tap = analysis.water.tap(edge.item, edge.port) if edge.item else None
    if tap is not None:
        yield (tap.item, tap.port), tap.greatest_pa, f"greatest that {tap.name} may see"
    run = analysis.build.run(edge.run) if edge.run else None
    static = next((one for one in analysis.water.statics if one.run == edge.run), None)
    if isinstance(run, TubeRun) and static is not None and static.rating_pa is not None:
        for end in (run.a, run.b):
            if end is not None:
                meaning = f"rating of {tube_name(analysis, run)}"
                yield (end.item, end.port), static.rating_pa, meaning
