"""Editors of the cart: its size and shape together, and lists of its parts."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout

from ...build import Cart
from ...build.cart_geometry import extent
from ...build.cart_shape import CORNERS, length_like, notch_of, shape_of
from ...units import Length, Mass
from .. import widgets
from .editors import LABEL_WIDTH, ListEditor, OptionalEditor, Special, small_button
from .fields import BoolField, ChoiceField, Editor, QuantityField
from .kinds import ListKind, OptionalKind, StructKind

_SHAPES = (
    ("rectangle", "Rectangle"),
    ("rounded", "Rounded rectangle"),
    ("L", "L, without one corner"),
    ("free", "Free outline"),
)
_SIDES = tuple((one, one.capitalize()) for one in ("rear", "front", "left", "right"))
_LABELS = {
    "width": ("Width", "From the leftmost to the rightmost point of the outline"),
    "depth": ("Depth", "From the rearmost to the foremost point of the outline"),
    "shape": ("Shape", "The outline; a free one is dragged on the plan, corner by corner"),
    "corner_radius": ("Corner radius", "Of every corner of the outline"),
    "cut_corner": ("Cut-out corner", "The corner that an L has not got"),
    "cut_width": ("Cut-out width", "From left to right"),
    "cut_depth": ("Cut-out depth", "From rear to front"),
    "carry": ("Wheels go along", "Casters and legs keep their distance from the edges"),
    "operator_side": ("Operator side", "Where the person stands who works at the cart"),
    "empty_mass": ("Mass, empty", "Of the cart alone, with nothing on it"),
    "centre_of_mass_height": ("Centre of mass", "Height above the floor, of the cart alone"),
}
_CUT = ("cut_corner", "cut_width", "cut_depth")


class ShapeEditor(Editor):
    """Size, shape and what else is true of the cart as a whole.

    Says `edited` with a pair: the name of the field and its new value. What it
    makes of the cart is the page's to find out.
    """

    inline = False
    indented = True

    def __init__(self, cart: Cart) -> None:
        super().__init__()
        self._cart = cart
        self.carry = True
        self.editors: dict[str, Editor] = {}
        self._labels = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(4)
        grid.setColumnMinimumWidth(0, LABEL_WIDTH)
        grid.setColumnStretch(1, 1)
        for at, (name, (words, tip)) in enumerate(_LABELS.items()):
            editor = self._editor(name)
            editor.name_it(words, tip)
            editor.setProperty("field", name)
            editor.edited.connect(self._edited)
            label = widgets.wrapped(words, "muted")
            label.setToolTip(tip)
            label.setBuddy(editor)
            label.setFixedWidth(LABEL_WIDTH)
            label.setContentsMargins(0, 4, 0, 0)
            grid.addWidget(label, at, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(editor, at, 1, Qt.AlignmentFlag.AlignTop)
            self.editors[name] = editor
            self._labels[name] = label
        self._show_cut()

    def _editor(self, name: str) -> Editor:
        value = self._value(name)
        if name == "shape":
            return ChoiceField(_SHAPES, value)
        if name == "cut_corner":
            return ChoiceField(tuple((one, one.capitalize()) for one in CORNERS), value)
        if name == "operator_side":
            return ChoiceField(_SIDES, value)
        if name == "carry":
            return BoolField(self.carry)
        if isinstance(value, Mass):
            return QuantityField(Mass, value, "Cart", name)
        return QuantityField(Length, value if isinstance(value, Length) else None, "Cart", name)

    def _value(self, name: str) -> object:
        cart = self._cart
        if name == "shape":
            return shape_of(cart)
        if name == "carry":
            return self.carry
        if name in _CUT:
            whole = extent(cart)
            corner, wide, deep = notch_of(cart) or ("front right", whole.width, whole.depth)
            cut = {"cut_corner": corner, "cut_width": wide, "cut_depth": deep}[name]
            return cut if isinstance(cut, str) else length_like(cart.width, cut)
        if name in ("width", "depth"):
            whole = extent(cart)
            size = whole.width if name == "width" else whole.depth
            return length_like(cart.width if name == "width" else cart.depth, size)
        return getattr(cart, name)

    def _show_cut(self) -> None:
        is_l = notch_of(self._cart) is not None
        for name in _CUT:
            self.editors[name].setVisible(is_l)
            self._labels[name].setVisible(is_l)

    def show_value(self, value: object) -> None:
        if not isinstance(value, Cart):
            return
        self._cart = value
        for name, editor in self.editors.items():
            editor.show_value(self._value(name))
        self._show_cut()

    def _edited(self, value: object, _words: object) -> None:
        name = next((name for name, one in self.editors.items() if one is self.sender()), "")
        if name == "carry":
            self.carry = bool(value)
        elif name:
            self.edited.emit((name, value), _LABELS[name][0].lower())


class PartList(ListEditor):
    """Parts of one sort; a new one is made by the page, in a place of its own."""

    def __init__(
        self,
        kind: type,
        value: tuple[object, ...],
        name: str,
        special: Special,
        make: Callable[[], object],
    ) -> None:
        self._make_new = make
        super().__init__(ListKind(StructKind(kind)), value, Cart, name, special)

    def _add_clicked(self) -> None:
        self._change((*self._value, self._make_new()), "", True)


class PartOrNone(OptionalEditor):
    """A part that a cart has or has not; a new one is made by the page."""

    def __init__(
        self, kind: type, value: object, name: str, special: Special, make: Callable[[], object]
    ) -> None:
        self._make_new = make
        super().__init__(OptionalKind(StructKind(kind)), value, Cart, name, special)

    def _clicked(self) -> None:
        self._value = self._make_new() if self._value is None else None
        self._build()
        self.edited.emit(self._value, "")


class LevelList(PartList):
    """Levels, each with a button that puts it before the one above it."""

    def _build(self) -> None:
        super()._build()
        for at, (box, _) in enumerate(self._rows):
            layout = box.layout()
            if at == 0 or not isinstance(layout, QHBoxLayout):
                continue
            up = small_button("↑", f"Put level {at + 1} before level {at}")
            up.setProperty("row", at)
            up.clicked.connect(self._up_clicked)
            layout.insertWidget(1, up, 0, Qt.AlignmentFlag.AlignTop)

    def _up_clicked(self) -> None:
        button = self.sender()
        at = int(button.property("row")) if button is not None else 0
        if 0 < at < len(self._value):
            value = list(self._value)
            value[at - 1], value[at] = value[at], value[at - 1]
            self._change(tuple(value), "order of levels", True)
