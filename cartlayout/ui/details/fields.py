"""Fields that hold one value: they keep what was typed until it is right, and then commit once."""

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QHelpEvent, QKeyEvent, QPaintEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QSizePolicy,
    QStyle,
    QStyleOptionComboBox,
    QStylePainter,
    QToolTip,
    QVBoxLayout,
    QWidget,
)

from ...units import Quantity, QuantityError
from .. import widgets
from .checks import checked, read
from .kinds import NumberKind

DIFFERING = "differ"
"""What stands in a field of several things that do not agree."""


class _Differing:
    """The value of a field of several things that do not agree; equal to nothing else."""


_DIFFERS = _Differing()


class Editor(QWidget):
    """Shows one value and says when it was changed."""

    edited = Signal(object, object)
    """The new value, and the words for what was changed ("" for this editor's own)."""
    inline = True
    """Stands beside its label; False: stands under it."""
    indented = False
    """Has labels of its own, and is set off by a line at its left."""

    def show_value(self, value: object) -> None:
        """Show another value."""
        raise NotImplementedError

    def show_differing(self) -> None:
        """Show that several things differ here; whatever is entered holds for all of them."""
        raise NotImplementedError

    def name_it(self, name: str, tip: str) -> None:
        """Say to screen readers and in a tooltip what is edited."""
        self.setAccessibleName(name)


class LineField(Editor):
    """One line of text that is read into a value when it is left."""

    def __init__(self, value: object, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._value = value
        self._tip = ""
        self._hint = ""
        self.line = _Line()
        self.error = widgets.wrapped("", "error")
        self.error.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.line)
        column.addWidget(self.error)
        self.line.editingFinished.connect(self._finished)
        self.line.given_up.connect(self._give_up)
        self.setFocusProxy(self.line)

    def text_of(self, value: object) -> str:
        """The value as it stands in the line."""
        return str(value)

    def value_of(self, text: str) -> object:
        """Read the line.

        Raises:
            ValueError: with the words that are shown under the line.
        """
        return text

    def show_value(self, value: object) -> None:
        if self._value is _DIFFERS:
            self.line.setPlaceholderText(self._hint)
        if value == self._value and self.line.text() == self.text_of(value):
            return
        if value == self._value and self.error.isVisibleTo(self):
            return  # what was typed is not lost because something else changed
        self._value = value
        self._show()

    def show_differing(self) -> None:
        if self._value is _DIFFERS:
            return
        self._hint = self.line.placeholderText()
        self._value = _DIFFERS
        self._show()
        self.line.setPlaceholderText(DIFFERING)

    def _shown_text(self) -> str:
        return "" if self._value is _DIFFERS else self.text_of(self._value)

    def name_it(self, name: str, tip: str) -> None:
        super().name_it(name, tip)
        self.line.setAccessibleName(name)
        self._tip = tip
        self._show_tip()

    def _show(self) -> None:
        self.line.setText(self._shown_text())
        self.line.setCursorPosition(0)
        self._set_error("")
        self._show_tip()

    def _show_tip(self) -> None:
        self.line.setToolTip(self._tip)

    def _finished(self) -> None:
        text = self.line.text()
        if text == self._shown_text():
            self._set_error("")
            return
        try:
            value = self.value_of(text)
        except ValueError as error:
            self._set_error(str(error))
            return
        self._set_error("")
        if value == self._value:
            self._show()
            return
        if self._value is _DIFFERS:
            self.line.setPlaceholderText(self._hint)
        self._value = value
        self._show()
        self.edited.emit(value, "")

    def _give_up(self) -> None:
        self._show()

    def _set_error(self, text: str) -> None:
        self.error.setText(text)
        self.error.setVisible(bool(text))
        widgets.set_state(self.line, "wrong", bool(text))
        self.line.setAccessibleDescription(text)


class _Line(QLineEdit):
    """A line that gives up on Escape."""

    given_up = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setMinimumWidth(48)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.given_up.emit()
            self.selectAll()
        else:
            super().keyPressEvent(event)
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                event.accept()


class QuantityField(LineField):
    """A number with its unit; empty for "not known" where that is allowed."""

    def __init__(
        self,
        kind: type[Quantity],
        value: Quantity | None,
        owner: str,
        name: str,
        optional: bool = False,
        unknown: str = "not known",
    ) -> None:
        super().__init__(value)
        self._kind = kind
        self._owner = owner
        self._name = name
        self._optional = optional
        if optional:
            self.line.setPlaceholderText(unknown)
        self._show()

    def set_unknown(self, words: str) -> None:
        """What the empty field stands for."""
        self.line.setPlaceholderText(words)

    def text_of(self, value: object) -> str:
        return value.text if isinstance(value, Quantity) else ""

    def value_of(self, text: str) -> object:
        if not text.strip():
            if self._optional:
                return None
            raise QuantityError(
                f"a {self._kind.name} has to stand here; try '{self._kind.example}'"
            )
        before = self._value if isinstance(self._value, Quantity) else None
        return checked(read(self._kind, text, before), self._owner, self._name)


class TextField(LineField):
    """A line of text; empty for none where that is allowed."""

    def __init__(self, value: str | None, optional: bool = False, hint: str = "") -> None:
        super().__init__(value)
        self._optional = optional
        self.line.setPlaceholderText(hint)
        self._show()

    def text_of(self, value: object) -> str:
        return value if isinstance(value, str) else ""

    def value_of(self, text: str) -> object:
        return None if self._optional and not text.strip() else text.strip()


