"""The set point of a regulator: dragged, with the taps behind it answering meanwhile."""

from PySide6.QtWidgets import QVBoxLayout

from ...build import Regulator
from ...units import Pressure, UnitSystem, show, show_plain
from .. import widgets
from ..session import Session
from .fields import Editor, QuantityField
from .pressure_slider import PressureSlider
from .set_point_value import SetPointValue, as_pressure, with_set_point
from .views import FactsView


class SetPointView(Editor):
    """A scale with a handle, the field to type into, and the taps behind."""

    inline = False

    def __init__(self, session: Session, item_id: str) -> None:
        super().__init__()
        self._session = session
        self._item_id = item_id
        self.slider = PressureSlider(session)
        self.slider.moved.connect(self._moved)
        self.slider.set_down.connect(self._set_down)
        self.slider.stepped.connect(self._stepped)
        self.slider.given_up.connect(self._given_up)
        role = self._role()
        self.field = QuantityField(
            Pressure, role.set_point if role is not None else None, "Regulator", "set_point"
        )
        self.field.name_it("Set point", "Typed, in any unit of pressure")
        self.field.edited.connect(self._typed)
        self.words = widgets.wrapped("", "muted")
        self.answers = FactsView()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(5)
        column.addWidget(self.slider)
        column.addWidget(self.words)
        column.addWidget(self.field)
        column.addWidget(self.answers)
        self.setFocusProxy(self.slider)

    def show_value(self, value: object) -> None:
        if not isinstance(value, SetPointValue):
            return
        self.slider.show_value(value)
        self.answers.show_facts(value.answers)
        role = self._role()
        if role is not None:
            self.field.show_value(role.set_point)
        places = 0 if value.system is UnitSystem.US else 1
        low = show_plain(value.least_pa, "pressure", value.system, places)
        high = show(value.greatest_pa, "pressure", value.system, places)
        if not value.allowed:
            self.words.setText("No tap behind it is fed.")
        elif value.least_pa > value.greatest_pa:
            self.words.setText(f"No set point does for all behind it: {low} to {high}.")
        else:
            self.words.setText(f"Shaded: of use to all behind it, about {low} to {high}.")

    def _role(self) -> Regulator | None:
        item = self._session.shown.item(self._item_id)
        role = item.specification.water if item is not None else None
        return role if isinstance(role, Regulator) else None

    def _moved(self, pressure_pa: object) -> None:
        session = self._session
        build = with_set_point(
            session.build, self._item_id, as_pressure(_float(pressure_pa), session.system)
        )
        session.preview(build)

    def _set_down(self, pressure_pa: object) -> None:
        self._apply(as_pressure(_float(pressure_pa), self._session.system), "")

    def _stepped(self, pressure_pa: object) -> None:
        # Steps in a row are one undo step, as nudges on the plan are.
        key = f"set point of {self._item_id}"
        self._apply(as_pressure(_float(pressure_pa), self._session.system), key)

    def _typed(self, value: object, _words: object) -> None:
        if isinstance(value, Pressure):
            self._apply(value, "")

    def _given_up(self) -> None:
        self._session.cancel_preview()

    def _apply(self, pressure: Pressure, merge_key: str) -> None:
        session = self._session
        item = session.build.item(self._item_id)
        if item is not None:
            build = with_set_point(session.build, self._item_id, pressure)
            session.apply(f"Set {item.name} to {pressure.text}", build, merge_key=merge_key)


def _float(value: object) -> float:
    return value if isinstance(value, float) else 0.0
