"""Mass and its centre, with vessels full, empty, as a service leaves them, and in the worst mix."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from ..build import Build, Service
from .frame import Frame
from .results import Balance, EdgeTilt, Feet, FootLoad
from .solids import Solid
from .support import Edge, Support
from .weights import Contents

Columns = npt.NDArray[Any]
MANY = 32
"""Vessels from which on numpy is quicker than a loop."""
STEPS = 8
"""Of the path that the centre takes over a service."""


@dataclass(frozen=True, slots=True)
class Masses:
    """Everything that has weight: what is always there, and what may be in it or not."""

    kg: float
    x: float
    """Moments: mass times place, summed."""
    y: float
    z: float
    contents: tuple[Contents, ...]
    vessels: tuple[str, ...]
    """Item ids of the contents."""
    columns: Columns | None
    """Mass of each vessel's contents, its moments when full, and that of its rise; only where
    they are so many that sums over columns are quicker than a loop."""

    def at(self, shares: Iterable[float]) -> tuple[float, float, float, float]:
        """Mass and its three moments with the vessels filled so."""
        kg, x, y, z = self.kg, self.x, self.y, self.z
        if self.columns is not None:
            share_of = np.fromiter(shares, float, len(self.contents))
            more = self.columns @ share_of
            level = self.columns[4] @ (share_of * (1.0 - share_of))  # lower while not full
            return (
                kg + float(more[0]),
                x + float(more[1]),
                y + float(more[2]),
                z + float(more[3]) - float(level),
            )
        for one, share in zip(self.contents, shares, strict=True):
            part = one.full_kg * share
            kg += part
            x += part * one.x_m
            y += part * one.y_m
            z += part * one.z_m(share)
        return kg, x, y, z


def gather(build: Build, frame: Frame, bodies: Iterable[Solid], *, folded: bool = False) -> Masses:
    """Weigh the cart, its leaves and the bodies on it; `folded`: with all leaves hanging down."""
    kg = x = y = z = 0.0
    for _, part, part_x, part_y, part_z in cart_parts(build, frame, folded):
        kg += part
        x += part * part_x
        y += part * part_y
        z += part * part_z
    contents = []
    for body in bodies:
        load = body.load
        part = load.empty_kg
        kg += part
        x += part * load.x_m
        y += part * load.y_m
        z += part * load.z_m
        if load.contents is not None:
            contents.append(load.contents)
    columns = _columns(contents) if len(contents) > MANY else None
    vessels = tuple(one.item for one in contents)
    return Masses(kg, x, y, z, tuple(contents), vessels, columns)


def _columns(contents: list[Contents]) -> Columns:
    rows = [
        (one.full_kg, one.x_m, one.y_m, one.z_m(1.0), one.z_m(1.0) - one.z_m(0.0))
        for one in contents
    ]
    made = np.array(rows, float).T
    made[1:] *= made[0]
    return made


def cart_parts(
    build: Build, frame: Frame, folded: bool
) -> Iterable[tuple[str, float, float, float, float]]:
    """What of the cart itself has weight: name, mass [kg] and place [m]."""
    cart = build.cart
    if cart.empty_mass.si > 0:
        middle = frame.outline.centroid if frame.outline is not None else None
        x, y = (middle.x, middle.y) if middle is not None else (0.0, 0.0)
        yield "the cart itself", cart.empty_mass.si, x, y, cart.centre_of_mass_height.si
    for flap in frame.flaps:
        leaf = flap.leaf
        if leaf.mass.si > 0:
            middle, up = flap.shape.centroid, leaf.up and not folded
            drop_m = 0.0 if up else leaf.depth.si / 2
            x, y = (middle.x, middle.y) if up else _hanging_at(flap.shape.bounds, leaf.side)
            yield leaf.name, leaf.mass.si, x, y, frame.counter_m - drop_m


def _hanging_at(bounds: tuple[float, ...], side: str) -> tuple[float, float]:
    """Where a leaf that is folded down hangs: at its hinge."""
    x1, y1, x2, y2 = bounds
    return {
        "left": (x2, (y1 + y2) / 2),
        "right": (x1, (y1 + y2) / 2),
        "rear": ((x1 + x2) / 2, y2),
        "front": ((x1 + x2) / 2, y1),
    }[side]


def balance(masses: Masses, support: Support, shares: tuple[float, ...]) -> Balance | None:
    """Weigh with the vessels filled to these shares; None where nothing has any mass."""
    kg, x, y, z = masses.at(shares)
    if kg <= 0:
        return None
    return replace(_at(support, kg, x / kg, y / kg, z / kg), vessels=masses.vessels, shares=shares)


def _at(support: Support, kg: float, x_m: float, y_m: float, z_m: float) -> Balance:
    tilt_deg, edge = _least_tilt(support.edges, x_m, y_m, z_m)
    loads = tuple(kg * (a + b * x_m + c * y_m) for a, b, c in support.planes)
    return Balance(kg, x_m, y_m, z_m, tilt_deg, edge, loads)


def _least_tilt(
    edges: tuple[Edge, ...], x_m: float, y_m: float, z_m: float
) -> tuple[float | None, str]:
    """Static tilt over the nearest edge: the arc tangent of distance over height."""
    if not edges or z_m <= 0:
        return None, ""
    nearest = min(edges, key=lambda edge: edge.distance_m(x_m, y_m))
    return math.degrees(math.atan2(nearest.distance_m(x_m, y_m), z_m)), nearest.name


def shares_of(masses: Masses, full: bool) -> tuple[float, ...]:
    """Every vessel full, or every one empty."""
    return (1.0 if full else 0.0,) * len(masses.contents)


def path(masses: Masses, support: Support, service: Service) -> tuple[Balance, ...]:
    """The centre over a service: fresh water is drawn, part of it comes back as waste.

    The part is that of the service plan. Fresh tanks fall together, waste
    tanks rise together; boilers stay full.
    """
    sums = {sort: _Sum() for sort in ("fresh", "waste", "other")}
    for one in masses.contents:
        sums[one.sort].add(one)
    fresh_kg, waste_kg = sums["fresh"].kg, sums["waste"].kg
    if fresh_kg <= 0:
        return ()
    drawn = service.water_per_drink.si + service.rinse_per_drink.si
    returned = service.rinse_per_drink.si / drawn if drawn > 0 else 1.0
    found = []
    for step in range(STEPS + 1):
        used = step / STEPS
        waste = min(1.0, used * fresh_kg * returned / waste_kg) if waste_kg > 0 else 0.0
        parts = [
            (masses.kg, masses.x, masses.y, masses.z),
            sums["fresh"].at(1.0 - used),
            sums["waste"].at(waste),
            sums["other"].at(1.0),
        ]
        kg, x, y, z = (sum(part[axis] for part in parts) for axis in range(4))
        found.append(_at(support, kg, x / kg, y / kg, z / kg))
    return tuple(found)


class _Sum:
    """Vessels of one sort that fill alike: their moments as polynomials of the share."""

    def __init__(self) -> None:
        self.kg = self.x = self.y = self.z = self.rise = 0.0

    def add(self, one: Contents) -> None:
        """Take in one more."""
        self.kg += one.full_kg
        self.x += one.full_kg * one.x_m
        self.y += one.full_kg * one.y_m
        self.z += one.full_kg * one.z_m(0.0)
        self.rise += one.full_kg * (one.z_m(1.0) - one.z_m(0.0))

    def at(self, share: float) -> tuple[float, float, float, float]:
        """Mass and moments at a share."""
        return (
            self.kg * share,
            self.x * share,
            self.y * share,
            self.z * share + self.rise * share * share,
        )


def edge_tilts(masses: Masses, support: Support) -> tuple[EdgeTilt, ...]:
    """Each edge with vessels full, empty and in its own worst mix; the worst edge first."""
    found = []
    for edge in support.edges:
        worst = balance(masses, support, worst_mix(masses, edge))
        if worst is None or worst.z_m <= 0:
            return ()
        worst = _over(worst, edge)
        full, empty = (_angle(masses, edge, shares_of(masses, state)) for state in (True, False))
        found.append(EdgeTilt(edge.name, edge.a, edge.b, full, empty, worst))
    return tuple(sorted(found, key=lambda one: one.worst_deg))


def _over(state: Balance, edge: Edge) -> Balance:
    """The same state, with its angle over one edge."""
    angle = math.degrees(math.atan2(edge.distance_m(state.x_m, state.y_m), state.z_m))
    return replace(state, tilt_deg=angle, edge=edge.name)


def _angle(masses: Masses, edge: Edge, shares: tuple[float, ...]) -> float:
    kg, x, y, z = masses.at(shares)
    if kg <= 0:  # an empty cart without a mass of its own
        return 90.0
    return math.degrees(math.atan2(edge.distance_m(x / kg, y / kg), z / kg))


def worst_mix(masses: Masses, edge: Edge) -> tuple[float, ...]:
    """Which vessels are full when the cart goes over an edge soonest.

    The tangent of the angle is a ratio of sums over the vessels. Of such a
    ratio the least over all fills has every vessel full or empty, and
    Dinkelbach's iteration finds it exactly: with the ratio r so far, a vessel
    is full where its distance less r times its height is negative.
    """
    best = shares = shares_of(masses, full=True)
    ratio = math.inf
    for _ in range(len(masses.contents) + 2):
        kg, x, y, z = masses.at(shares)
        if kg <= 0 or z <= 0:
            return shares
        now = edge.distance_m(x / kg, y / kg) / (z / kg)
        if now >= ratio - 1e-12:
            break
        best, ratio = shares, now
        shares = _worse_full(masses, edge, ratio)
    return best


def _worse_full(masses: Masses, edge: Edge, ratio: float) -> tuple[float, ...]:
    """1 for each vessel that brings the cart nearer to going over when it is full."""
    if masses.columns is not None:
        kg, x, y, z, _ = masses.columns
        (ax, ay), (nx, ny) = edge.a, edge.inwards
        side = (x - ax * kg) * nx + (y - ay * kg) * ny - ratio * z
        return tuple((side < 0).astype(float).tolist())
    return tuple(
        1.0 if edge.distance_m(one.x_m, one.y_m) - ratio * one.z_m(1.0) < 0 else 0.0
        for one in masses.contents
    )


def feet(masses: Masses, support: Support) -> Feet | None:
    """What each foot bears: full, empty, and in the mixes that are worst and least for it."""
    if not support.planes:
        return None
    most_kg = masses.at(shares_of(masses, full=True))[0]
    loads = []
    for (x, y), rating, plane in zip(support.feet, support.ratings_kg, support.planes, strict=True):
        a, b, c = plane
        always = a * masses.kg + b * masses.x + c * masses.y
        parts = parts_on(masses, plane)
        loads.append(
            FootLoad(
                x_m=x,
                y_m=y,
                rating_kg=rating,
                full_kg=always + sum(parts),
                empty_kg=always,
                worst_kg=always + sum(part for part in parts if part > 0),
                least_kg=always + sum(part for part in parts if part < 0),
            )
        )
    return Feet(
        loads=tuple(loads),
        casters=support.casters,
        thirds_kg=most_kg / 3,
        one_less_kg=most_kg / (len(loads) - 1),
    )


def parts_on(masses: Masses, plane: tuple[float, float, float]) -> list[float]:
    """What one foot bears of each vessel's contents [kg]."""
    a, b, c = plane
    if masses.columns is not None:
        kg, x, y, _, _ = masses.columns
        found: list[float] = (a * kg + b * x + c * y).tolist()
        return found
    return [one.full_kg * (a + b * one.x_m + c * one.y_m) for one in masses.contents]