class NumberField(LineField):
    """A number without a unit, within bounds."""

    def __init__(self, kind: NumberKind, value: float) -> None:
        super().__init__(value)
        self._kind = kind
        self._show()

    def text_of(self, value: object) -> str:
        number = float(value) if isinstance(value, (int, float)) else 0.0
        if self._kind.share:
            return f"{number * 100:g} %"
        return f"{number:g}"

    def value_of(self, text: str) -> object:
        kind = self._kind
        plain = text.strip().removesuffix("%").removesuffix("°").strip().replace(",", "")
        try:
            number = float(plain)
        except ValueError:
            raise ValueError(f"'{text}' is no number") from None
        if kind.share:
            number /= 100.0
        if kind.whole and number != int(number):
            raise ValueError(f"'{text}' is no whole number")
        if not kind.least <= number <= kind.greatest:
            raise ValueError(
                f"this lies between {self.text_of(kind.least)} and {self.text_of(kind.greatest)}"
            )
        return int(number) if kind.whole else number


class LongTextField(Editor):
    """Several lines of text, committed when it is left."""

    inline = False

    def __init__(self, value: str) -> None:
        super().__init__()
        self._value = value
        self.text = _LongText()
        self.text.setPlainText(value)
        self.text.setFixedHeight(84)
        self.text.setTabChangesFocus(True)
        self.text.left.connect(self._left)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.text)
        self.setFocusProxy(self.text)

    def name_it(self, name: str, tip: str) -> None:
        super().name_it(name, tip)
        self.text.setAccessibleName(name)
        self.text.setToolTip(tip)

    def show_value(self, value: object) -> None:
        if value != self._value:
            self._value = str(value)
            self.text.setPlainText(self._value)

    def show_differing(self) -> None:
        self._value = ""
        self.text.setPlainText("")
        self.text.setPlaceholderText(DIFFERING)

    def _left(self) -> None:
        text = self.text.toPlainText().strip()
        if text != self._value:
            self._value = text
            self.edited.emit(text, "")


class _LongText(QPlainTextEdit):
    left = Signal()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.left.emit()


class BoolField(Editor):
    """Yes or no."""

    def __init__(self, value: bool) -> None:
        super().__init__()
        self.box = QCheckBox()
        self.box.setChecked(value)
        self.box.clicked.connect(self._clicked)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 2)
        column.addWidget(self.box)
        self.setFocusProxy(self.box)
        self._show_word()

    def name_it(self, name: str, tip: str) -> None:
        super().name_it(name, tip)
        self.box.setAccessibleName(name)
        self.box.setToolTip(tip)

    def show_value(self, value: object) -> None:
        self.box.setTristate(False)
        self.box.setChecked(bool(value))
        self._show_word()

    def show_differing(self) -> None:
        self.box.setTristate(True)
        self.box.setCheckState(Qt.CheckState.PartiallyChecked)
        self.box.setText(DIFFERING)

    def _show_word(self) -> None:
        self.box.setText("yes" if self.box.isChecked() else "no")

    def _clicked(self, checked_now: bool) -> None:
        self.box.setTristate(False)  # from "differ" a click goes to yes, as Qt does
        self._show_word()
        self.edited.emit(checked_now, "")


class ChoiceField(Editor):
    """One of some values, each with its words."""

    def __init__(self, choices: tuple[tuple[object, str], ...], value: object) -> None:
        super().__init__()
        self._choices: tuple[tuple[object, str], ...] = ()
        self._value = value
        self.combo = _Combo()
        self.combo.activated.connect(self._activated)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.combo)
        self.setFocusProxy(self.combo)
        self.show_choices(choices, value)

    def name_it(self, name: str, tip: str) -> None:
        super().name_it(name, tip)
        self.combo.setAccessibleName(name)
        self.combo.setToolTip(tip)

    def show_choices(self, choices: tuple[tuple[object, str], ...], value: object) -> None:
        """Offer other values; one that is not among them is offered as well."""
        if value not in [one for one, _ in choices]:
            choices = ((value, str(value) if value not in ("", None) else "none"), *choices)
        if choices != self._choices:
            self._choices = choices
            self.combo.clear()
            self.combo.addItems([words for _, words in choices])
        self.show_value(value)

    def show_value(self, value: object) -> None:
        self._value = value
        values = [one for one, _ in self._choices]
        if value not in values:
            self.show_choices(self._choices, value)
            return
        self.combo.setCurrentIndex(values.index(value))

    def show_differing(self) -> None:
        self._value = _DIFFERS
        self.combo.setPlaceholderText(DIFFERING)
        self.combo.setCurrentIndex(-1)

    def _activated(self, index: int) -> None:
        value = self._choices[index][0]
        if value != self._value:
            self._value = value
            self.edited.emit(value, "")


class _Combo(QComboBox):
    """A chooser that leaves the wheel to the column it stands in."""

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(4)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setMinimumWidth(48)

    def paintEvent(self, event: QPaintEvent) -> None:
        """A text longer than its room ends in an ellipsis, and is whole in the tip."""
        painter = QStylePainter(self)
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        room = (
            self.style()
            .subControlRect(
                QStyle.ComplexControl.CC_ComboBox,
                option,
                QStyle.SubControl.SC_ComboBoxEditField,
                self,
            )
            .width()
        )
        option.currentText = self.fontMetrics().elidedText(
            self.currentText(), Qt.TextElideMode.ElideRight, room - 4
        )
        painter.drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)
        painter.end()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            said = dict.fromkeys(one for one in (self.currentText(), self.toolTip()) if one)
            QToolTip.showText(event.globalPos(), "\n".join(said), self)
            return True
        return super().event(event)

    def wheelEvent(self, event) -> None:
        event.ignore()
