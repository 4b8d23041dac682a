"""A new build: a name, where it will stand, and how large the cart is."""

from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from ..build import Build, Cart, Caster, Level, Passage, Region, Venue
from ..build.cart_edits import new_leaf
from ..build.cart_shape import notch_of, shaped_cart
from ..build.edits import EditError
from ..units import Length, Mass, QuantityError
from . import widgets

REGIONS: tuple[tuple[Region, str], ...] = (
    ("US", "North America: 120 V, in, psi"),
    ("UK", "United Kingdom: 230 V, mm, bar"),
    ("EU", "Europe: 230 V, mm, bar"),
    ("AU", "Australia, NZ: 230 V, mm, bar"),
)
SHAPES = (
    ("rectangle", "Rectangle"),
    ("rounded", "Rounded corners"),
    ("L", "L, open at the front right"),
    ("leaves", "Folding leaf at each end"),
)
_LEAST_M, _MOST_M = 0.2, 10.0


def new_build(
    name: str = "New cart",
    region: Region = "US",
    width: Length | None = None,
    depth: Length | None = None,
    shape: str = "rectangle",
    venue: Venue | None = None,
) -> Build:
    """An empty cart with a counter, a shelf and a base on four casters.

    The heights are common for a standing barista (common practice, no source).

    Raises:
        EditError: the cart is too small for its shape.
    """
    us = region == "US"
    width = width or Length("72 in" if us else "1800 mm")
    depth = depth or Length("30 in" if us else "750 mm")
    heights = (
        (("counter", "36 in", "40 in"), ("shelf", "20 in", "14.5 in"), ("base", "6 in", "13 in"))
        if us
        else (
            ("counter", "900 mm", "1000 mm"),
            ("shelf", "500 mm", "370 mm"),
            ("base", "150 mm", "330 mm"),
        )
    )
    cart = Cart(
        width=width,
        depth=depth,
        levels=tuple(
            Level(name=level, height=Length(height), clear_height=Length(clear))
            for level, height, clear in heights
        ),
        empty_mass=Mass("120 lb" if us else "55 kg"),
        centre_of_mass_height=Length("20 in" if us else "500 mm"),
    )
    if shape == "rounded":
        cart = shaped_cart(cart, "rounded", Length("4 in" if us else "100 mm"))
    elif shape == "L":
        cart = shaped_cart(cart, "L", corner="front right")
    build = Build(
        name=name,
        region=region,
        units="US" if us else "metric",
        cart=replace(cart, casters=_casters(cart, us)),
        venue=venue or Venue(),
    )
    return _with_leaves(build) if shape == "leaves" else build


def _casters(cart: Cart, us: bool) -> tuple[Caster, ...]:
    """One near every corner; of an L, clear of what is cut out."""
    inset_m = Length("3 in" if us else "80 mm").si
    right, front = cart.width.si - inset_m, cart.depth.si - inset_m
    notch = notch_of(cart)
    places = (
        (inset_m, inset_m),
        (right, inset_m),
        (inset_m, front),
        (right - (notch[1] if notch is not None else 0.0), front),
    )
    unit = "in" if us else "mm"
    return tuple(
        Caster(
            x=Length.from_si(x_m, unit),
            y=Length.from_si(y_m, unit),
            rating=Mass("150 lb" if us else "70 kg"),
        )
        for x_m, y_m in places
    )


def _with_leaves(build: Build) -> Build:
    """A leaf at each end, as deep as the cart, a fifth of its length."""
    for side in ("left", "right"):
        leaf = new_leaf(build, side, 0.0, build.cart.depth.si, round(build.cart.width.si / 5, 2))
        build = replace(build, cart=replace(build.cart, leaves=(*build.cart.leaves, leaf)))
    return build


