"""The state of the plan in which the cart itself is edited: marks, bar, mouse."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF, Qt
from PySide6.QtWidgets import QMenu

from ....build import Build, Leaf
from ....build.cart_geometry import extent
from ....build.cart_parts import name_of, part_of
from ....build.geometry import XY
from ....units import capitalised
from ... import cart_commands as commands
from ...selection import NOTHING, Selection
from ..gestures import Gesture
from ..snapping import Box
from .band import CartBandGesture
from .gesture import CartGesture, cursor_of
from .grips import Grip, box_of_part, grip_at
from .layer import CartLayer
from .menu import make_cart_menu
from .placing import PLACEABLE, PlaceGesture, place
from .speech import parts_in_words
from .strip import make_strip

if TYPE_CHECKING:
    from ..view import PlanView

Z_CART = 75
_KEPT_SHIFTS = 200


class CartEdit(QObject):
    """Holds the marks and the bar, and answers the mouse while the cart is edited."""

    def __init__(self, view: "PlanView") -> None:
        super().__init__(view)
        self.view = view
        self.session = view.session
        self.layer = CartLayer(view.session.theme, Z_CART)
        view.plan.addItem(self.layer)
        self.strip = make_strip(view)
        self.strip.chosen.connect(self.place_next)
        self.strip.done.connect(self.leave)
        self.placing = ""
        """What the next click or drag on the plan adds; empty: nothing."""
        self.hovered: Grip | None = None
        self._shifts: list[tuple[Build, Build, XY]] = []
        self._committed = self.session.build
        self.session.editing_cart_changed.connect(self._changed)
        self.session.build_changed.connect(self._build_changed)
        self.session.document_changed.connect(self._document_changed)

    @property
    def on(self) -> bool:
        """Whether the cart is edited now."""
        return self.session.editing_cart

    # Coming and going

    def enter(self) -> None:
        """Edit the cart."""
        self.session.set_editing_cart(True)
        if self.session.build.cart.level(self.session.level) is None:
            levels = self.session.build.cart.levels
            if levels:
                self.session.set_level(levels[0].name)

    def leave(self) -> None:
        """Go back to what stands on the cart."""
        self.view.cancel_gesture()
        self.session.set_editing_cart(False)
        self.view.setFocus()

    def escape(self) -> None:
        """One step out: nothing to place, nothing selected, no more editing."""
        if self.placing:
            self.place_nothing()
        elif self.session.selection.parts:
            self.session.select(NOTHING)
        else:
            self.leave()

    def _changed(self, on: bool) -> None:
        self.place_nothing()
        self.hovered = None
        self.layer.on = on
        self.layer.setVisible(on)
        self.strip.setVisible(on)
        if on:
            self.strip.settle()
            self.session.tell(
                "Drag edges, corners and parts of the cart. Escape when you are done."
            )
        self.view.mouse.forget()
        self.view.update_handles()
        self.view.mouse.update_cursor()

    # Placing

    def place_next(self, what: str) -> None:
        """Let the next click or drag add something; the same once more gives it up."""
        if not self.on:
            self.enter()
        if self.placing == what:
            self.place_nothing()
            return
        self.placing = what
        self.strip.show_placing(what)
        self.session.tell(f"{PLACEABLE[what][1]}; Enter puts it in the middle.")
        self.view.setFocus()
        self.view.mouse.update_cursor()

    def place_nothing(self) -> None:
        """Give up what was to be placed."""
        self.placing = ""
        self.strip.show_placing("")
        self.view.mouse.update_cursor()

    def place_in_middle(self) -> None:
        """Add what is to be placed without the mouse."""
        whole = extent(self.session.build.cart)
        x, y = (whole.left + whole.right) / 2, (whole.rear + whole.front) / 2
        if self.placing in ("leaf", "handle"):
            x, y = whole.right, (whole.rear + whole.front) / 2
        elif self.placing == "panel":
            y = whole.rear
        place(self.view, self.placing, Box(x, y, x, y), clicked=True)

    # Mouse

    def hover(self) -> None:
        """See what is under the mouse."""
        at = self._mouse()
        found = None if self.placing else self._grip(at)
        if found != self.hovered:
            self.hovered = found
            self.view.viewport().setToolTip(self._tip(found))
            self.refresh()

    def press(self, adds: bool) -> None:
        """Select what is pressed."""
        at = self._mouse()
        grip = None if self.placing else self._grip(at)
        if grip is None or grip.sort == "size":
            return
        chosen = self.session.selection.parts
        if adds:
            rest = tuple(one for one in chosen if one != grip.part)
            self.session.select(
                Selection(parts=rest if grip.part in chosen else (*chosen, grip.part))
            )
        elif grip.part not in chosen:
            self.session.select(Selection(parts=(grip.part,)))

    def click(self, adds: bool) -> None:
        """A press that became no drag."""
        at = self._mouse()
        if self.placing:
            gesture = PlaceGesture(self.view, at, self.placing)
            gesture.free = not self.session.snapping
            gesture.finished()
            return
        grip = self._grip(at)
        if grip is None and not adds:
            self.session.select(NOTHING)
        elif grip is not None and not adds and len(self.session.selection.parts) > 1:
            self.session.select(Selection(parts=(grip.part,)))

    def double_click(self) -> None:
        """On an edge: a corner. On a leaf: fold it. On another part: to its fields."""
        at = self._mouse()
        grip = self._grip(at)
        if grip is None:
            return
        if grip.sort == "edge":
            place(self.view, "corner", Box(*at, *at), clicked=True)
            return
        self.session.select(Selection(parts=(grip.part,)))
        if isinstance(part_of(self.session.build.cart, grip.part), Leaf):
            commands.fold(self.session)
        else:
            self.session.fields_requested.emit(self.session.selection)

    def gesture(self, at: XY, adds: bool) -> Gesture:
        """The drag that begins here."""
        if self.placing:
            return PlaceGesture(self.view, at, self.placing)
        grip = self._grip(at)
        if grip is None:
            return CartBandGesture(self.view, at, adds=adds)
        return CartGesture(self.view, at, grip, self.session.selection.parts)

    def cursor(self) -> Qt.CursorShape:
        """The shape that says what a press would do."""
        return Qt.CursorShape.CrossCursor if self.placing else cursor_of(self.hovered)

    def menu(self, at: XY) -> QMenu:
        """The context menu at a place of the plan."""
        return make_cart_menu(self.view, at, self.session.selection.parts)

    def middle_of_selection(self) -> QPointF:
        """Where a menu opens that was asked for by key."""
        for part in self.session.selection.parts:
            box = box_of_part(self.session.build.cart, part)
            if box is not None:
                return self.view.camera.to_viewport((box.middle_x, box.middle_y))
        return QPointF(self.view.viewport().rect().center())

    def _mouse(self) -> XY:
        """Where the mouse is on the plan."""
        return self.view.camera.to_metres(self.view.mouse.at)

    def _grip(self, at: XY) -> Grip | None:
        session = self.session
        return grip_at(
            session.analysis.build, session.level, session.selection.parts, at,
            self.view.pixels_per_m,
        )  # fmt: skip

    def _tip(self, grip: Grip | None) -> str:
        if grip is None:
            return ""
        name = name_of(self.session.analysis.build.cart, grip.part)
        if grip.sort == "edge":
            return "Drag the edge; double-click for a corner on it"
        if grip.sort == "corner":
            return "Drag the corner; with Shift it goes alone; Delete takes it away"
        return f"{capitalised(name)}: drag {'its side' if grip.sort == 'size' else 'it'}"

    # Drawing

    def refresh(self) -> None:
        """Show the cart of now with its marks."""
        view = self.view
        if self.layer.theme is not self.session.theme or self.layer.scale_px != view.camera.scale:
            self.layer.look(self.session.theme, view.camera.scale)
        if self.on:
            self.layer.show_cart(
                self.session.analysis.build,
                view.plan.picture,
                self.session.selection.parts,
                self.hovered,
            )

    def resized(self) -> None:
        """The view has another size."""
        if self.on:
            self.strip.settle()

    def words(self) -> str:
        """What is edited and selected, for who does not see it."""
        session = self.session
        return parts_in_words(session.analysis.build, session.selection.parts, session.system)

    # The paper stays where it is when the cart comes back to its origin

    def remember_shift(self, before: Build, after: Build, by: XY) -> None:
        """An edit that moved everything on the plan by so much: the view will go along."""
        if by != (0.0, 0.0):
            self._shifts = [*self._shifts[-_KEPT_SHIFTS:], (before, after, by)]

    def _document_changed(self, build: Build) -> None:
        self._shifts = []
        self._committed = build

    def _build_changed(self, build: Build) -> None:
        before, self._committed = self._committed, build
        for old, new, (dx, dy) in self._shifts:
            if old is before and new is build:
                self._look_along(-dx, -dy)
            elif old is build and new is before:
                self._look_along(dx, dy)

    def _look_along(self, dx_m: float, dy_m: float) -> None:
        self.view.camera.shift(dx_m, dy_m)
        self.view.paper.moved()
