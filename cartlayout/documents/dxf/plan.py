"""The plan of one level at its real size."""

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtGui import QPainterPath

from ...build import VENUE, Item
from ...build.cart_geometry import (
    Ring,
    extent,
    handle_ring,
    hanging_leaf_ring,
    leaf_ring,
    leg_ring,
    panel_ring,
    surface,
    zone_ring,
)
from ...network import Route
from ...units import show
from ..elevation.things import WHEEL_M
from ..lettering import LINE_SHARE
from ..packet.content import Job
from ..packet.passages import passages
from ..packet.sheets.plans import level_picture
from ..plan.ink import NAME_PT, PILL_PT, PT_MM, SUB_PT, TAG_PT, Ink
from ..plan.notes import tags
from ..plan.picture import XY, Box, PlanPicture, RunShape
from ..plan.shapes import silhouette_of, symbol_room
from ..sheet.drawing import BAR_MM, END_ROOM_MM, SIDE_ROOM_MM, PlanDrawing, content, draw_plan
from ..sheet.elements import SMALL, STRONG
from ..theme import LIGHT
from .bodies import attributes, plan_block
from .layers import (
    CART,
    HIDDEN,
    HOLES,
    PARTS,
    TEXT,
    ZONES,
    elsewhere_layer,
    equipment_layer,
    run_layer,
)
from .plot import Plot

MM = 1000.0
_TITLE_MM = 9.0
"""Under the drawing, for its title."""
_DIMENSION_MM = 8.0
_SAME_M = 1e-9
Way = Sequence[tuple[float, float]]


