"""The set point of a regulator: dragged, with the taps behind it answering meanwhile."""

from dataclasses import dataclass

from msgspec.structs import replace
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from ...analysis import Analysis
from ...build import Build, Item, Regulator
from ...build.edits import replace_item
from ...documents.fonts import font
from ...documents.theme import TYPE
from ...units import Pressure, UnitSystem, show, show_plain
from ...units.display import unit_label
from ...water.results import ALL_OPEN, Tap, alone
from .. import widgets
from ..session import Session
from .fact import Fact
from .fields import Editor, QuantityField

_PSI_PA = 6894.757293168
_BAR_STEP_PA = 5e3
_MARGIN = 12.0
_TALL = 52
_KEYS = {
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_Up: 1,
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Down: -1,
    Qt.Key.Key_PageUp: 5,
    Qt.Key.Key_PageDown: -5,
}


@dataclass(frozen=True, slots=True)
class Allowed:
    """Where a tap behind the regulator has enough and does not suffer; set points in pascals."""

    name: str
    least_pa: float
    greatest_pa: float


@dataclass(frozen=True, slots=True)
class SetPointValue:
    """What the slider shows."""

    item: str
    set_pa: float
    top_pa: float
    """The end of the scale."""
    step_pa: float
    least_pa: float
    greatest_pa: float
    """Set points between which all taps behind are served, as near as the line now tells."""
    allowed: tuple[Allowed, ...]
    answers: tuple[Fact, ...]
    system: UnitSystem

    @property
    def spoken(self) -> str:
        """The slider as text, for screen readers."""
        return (
            f"Set point {show(self.set_pa, 'pressure', self.system)}, of use between "
            f"{show(self.least_pa, 'pressure', self.system)} and "
            f"{show(self.greatest_pa, 'pressure', self.system)}"
        )


def set_point_of(analysis: Analysis, item: Item, system: UnitSystem) -> SetPointValue | None:
    """A regulator and the taps whose water runs through it; None where it is no regulator."""
    role = item.specification.water
    if not isinstance(role, Regulator):
        return None
    set_pa = role.set_point.si
    taps = tuple(
        tap for tap in analysis.water.taps if any(step.id == item.id for step in tap.ladder)
    )
    allowed = tuple(_allowed(analysis, tap, item.id, set_pa) for tap in taps)
    least_pa = max((one.least_pa for one in allowed), default=0.0)
    greatest_pa = min((one.greatest_pa for one in allowed), default=set_pa)
    step_pa = _PSI_PA if system is UnitSystem.US else _BAR_STEP_PA
    tops = [tap.greatest_pa for tap in taps if tap.greatest_pa < 20e5]
    top_pa = max([set_pa, least_pa, 4e5, *(1.15 * one for one in tops)])
    return SetPointValue(
        item.id,
        set_pa,
        min(top_pa, max(set_pa, 12e5)),
        step_pa,
        least_pa,
        greatest_pa,
        allowed,
        tuple(_answer(tap, system) for tap in taps)
        or (Fact("Behind it", "no tap that is fed", "care"),),
        system,
    )


def _allowed(analysis: Analysis, tap: Tap, regulator_id: str, set_pa: float) -> Allowed:
    """The tap's window, moved by what lies between it and the regulator.

    Where the regulator holds the pressure down, what the tap has now is that far below or above
    the set point, and stays so to a good part as the set point goes up and down.
    """
    state = next((one for one in analysis.water.regulators if one.item == regulator_id), None)
    flowing = tap.states.get(alone(tap.name))
    below_pa = set_pa - flowing.pressure_pa if flowing is not None else 0.0
    above_pa = tap.static_pa - set_pa
    holds = state is not None and state.holds
    resting = state is not None and state.shut_pa >= set_pa
    return Allowed(
        tap.name,
        tap.least_pa + (max(below_pa, 0.0) if holds else 0.0),
        tap.greatest_pa - (max(above_pa, 0.0) if resting else 0.0),
    )


def _answer(tap: Tap, system: UnitSystem) -> Fact:
    by_itself, everything = tap.states.get(alone(tap.name)), tap.states.get(ALL_OPEN)
    open_words = []
    holds = tap.static_pa <= tap.greatest_pa
    for state, words in ((by_itself, "alone"), (everything, "all open")):
        if state is not None and state.open:
            open_words.append(f"{show_plain(state.pressure_pa, 'pressure', system)} {words}")
            holds = holds and state.pressure_ok and state.flow_ok
    shut = f"{show(tap.static_pa, 'pressure', system)} shut"
    return Fact(
        tap.name,
        ", ".join((*open_words, shut)),
        "ok" if holds else "stop",
        f"Allowed {show_plain(tap.least_pa, 'pressure', system)} to "
        f"{show(tap.greatest_pa, 'pressure', system)}",
    )


def with_set_point(build: Build, item_id: str, pressure: Pressure) -> Build:
    """Set a regulator to another pressure.

    Raises:
        EditError: there is no such item.
    """
    item = build.item(item_id)
    role = item.specification.water if item is not None else None
    if item is None or not isinstance(role, Regulator) or pressure == role.set_point:
        return build
    specification = replace(item.specification, water=replace(role, set_point=pressure))
    return replace_item(build, replace(item, specification=specification))


