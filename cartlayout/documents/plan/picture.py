"""What a drawn plan consists of: values, in millimetres of the plan, y towards the front."""

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Literal, NamedTuple

from ...findings.finding import Severity
from ...units import UnitSystem
from ...water.results import ALL_OPEN

if TYPE_CHECKING:
    from .clearance import ClearanceOverlay
    from .kept import Kept
    from .weight import WeightOverlay

XY = tuple[float, float]
Overlay = Literal["power", "water", "drain", "clearance", "weight"]
OVERLAYS: tuple[Overlay, ...] = ("power", "water", "drain", "clearance", "weight")
USUAL_OVERLAYS: tuple[Overlay, ...] = ("power", "water", "drain")
"""Drawn until others are asked for."""
Medium = Literal["power", "water", "drain"]
State = Literal["ok", "care", "stop", ""]
"""How a number stands against its limit; empty: nothing to say."""


class Box(NamedTuple):
    """An upright rectangle."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Greatest x."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Greatest y."""
        return self.y + self.height

    @property
    def centre(self) -> XY:
        """The middle."""
        return self.x + self.width / 2, self.y + self.height / 2

    def grown(self, by: float) -> "Box":
        """The same, larger by so much on every side."""
        x, y, width, height = self
        return Box(x - by, y - by, width + 2 * by, height + 2 * by)

    def meets(self, other: "Box") -> bool:
        """Whether the two share any area."""
        # Asked some thousand times at every step of a drag: no properties here.
        x, y, width, height = self
        other_x, other_y, other_width, other_height = other
        return (
            x < other_x + other_width
            and other_x < x + width
            and y < other_y + other_height
            and other_y < y + height
        )

    def holds(self, other: "Box") -> bool:
        """Whether the other lies wholly inside."""
        return (
            self.x <= other.x
            and self.y <= other.y
            and other.right <= self.right
            and other.bottom <= self.bottom
        )

    @staticmethod
    def around(points: "tuple[XY, ...] | list[XY]") -> "Box":
        """The smallest one that holds every point."""
        xs = [point[0] for point in points]
        ys = [point[1] for point in points]
        return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))

    def united(self, other: "Box") -> "Box":
        """The smallest one that holds both."""
        return Box.around(
            [(self.x, self.y), (self.right, self.bottom), (other.x, other.y),
             (other.right, other.bottom)]
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class PlanOptions:
    """What is asked of a plan."""

    level: str | None = None
    """The level drawn solid; None: the cart's first."""
    overlays: frozenset[Overlay] = frozenset(USUAL_OVERLAYS)
    system: UnitSystem = UnitSystem.US
    case: str = ALL_OPEN
    """The operating case whose numbers stand at the taps."""
    empty_venue: bool = False
    """Keep a band for the venue's things while there are none yet."""
    isolated: bool = False
    """Leave out what stands on other levels, instead of drawing it faintly."""


@dataclass(frozen=True)
class BodyShape:
    """One item as it is drawn. What is worked out from it is kept on it (see `kept.once`)."""

    id: str
    name: str
    sub: str
    """The key number: amperes, volume, flow."""
    symbol: str
    level: str
    centre: XY
    width: float
    """Left to right of the un-turned body."""
    depth: float
    rotation: float
    """Degrees clockwise on the plan."""
    corners: tuple[XY, XY, XY, XY]
    ghosted: bool
    """Stands on another level than the one shown."""
    venue: bool
    severity: Severity | None
    """The worst that is said about it."""
    locked: bool = False
    details: str = ""
    """Lines that a view from near has room for."""
    near_sub: str = ""
    """What stands in the place of `sub` where a view from near has room for it."""

    @cached_property
    def box(self) -> Box:
        """The upright rectangle around it."""
        return Box.around(self.corners)

    @property
    def inner(self) -> Box:
        """An upright rectangle in it: all of it, or a square where it is turned askew."""
        if self.rotation % 90.0 == 0.0:
            return self.box
        side = min(self.width, self.depth) / 2.0**0.5
        x, y = self.centre
        return Box(x - side / 2, y - side / 2, side, side)


@dataclass(frozen=True)
class RunShape:
    """One wire or tube as it is drawn. What is worked out from it is kept on it."""

    id: str
    medium: Medium
    points: tuple[XY, ...]
    """Corners from end a to end b; of a curve: start, two handles, end."""
    curve: bool
    ends: tuple[str, str | None]
    """Item ids; None where the end hangs free, empty where the run goes on."""
    letter: str = ""
    """Of the circuit, which gives a wire its colour and dash; empty: on none."""
    bore_mm: float = 0.0
    flow: int = 0
    """1: from the first point to the last; -1: the other way; 0: not known."""
    still: bool = False
    """Nothing flows in it in the case that is shown; `flow` is that of another case."""
    hot: bool = False
    """Its water comes from a heater."""
    severity: Severity | None = None
    ghosted: bool = False
    """All of it is on levels that are not the shown one."""
    far: tuple[XY, ...] = ()
    """The part of it that is, where another part is on the shown level."""
    near: tuple[XY, ...] = ()
    """The other part; empty where there is no far one."""
    climb: XY | None = None
    """Where it goes from one level to another."""
    rises: bool = False
    """Whether the far part, or the second one, is the higher."""
    bend_mm: float = 26.0
    """Radius that its bends are drawn with, where there is room."""


@dataclass(frozen=True, slots=True)
class Note:
    """A short text that belongs to a place on the plan; where it goes is decided later."""

    key: str
    kind: Literal["circuit", "tap", "tag", "weight", "water"]
    text: str
    anchor: XY
    target: Box
    """What it speaks about: the body, or a point."""
    item: str = ""
    run: str = ""
    letter: str = ""
    """Of the circuit."""
    state: State = ""
    along: tuple[XY, ...] = ()
    """Other good places for its middle, best first."""


@dataclass(frozen=True, slots=True)
class Dimension:
    """A measured distance drawn beside what it measures."""

    a: XY
    b: XY
    offset: float
    """Of the dimension line from the points, to the right of the way from a to b."""
    text: str


@dataclass(frozen=True, slots=True)
class ZoneShape:
    """A hole or a place that must stay free."""

    name: str
    kind: str
    box: Box
    ghosted: bool
    round: bool = False
    words: tuple[str, ...] = ()
    """Lines under the name: what it is kept for, how much of its level is free."""


@dataclass(frozen=True, slots=True)
class LeafShape:
    """A folding leaf: where it stands out while it is up, and the strip it is while it hangs."""

    name: str
    box: Box
    hanging: Box
    hinge: tuple[XY, XY]
    up: bool


@dataclass(frozen=True, slots=True)
class LegShape:
    """A leg from above."""

    box: Box
    carries: bool


@dataclass(frozen=True, slots=True)
class CartShape:
    """The cart's own lines."""

    outline: tuple[XY, ...]
    """With its rounded corners, as short straight pieces."""
    casters: tuple[XY, ...]
    operator_side: str
    level: str
    box: Box
    """Around the outline, without what stands out from it."""
    leaves: tuple[LeafShape, ...] = ()
    legs: tuple[LegShape, ...] = ()
    panel: Box | None = None
    handle: Box | None = None
    handle_side: str = ""

    @property
    def whole(self) -> Box:
        """Around everything of the cart's, leaves and handle with it."""
        box = self.box
        for leaf in self.leaves:
            box = box.united(leaf.box)
        return box.united(self.handle) if self.handle is not None else box


@dataclass(frozen=True, slots=True)
class PlanPicture:
    """Everything to draw, ready: nobody computes while painting."""

    cart: CartShape
    bodies: tuple[BodyShape, ...] = ()
    runs: tuple[RunShape, ...] = ()
    notes: tuple[Note, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    zones: tuple[ZoneShape, ...] = ()
    venue: Box | None = None
    """Around everything of the venue's."""
    options: PlanOptions = field(default_factory=PlanOptions)
    kept: "Kept | None" = field(default=None, compare=False, repr=False)
    """What it lends to the next picture."""
    clearance: "ClearanceOverlay | None" = None
    weight: "WeightOverlay | None" = None

    @property
    def box(self) -> Box:
        """Around the cart, every body and every run, without labels."""
        box = self.cart.whole
        for body in self.bodies:
            box = box.united(body.box)
        for run in self.runs:
            box = box.united(Box.around(run.points))
        for overlay in (self.clearance, self.weight):
            around = overlay.box if overlay is not None else None
            box = box.united(around) if around is not None else box
        return box

    def body(self, item_id: str) -> BodyShape | None:
        """The body of an item, or None."""
        return next((body for body in self.bodies if body.id == item_id), None)
