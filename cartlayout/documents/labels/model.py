"""What is to be placed, what it has to keep off, and where it went. Any unit of length."""

from dataclasses import dataclass, field

from ..plan.picture import XY, Box


@dataclass(frozen=True, slots=True)
class Label:
    """A label that wants a place.

    `sizes` are the shapes it can take (a name in one, two or three lines), the
    ones it would rather have first.
    """

    key: str
    sizes: tuple[tuple[float, float], ...]
    """Width and height."""
    target: Box
    """What it speaks about; its place is looked for in and around this."""
    anchor: XY
    """Where a leader line ends."""
    inside: bool = False
    """May lie in its target, and would rather."""
    along: tuple[XY, ...] = ()
    """Other good places for its middle, best first; no leader from there."""
    priority: float = 0.0
    """Higher ones are placed first."""
    belongs: str = ""
    """Key of the obstacle that is its own body."""
    inner: Box | None = None
    """The part of the target in which it may lie, where that is not all of it."""
    apart: float = 1.0
    """How many gaps it keeps from its target when it stands beside it."""
    own: tuple[tuple[XY, ...], ...] = ()
    """Polylines that leave its target: it covers them last of all, and keeps away from them."""

    @property
    def room(self) -> Box:
        """Where it may lie inside."""
        return self.target if self.inner is None else self.inner


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something a label had better not cover: the higher the weight, the less."""

    key: str
    box: Box
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Field:
    """Where labels may go."""

    frame: Box
    bodies: tuple[Obstacle, ...] = ()
    lines: tuple[tuple[tuple[XY, ...], float], ...] = ()
    """Polylines with the weight of covering them."""
    keep_out: tuple[Box, ...] = ()
    """Never covered."""
    gap: float = 1.0
    """Least distance between two labels, and from a label to its target."""


@dataclass(frozen=True, slots=True)
class PlacedLabel:
    """Where a label went."""

    key: str
    box: Box
    size: int
    """Which of its sizes it took."""
    leader: tuple[XY, ...] = ()
    """From the label to what it speaks about; empty where nobody needs one."""
    outside: bool = False
    """It found no room and stands under the frame."""
    cost: float = field(default=0.0, compare=False)