def as_pressure(pressure_pa: float, system: UnitSystem) -> Pressure:
    """A set point as it would be written."""
    if system is UnitSystem.US:
        return Pressure.from_si(pressure_pa, "psi", 0)
    return Pressure.from_si(pressure_pa, "bar", 2)


class SetPointView(Editor):
    """A scale with a handle, the field to type into, and the taps behind."""

    inline = False

    def __init__(self, session: Session, item_id: str) -> None:
        super().__init__()
        self._session = session
        self._item_id = item_id
        self.slider = Slider(session)
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
        from .views import FactsView

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
        low = show_plain(value.least_pa, "pressure", value.system)
        high = show(value.greatest_pa, "pressure", value.system)
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


class Slider(QWidget):
    """A scale from nothing to more than is allowed, what is of use shaded, and the handle."""

    moved = Signal(object)
    """Pascals, while it is dragged."""
    set_down = Signal(object)
    stepped = Signal(object)
    """By the keyboard."""
    given_up = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.value: SetPointValue | None = None
        self._dragged: float | None = None
        self._top_pa = 1.0
        self.setFixedHeight(_TALL)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.SizeHorCursor)
        self.setToolTip("Drag it; the taps answer meanwhile. Arrows step, Escape gives up.")

    def sizeHint(self) -> QSize:
        return QSize(240, _TALL)

    def show_value(self, value: SetPointValue) -> None:
        """Show another set point; a scale that is being dragged along stays as it is."""
        if value == self.value:
            return
        self.value = value
        if self._dragged is None:
            self._top_pa = max(value.top_pa, 1.0)
        self.setAccessibleName(value.spoken)
        self.update()

    def x_of(self, pressure_pa: float) -> float:
        """Where a pressure is on the scale."""
        share = min(max(pressure_pa / self._top_pa, 0.0), 1.0)
        return _MARGIN + share * (self.width() - 2 * _MARGIN)

    def _pressure_at(self, x: float) -> float:
        value = self.value
        room = max(self.width() - 2 * _MARGIN, 1.0)
        raw = (x - _MARGIN) / room * self._top_pa
        step = value.step_pa if value is not None else _BAR_STEP_PA
        return min(max(round(raw / step) * step, step), self._top_pa)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.value is not None:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self._drag(event.position())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._dragged is not None:
            self._drag(event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self._dragged is not None:
            pressure_pa, self._dragged = self._dragged, None
            self.set_down.emit(pressure_pa)
            self.update()

    def _drag(self, where: QPointF) -> None:
        pressure_pa = self._pressure_at(where.x())
        if pressure_pa != self._dragged:
            self._dragged = pressure_pa
            self.moved.emit(pressure_pa)
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        value = self.value
        if key == Qt.Key.Key_Escape and self._dragged is not None:
            self._dragged = None
            self.given_up.emit()
            self.update()
        elif key in _KEYS and value is not None and self._dragged is None:
            step = value.step_pa
            stepped = (round(value.set_pa / step) + _KEYS[key]) * step
            self.stepped.emit(max(stepped, step))
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        value, theme = self.value, self._session.theme
        if value is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.track))
        track = QRectF(_MARGIN, 24, self.width() - 2 * _MARGIN, 8)
        painter.drawRoundedRect(track, 4, 4)
        set_pa = self._dragged if self._dragged is not None else value.set_pa
        inside = value.least_pa <= set_pa <= value.greatest_pa
        mark = theme.mark("ok" if inside else "stop") if value.allowed else theme.mark("note")
        if value.allowed and value.least_pa <= value.greatest_pa:
            left, right = self.x_of(value.least_pa), self.x_of(value.greatest_pa)
            painter.setBrush(QColor(theme.ok.fill))
            painter.drawRoundedRect(QRectF(left, 24, max(right - left, 2.0), 8), 4, 4)
        x = self.x_of(set_pa)
        painter.setBrush(QColor(mark.fill))
        painter.setPen(QPen(QColor(theme.selection if self.hasFocus() else theme.panel), 2))
        handle = [QPointF(x, 20), QPointF(x + 8, 28), QPointF(x, 36), QPointF(x - 8, 28)]
        painter.drawPolygon(QPolygonF(handle))
        painter.setFont(font(TYPE.caption, 600, tabular=True))
        painter.setPen(QColor(mark.ink))
        text = show(set_pa, "pressure", value.system)
        wide = 80.0
        at = min(max(x - wide / 2, 0.0), self.width() - wide)
        painter.drawText(QRectF(at, 2, wide, 16), Qt.AlignmentFlag.AlignCenter, text)
        self._paint_scale(painter, value)
        painter.end()

    def _paint_scale(self, painter: QPainter, value: SetPointValue) -> None:
        painter.setFont(font(TYPE.caption, tabular=True))
        painter.setPen(QColor(self._session.theme.ink_muted))
        flags = Qt.AlignmentFlag.AlignVCenter
        row = QRectF(_MARGIN, 37, self.width() - 2 * _MARGIN, 15)
        painter.drawText(row, flags | Qt.AlignmentFlag.AlignLeft, "0")
        top = show_plain(self._top_pa, "pressure", value.system, 1)
        unit = unit_label("pressure", value.system)
        painter.drawText(row, flags | Qt.AlignmentFlag.AlignRight, f"{top} {unit}")
