"""What the body side computes. SI throughout: kilograms, metres, newtons; angles in degrees."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from .frame import Frame
    from .solids import Solid
    from .support import Support

XY = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Clash:
    """Two bodies, or a body and an edge, a zone or a clearance, that are in each other's way."""

    code: str
    """"overlap", "overhang", "height", "zone-no-go", "clearance" ..."""
    items: tuple[str, ...]
    area_m2: float
    depth_m: float
    """How far one would have to move."""
    detail: str = ""
    side: str = ""
    """Of a clearance: the side of the un-turned body, or "top"."""
    purpose: str = ""
    """Of a clearance: what the space is for."""
    need_m: float = 0.0
    """Of a clearance: how much space is asked for."""


@dataclass(frozen=True, slots=True)
class Fill:
    """How full one vessel is."""

    item: str
    share: float


@dataclass(frozen=True, slots=True)
class Balance:
    """Mass and where it sits, in one state of the vessels."""

    mass_kg: float
    x_m: float
    y_m: float
    z_m: float
    tilt_deg: float | None
    """Angle at which the cart would go over its nearest edge of support; None without one."""
    edge: str = ""
    caster_kg: tuple[float, ...] = ()
    vessels: tuple[str, ...] = ()
    """Item ids of what may be full or empty. Left out on the path of a service."""
    shares: tuple[float, ...] = ()
    """How full each of them is."""

    @property
    def fills(self) -> tuple[Fill, ...]:
        """How full each vessel is, by name."""
        return tuple(
            Fill(item, share) for item, share in zip(self.vessels, self.shares, strict=True)
        )


@dataclass(frozen=True, slots=True)
class EdgeTilt:
    """How far the cart leans over one edge of its support before it goes over."""

    edge: str
    a: XY
    b: XY
    """The two feet of the edge."""
    full_deg: float
    empty_deg: float
    worst: Balance
    """In the mix of full and empty vessels that is worst for this edge."""

    @property
    def worst_deg(self) -> float:
        """The least angle over all mixes."""
        return self.worst.tilt_deg if self.worst.tilt_deg is not None else 0.0


@dataclass(frozen=True, slots=True)
class FootLoad:
    """What one caster, or one leg that carries, has to bear if all give alike."""

    x_m: float
    y_m: float
    rating_kg: float | None
    full_kg: float
    empty_kg: float
    worst_kg: float
    """In the mix of vessels that is worst for it."""
    least_kg: float
    """In the mix that takes most off it; below nothing: it lifts off the floor."""


@dataclass(frozen=True, slots=True)
class Feet:
    """What the cart stands on, and how much each is asked to bear."""

    loads: tuple[FootLoad, ...]
    casters: bool
    """They are wheels; False: legs."""
    thirds_kg: float
    """Three-point rule: cart and load over three, for four as well."""
    one_less_kg: float
    """Four-point rule: cart and load over one less than their number."""


@dataclass(frozen=True, slots=True)
class Push:
    """Force to move the cart, with everything on it that travels, on one way."""

    where: str
    """"level", or what has the grade."""
    mass_kg: float
    grade: float
    """Rise over the length of the slope: the sine of its angle."""
    slope_n: float
    """The weight along the slope."""
    start_n: float
    """To set it going, the slope included."""
    roll_n: float
    """To keep it going."""
    length_m: float | None = None


@dataclass(frozen=True, slots=True)
class PassageCheck:
    """One number of a passage against what is there."""

    what: str
    value: float
    limit: float
    dimension: str
    holds: bool
    source: str = ""
    stops: bool = True
    """It is in the way; False: a thing to take care of."""


@dataclass(frozen=True, slots=True)
class PassageResult:
    """Whether the cart gets through, straight on."""

    name: str
    kind: str
    way: Literal["narrow side first", "long side first"]
    checks: tuple[PassageCheck, ...]
    push: Push | None = None
    """On a ramp, or on a vehicle's ramp."""

    @property
    def passes(self) -> bool:
        """Nothing is in the way."""
        return all(check.holds for check in self.checks if check.stops)

    @property
    def worst(self) -> PassageCheck | None:
        """What does not hold, what stops first; else what is closest to its limit."""
        wrong = [check for check in self.checks if not check.holds]
        if wrong:
            return min(wrong, key=lambda check: not check.stops)
        return max(
            self.checks, key=lambda one: one.value / one.limit if one.limit else 0.0, default=None
        )


