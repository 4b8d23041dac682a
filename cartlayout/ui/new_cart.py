"""A new build: a name, where it will stand, and how large the cart is."""

from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from ..build import Build, Cart, Caster, Level, Region
from ..units import Length, Mass, QuantityError
from . import widgets

_REGIONS: tuple[tuple[Region, str], ...] = (
    ("US", "United States: 120 V, inches and psi"),
    ("UK", "United Kingdom: 230 V, millimetres and bar"),
    ("EU", "Europe: 230 V, millimetres and bar"),
    ("AU", "Australia, New Zealand: 230 V, millimetres and bar"),
)


def new_build(
    name: str = "New cart",
    region: Region = "US",
    width: Length | None = None,
    depth: Length | None = None,
) -> Build:
    """An empty cart with a counter, a shelf and a base on four casters.

    The heights are common for a standing barista (common practice, no source).
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
    inset = Length("3 in" if us else "80 mm")
    unit = "in" if us else "mm"
    places = [
        (x_m, y_m)
        for x_m in (inset.si, width.si - inset.si)
        for y_m in (inset.si, depth.si - inset.si)
    ]
    return Build(
        name=name,
        region=region,
        units="US" if us else "metric",
        cart=Cart(
            width=width,
            depth=depth,
            levels=tuple(
                Level(name=level, height=Length(height), clear_height=Length(clear))
                for level, height, clear in heights
            ),
            casters=tuple(
                Caster(
                    x=Length.from_si(x_m, unit),
                    y=Length.from_si(y_m, unit),
                    rating=Mass("150 lb" if us else "70 kg"),
                )
                for x_m, y_m in places
            ),
            empty_mass=Mass("120 lb" if us else "55 kg"),
            centre_of_mass_height=Length("20 in" if us else "500 mm"),
        ),
    )


class NewCartDialog(QDialog):
    """Asks for the little that an empty cart needs; everything can be changed later."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("New cart")
        self.setMinimumWidth(420)
        self.name = QLineEdit("New cart")
        self.region = QComboBox()
        for _, words in _REGIONS:
            self.region.addItem(words)
        self.width_field = QLineEdit("72 in")
        self.depth_field = QLineEdit("30 in")
        self.error = widgets.wrapped("", "error")
        form = QFormLayout()
        form.addRow("Name", self.name)
        form.addRow("Region", self.region)
        form.addRow("Width of the counter", self.width_field)
        form.addRow("Depth of the counter", self.depth_field)
        self.buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setText("Make it")
        widgets.without_icons(self.buttons)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        self.region.currentIndexChanged.connect(self._region_changed)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(16, 16, 16, 16)
        whole.setSpacing(12)
        whole.addLayout(form)
        whole.addWidget(self.error)
        whole.addWidget(self.buttons)
        self.made: Build | None = None

    def accept(self) -> None:
        try:
            width, depth = self._length(self.width_field), self._length(self.depth_field)
        except QuantityError as error:
            self.error.setText(f"{error}")
            return
        region = _REGIONS[self.region.currentIndex()][0]
        self.made = new_build(self.name.text().strip() or "New cart", region, width, depth)
        super().accept()

    def _length(self, field: QLineEdit) -> Length:
        made = Length(field.text())
        if not 0.2 <= made.si <= 10.0:
            raise QuantityError(f"'{field.text()}' is no size for a cart; try '72 in' or '1.8 m'")
        return made

    def _region_changed(self, index: int) -> None:
        """Offer round sizes in the region's units where nothing else was typed."""
        us = _REGIONS[index][0] == "US"
        for field, inches, metric in (
            (self.width_field, "72 in", "1800 mm"),
            (self.depth_field, "30 in", "750 mm"),
        ):
            if field.text() in (inches, metric):
                field.setText(inches if us else metric)


def ask_new(parent: QWidget) -> Build | None:
    """Ask for a new cart."""
    dialog = NewCartDialog(parent)
    dialog.exec()
    made = dialog.made
    dialog.deleteLater()
    return made
