"""The command box: a field and the lines that answer to it, over the middle of the window."""

from typing import TYPE_CHECKING

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPoint,
    Qt,
)
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QListView, QVBoxLayout, QWidget

from ...documents.theme import Theme
from .. import settings, widgets
from .rows import LINE, ROW_PX, LineRows
from .search import Line, find
from .sources import lines

if TYPE_CHECKING:
    from ..main_window import MainWindow

Index = QModelIndex | QPersistentModelIndex
_WIDTH, _MARGIN, _TOP = 600, 16, 80
_MOST_SHOWN = 60
_ROWS = 11
_LATELY = 6
_STEPS = {
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_Up: -1,
    Qt.Key.Key_PageDown: _ROWS - 1,
    Qt.Key.Key_PageUp: 1 - _ROWS,
}
_STAY = (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason)


class Lines(QAbstractListModel):
    """The lines that are shown."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.lines: tuple[Line, ...] = ()

    def show_lines(self, lines: tuple[Line, ...]) -> None:
        """Show others."""
        self.beginResetModel()
        self.lines = lines
        self.endResetModel()

    def rowCount(self, parent: Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        line = self.lines[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return line.text
        if role == LINE:
            return line
        if role == Qt.ItemDataRole.ToolTipRole:
            return line.tip
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return in_words(line)
        return None


def in_words(line: Line) -> str:
    """A line as a screen reader says it."""
    parts = [line.text]
    if line.is_on is not None:
        parts.append("on" if line.is_on else "off")
    parts += [one for one in (line.place, line.key_text) if one]
    if not line.enabled:
        parts.append(f"not now: {line.needs}")
    return ", ".join(parts)


class CommandBox(QFrame):
    """Opens over the window, runs one line, and gives the keyboard back to where it was."""

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window = window
        self._all: tuple[Line, ...] = ()
        self._came_from: QWidget | None = None
        self.setObjectName("commandBox")
        self.setProperty("raised", True)
        self.setAccessibleName("Find a command")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.field = QLineEdit()
        self.field.setPlaceholderText("What do you want to do?  rotate, place kettle, go to sink …")
        self.field.setAccessibleName("Words of a command, an item or a piece of equipment")
        self.field.setProperty("large", True)
        self.field.textEdited.connect(self._typed)
        self.field.installEventFilter(self)
        self.model = Lines(self)
        self.list = QListView()
        self.list.setModel(self.model)
        self.rows = LineRows(window.session.theme, self.list)
        self.list.setItemDelegate(self.rows)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setUniformItemSizes(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setAccessibleName("Commands found")
        self.list.clicked.connect(self._clicked)
        self.list.selectionModel().currentChanged.connect(self._current_changed)
        self.foot = widgets.wrapped("", "caption")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 8)
        column.setSpacing(6)
        column.addWidget(self.field)
        column.addWidget(self.list)
        column.addWidget(self.foot)
        self.hide()
        window.session.theme_changed.connect(self._theme_changed)
        window.installEventFilter(self)

    # Opening and closing

    def open(self) -> None:
        """Show everything, with the field empty."""
        came_from = self._window.focusWidget()
        if came_from is not self.field:
            self._came_from = came_from
        self._all = lines(self._window)
        self.field.clear()
        self._typed("")
        self.show()
        self.raise_()
        self.field.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def dismiss(self) -> None:
        """Close without doing anything; the keyboard goes back to where it was."""
        if self.isHidden():
            return
        had_keyboard = self.field.hasFocus()
        back, self._came_from = self._came_from, None
        self._all = ()
        self.hide()
        self.model.show_lines(())
        if had_keyboard:
            (back or self._window.plan).setFocus(Qt.FocusReason.OtherFocusReason)

    def run_current(self) -> None:
        """Do the chosen line; one that cannot be done now stays, and says why."""
        index = self.list.currentIndex()
        if not index.isValid():
            return
        line = self.model.lines[index.row()]
        if not line.enabled:
            self._window.session.tell(line.needs)
            return
        self.dismiss()
        remember(line.key)
        line.run()

    # Events

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._window:
            if event.type() == QEvent.Type.Resize and not self.isHidden():
                self._settle()
            return False
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            return self._key(event)
        if (
            isinstance(event, QFocusEvent)
            and event.type() == QEvent.Type.FocusOut
            and event.reason() not in _STAY
        ):
            self.dismiss()
        return False

    def _key(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        if key in _STEPS:
            self._step(_STEPS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.run_current()
        elif key in (Qt.Key.Key_Escape, Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
            self.dismiss()
        else:
            return False
        return True

    def _step(self, by: int) -> None:
        count = self.model.rowCount()
        if count:
            now = self.list.currentIndex().row()
            one = abs(by) == 1
            row = (now + by) % count if one else max(0, min(now + by, count - 1))
            self.list.setCurrentIndex(self.model.index(row))

    def _clicked(self, index: QModelIndex) -> None:
        self.list.setCurrentIndex(index)
        self.run_current()

    def _current_changed(self, index: QModelIndex, _before: QModelIndex) -> None:
        if index.isValid():
            line = self.model.lines[index.row()]
            self.foot.setText(line.tip if line.enabled else f"Not now. {line.needs}")

    # What is shown

    def _typed(self, text: str) -> None:
        found = find(self._all, text, lately())[:_MOST_SHOWN]
        self.model.show_lines(found)
        if found:
            self.list.setCurrentIndex(self.model.index(0))
        else:
            self.foot.setText(f"Nothing answers to '{text.strip()}'. Try another word for it.")
        self._settle()

    def _settle(self) -> None:
        """As wide as there is room for, as high as its lines, near the top."""
        window = self._window
        width = max(200, min(_WIDTH, window.width() - 2 * _MARGIN))
        top = _TOP if window.height() > 500 else _MARGIN
        room = window.height() - top - _MARGIN - self.field.sizeHint().height() - 60
        shown = min(self.model.rowCount(), _ROWS, max(2, room // ROW_PX))
        self.list.setFixedHeight(max(1, shown) * ROW_PX + 2)
        self.list.setVisible(bool(self.model.rowCount()))
        self.setFixedWidth(width)
        self.adjustSize()
        self.move(QPoint((window.width() - width) // 2, top))

    def _theme_changed(self, theme: Theme) -> None:
        self.rows.theme = theme
        self.list.viewport().update()


def lately() -> tuple[str, ...]:
    """Keys of the commands used last, the latest first."""
    return tuple(key for key in settings.text("commands").split("\n") if key)


def remember(key: str) -> None:
    """Put a command at the head of those used lately."""
    others = [one for one in lately() if one != key]
    settings.remember("commands", "\n".join((key, *others)[:_LATELY]))
