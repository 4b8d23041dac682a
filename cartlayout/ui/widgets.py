"""Small widgets that several parts of the window share."""

from PySide6.QtCore import QCoreApplication, QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QIcon,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QMessageBox,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QStyle,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from ..documents.theme import Theme

_LINK_SIDES = 5
"""Pixels left and right of the words of a link, together."""
_BAR_PX = 48
"""Width of the bar beside the words that say the same."""


def label(text: str = "", role: str = "", parent: QWidget | None = None) -> QLabel:
    """A label; role is one of the style sheet's ("heading", "title", "muted", "caption" ...)."""
    made = QLabel(text, parent)
    made.setTextFormat(Qt.TextFormat.PlainText)
    if role:
        made.setProperty("role", role)
    return made


def without_icons(box: QDialogButtonBox | QMessageBox) -> None:
    """Take the style's own little pictures off a dialog's buttons: words are enough."""
    for button in box.buttons():
        button.setIcon(QIcon())


def wrapped(text: str = "", role: str = "", parent: QWidget | None = None) -> QLabel:
    """A label that breaks its lines."""
    made = label(text, role, parent)
    made.setWordWrap(True)
    made.setMinimumWidth(10)
    return made


def as_high_as_its_words(dialog: QDialog, width: int) -> None:
    """Make a dialog so wide, and no higher than what is in it needs at that width."""
    layout = dialog.layout()
    if layout is None:
        return
    dialog.setMinimumWidth(width)
    needed = layout.totalHeightForWidth(width) if layout.hasHeightForWidth() else 0
    room = dialog.screen().availableGeometry().height() * 9 // 10
    dialog.resize(width, min(max(needed, layout.totalMinimumSize().height()), room))


def set_state(widget: QWidget, key: str, value: object) -> None:
    """Set a property that the style sheet looks at, and let it look again."""
    if widget.property(key) == value:
        return
    widget.setProperty(key, value)
    widget.style().unpolish(widget)
    widget.style().polish(widget)


def rule(parent: QWidget | None = None) -> QFrame:
    """A hairline across."""
    made = QFrame(parent)
    made.setProperty("rule", True)
    made.setFixedHeight(1)
    return made


def segment(text: str, end: str, tip: str) -> QToolButton:
    """One button of a row of which one is chosen; end is "first", "last", "only" or ""."""
    made = QToolButton()
    made.setText(text)
    made.setCheckable(True)
    made.setAutoExclusive(True)
    made.setProperty("segment", True)
    made.setProperty("end", end)
    made.setToolTip(tip)
    made.setAccessibleName(tip)
    made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return made


def chip(text: str, tip: str) -> QToolButton:
    """A switch with round ends."""
    made = QToolButton()
    made.setText(text)
    made.setCheckable(True)
    made.setProperty("chip", True)
    made.setToolTip(tip)
    made.setAccessibleName(tip)
    made.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
    made.setIconSize(QSize(14, 14))
    made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return made