class NewCartForm(QWidget):
    """The little that an empty cart needs; everything can be changed later."""

    submitted = Signal()
    """Enter was pressed in a field."""

    def __init__(self, region: Region = "US", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._errors: dict[QLineEdit, QLabel] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(10)
        self._grid.setVerticalSpacing(6)
        self._grid.setColumnStretch(1, 1)
        us = region == "US"
        self.name = self._field("Name", "New cart")
        self.region = self._chooser("Region and units", [words for _, words in REGIONS])
        self.region.setCurrentIndex([one for one, _ in REGIONS].index(region))
        self.width_field = self._field("Width of the counter", "72 in" if us else "1800 mm")
        self.depth_field = self._field("Depth of the counter", "30 in" if us else "750 mm")
        self.shape = self._chooser("Shape", [words for _, words in SHAPES])
        self.venue = self._field("Venue", "")
        self.venue.setPlaceholderText("where it will stand; may stay empty")
        self.door = self._field("Narrowest door", "")
        self.door.setPlaceholderText("clear width; may stay empty")
        self.outdoors = QCheckBox("It stands outdoors")
        self._grid.addWidget(self.outdoors, self._grid.rowCount(), 1)
        self.note = widgets.wrapped("", "caption")
        self._grid.addWidget(self.note, self._grid.rowCount(), 0, 1, 2)
        self.region.currentIndexChanged.connect(self._region_changed)
        self.shape.currentIndexChanged.connect(self._check)
        self._check()

    # Making

    def _field(self, caption: str, text: str) -> QLineEdit:
        field = QLineEdit(text)
        field.setMaxLength(80)
        label = widgets.label(caption)
        label.setBuddy(field)
        field.setAccessibleName(caption)
        error = widgets.wrapped("", "error")
        error.hide()
        self._errors[field] = error
        row = self._grid.rowCount()
        self._grid.addWidget(label, row, 0)
        self._grid.addWidget(field, row, 1)
        self._grid.addWidget(error, row + 1, 1)
        field.editingFinished.connect(self._check)
        field.textEdited.connect(self._edited)
        field.returnPressed.connect(self.submitted)
        return field

    def _chooser(self, caption: str, lines: list[str]) -> QComboBox:
        made = QComboBox()
        made.addItems(lines)
        made.setAccessibleName(caption)
        made.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        made.setMinimumContentsLength(12)
        row = self._grid.rowCount()
        label = widgets.label(caption)
        label.setBuddy(made)
        self._grid.addWidget(label, row, 0)
        self._grid.addWidget(made, row, 1)
        return made

    # What is in it

    def made(self) -> Build | None:
        """The build; None: something is wrong, and the field that is has the keyboard."""
        if not self._check():
            wrong = next(field for field, label in self._errors.items() if label.text())
            wrong.setFocus()
            wrong.selectAll()
            return None
        door = self.door.text().strip()
        passages = (Passage(name="Door", kind="door", width=Length(door)),) if door else ()
        venue = Venue(
            name=self.venue.text().strip(), outdoors=self.outdoors.isChecked(), passages=passages
        )
        try:
            return new_build(
                self.name.text().strip() or "New cart",
                self.chosen_region(),
                Length(self.width_field.text()),
                Length(self.depth_field.text()),
                SHAPES[self.shape.currentIndex()][0],
                venue,
            )
        except EditError as error:
            self._say(self.width_field, f"Too small for this shape: {error}.")
            self.width_field.setFocus()
            return None

    def chosen_region(self) -> Region:
        """The region that is chosen."""
        return REGIONS[self.region.currentIndex()][0]

    def _edited(self, _text: str) -> None:
        # While something is being put right, what was wrong about it goes at once.
        if any(label.text() for label in self._errors.values()):
            self._check()

    def _check(self, *_: object) -> bool:
        """Say what is wrong beside each field; True: nothing is."""
        width = self._length_of(self.width_field, optional=False)
        depth = self._length_of(self.depth_field, optional=False)
        door = self._length_of(self.door, optional=True)
        self.note.setText("")
        if width and depth and door and min(width.si, depth.si) >= door.si:
            self.note.setText(
                "Its narrower side does not pass this door; the findings will say so."
            )
        self.note.setVisible(bool(self.note.text()))
        return not any(label.text() for label in self._errors.values())

    def _length_of(self, field: QLineEdit, *, optional: bool) -> Length | None:
        text = field.text().strip()
        if not text and optional:
            self._say(field, "")
            return None
        try:
            length = Length(text)
        except QuantityError as error:
            self._say(field, str(error))
            return None
        fits = _LEAST_M <= length.si <= _MOST_M
        what = "door" if field is self.door else "cart"
        self._say(
            field, "" if fits else f"'{text}' is no size for a {what}; try '72 in' or '1.8 m'"
        )
        return length if fits else None

    def _say(self, field: QLineEdit, error: str) -> None:
        label = self._errors[field]
        label.setText(error)
        label.setVisible(bool(error))
        field.setAccessibleDescription(error)
        widgets.set_state(field, "wrong", bool(error))

    def error_of(self, field: QLineEdit) -> str:
        """What is said beside a field."""
        return self._errors[field].text()

    def _region_changed(self, index: int) -> None:
        """Offer round sizes in the region's units where nothing else was typed."""
        us = REGIONS[index][0] == "US"
        for field, inches, metric in (
            (self.width_field, "72 in", "1800 mm"),
            (self.depth_field, "30 in", "750 mm"),
        ):
            if field.text() in (inches, metric):
                field.setText(inches if us else metric)
        self._check()


class NewCartDialog(QDialog):
    """The form with a button to make the cart and one to leave."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("New cart")
        self.setMinimumWidth(380)
        self.form = NewCartForm()
        self.buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setText("Make it")
        widgets.without_icons(self.buttons)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(16, 16, 16, 16)
        whole.setSpacing(12)
        whole.addWidget(self.form)
        whole.addStretch(1)
        whole.addWidget(self.buttons)
        self.made: Build | None = None

    def accept(self) -> None:
        self.made = self.form.made()
        if self.made is not None:
            super().accept()


def ask_new(parent: QWidget) -> Build | None:
    """Ask for a new cart."""
    dialog = NewCartDialog(parent)
    dialog.exec()
    made = dialog.made
    dialog.deleteLater()
    return made
