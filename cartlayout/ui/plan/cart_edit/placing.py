"""Putting a new part on the cart: click where it goes, or drag out how large it is."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build import Build
from ....build.cart_edits import (
    add,
    insert_corner,
    new_caster,
    new_handle,
    new_leaf,
    new_leg,
    new_panel,
    new_zone,
    settled,
    with_cart,
)
from ....build.cart_geometry import extent, side_span
from ....build.cart_moves import nearest_side
from ....build.edits import EditError
from ....build.geometry import XY, outline
from ....units import UnitSystem, show
from ...commands import sentence
from ...selection import Selection
from ..gestures.base import NOTHING, Cursor, Gesture, Trace, free_of_snap
from ..handles import way_to
from ..snapping import Box, grid_step_m

if TYPE_CHECKING:
    from ..view import PlanView

PLACEABLE: dict[str, tuple[str, str]] = {
    "opening": ("hole", "Drag out the hole on the plan, or click for one of usual size"),
    "no-go": ("no-go zone", "Drag out where nothing may stand, or click for a usual size"),
    "reserved": ("reserved zone", "Drag out the room to keep free, or click for a usual size"),
    "caster": ("caster", "Click where the caster goes"),
    "leg": ("leg", "Click where the leg goes"),
    "leaf": ("leaf", "Click near the side where the leaf hangs, or drag out its size"),
    "panel": ("panel", "Click near the side where the panel stands"),
    "handle": ("handle", "Click near the side where the handle is"),
    "corner": ("corner", "Click on the outline where the corner goes"),
}
"""What can be placed: its name, and what to do."""
LEAST_DRAG_M = 0.01


def usual_size_m(kind: str, system: UnitSystem) -> tuple[float, float]:
    """Width and depth of what a click places."""
    inch = 0.0254
    sizes = {
        "opening": (3 * inch, 3 * inch) if system is UnitSystem.US else (0.08, 0.08),
        "leaf": (18 * inch, 12 * inch) if system is UnitSystem.US else (0.45, 0.3),
    }
    usual = (12 * inch, 8 * inch) if system is UnitSystem.US else (0.3, 0.2)
    return sizes.get(kind, usual)


def on_grid(at: XY, system: UnitSystem) -> XY:
    """The nearest crossing of the grid."""
    step = grid_step_m(system)
    return round(at[0] / step) * step, round(at[1] / step) * step


def placed(
    build: Build, kind: str, level: str, box: Box, system: UnitSystem, clicked: bool
) -> tuple[Build, str]:
    """The build with a new part, and the part's name.

    Args:
        build: before.
        kind: a key of PLACEABLE.
        level: of zones.
        box: what was dragged out, metres; where it was clicked, a point.
        system: whose round sizes are usual.
        clicked: a click, not a drag: the part gets its usual size.

    Raises:
        EditError: it cannot be there.
    """
    at = (box.middle_x, box.middle_y)
    if kind in ("opening", "no-go", "reserved"):
        if build.cart.level(level) is None:
            raise EditError("choose one of the cart's levels first; the venue has no zones")
        return add(
            build, new_zone(build, kind, level, _zone_box(build, kind, box, system, clicked))
        )
    if kind == "leaf":
        return _leaf(build, box, system, clicked)
    if kind == "corner":
        return _corner(build, at)
    side = nearest_side(extent(build.cart), at)
    makers: dict[str, Callable[[], tuple[Build, str]]] = {
        "caster": lambda: add(build, new_caster(build, *at)),
        "leg": lambda: add(build, new_leg(build, *at)),
        "panel": lambda: add(build, new_panel(build, side)),
        "handle": lambda: add(build, new_handle(build, side)),
    }
    return makers[kind]()


def _zone_box(
    build: Build, kind: str, box: Box, system: UnitSystem, clicked: bool
) -> tuple[float, float, float, float]:
    if not clicked:
        return box
    width, depth = usual_size_m(kind, system)
    whole = extent(build.cart)
    width, depth = min(width, whole.width), min(depth, whole.depth)
    left = min(max(box.middle_x - width / 2, whole.left), whole.right - width)
    rear = min(max(box.middle_y - depth / 2, whole.rear), whole.front - depth)
    left, rear = on_grid((left, rear), system)
    return left, rear, left + width, rear + depth


def _leaf(build: Build, box: Box, system: UnitSystem, clicked: bool) -> tuple[Build, str]:
    whole = extent(build.cart)
    side = nearest_side(whole, (box.middle_x, box.middle_y))
    span = side_span(build.cart, side)
    if span is None:
        raise EditError(f"the cart has no straight {side} side for a leaf to hang on")
    level = side in ("rear", "front")
    base = whole.left if level else whole.rear
    length, depth = usual_size_m("leaf", system)
    low, high = (box.left, box.right) if level else (box.top, box.bottom)
    if clicked:  # over the whole side, which is what a leaf mostly is
        low, high = span.start, span.end
    else:
        reaches = {
            "rear": whole.rear - box.top,
            "front": box.bottom - whole.front,
            "left": whole.left - box.left,
            "right": box.right - whole.right,
        }
        depth = reaches[side] if reaches[side] > LEAST_DRAG_M else depth
    low, high = max(low, span.start), min(high, span.end)
    if high - low < LEAST_DRAG_M:
        low = min(max(low, span.start), span.end - min(length, span.end - span.start))
        high = min(low + length, span.end)
    return add(build, new_leaf(build, side, low - base, high - low, depth))


def _corner(build: Build, at: XY) -> tuple[Build, str]:
    points = outline(build.cart)
    edges = list(zip(points, (*points[1:], points[0]), strict=True))
    nearest = min(range(len(edges)), key=lambda one: way_to(edges[one], at))
    made = with_cart(build, insert_corner(build.cart, nearest, *at))
    return made, f"corner:{nearest + 1}"


class PlaceGesture(Gesture):
    """A rectangle is dragged out, or a click puts one of usual size."""

    kind = "drop"
    cursor = Cursor.CrossCursor

    def __init__(self, view: "PlanView", start: XY, what: str) -> None:
        super().__init__(view)
        self.what = what
        self.start = start
        self.box: Box | None = None
        self.free = False

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Show how large it will be."""
        system = self.session.system
        self.free = free_of_snap(modifiers) or not self.session.snapping
        ends = (self.start, at) if self.free else (on_grid(self.start, system), on_grid(at, system))
        self.box = Box.around(ends)
        self.view.trace(Trace(band=self.box))
        width, depth = self.box.right - self.box.left, self.box.bottom - self.box.top
        first = show(width, "length", system).split(" ")[0]
        self.view.say(f"{first} × {show(depth, 'length', system)}")

    def finished(self) -> None:
        """One undo step."""
        self.view.trace(NOTHING)
        box = self.box
        small = box is None or min(box.right - box.left, box.bottom - box.top) < LEAST_DRAG_M
        if box is None or small:
            at = self.start if self.free else on_grid(self.start, self.session.system)
            box = Box(*at, *at)
        place(self.view, self.what, box, clicked=small)

    def cancelled(self) -> None:
        """Nothing is placed."""
        self.view.trace(NOTHING)
        self.session.cancel_preview()


def place(view: "PlanView", what: str, box: Box, *, clicked: bool) -> None:
    """Add a part as one undo step and select it; say why where it cannot be."""
    session = view.session
    try:
        build, part = placed(session.build, what, session.level, box, session.system, clicked)
    except EditError as error:
        session.tell(sentence(str(error)))
        return
    if build == session.build:
        view.cart_edit.place_nothing()
        session.select(Selection(parts=(part,)))
        session.tell(f"The cart has its {PLACEABLE[what][0]} there already.")
        return
    build, by = settled(build)
    view.cart_edit.remember_shift(session.build, build, by)
    view.cart_edit.place_nothing()
    session.apply(f"Add {PLACEABLE[what][0]}", build, select=Selection(parts=(part,)))
