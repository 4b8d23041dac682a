"""What is said under the list about the row that is current."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from ...documents.theme import Theme
from .. import widgets
from ..marks import mark_pixmap


class Line(QWidget):
    """A mark and a sentence that breaks."""

    def __init__(self, text: str, mark: str, theme: Theme, role: str = "") -> None:
        super().__init__()
        picture = QLabel()
        picture.setFixedSize(QSize(14, 16))
        picture.setPixmap(mark_pixmap(theme.mark(mark), 13, self.devicePixelRatioF()))
        picture.setAccessibleName(theme.mark(mark).word)
        self.words = widgets.wrapped(text, role)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(7)
        row.addWidget(picture, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.words, 1)


class TrialReport(widgets.ColumnArea):
    """A page of facts and sentences."""

    def __init__(self, spacing: int) -> None:
        super().__init__(spacing=spacing)
        self._spacing = spacing

    def say(self, sentence: str) -> None:
        """Show one sentence and nothing else; none: nothing."""
        self._show([widgets.wrapped(sentence, "muted")] if sentence else [])

    def show_parts(self, parts: list[QWidget]) -> None:
        """Show these and nothing else."""
        self._show(parts)

    def _show(self, parts: list[QWidget]) -> QWidget:
        """Put the parts on one page and show that: each shown by itself takes a while."""
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(self._spacing)
        for part in parts:
            column.addWidget(part)
        self.clear()
        self.add(page)
        self.verticalScrollBar().setValue(0)
        return page