@dataclass(frozen=True, slots=True)
class Travel:
    """The cart as it is moved: leaves folded, what is carried in by hand left off."""

    wide_m: float
    """Left to right, handle and hanging leaves included."""
    deep_m: float
    """Rear to front, likewise."""
    high_m: float
    mass_kg: float
    tallest: str
    """Item id of what sticks up highest; empty: the cart itself."""
    tilt: EdgeTilt | None = None
    """The edge it goes over first as it is moved, in the worst mix of full and empty vessels."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How far in from the operator's edge hands have to go."""

    item: str
    depth_m: float
    hand: XY
    """Where they go."""
    edge: XY
    """Where the operator stands."""


@dataclass(frozen=True, slots=True)
class Drip:
    """Water over something that others plug into."""

    wet: str
    live: str
    drop_m: float
    """From the lowest water to the top of what lies below."""
    shield: str = ""
    """The level whose surface lies between the two without a hole; empty: nothing does."""
    places: tuple[XY, ...] = ()
    """Corners of where it may fall."""


@dataclass(frozen=True, slots=True)
class LevelRoom:
    """What is left of a level."""

    level: str
    area_m2: float
    taken_m2: float
    """By bodies, legs, holes and places where nothing may stand."""
    reserved_m2: float
    """Free, but kept for something."""
    volume_m3: float
    free_m3: float
    """Up to its clear height, the reserved part included; tubes and cords are not taken off."""

    @property
    def free_share(self) -> float:
        """Of its area, what nothing stands on; the reserved part is free."""
        return max(0.0, 1.0 - self.taken_m2 / self.area_m2) if self.area_m2 > 0 else 0.0

    @property
    def open_share(self) -> float:
        """Of its area, what is neither taken nor kept free."""
        if self.area_m2 <= 0:
            return 0.0
        return max(0.0, 1.0 - (self.taken_m2 + self.reserved_m2) / self.area_m2)


@dataclass(frozen=True, slots=True)
class Lift:
    """Something that has to be lifted in one piece."""

    name: str
    items: tuple[str, ...]
    mass_kg: float
    often: bool
    """Carried at every service: a jug, a lift-out module, what does not travel on the cart."""
    full: bool = False
    """With the water in it."""


@dataclass(frozen=True, slots=True)
class LeafLoad:
    """What stands on a raised leaf."""

    leaf: str
    mass_kg: float
    rating_kg: float | None
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BodyResult:
    """Everything the body side says about a build."""

    clashes: tuple[Clash, ...] = ()
    full: Balance | None = None
    empty: Balance | None = None
    worst: Balance | None = None
    """The mix of full and empty vessels in which the cart goes over soonest."""
    now: Balance | None = None
    """As drawn: tanks as full as they are said to be, boilers full."""
    path: tuple[Balance, ...] = ()
    """Over a service: fresh tanks full and waste tanks empty, to what the service plan leaves."""
    tilts: tuple[EdgeTilt, ...] = ()
    """One for each edge of the support, the worst first."""
    feet: Feet | None = None
    pushes: tuple[Push, ...] = ()
    """On the level, then on the steepest ground on the way."""
    travel: Travel | None = None
    passages: tuple[PassageResult, ...] = ()
    reaches: tuple[Reach, ...] = ()
    drips: tuple[Drip, ...] = ()
    rooms: tuple[LevelRoom, ...] = ()
    lifts: tuple[Lift, ...] = ()
    """The heaviest first."""
    leaves: tuple[LeafLoad, ...] = ()
    counter: str = ""
    """Name of the level that is the counter."""
    counter_m: float = 0.0
    support: "Support | None" = None
    """Feet, and the edges that the cart would go over."""
    frame: "Frame | None" = None
    """Lent to the next result."""
    solids: "dict[str, Solid]" = field(default_factory=dict)
    """Item id to its prism, lent to the next result."""
    shared: dict[str, tuple[tuple[Any, ...], Any]] = field(default_factory=dict)
    """Parts of the answer with what they were made from, lent to the next result."""
    reads: tuple[Any, ...] = ()
    """The parts of the Build this was made from, compared by identity for re-use."""

    def room(self, level: str) -> LevelRoom | None:
        """What is left of a level."""
        return next((room for room in self.rooms if room.level == level), None)