class LevelPlan:
    """A level's plan: how much room it takes, and putting it down."""

    def __init__(self, job: Job, level: str, denominator: float) -> None:
        self.job = job
        self.level = level
        self.picture = _as_routed(job, level_picture(job, level))
        need = content(self.picture)
        area = Box(
            0.0,
            0.0,
            need.width / denominator + 2 * SIDE_ROOM_MM + 0.1,
            need.height / denominator + 2 * END_ROOM_MM + BAR_MM + 0.1,
        )
        self.drawing: PlanDrawing = draw_plan(self.picture, area, denominator, LIGHT, job.system)
        self.front_m = extent(job.build.cart).front

    @property
    def room(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top in metres from the cart's front left corner."""
        box = self.drawing.box_on_plan(self.drawing.area)
        left, top = box.x / MM, self.front_m - box.y / MM
        below = _TITLE_MM * self.drawing.denominator / MM
        return left, top - box.height / MM - below, left + box.width / MM, top

    def put(self, plot: Plot) -> None:
        """Draw it."""
        build = self.job.build
        self._cart(plot)
        for item in build.items:
            if item.level in (self.level, VENUE):
                self._body(plot, item)
        for run in self.picture.runs:
            self._run(plot, run)
        self._texts(plot)
        self._measures(plot)

    def _up(self, at: XY) -> XY:
        """From the plan's metres, where y runs to the front, to the drawing's."""
        return at[0], self.front_m - at[1]

    def _ring(self, plot: Plot, ring: Ring, layer: str) -> None:
        if ring:
            plot.line([self._up(at) for at in ring], layer, closed=True)

    def _cart(self, plot: Plot) -> None:
        cart = self.job.build.cart
        self._ring(plot, surface(cart), CART)
        for leg in cart.legs:
            self._ring(plot, leg_ring(leg), PARTS)
        for leaf in cart.leaves:
            ring = leaf_ring(cart, leaf) if leaf.up else hanging_leaf_ring(cart, leaf)
            self._ring(plot, ring, PARTS)
        if cart.rear_panel is not None:
            self._ring(plot, panel_ring(cart, cart.rear_panel), PARTS)
        self._ring(plot, handle_ring(cart), PARTS)
        for caster in cart.casters:
            plot.circle(*self._up((caster.x.si, caster.y.si)), WHEEL_M / 2, HIDDEN)
        for zone in cart.zones:
            if zone.level == self.level:
                layer = HOLES if zone.kind == "opening" else ZONES
                self._ring(plot, zone_ring(zone), layer)
                x, y = zone.x.si + zone.width.si / 2, zone.y.si + zone.depth.si / 2
                plot.text(*self._up((x, y)), zone.name or zone.kind, SMALL, 0.5, layer)
        self._bored(plot)

    def _bored(self, plot: Plot) -> None:
        """Holes for the tubes of what is fed from below, as wide as the tube."""
        build = self.job.build
        for one in passages(build, self.job.analysis.network):
            if one.is_bored and one.level.name == self.level and one.thick_m:
                plot.circle(*self._up((one.x_m, one.y_m)), one.thick_m / 2, HOLES)

    def _body(self, plot: Plot, item: Item) -> None:
        x, y = self._up((item.x.si, item.y.si))
        layer = equipment_layer(item.level, item.level == VENUE)
        said = attributes(item, self.job.system)
        # On the plan angles are clockwise as seen, in the format they are not.
        block = plan_block(plot.doc, item, self._symbol(item.id), plot.unit, self.level)
        plot.insert(block, x, y, layer, -item.rotation, said)

    def _symbol(self, item_id: str) -> QPainterPath:
        """The lines of a body's symbol, clear of its name."""
        drawing = self.drawing
        name = next((one for one in drawing.names if one.body.id == item_id), None)
        if name is None:
            return QPainterPath()
        ink = Ink(LIGHT, PT_MM * drawing.denominator)
        room = symbol_room(name.body, ink, drawing.box_on_plan(name.box))
        return silhouette_of(name.body, room).lines

    def _run(self, plot: Plot, run: RunShape) -> None:
        route = self.job.analysis.network.routes.get(run.id)
        if route is None:
            points = [(x / MM, y / MM) for x, y in run.points]
            self._way(plot, run, points, run_layer(run.medium, run.letter, run.hot))
            return
        for points, is_here in parts_of(route, self.level):
            name = run_layer if is_here else elsewhere_layer
            self._way(plot, run, points, name(run.medium, run.letter, run.hot))
        if route.climb is not None:
            x, y, _ = route.points[route.climb]
            radius = 0.9 * plot.denominator / MM
            plot.circle(*self._up((x, y)), radius, run_layer(run.medium, run.letter, run.hot))

    def _way(self, plot: Plot, run: RunShape, points: Way, layer: str) -> None:
        flat = [points[0]]
        for at in points[1:]:
            if max(abs(at[0] - flat[-1][0]), abs(at[1] - flat[-1][1])) > _SAME_M:
                flat.append(at)
        if len(flat) > 1:
            plot.line([self._up(at) for at in flat], layer, run=run.id)

    def _texts(self, plot: Plot) -> None:
        drawing = self.drawing
        for name in drawing.names:
            sub = name.body.sub.split("\n") if name.body.sub else []
            lines = [(line, NAME_PT * PT_MM) for line in name.lines]
            self._lines(plot, name.box, [*lines, *((line, SUB_PT * PT_MM) for line in sub)])
            self._leader(plot, name.leader)
        for note in drawing.notes:
            if note.note.kind == "tag":
                plot.label(*self._on_plan(note.box.centre), note.note.text, TAG_PT * PT_MM)
            else:
                self._lines(plot, note.box, [(note.note.text, PILL_PT * PT_MM)])
            self._leader(plot, note.leader)
        left, bottom, _, _ = self.room
        plot.text(left, bottom + 3.0 * plot.denominator / MM, self.title, STRONG)

    @property
    def title(self) -> str:
        """Such as "Plan, counter, 36.0 in above the floor"."""
        level = self.job.build.cart.level(self.level)
        height_m = level.height.si if level is not None else 0.0
        height = show(height_m, "tape", self.job.system)
        side = self.job.build.cart.operator_side
        return f"Plan, {self.level}, {height} above the floor, operator at the {side}"

    def _lines(self, plot: Plot, box: Box, lines: Sequence[tuple[str, float]]) -> None:
        """Lines of a type size each, centred in a box of the sheet."""
        heights = [size * LINE_SHARE for _, size in lines]
        top = box.centre[1] - sum(heights) / 2
        for (text, size), height in zip(lines, heights, strict=True):
            plot.label(*self._on_plan((box.centre[0], top + height / 2)), text, size)
            top += height

    def _leader(self, plot: Plot, points: Sequence[XY]) -> None:
        if len(points) > 1:
            plot.line([self._on_plan(at) for at in points], TEXT)

    def _on_plan(self, at: XY) -> XY:
        """From the sheet's millimetres to the drawing's metres."""
        box = self.drawing.box_on_plan(Box(*at, 0.0, 0.0))
        return self._up((box.x / MM, box.y / MM))

    def _measures(self, plot: Plot) -> None:
        cart = self.job.build.cart
        whole = extent(cart)
        shape = self.picture.cart
        below = (shape.whole.bottom - shape.box.bottom) / plot.denominator
        beside = (shape.box.x - shape.whole.x) / plot.denominator
        corner = self._up((whole.left, whole.front))
        plot.measure(corner, self._up((whole.right, whole.front)), _DIMENSION_MM * 0.6 + below)
        plot.measure(
            corner, self._up((whole.left, whole.rear)), _DIMENSION_MM * 0.6 + beside, upright=True
        )


def parts_of(route: Route, level: str) -> list[tuple[list[tuple[float, float]], bool]]:
    """A route from above, parted where it changes levels: points, and whether on the level.

    What runs at the venue counts as on every level, as on the plan in the window.
    """
    points = [(x, y) for x, y, _ in route.points]
    here = [one in (level, VENUE) for one in route.levels]
    if route.climb is None or len(here) < 2:
        return [(points, not here or all(here))]
    return [(points[: route.climb + 1], here[0]), (points[route.climb :], here[1])]


def _as_routed(job: Job, picture: PlanPicture) -> PlanPicture:
    """Runs where they really go: neither side by side nor in curves, so that they can be measured.

    The letters of circuits stand on cords, so they move with them.
    """
    routes = job.analysis.network.routes
    runs = tuple(
        replace(
            run,
            points=tuple((x * MM, y * MM) for x, y, _ in routes[run.id].points),
            curve=False,
            near=(),
            far=(),
        )
        if run.id in routes
        else run
        for run in picture.runs
    )
    notes = tuple(note for note in picture.notes if note.kind != "tag")
    return replace(picture, runs=runs, notes=(*notes, *tags(runs)))