class LinkButton(QPushButton):
    """Words that lead somewhere; the Enter key follows them as well as the space bar.

    They end in an ellipsis where there is no room.
    """

    def __init__(self, text: str = "", *, fills: bool = False) -> None:
        """Make it.

        Args:
            text: what it says.
            fills: it is as wide as there is room, and never asks for more.
        """
        super().__init__()
        self._whole = ""
        self.setFlat(True)
        wide = QSizePolicy.Policy.Ignored if fills else QSizePolicy.Policy.Preferred
        self.setSizePolicy(wide, QSizePolicy.Policy.Fixed)
        self.set_whole(text)

    @property
    def whole(self) -> str:
        """All that it says."""
        return self._whole

    def set_whole(self, text: str) -> None:
        """Say something else."""
        if text != self._whole:
            self._whole = text
            self.setAccessibleName(text)
            self.updateGeometry()
            self._fit()

    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        return QSize(self.fontMetrics().horizontalAdvance(self._whole) + _LINK_SIDES, hint.height())

    def minimumSizeHint(self) -> QSize:
        return QSize(40, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def _fit(self) -> None:
        room = max(0, self.width() - _LINK_SIDES + 1)
        metrics = self.fontMetrics()
        self.setText(metrics.elidedText(self._whole, Qt.TextElideMode.ElideRight, room))


class ElidedLabel(QLabel):
    """One line that ends in an ellipsis where it has no room; the whole text is its tooltip."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._whole = ""
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.set_whole(text)

    def set_whole(self, text: str) -> None:
        """Show another text."""
        if text == self._whole:
            return
        self._whole = text
        self.setAccessibleName(text)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        room = max(0, self.contentsRect().width() - 1)
        shown = self.fontMetrics().elidedText(self._whole, Qt.TextElideMode.ElideRight, room)
        self.setText(shown)
        self.setToolTip(self._whole if shown != self._whole else "")


class ColumnArea(QScrollArea):
    """A column of widgets that scrolls up and down, never sideways."""

    def __init__(self, parent: QWidget | None = None, spacing: int = 6) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.body = QWidget()
        self.body.setObjectName("scrolled")
        self.column = QVBoxLayout(self.body)
        self.column.setContentsMargins(0, 0, 6, 4)
        self.column.setSpacing(spacing)
        self.column.addStretch(1)
        self.setWidget(self.body)

    def add(self, widget: QWidget) -> None:
        """Add a widget at the end of the column."""
        self.column.insertWidget(self.column.count() - 1, widget)
        widget.show()  # a layout shows what is added only later, and focus needs it now

    def bring_up(self, widget: QWidget) -> None:
        """Scroll so that a widget is seen whole, or from its top, with the size it has now."""
        QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
        self.body.resize(self.body.width(), self.body.sizeHint().height())
        self.column.activate()
        bar = self.verticalScrollBar()
        top, bottom = widget.y(), widget.y() + widget.height()
        seen = self.viewport().height()
        if bottom > bar.value() + seen:
            bar.setValue(min(top, bottom - seen + 4))
        if top < bar.value():
            bar.setValue(max(0, top - 4))

    def clear(self) -> None:
        """Take every widget away."""
        while self.column.count() > 1:
            taken = self.column.takeAt(0)
            if taken is not None and (widget := taken.widget()) is not None:
                widget.hide()
                widget.deleteLater()


def row(*widgets: QWidget | None, spacing: int = 6) -> QHBoxLayout:
    """A row of widgets; None is a stretch."""
    made = QHBoxLayout()
    made.setContentsMargins(0, 0, 0, 0)
    made.setSpacing(spacing)
    for widget in widgets:
        if widget is None:
            made.addStretch(1)
        else:
            made.addWidget(widget)
    return made


def progress_row(words: ElidedLabel, bar: QProgressBar, stop: QWidget) -> QHBoxLayout:
    """How far something is: the words have the room, since an elided label asks for none."""
    bar.setTextVisible(False)
    bar.setFixedSize(_BAR_PX, 6)
    bar.setAccessibleName(bar.accessibleName() or "How far it is")
    made = row(words, bar, stop)
    made.setStretch(0, 1)
    return made


class PaintedRow(QWidget):
    """A row that paints itself and takes the keyboard: painted anew when the focus changes."""

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()


class ChoosableRow(PaintedRow):
    """A painted row that a click, Enter or Space chooses."""

    chosen = Signal(object)
    """What `choice` gives."""

    def __init__(self) -> None:
        super().__init__()
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def choice(self) -> object:
        """Id of what the row stands for."""
        raise NotImplementedError

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.chosen.emit(self.choice())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.chosen.emit(self.choice())
        else:
            super().keyPressEvent(event)


def paint_row_ground(
    painter: QPainter, rect: QRectF, state: QStyle.StateFlag, theme: Theme
) -> None:
    """The ground of a row in a list: chosen, under the mouse, or with the keyboard."""
    grounds = (
        (QStyle.StateFlag.State_Selected, theme.selection_tint),
        (QStyle.StateFlag.State_MouseOver, theme.track),
    )
    ground = next((colour for flag, colour in grounds if state & flag), None)
    if ground is not None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(ground))
        painter.drawRoundedRect(rect, 4, 4)
    if state & QStyle.StateFlag.State_HasFocus:
        painter.setPen(QPen(QColor(theme.selection), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(rect.adjusted(0.75, 0.75, -0.75, -0.75), 4, 4)
