"""Pages of the cart: the whole of it while it is edited, and one for a selected part."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any, cast

from msgspec.structs import replace
from PySide6.QtCore import Qt

from ...build import Build, Cart, CartLeg, Caster, Handle, Leaf, Level, Point, RearPanel, Zone
from ...build import cart_edits as edits
from ...build.cart_geometry import extent
from ...build.cart_parts import ZONE_WORDS, CartPart, part_of, ref_of
from ...build.geometry import outline
from ...units import Length, capitalised, counted, show
from .. import cart_commands as commands
from ..selection import Selection
from ..session import Session
from .cart_changes import CartEdits
from .cart_editors import LevelList, PartList, PartOrNone, ShapeEditor
from .cart_facts import cart_facts, part_facts, part_heading
from .editors import StructEditor, small_button
from .fields import Editor
from .pages import Page
from .special import special_for


@dataclass(frozen=True, slots=True)
class _Listed:
    """A section with a list of parts."""

    title: str
    name: str
    kind: type


_LISTS = (
    _Listed("Zones", "zones", Zone),
    _Listed("Leaves", "leaves", Leaf),
    _Listed("Casters", "casters", Caster),
    _Listed("Legs", "legs", CartLeg),
)
_OPTIONAL = (("Handle", "handle", Handle), ("Rear panel", "rear_panel", RearPanel))


class CartPage(Page):
    """The whole cart, while it is edited and no part of it is selected."""

    def __init__(self, session: Session, opened: dict[str, bool]) -> None:
        super().__init__(session, opened)
        self._edits = CartEdits(self)
        cart = session.build.cart
        opened.setdefault("Size and shape", True)
        self.add_section("Size and shape", cart, self._make_shape, self._shape_edited)
        self.add_section("Levels", cart.levels, self._make_levels, self._levels_edited)
        for listed in _LISTS:
            value = getattr(cart, listed.name)
            make = partial(self._make_list, listed)
            self.add_section(listed.title, value, make, self._part_edited)
        for title, name, kind in _OPTIONAL:
            make = partial(self._make_optional, name, kind)
            self.add_section(title, getattr(cart, name), make, self._part_edited)
        self.refresh()

    def refresh(self) -> None:
        session = self.session
        cart, system = session.shown.cart, session.system
        whole = extent(cart)
        size = f"{show(whole.width, 'length', system)} by {show(whole.depth, 'length', system)}"
        self.heading_changed.emit("The cart", f"{size}, {counted(len(cart.levels), 'level')}")
        self.facts.show_facts(cart_facts(session.analysis, system))
        self.sections["Size and shape"].show_value(cart)
        self.sections["Levels"].show_value(cart.levels)
        for title, name in self._names():
            self.sections[title].show_value(getattr(cart, name))

    def _names(self) -> tuple[tuple[str, str], ...]:
        lists = tuple((listed.title, listed.name) for listed in _LISTS)
        return (*lists, *((title, name) for title, name, _ in _OPTIONAL))

    def _make_shape(self, value: object) -> Editor:
        return ShapeEditor(cast(Cart, value))

    def _make_levels(self, value: object) -> Editor:
        special = special_for(self.session.build)
        return LevelList(Level, cast(Any, value), "levels", special, self._new_level)

    def _make_list(self, listed: _Listed, value: object) -> Editor:
        special = special_for(self.session.build)
        make = partial(self._new_part, listed.name)
        return PartList(listed.kind, cast(Any, value), listed.name, special, make)

    def _make_optional(self, name: str, kind: type, value: object) -> Editor:
        make = partial(self._new_part, name)
        return PartOrNone(kind, value, name, special_for(self.session.build), make)

    def _new_level(self) -> object:
        build = self.session.build
        names = (level.name for level in build.cart.levels)
        us = build.units == "US"
        return Level(
            name=edits.free_name("level", names),
            height=Length("3 in" if us else "80 mm"),
            clear_height=Length("12 in" if us else "300 mm"),
        )

    def _new_part(self, name: str) -> object:
        """A part in the middle of the cart, or along its right side."""
        build, session = self.session.build, self.session
        whole = extent(build.cart)
        x, y = (whole.left + whole.right) / 2, (whole.rear + whole.front) / 2
        half_w, half_d = min(0.15, whole.width / 2), min(0.1, whole.depth / 2)
        level = session.level if build.cart.level(session.level) else build.cart.levels[0].name
        box = (x - half_w, y - half_d, x + half_w, y + half_d)
        makers: dict[str, Callable[[], object]] = {
            "zones": lambda: edits.new_zone(build, "reserved", level, box),
            "leaves": lambda: edits.new_leaf(build, "right", 0.0, whole.depth, 0.3),
            "casters": lambda: edits.new_caster(build, x, y),
            "legs": lambda: edits.new_leg(build, x, y),
            "handle": lambda: edits.new_handle(build, "right"),
            "rear_panel": lambda: edits.new_panel(build, "rear"),
        }
        return makers[name]()

    def _shape_edited(self, value: object, words: object) -> None:
        editor = self.sections["Size and shape"].editor
        carry = editor.carry if isinstance(editor, ShapeEditor) else True
        self._edits.shape_edited(value, words, carry)

    def _levels_edited(self, value: object, words: object) -> None:
        levels = cast("tuple[Level, ...]", value)
        before = [level.name for level in self.session.build.cart.levels]
        change = partial(edits.set_levels, self.session.build, levels)
        worked_on = self.session.level
        self._edits.apply(f"Change {words or 'levels'} of the cart", change)
        now = [level.name for level in self.session.build.cart.levels]
        if worked_on in before and worked_on not in now and len(now) == len(before):
            self.session.set_level(now[before.index(worked_on)])

    def _part_edited(self, value: object, words: object) -> None:
        title = next(one for one in self.sections if self.sections[one] is self.sender())
        name = dict(self._names())[title]

        def make() -> Build:
            build = self.session.build
            given = value if isinstance(value, tuple) else (value,)
            for part in given:
                if part is not None:
                    edits.check_part(build.cart, cast(CartPart, part))
            return edits.with_cart(build, replace(build.cart, **{name: value}))

        self._edits.apply(f"Change {words or title.lower()} of the cart", make)


class PartPage(Page):
    """One part of the cart, or several by name."""

    def __init__(self, session: Session, opened: dict[str, bool], selection: Selection) -> None:
        super().__init__(session, opened)
        self._edits = CartEdits(self)
        self.parts = selection.parts
        self.part = selection.parts[0]
        self.title = ""
        value = self._value()
        if len(self.parts) == 1 and value is not None:
            self.title = _SECTIONS[type(value)]
            opened.setdefault(self.title, True)
            self.add_section(self.title, value, self._make, self._edited)
        opened.setdefault("Size and shape", True)
        if len(self.parts) == 1 and self.part.startswith(("corner", "edge")):
            cart = session.build.cart
            self.add_section("Size and shape", cart, self._make_shape, self._shape_edited)
        if not self.part.startswith("edge"):
            words = "Delete" if len(self.parts) == 1 else f"Delete {len(self.parts)} parts"
            self.remove = small_button(words, words)
            self.remove.clicked.connect(self._remove_clicked)
            self.column.addWidget(self.remove, 0, Qt.AlignmentFlag.AlignLeft)
        self.refresh()

    def _value(self) -> object | None:
        cart, ref = self.session.shown.cart, ref_of(self.part)
        points = outline(cart)
        if ref is not None and ref.kind == "corner" and ref.index < len(points):
            if cart.outline:
                return cart.outline[ref.index]
            x, y = points[ref.index]
            return Point(x=edits.length_like(cart.width, x), y=edits.length_like(cart.width, y))
        return part_of(cart, self.part)

    def refresh(self) -> None:
        session = self.session
        if len(self.parts) > 1:
            names = ", ".join(part_heading(session.analysis, one) for one in self.parts)
            self.heading_changed.emit(f"{len(self.parts)} parts of the cart", names)
            return
        value = self._value()
        remark = "Part of the cart"
        if isinstance(value, Zone):
            words = ZONE_WORDS[value.kind]
            remark = f"{capitalised(words)} · {value.level.capitalize()}"
        elif isinstance(value, Leaf):
            remark = f"Leaf, {'up' if value.up else 'down'} · {value.side.capitalize()}"
        self.heading_changed.emit(part_heading(session.analysis, self.part), remark)
        self.facts.show_facts(part_facts(session.analysis, self.part, session.system))
        if self.title and value is not None:
            self.sections[self.title].show_value(value)
        if "Size and shape" in self.sections:
            self.sections["Size and shape"].show_value(session.shown.cart)

    def _make(self, value: object) -> Editor:
        return StructEditor(cast(Any, value), special_for(self.session.build))

    def _make_shape(self, value: object) -> Editor:
        return ShapeEditor(cast(Cart, value))

    def _shape_edited(self, value: object, words: object) -> None:
        self._edits.shape_edited(value, words, carry=True)

    def _edited(self, value: object, words: object) -> None:
        name = part_heading(self.session.analysis, self.part)
        if isinstance(value, Point):
            self._edits.apply("Change the cart's outline", partial(self._corner_to, value))
            return
        change = partial(edits.change, self.session.build, self.part, cast(CartPart, value))
        self._edits.apply(f"Change {words} of {name}", change)

    def _corner_to(self, to: Point) -> Build:
        build, ref = self.session.build, ref_of(self.part)
        index = ref.index if ref is not None else 0
        x, y = outline(build.cart)[index]
        moved = edits.move_corner(build.cart, index, to.x.si - x, to.y.si - y)
        return edits.settled(edits.with_cart(build, moved))[0]

    def _remove_clicked(self) -> None:
        commands.delete(self.session)


_SECTIONS: dict[type, str] = {
    Zone: "Zone",
    Leaf: "Leaf",
    Caster: "Caster",
    CartLeg: "Leg",
    Handle: "Handle",
    RearPanel: "Panel",
    Point: "Corner",
}
