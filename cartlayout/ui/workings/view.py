"""A whole working as widgets: steps, limits, what was assumed."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from ...documents.theme import Theme
from .. import widgets
from ..marks import mark_pixmap
from .rows import HeldRow, StepRow, WorkingRows
from .step_view import StepView

_Shape = tuple[object, ...]


class WorkingView(QWidget):
    """Shows `WorkingRows`; what has the same shape as before is only told other numbers."""

    asked = Signal(object)
    """Number whose own working is to be seen."""
    folded = Signal()
    """A step was folded or unfolded."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("scrolled")
        self._rows: WorkingRows | None = None
        self._shape: _Shape = ()
        self._theme: Theme | None = None
        self._unfolded: dict[int, bool] = {}
        self.steps: list[StepView] = []
        self._held: list[tuple[QLabel, QLabel, list[StepView]]] = []
        self._words: list[QLabel] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 4, 4)
        self._column.setSpacing(8)

    def forget(self) -> None:
        """Begin anew: another working folds its steps its own way."""
        self._unfolded = {}
        self._shape = ()

    def show_rows(self, rows: WorkingRows, theme: Theme) -> None:
        """Show a working."""
        if rows == self._rows and theme is self._theme:
            return
        shape = _shape(rows)
        if shape != self._shape:
            self._build(rows, theme)
            self._shape = shape
        self._rows, self._theme = rows, theme
        for view, step in zip(self.steps, rows.steps, strict=True):
            view.show_row(step, theme)
        for (mark, text, views), held in zip(self._held, rows.held, strict=True):
            self._show_held(mark, text, views, held, theme)
        for label, words in zip(self._words, _words(rows), strict=True):
            label.setText(words)

    def _build(self, rows: WorkingRows, theme: Theme) -> None:
        while self._column.count():
            taken = self._column.takeAt(0)
            widget = taken.widget() if taken is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.steps, self._held, self._words = [], [], []
        for at, step in enumerate(rows.steps):
            view = StepView(step, theme, self._unfolded.get(at, step.is_open))
            view.asked.connect(self.asked)
            view.folded.connect(self._folded)
            self.steps.append(view)
            self._add(view)
        if rows.held:
            self._add(widgets.rule())
        for held in rows.held:
            self._add(self._new_held(held, theme))
        if rows.assumed or rows.notes:
            self._add(widgets.rule())
        for _ in _words(rows):
            label = widgets.wrapped("", "muted")
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            self._words.append(label)
            self._add(label)
        self._column.addStretch(1)

    def _add(self, widget: QWidget) -> None:
        self._column.addWidget(widget)
        widget.show()  # a layout shows what is added only later, and its height is asked for now

    def needed_height(self, width: int) -> int:
        """Pixels that all of it takes at a width."""
        self._column.activate()
        return self._column.totalHeightForWidth(width)

    def _new_held(self, held: HeldRow, theme: Theme) -> QWidget:
        mark = QLabel()
        mark.setFixedSize(QSize(16, 16))
        text = widgets.wrapped("", "")
        text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        made = QWidget()
        made.setObjectName("scrolled")
        column = QVBoxLayout(made)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        top = widgets.row(mark, text, spacing=6)
        top.setAlignment(mark, Qt.AlignmentFlag.AlignTop)
        top.setStretch(1, 1)
        column.addLayout(top)
        views = []
        for step in held.steps:
            view = StepView(step, theme, step.is_open)
            view.asked.connect(self.asked)
            column.addWidget(view)
            views.append(view)
        self._held.append((mark, text, views))
        return made

    def _show_held(
        self, mark: QLabel, text: QLabel, views: list[StepView], held: HeldRow, theme: Theme
    ) -> None:
        mark.setPixmap(mark_pixmap(theme.mark(held.state), 15, self.devicePixelRatioF()))
        mark.setAccessibleName(held.word)
        text.setText(held.text)
        for view, step in zip(views, held.steps, strict=True):
            view.show_row(step, theme)

    def _folded(self, is_open: bool) -> None:
        view = self.sender()
        at = next((at for at, one in enumerate(self.steps) if one is view), None)
        if at is not None:
            self._unfolded[at] = is_open
        self.folded.emit()

    @property
    def all_open(self) -> bool:
        """Whether every step shows its formula and its symbols."""
        return all(view.is_open for view in self.steps)

    def unfold_all(self, is_open: bool) -> None:
        """Unfold every step, or fold all."""
        for view in self.steps:
            view.head.setChecked(is_open)


def _words(rows: WorkingRows) -> list[str]:
    return [*(f"Assumed: {one}" for one in rows.assumed), *rows.notes]


def _shape(rows: WorkingRows) -> _Shape:
    """What has to be the same for widgets to be kept."""
    return (
        tuple(_step_shape(step) for step in rows.steps),
        tuple(len(held.steps) for held in rows.held),
        len(rows.assumed),
        len(rows.notes),
    )


def _step_shape(step: StepRow) -> tuple[object, ...]:
    return (step.symbol, len(step.symbols))
