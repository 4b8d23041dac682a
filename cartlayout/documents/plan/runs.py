"""Wires and tubes as they are drawn: curves and rounded corners, side by side where they share."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial

from ...analysis import Analysis
from ...build import VENUE, Build, End, Port, TubeRun, Wire
from ...build.geometry import end_position
from ...findings.finding import Severity
from ...network import Route
from ...water.results import ALL_OPEN
from .kept import Kept
from .lanes import Laid, lay
from .paths import simplified, split
from .picture import XY, Box, Medium, PlanOptions, RunShape
from .water_notes import hot_runs

LANE_MM = 22.0
"""Distance between runs that share a way."""
WIDEST_MM = 64.0
"""Of many runs that share a way, taken together."""
TOUCH_MM = 8.0
LEAD_M = 0.15
"""A cord whose plug is so near to the edge hangs free to the venue's outlet."""
CORD_BEND_MM = 26.0
WIDEST_BEND_MM = 60.0
"""Larger bends would be drawn too far from where the run is taken hold of."""
LOOSE_MM = 90.0
"""How much of a run is drawn that hangs free."""


def run_shapes(
    build: Build, analysis: Analysis, options: PlanOptions, level: str, kept: Kept
) -> tuple[RunShape, ...]:
    """Every run whose overlay is asked for, in the order of the build."""
    levels = {item.id: item.level for item in build.items}
    severities = worst_by_run(analysis)
    routes, water = analysis.network.routes, analysis.water
    ways: dict[str, _Way] = {}
    reads: dict[str, tuple[object, ...]] = {}
    for run in build.runs:
        a = build.item(run.a.item)
        b = build.item(run.b.item) if run.b is not None else None
        reads[run.id] = (run, routes.get(run.id), a, b, build.cart)
        make = partial(_way, build, analysis, levels, run)
        way = kept.get(("way", run.id), reads[run.id], make)
        if way.medium in options.overlays and len(way.points) > 1:
            ways[run.id] = way
    drawn = _side_by_side(ways, kept)
    hot = hot_runs(analysis)
    letters = {circuit.key: circuit.letter for circuit in analysis.power.circuits}
    shapes = []
    for run in build.runs:
        if run.id not in ways:
            continue
        way = ways[run.id]
        points, severity = drawn[run.id], severities.get(run.id)
        flow = kept.get(
            ("flow", run.id),
            (*reads[run.id], water),
            partial(_flow, build, analysis, options, run, way.medium),
        )
        is_hot = run.id in hot
        letter = _letter(analysis, letters, run.id)
        make_shape = partial(
            _shape,
            run,
            way,
            points,
            letter,
            flow,
            severity,
            routes.get(run.id),
            levels,
            level,
            is_hot,
        )
        read = (*reads[run.id], points, letter, flow, severity, is_hot)
        shapes.append(kept.get(("run", run.id), read, make_shape))
    return tuple(shapes)


@dataclass(frozen=True, slots=True)
class _Way:
    """A run on the plan before runs are laid side by side."""

    medium: Medium
    points: tuple[XY, ...]
    curve: bool


def _way(build: Build, analysis: Analysis, levels: Mapping[str, str], run: Wire | TubeRun) -> _Way:
    points = _on_plan(build, analysis, run)
    curve = len(points) > 1 and _is_lead(levels, analysis, run) and _facing(points)
    return _Way(run_medium(build, run), _curve(points) if curve else points, curve)


def _side_by_side(ways: Mapping[str, _Way], kept: Kept) -> dict[str, tuple[XY, ...]]:
    """The corners of every run as they are drawn."""
    before = kept.before("laid")
    laid = lay(
        {run: way.points for run, way in ways.items() if not way.curve},
        LANE_MM,
        TOUCH_MM,
        WIDEST_MM,
        before if isinstance(before, Laid) else None,
    )
    kept.put("laid", laid)
    curves = {run: way.points for run, way in ways.items() if way.curve}
    fanned = kept.get("fanned", tuple(curves.values()), partial(_fanned, curves))
    return {**laid.drawn, **fanned}


