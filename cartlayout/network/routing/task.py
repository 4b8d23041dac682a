"""Everything that the search of one run is about."""

from dataclasses import dataclass

import numpy as np

from ...build.geometry import XY
from .bodies import Bodies, Floats, meets
from .ground import SAME_HEIGHT_M, Board, Ground
from .terms import Piece, Plane, Term, probe, stub


@dataclass(frozen=True, slots=True)
class Task:
    """Everything one search is about."""

    a: Term
    b: Term
    radius_m: float
    ground: Ground
    bodies: Bodies
    planes: tuple[Plane, ...]
    first: XY
    last: XY
    boards: tuple[Board, ...]
    probed: Floats
    """Ground that was looked at to find where the ends may turn."""

    @classmethod
    def of(
        cls,
        a: Term,
        b: Term,
        radius_m: float,
        ground: Ground,
        bodies: Bodies,
        *,
        led: bool = False,
    ) -> "Task":
        """Prepare the search of one run; one that is led by hand may use any hole."""
        planes = planes_of(a, b)
        probes = [probe(a, planes[0]), probe(b, planes[-1])]
        first, last = (
            stub(end, ground, _standing_in(row, end, bodies))
            for end, row in ((a, probes[0]), (b, probes[1]))
        )
        low_m, high_m = sorted((a.at[2], b.at[2]))
        crossed = ground.crossed(low_m, high_m)
        return cls(
            a,
            b,
            radius_m,
            ground,
            bodies,
            planes,
            first,
            last,
            tuple(board if led else board.with_near_holes(first, last) for board in crossed),
            np.array([row for row in probes if row is not None]).reshape(-1, 6),
        )

    @property
    def from_venue(self) -> bool:
        """Whether the run leaves the cart, or never comes to it."""
        return self.a.plane.venue or self.b.plane.venue

    @property
    def rows_left_from_within(self) -> tuple[int, ...]:
        """Rows of bodies that the run starts or ends inside of."""
        return tuple(
            self.bodies.rows[end.item] for end in (self.a, self.b) if end.out == (0.0, 0.0)
        )

    @property
    def span(self) -> tuple[float, float]:
        """Least and greatest height."""
        low_m, high_m = sorted((self.a.at[2], self.b.at[2]))
        return low_m, high_m


def _standing_in(row: Piece | None, end: Term, bodies: Bodies) -> Floats:
    """Boxes of the bodies in the way of a run just before its port."""
    if row is None:
        return np.zeros((0, 4))
    there = meets(np.array([row]), bodies.table)[0]
    there[bodies.rows[end.item]] = False
    standing: Floats = bodies.boxes[there]
    return standing


def planes_of(a: Term, b: Term) -> tuple[Plane, ...]:
    """The heights a run keeps to: one at each end, or one for both."""
    one, other = a.plane, b.plane
    if abs(one.z_m - other.z_m) >= SAME_HEIGHT_M:
        return one, other
    both = Plane(
        one.z_m,
        max(one.low_m, other.low_m),
        min(one.high_m, other.high_m),
        one.level,
        one.venue and other.venue,
    )
    return (both,)
