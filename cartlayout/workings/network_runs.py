"""Workings of runs: how long they are, and how tight they turn."""

import itertools
import math
from collections.abc import Iterator

from ..analysis import Analysis
from ..build import Cord, Run, TubeRun, Wire
from ..findings.body_numbers import run_number
from ..findings.number import Number
from ..units import Phrase, Value
from .making import Draft
from .model import Held, Symbol, Working

_MOST_LEGS = 40


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Every run that has a way, and tubes that turn tighter than they bend."""
    for run in analysis.build.runs:
        route = analysis.network.routes.get(run.id)
        if route is None:
            continue
        yield run_number(run.id)
        if isinstance(run, TubeRun) and run.tube.least_bend_radius and route.bend_room_m:
            yield run_number(run.id, "bend")


def working(analysis: Analysis, number: Number) -> Working | None:
    """The working of the length of a run, or of its tightest bend."""
    run = analysis.build.run(number.of)
    route = analysis.network.routes.get(number.of)
    if run is None or route is None:
        return None
    start = analysis.build.item(run.a.item) if run.a is not None else None
    finish = analysis.build.item(run.b.item) if run.b is not None else None
    between = f"{start.name if start else 'nothing'} to {finish.name if finish else 'nothing'}"
    if number.what == "length":
        draft = Draft(number, Phrase.of("Way from {between}", between=between))
        legs_m = [(math.dist(a, b), _way(a, b)) for a, b in itertools.pairwise(route.points)]
        symbols = [
            Symbol(f"l_{at}", way, Value(leg_m, "height"))
            for at, (leg_m, way) in enumerate(legs_m[:_MOST_LEGS], 1)
        ]
        if len(legs_m) > _MOST_LEGS:
            rest = Value(sum(leg_m for leg_m, _ in legs_m[_MOST_LEGS:]), "height")
            symbols.append(Symbol(f"l_{len(symbols) + 1}", "all further legs", rest))
        value = Value(route.length_m, "distance")
        names = " + ".join(one.name for one in symbols)
        draft.step("leg by leg, square from corner to corner", "L", names, value, *symbols)
        draft.assume("led square along the boards and edges, with no slack and no spare")
        cord = _cord(analysis, run)
        if cord is not None:
            rule = "a cord is as long as its way"
            source = "length of the cord as entered"
            holds = value.si <= cord.length.si * (1.0 + 1e-6)
            draft.held.append(Held(Value(cord.length.si, "distance"), rule, source, holds))
        return draft.done(value)
    if number.what == "bend" and isinstance(run, TubeRun) and route.bend_room_m:
        least = run.tube.least_bend_radius
        if least is None:
            return None
        draft = Draft(number, Phrase.of("Tightest bend from {between}", between=between))
        value = Value(min(route.bend_room_m), "length")
        draft.step(
            "largest radius that it has room for: half of a leg between two bends, all of one at "
            "an end",
            "r",
            "",
            value,
        )
        rule = "a tube bends no tighter than its least radius, or it kinks"
        draft.held.append(
            Held(
                Value(least.si, "length"),
                rule,
                "least bend radius of the tube as kept in the build",
                value.si >= least.si - 1e-4,
                is_least=True,
            )
        )
        return draft.done(value)
    return None


def _cord(analysis: Analysis, run: Run) -> Cord | None:
    """The cord of a wire: its own, or that of the plug it holds."""
    if not isinstance(run, Wire):
        return None
    for end in (run.a, run.b):
        item = analysis.build.item(end.item) if end is not None else None
        port = item.specification.port(end.port) if item is not None and end is not None else None
        if port is not None and port.medium == "power" and port.direction == "in":
            return run.cord or port.cord
    return run.cord


def _way(a: tuple[float, float, float], b: tuple[float, float, float]) -> str:
    """Which way a leg goes, in a word."""
    names = (("to the left", "to the right"), ("to the rear", "to the front"), ("down", "up"))
    axis = max(range(3), key=lambda at: abs(b[at] - a[at]))
    return names[axis][b[axis] > a[axis]]
