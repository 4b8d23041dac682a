"""A sketch for the venue: the cart on its floor, and what the venue has to have where around it."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import Point, Polygon
from shapely.ops import nearest_points

from ...build import VENUE, Build, Drain, Item, Mains, Outlet
from ...build.cart_geometry import leaf_ring, surface
from ...build.geometry import XY, port_position
from ...units import UnitSystem, show
from ..lettering import Face
from ..plan.picture import Box
from ..sheet.drawing import scale_text, standard_scales
from ..sheet.elements import BODY, SMALL, BoxItem, Element, LineItem, PathItem, TextItem
from .content import Drawn, Job

_MARK = 5.0
_ROOM = 16.0
"""Around what is drawn, for marks and measures."""


@dataclass(frozen=True, slots=True)
class Place:
    """Something of the venue's, with the mark it has on the sketch."""

    mark: str
    at: XY
    """Metres on the plan."""
    colour: str
    """"circuit A" for an outlet, "water" or "drain"."""


def places(job: Job) -> tuple[Place, ...]:
    """Outlets by their circuit's letter, mains taps as W, drains as D, each where it joins."""
    return tuple(_places(job))


def _places(job: Job) -> Iterator[Place]:
    build = job.build
    letters = {
        key: circuit.letter for circuit in job.analysis.power.circuits for key in circuit.items
    }
    for item in build.items:
        if item.level != VENUE:
            continue
        if isinstance(item.specification.electrical, Outlet) and item.id in letters:
            letter = letters[item.id]
            yield Place(letter, _joins(build, item, "power"), f"circuit {letter}")
        elif isinstance(item.specification.water, Mains):
            yield Place("W", _joins(build, item, "water"), "water")
        elif isinstance(item.specification.water, Drain):
            yield Place("D", _joins(build, item, "drain"), "drain")


def _joins(build: Build, item: Item, medium: str) -> XY:
    port = next((one for one in item.specification.ports if one.medium == medium), None)
    if port is None:
        return item.x.si, item.y.si
    return port_position(build.cart, item, port)[:2]


def site_sketch(job: Job, room: Box) -> Drawn:
    """The sketch, to the largest usual scale that has room."""
    build = job.build
    rings = [
        surface(build.cart),
        *(leaf_ring(build.cart, one) for one in build.cart.leaves if one.up),
    ]
    found = places(job)
    extent = _extent([*(point for ring in rings for point in ring), *(one.at for one in found)])
    denominator = _scale(extent, room, job.system)
    site = _Site(extent, room, denominator)
    elements: list[Element] = []
    for ring in rings:
        elements.append(PathItem(tuple(map(site.on_paper, ring)), True, "panel", "ink", 0.9))
    elements += _cart_words(job, site, rings[0])
    body = Polygon(rings[0])
    taken: list[Box] = []
    for one in found:
        elements += _way(one, body, site, job.system, taken)
    elements += _marks(found, site)
    return Drawn(tuple(elements), scale=scale_text(denominator, job.system))


def _extent(points: Sequence[XY]) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def _scale(extent: Box, room: Box, system: UnitSystem) -> float:
    """The largest scale that rulers have at which everything fits."""
    wide, high = room.width - 2 * _ROOM, room.height - 2 * _ROOM
    scales = standard_scales(system)
    for one in scales:
        if extent.width * 1000.0 / one <= wide and extent.height * 1000.0 / one <= high:
            return one
    over = max(extent.width * 1000.0 / max(wide, 1.0), extent.height * 1000.0 / max(high, 1.0))
    return math.ceil(over / 100.0) * 100.0


@dataclass(frozen=True, slots=True)
class _Site:
    extent: Box
    room: Box
    denominator: float

    def on_paper(self, at: XY) -> XY:
        """Millimetres on the sheet."""
        per_m = 1000.0 / self.denominator
        left = self.room.x + (self.room.width - self.extent.width * per_m) / 2
        top = self.room.y + (self.room.height - self.extent.height * per_m) / 2
        return left + (at[0] - self.extent.x) * per_m, top + (at[1] - self.extent.y) * per_m


def _cart_words(job: Job, site: _Site, ring: Sequence[XY]) -> Iterator[Element]:
    size = _extent(ring)
    sides = [show(one, "distance", job.system) for one in (size.width, size.height)]
    xs, ys = zip(*map(site.on_paper, ring), strict=True)
    x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    yield TextItem(x, y + 1.0, f"Cart, {' × '.join(sides)}", BODY, 600, "ink", 0.5)
    side = job.build.cart.operator_side
    words = "operator stands here"
    if side in ("front", "rear"):
        edge = max(ys) + 4.0 if side == "front" else min(ys) - 2.0
        yield TextItem(x, edge, words, SMALL, 400, "ink_muted", 0.5)
        return
    edge = max(xs) + 4.0 if side == "right" else min(xs) - 4.0
    yield TextItem(edge, y, words, SMALL, 400, "ink_muted", 0.5, 90.0)


def _way(
    one: Place, body: Polygon, site: _Site, system: UnitSystem, taken: list[Box]
) -> Iterator[Element]:
    """A line to the nearest edge of the cart with its length, where that has room."""
    point = Point(one.at)
    away_m = body.distance(point)
    if away_m <= 0.0:
        return
    near, _ = nearest_points(body, point)
    a, b = site.on_paper(one.at), site.on_paper((near.x, near.y))
    yield LineItem(*a, *b, 0.5, "line_strong", (2.0, 1.5))
    text = TextItem(
        (a[0] + b[0]) / 2 + 1.2,
        (a[1] + b[1]) / 2 + Face(SMALL).cap / 2,
        show(away_m, "distance", system),
    )
    if not any(text.box.meets(box) for box in taken):
        taken.append(text.box)
        yield text


def _marks(found: Sequence[Place], site: _Site) -> Iterator[Element]:
    """A letter in a box; several in one place stand in a row, away from the cart's middle."""
    used: list[Box] = []
    for one in found:
        x, y = site.on_paper(one.at)
        box = Box(x - _MARK / 2, y - _MARK / 2, _MARK, _MARK)
        while any(box.meets(other) for other in used):
            box = Box(box.x + _MARK + 0.6, box.y, _MARK, _MARK)
        used.append(box)
        yield BoxItem(box, "#ffffff", one.colour, 1.0, 1.0)
        face = Face(SMALL, 600)
        yield TextItem(
            box.x + _MARK / 2, box.y + (_MARK + face.cap) / 2, one.mark, SMALL, 600, "ink", 0.5
        )
