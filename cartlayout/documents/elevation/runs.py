"""Wires and tubes as they are seen from a side."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ...analysis import Analysis
from ...build import Build, End, Run
from ...build.geometry import end_position
from ...network import Route
from ..plan.runs import run_medium
from ..plan.water_notes import hot_runs
from .hiding import XYA, Line, Scene
from .model import RunPiece
from .things import Thing
from .view import Facing

BEYOND_M = 0.6
"""What the venue has further beside the cart than this is not drawn: only its height is written,
and how far off it is."""
CUT_M = 0.2
"""A cord or tube to such a thing is drawn so far beside the cart."""
_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class Limits:
    """How far the drawing reaches, and how wide the cart in it is. Metres to the right."""

    left_m: float
    right_m: float
    width_m: float
    beyond: frozenset[str] = frozenset()
    """Keys of what is not drawn."""

    @classmethod
    def of(cls, present: Sequence[Thing], width_m: float) -> "Limits":
        """The cart's own things are always drawn, the venue's where they are near."""
        own = [one for one in present if one.kind != "venue"]
        left_m = min([0.0, *(one.left_m for one in own)])
        right_m = max([width_m, *(one.right_m for one in own)])
        beyond = frozenset(
            one.key
            for one in present
            if one.kind == "venue"
            and not left_m - BEYOND_M <= one.left_m <= one.right_m <= right_m + BEYOND_M
        )
        drawn = [one for one in present if one.key not in beyond]
        return cls(
            min([left_m - CUT_M, *(one.left_m for one in drawn)]),
            max([right_m + CUT_M, *(one.right_m for one in drawn)]),
            width_m,
            beyond,
        )

    def hold(self, thing: Thing) -> bool:
        """Whether something is drawn."""
        return thing.key not in self.beyond

    def off_m(self, thing: Thing) -> float:
        """How far from the cart's edge something is that is not drawn; 0 for all others."""
        if self.hold(thing):
            return 0.0
        return max(-thing.right_m, thing.left_m - self.width_m, 0.0)


def run_pieces(
    build: Build,
    analysis: Analysis,
    facing: Facing,
    scene: Scene,
    there: set[str],
    limits: Limits,
) -> tuple[RunPiece, ...]:
    """Every run with a way.

    What goes to something between the eye and the cart is left out with it; what goes beyond
    the drawing is cut off at its edge.
    """
    hot = hot_runs(analysis)
    letters = {circuit.key: circuit.letter for circuit in analysis.power.circuits}
    found = []
    for run in build.runs:
        route = analysis.network.routes.get(run.id)
        if route is None or not all(end is None or end.item in there for end in (run.a, run.b)):
            continue
        state = analysis.power.wires.get(run.id)
        letter = letters.get(state.circuit, "") if state is not None and state.circuit else ""
        piece = _piece(build, run, _as_seen(route, facing), letter, facing, scene, limits)
        found.append(replace(piece, is_hot=run.id in hot))
    return tuple(found)


def _piece(
    build: Build,
    run: Run,
    whole: list[XYA],
    letter: str,
    facing: Facing,
    scene: Scene,
    limits: Limits,
) -> RunPiece:
    stretches = within(whole, limits.left_m, limits.right_m)
    seen: list[Line] = []
    unseen: list[Line] = []
    for stretch in stretches:
        in_sight, hidden = scene.run(stretch)
        seen += in_sight
        unseen += hidden
    places = [place for end in (run.a, run.b) if (place := _end(build, end, facing)) is not None]
    return RunPiece(
        key=run.id,
        medium=run_medium(build, run),
        letter=letter,
        points=tuple(place[:2] for stretch in stretches for place in stretch),
        seen=tuple(seen),
        unseen=tuple(unseen),
        ends=tuple(
            (place[:2], scene.is_seen(place))
            for place in places
            if limits.left_m <= place[0] <= limits.right_m
        ),
        is_cut=any(not limits.left_m <= u <= limits.right_m for u, _, _ in whole),
    )


def within(points: Sequence[XYA], left_m: float, right_m: float) -> list[list[XYA]]:
    """The stretches of a way between two limits."""
    stretches: list[list[XYA]] = []
    going = False
    for a, b in pairwise(points):
        part = _clipped(a, b, left_m, right_m)
        if part is None:
            going = False
            continue
        if not going or stretches[-1][-1] != part[0]:
            stretches.append([part[0]])
        stretches[-1].append(part[1])
        going = True
    return stretches


def _clipped(a: XYA, b: XYA, left_m: float, right_m: float) -> tuple[XYA, XYA] | None:
    """The part of a straight piece that is between two limits, or None."""
    first, last = 0.0, 1.0
    step = b[0] - a[0]
    if abs(step) < _NOTHING:
        return (a, b) if left_m <= a[0] <= right_m else None
    one, other = sorted(((left_m - a[0]) / step, (right_m - a[0]) / step))
    first, last = max(first, one), min(last, other)
    if first >= last:
        return None
    return _between(a, b, first), _between(a, b, last)


def _between(a: XYA, b: XYA, share: float) -> XYA:
    if share <= 0.0:
        return a
    if share >= 1.0:
        return b
    u, z, away = (one + share * (other - one) for one, other in zip(a, b, strict=True))
    return u, z, away


def _as_seen(route: Route, facing: Facing) -> list[XYA]:
    found = []
    for x, y, z in route.points:
        u, away = facing.seen(x, y)
        found.append((u, z, away))
    return found


def _end(build: Build, end: End | None, facing: Facing) -> XYA | None:
    at = end_position(build, end) if end is not None else None
    if at is None:
        return None
    u, away = facing.seen(at[0], at[1])
    return u, at[2], away
