"""The panel that shows a working: over the plan, movable, never in the way of an edit."""

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence, QMouseEvent
from PySide6.QtWidgets import QFrame, QLabel, QSizeGrip, QToolButton, QVBoxLayout, QWidget

from ...documents.theme import Theme
from .. import widgets
from .rows import WorkingRows
from .view import WorkingView

_USUAL = QSize(420, 440)
_LEAST = QSize(260, 150)
_EDGE = 8
_SIDES, _AROUND = 40, 78
"""Pixels beside the working, and above and under it, without title and result."""
_LINE_PX = 18
_MOVED = (QEvent.Type.Resize, QEvent.Type.Show)


class _Title(QLabel):
    """What number it is; the panel is moved by it."""

    dragged = Signal(object)
    """QPoint that it was moved by."""

    def __init__(self) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("role", "title")
        self.setWordWrap(True)
        self.setMinimumWidth(10)
        self.setCursor(Qt.CursorShape.SizeAllCursor)
        self.setToolTip("Drag to move the panel")
        self._from: QPoint | None = None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._from = event.globalPosition().toPoint()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._from is not None:
            now = event.globalPosition().toPoint()
            self.dragged.emit(now - self._from)
            self._from = now

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._from = None


class WorkingPanel(QFrame):
    """Title and result on top, the working under it, a way back, copy and close."""

    back_asked = Signal()
    copy_asked = Signal()
    closed = Signal()
    asked = Signal(object)
    """Number of a symbol whose own working is to be seen."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.setProperty("raised", True)
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setAccessibleName("Working")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._window = window
        self._place: QPoint | None = None
        """Where the person has put it."""
        self._size: QSize | None = None
        self.title = _Title()
        self.title.dragged.connect(self._dragged)
        self.result = widgets.label("", "heading")
        self.result.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.back = widgets.LinkButton("‹ Back")
        self.back.clicked.connect(self.back_asked)
        self.back.setToolTip("Back to the working this came from (Alt+Left)")
        self.copy = widgets.LinkButton("Copy as text")
        self.copy.clicked.connect(self.copy_asked)
        self.copy.setToolTip("Copy the whole working, to be sent or printed (Ctrl+C)")
        self.unfold = widgets.LinkButton("Unfold all")
        self.unfold.clicked.connect(self._unfold)
        self.unfold.setToolTip("Show formula and symbols of every step, or fold them")
        self.close_button = QToolButton()
        self.close_button.setText("✕")
        self.close_button.setAccessibleName("Close the working")
        self.close_button.setToolTip("Close (Escape)")
        self.close_button.clicked.connect(self.close_panel)
        self.gone = widgets.wrapped("", "muted")
        self.gone.hide()
        self.view = WorkingView()
        self.view.asked.connect(self.asked)
        self.view.folded.connect(self._say_unfold)
        self.area = widgets.ColumnArea(spacing=0)
        self.area.add(self.view)
        self._lay_out()
        window.installEventFilter(self)
        self.hide()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 8, 6, 6)
        column.setSpacing(4)
        top = widgets.row(self.title, self.close_button, spacing=4)
        top.setStretch(0, 1)
        top.setAlignment(self.close_button, Qt.AlignmentFlag.AlignTop)
        column.addLayout(top)
        column.addWidget(self.result)
        column.addWidget(self.gone)
        column.addWidget(widgets.rule())
        column.addWidget(self.area, 1)
        column.addWidget(widgets.rule())
        grip = QSizeGrip(self)
        grip.setToolTip("Drag to make the panel larger or smaller")
        grip.installEventFilter(self)
        foot = widgets.row(self.back, self.copy, self.unfold, None, grip, spacing=12)
        foot.setAlignment(grip, Qt.AlignmentFlag.AlignBottom)
        column.addLayout(foot)

    # What it shows

    def show_rows(self, rows: WorkingRows, theme: Theme) -> None:
        """Show a working, or other numbers of it."""
        self.gone.hide()
        self.title.setText(rows.title)
        self.result.setText(rows.result)
        self.result.setAccessibleName(f"{rows.title}: {rows.result}")
        self.view.setEnabled(True)
        self.view.show_rows(rows, theme)
        self._say_unfold()

    def _unfold(self) -> None:
        self.view.unfold_all(not self.view.all_open)
        self._say_unfold()
        self.fit()

    def _say_unfold(self) -> None:
        self.unfold.setVisible(len(self.view.steps) > 1)
        self.unfold.set_whole("Fold all" if self.view.all_open else "Unfold all")

    def show_gone(self, words: str) -> None:
        """Say that there is no such number now; the last working stays, greyed."""
        self.gone.setText(words)
        self.gone.show()
        self.view.setEnabled(False)

    def show_back(self, title: str) -> None:
        """Offer the way back to another working; empty: there is none."""
        self.back.setVisible(bool(title))
        self.back.setAccessibleName(f"Back to: {title}")

    # Opening and closing

    def open_panel(self, take_keyboard: bool = True) -> None:
        """Come into sight where it was last, or at the right of the plan."""
        if not self.isVisible():
            self._put()
            self.show()
            self.raise_()
        if take_keyboard:
            self.setFocus(Qt.FocusReason.PopupFocusReason)

    def close_panel(self) -> None:
        """Go out of sight."""
        if self.isVisible():
            self.hide()
            self.closed.emit()

    def fit(self) -> None:
        """As high as the working needs, as far as there is room."""
        if self.isVisible() and self._size is None:
            self._put()

    # Place

    def _around(self) -> QRect:
        """Where it may stand: over the plan, or anywhere in a window too small for that."""
        plan = self._window.findChild(QWidget, "plan")
        whole = self._window.rect()
        if plan is None or not plan.isVisible():
            return whole
        found = QRect(plan.mapTo(self._window, QPoint(0, 0)), plan.size())
        return found if found.width() > _LEAST.width() + 2 * _EDGE else whole

    def _wanted(self, around: QRect) -> QSize:
        if self._size is not None:
            return self._size
        width = min(_USUAL.width(), around.width() - 2 * _EDGE)
        content = self.view.needed_height(width - _SIDES)
        high = max(content + self._frame_height(width), _LEAST.height())
        return QSize(width, min(high, max(_USUAL.height(), around.height() - 2 * _EDGE)))

    def _frame_height(self, width: int) -> int:
        """Pixels of everything but the working itself."""
        title = self.title.heightForWidth(width - _SIDES - self.close_button.width())
        return title + self.result.sizeHint().height() + _AROUND

    def _put(self) -> None:
        around, whole = self._around(), self._window.rect().adjusted(_EDGE, _EDGE, -_EDGE, -_EDGE)
        size = self._wanted(around).boundedTo(whole.size()).expandedTo(QSize(0, 0))
        place = self._place
        if place is None:
            place = QPoint(around.right() - size.width() - _EDGE, around.top() + _EDGE)
        box = QRect(place, size)
        box.moveRight(min(box.right(), whole.right()))
        box.moveBottom(min(box.bottom(), whole.bottom()))
        box.moveLeft(max(box.left(), whole.left()))
        box.moveTop(max(box.top(), whole.top()))
        self.setGeometry(box)

    def _dragged(self, by: QPoint) -> None:
        self._place = self.pos() + by
        self._put()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._window and event.type() in _MOVED and self.isVisible():
            self._put()
        if isinstance(watched, QSizeGrip) and event.type() == QEvent.Type.MouseButtonRelease:
            self._size = self.size().expandedTo(_LEAST)
            self._place = self.pos()
            self._put()
        return super().eventFilter(watched, event)

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        bar = self.area.verticalScrollBar()
        steps: dict[int, int] = {
            Qt.Key.Key_Down: 3 * _LINE_PX,
            Qt.Key.Key_Up: -3 * _LINE_PX,
            Qt.Key.Key_PageDown: bar.pageStep(),
            Qt.Key.Key_PageUp: -bar.pageStep(),
        }
        goes_back = event.key() == Qt.Key.Key_Backspace or event.matches(
            QKeySequence.StandardKey.Back
        )
        if event.key() == Qt.Key.Key_Escape:
            self.close_panel()
        elif goes_back:
            self.back_asked.emit()
        elif event.matches(QKeySequence.StandardKey.Copy):
            self.copy_asked.emit()
        elif event.key() in steps:
            bar.setValue(bar.value() + steps[event.key()])
        else:
            super().keyPressEvent(event)


def to_clipboard(text: str) -> None:
    """Put a text where other programs can take it from."""
    QGuiApplication.clipboard().setText(text)