def _shape(
    run: Wire | TubeRun,
    way: _Way,
    points: tuple[XY, ...],
    letter: str,
    flow: tuple[int, bool],
    severity: Severity | None,
    route: Route | None,
    levels: Mapping[str, str],
    level: str,
    hot: bool,
) -> RunShape:
    shape = RunShape(
        id=run.id,
        medium=way.medium,
        points=points,
        curve=way.curve,
        ends=(run.a.item, run.b.item if run.b is not None else None),
        letter=letter,
        bore_mm=run.tube.bore.si * 1000.0 if isinstance(run, TubeRun) else 0.0,
        flow=flow[0],
        still=flow[1],
        hot=hot,
        severity=severity,
        bend_mm=_bend_mm(run),
    )
    return _on_levels(shape, route, levels, level)


def _is_lead(levels: Mapping[str, str], analysis: Analysis, run: Wire | TubeRun) -> bool:
    """Whether a run hangs free between the cart and the venue: it leaves straight from its port."""
    route = analysis.network.routes.get(run.id)
    if not isinstance(run, Wire) or run.waypoints or run.b is None or route is None:
        return False
    if VENUE not in (levels.get(run.a.item), levels.get(run.b.item)):
        return False
    on_cart = route.points[: (route.climb or 0) + 1]
    if levels.get(run.a.item) == VENUE:
        on_cart = route.points[(route.climb or 0) + 1 :]
    return math.dist(on_cart[0][:2], on_cart[-1][:2]) <= LEAD_M if on_cart else True


def _bend_mm(run: Wire | TubeRun) -> float:
    if isinstance(run, Wire) or run.tube.least_bend_radius is None:
        return CORD_BEND_MM
    return min(run.tube.least_bend_radius.si * 1000.0, WIDEST_BEND_MM)


def _on_levels(
    shape: RunShape, route: Route | None, levels: Mapping[str, str], level: str
) -> RunShape:
    """Tell the parts on the shown level from those on others."""
    if route is None or not route.levels:
        there = {levels.get(end, level) for end in shape.ends if end is not None}
        return replace(shape, ghosted=not there & {level, VENUE})
    seen = [one in (level, VENUE) for one in route.levels]
    if shape.curve:
        return replace(shape, ghosted=not any(seen))
    if route.climb is None:
        return replace(shape, ghosted=not all(seen))
    x, y, z = route.points[route.climb]
    first, second = split(shape.points, (x * 1000.0, y * 1000.0))
    climb = second[0] if second else shape.points[-1]
    rises = route.points[route.climb + 1][2] > z
    if seen[0] == seen[1]:
        return replace(shape, ghosted=not seen[0], climb=climb, rises=rises)
    near, far = (first, second) if seen[0] else (second, first)
    return replace(shape, near=near, far=far, climb=climb, rises=rises == seen[0])


def run_medium(build: Build, run: Wire | TubeRun) -> Medium:
    """What flows: a tube takes its medium from the port it starts at."""
    if isinstance(run, Wire):
        return "power"
    for end in (run.a, run.b):
        port = _port(build, end)
        if port is not None:
            return "drain" if port.medium == "drain" else "water"
    return "water"


def worst_by_run(analysis: Analysis) -> dict[str, Severity]:
    """Run id to the worst that is said about it; findings come worst first."""
    worst: dict[str, Severity] = {}
    for finding in analysis.findings:
        if finding.severity != "note":
            for run_id in finding.runs[:1]:
                worst.setdefault(run_id, finding.severity)
    return worst


def _port(build: Build, end: End | None) -> Port | None:
    item = build.item(end.item) if end is not None else None
    return item.specification.port(end.port) if item is not None and end is not None else None


def _letter(analysis: Analysis, letters: Mapping[str, str], run_id: str) -> str:
    state = analysis.power.wires.get(run_id)
    return letters.get(state.circuit, "") if state is not None and state.circuit else ""


def _on_plan(build: Build, analysis: Analysis, run: Wire | TubeRun) -> tuple[XY, ...]:
    route = analysis.network.routes.get(run.id)
    if route is not None:
        return tuple(simplified([(x * 1000.0, y * 1000.0) for x, y, _ in route.points]))
    at = end_position(build, run.a)
    if at is None:
        return ()
    start = (at[0] * 1000.0, at[1] * 1000.0)
    rest = [(point.x.si * 1000.0, point.y.si * 1000.0) for point in run.waypoints]
    if not rest:
        rest = [(start[0], start[1] + _loose_way(build, run) * LOOSE_MM)]
    return tuple(simplified([start, *rest]))


