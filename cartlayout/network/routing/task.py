"""Everything that the search of one run is about."""

from dataclasses import dataclass

from ...build.geometry import XY
from .bodies import Bodies
from .ground import SAME_HEIGHT_M, Board, Ground
from .terms import Plane, Term, stubs


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

    @classmethod
    def of(cls, a: Term, b: Term, radius_m: float, ground: Ground, bodies: Bodies) -> "Task":
        """Prepare the search of one run."""
        first, last = stubs(a, b, ground)
        low_m, high_m = sorted((a.at[2], b.at[2]))
        boards = ground.crossed(low_m, high_m)
        return cls(a, b, radius_m, ground, bodies, planes_of(a, b), first, last, boards)

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
