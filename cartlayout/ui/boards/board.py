"""What the boards have in common: a heading, a line beside it, a column that scrolls."""

from typing import Protocol

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from .. import widgets

_HEAD = 24
"""One height for all, so that what is under the headings lines up."""


class Growing(Protocol):
    """A row that can take more room than it needs."""

    def least_height(self) -> int:
        """Pixels it cannot do without."""
        ...

    def grow(self, spare: int) -> None:
        """Take so many pixels more than the least, or as many of them as are of use."""
        ...


class Board(QWidget):
    """Heading, remark, room for chips, and a scrolling column."""

    def __init__(self, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("board")
        self.setAccessibleName(title)
        self.setMinimumWidth(220)
        self.heading = widgets.label(title, "heading")
        self.heading.setFixedHeight(_HEAD)
        self.remark = widgets.ElidedLabel()
        self.remark.setProperty("role", "muted")
        self.head = QHBoxLayout()
        self.head.setContentsMargins(0, 0, 6, 0)
        self.head.setSpacing(8)
        self.head.addWidget(self.heading)
        self.head.addWidget(self.remark, 1)
        self.area = widgets.ColumnArea(spacing=6)
        self.empty = widgets.wrapped("", "muted")
        self.empty.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.empty.hide()
        self.whole = QVBoxLayout(self)
        self.whole.setContentsMargins(12, 8, 4, 4)
        self.whole.setSpacing(4)
        self.whole.addLayout(self.head)
        self.whole.addWidget(self.empty, 1)
        self.whole.addWidget(self.area, 1)

    def add_scale(self, scale: QWidget) -> None:
        """Put a scale between heading and rows, as wide as the rows are."""
        self._scale_row = widgets.row(scale)
        self.whole.insertLayout(1, self._scale_row)
        self.area.verticalScrollBar().rangeChanged.connect(self._fit_scale)
        self._fit_scale(0, 0)

    def _fit_scale(self, _least: int, greatest: int) -> None:
        bar = self.area.verticalScrollBar()
        self._scale_row.setContentsMargins(0, 0, 6 + (bar.sizeHint().width() if greatest else 0), 0)

    def growing(self) -> tuple[Growing, ...]:
        """Rows that share what room is left, from top to bottom."""
        return ()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.share_room()

    def share_room(self) -> None:
        """Few rows in a high board grow: what is easier to read is better than empty space."""
        rows = self.growing()
        if not rows:
            return
        taken = sum(one.least_height() + self.area.column.spacing() for one in rows)
        margins = self.area.column.contentsMargins()
        spare = self.area.viewport().height() - taken - margins.top() - margins.bottom()
        for one in rows:
            one.grow(max(spare, 0) // len(rows))

    def say_empty(self, text: str) -> None:
        """Show a sentence instead of rows; an empty text shows the rows."""
        if text == self.empty.text():
            return
        self.empty.setText(text)
        self.empty.setVisible(bool(text))
        self.area.setVisible(not text)