def _loose_way(build: Build, run: Wire | TubeRun) -> float:
    """A loose run hangs out of the rear of a body, or the front where the port is there."""
    item = build.item(run.a.item)
    at = end_position(build, run.a)
    return 1.0 if item is not None and at is not None and at[1] > item.y.si else -1.0


def _flow(
    build: Build, analysis: Analysis, options: PlanOptions, run: Wire | TubeRun, medium: Medium
) -> tuple[int, bool]:
    """Which way it flows, and whether it does so in another case only than the one shown."""
    if medium == "drain":
        a, b = _port(build, run.a), _port(build, run.b)
        if a is not None and a.direction == "out":
            return 1, False
        return (-1 if b is not None and b.direction == "out" else 0), False
    if medium == "water":
        known = options.case in analysis.water.cases
        shown = options.case if known else ALL_OPEN
        for name in (shown, ALL_OPEN, *analysis.water.cases):
            case = analysis.water.cases.get(name)
            state = case.runs.get(run.id) if case is not None else None
            if state is not None and abs(state.flow) > 1e-9:
                return (1 if state.flow > 0 else -1), name != shown
    return 0, False


def _facing(points: tuple[XY, ...]) -> bool:
    """Whether both ends leave towards each other, so that one sweep joins them."""
    a, b = points[0], points[-1]
    out_a = (points[1][0] - a[0], points[1][1] - a[1])
    out_b = (points[-2][0] - b[0], points[-2][1] - b[1])
    ahead_a = out_a[0] * (b[0] - a[0]) + out_a[1] * (b[1] - a[1])
    ahead_b = out_b[0] * (a[0] - b[0]) + out_b[1] * (a[1] - b[1])
    opposite = out_a[0] * out_b[0] + out_a[1] * out_b[1]
    return ahead_a > 0 and ahead_b > 0 and opposite < 0


def _curve(points: tuple[XY, ...]) -> tuple[XY, ...]:
    a, b = points[0], points[-1]
    reach = 0.5 * math.dist(a, b)

    def handle(end: XY, towards: XY, other: XY) -> XY:
        out = (towards[0] - end[0], towards[1] - end[1])
        size = math.hypot(*out) or 1.0
        ahead = abs(out[0] * (other[0] - end[0]) + out[1] * (other[1] - end[1])) / size
        along = max(min(reach, 0.62 * ahead), 20.0)
        return end[0] + out[0] / size * along, end[1] + out[1] / size * along

    return a, handle(a, points[1], b), handle(b, points[-2], a), b


def _fanned(curves: dict[str, tuple[XY, ...]]) -> dict[str, tuple[XY, ...]]:
    """Spread the handles of curves that leave one place, in the order of where they go."""
    groups: dict[tuple[int, int], list[tuple[str, int]]] = {}
    for run_id, points in curves.items():
        for end in (0, 3):
            at = (round(points[end][0] / 40.0), round(points[end][1] / 40.0))
            groups.setdefault(at, []).append((run_id, end))
    fanned = {run_id: list(points) for run_id, points in curves.items()}
    for members in groups.values():
        if len(members) < 2:
            continue
        along = _across_axis(curves, members)
        members.sort(key=lambda one: (curves[one[0]][3 - one[1]][along], one[0]))
        for place, (run_id, end) in enumerate(members):
            shift = (place - (len(members) - 1) / 2) * 1.6 * LANE_MM
            handle = 1 if end == 0 else 2
            x, y = fanned[run_id][handle]
            fanned[run_id][handle] = (x + shift, y) if along == 0 else (x, y + shift)
    return {run_id: tuple(points) for run_id, points in fanned.items()}


def _across_axis(curves: Mapping[str, tuple[XY, ...]], members: list[tuple[str, int]]) -> int:
    run_id, end = members[0]
    points = curves[run_id]
    handle = points[1 if end == 0 else 2]
    dx, dy = handle[0] - points[end][0], handle[1] - points[end][1]
    return 0 if abs(dy) >= abs(dx) else 1


def extent(shapes: tuple[RunShape, ...]) -> Box | None:
    """Around every run, or None without any."""
    points = [point for shape in shapes for point in shape.points]
    return Box.around(points) if points else None
