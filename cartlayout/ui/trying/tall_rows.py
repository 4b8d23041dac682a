"""Rows that take as many lines as their words need: a title, and under it what comes of it."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QResizeEvent
from PySide6.QtWidgets import QListView, QListWidgetItem, QStyleOptionViewItem

from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from ..marks import paint_mark
from .rows import KEY, MARK_PX, VERDICT, WORDS, Index, TrialList, TrialRows, write

MARK_LEFT_PX = 5
_TEXT_LEFT_PX = MARK_PX + 12
_BARE_LEFT_PX = 6
_EDGE_PX = 9
_TOP_PX = 4
_BETWEEN_PX = 12
_LEAST_PX = 44
"""High is a list without a row."""
_MANY = 100
"""So many rows are higher than any screen."""
_MOST_TITLE, _MOST_WORDS = 3, 2
"""Lines; what is longer is cut, and the report says it whole."""
_BREAKS = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)


def _height(text: str, size: int, width: float, most: int) -> float:
    metrics = QFontMetricsF(font(size))
    if not text:
        return 0.0
    box = metrics.boundingRect(QRectF(0, 0, max(width, 40.0), 1000.0), _BREAKS, text)
    return min(box.height(), most * metrics.lineSpacing() + 1)


class TallRows(TrialRows):
    """Paints the mark, the title, and the words under it; what is beside them only if it fits.

    `WORDS` of a row is a pair: what stands under the title, and what stands at the right of that.
    The words take the ink of the row's verdict where `tells` is set.
    """

    tells = True

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        if not index.data(KEY):
            return super().sizeHint(option, index)
        title, words = self._heights(index)
        return QSize(120, round(title + words) + 2 * _TOP_PX + 2)

    def paint_row(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        theme, verdict = self.theme, index.data(VERDICT)
        self.paint_mark_of(painter, rect, index)
        left = rect.left() + self.left(index)
        title, words = self._heights(index)
        wide = self._room(index)
        upper = QRectF(left, rect.top() + _TOP_PX - 1, wide, title)
        _broken(painter, str(index.data()), upper, TYPE.body, theme.ink)
        lower = QRectF(left, upper.bottom(), wide, words)
        under, beside = index.data(WORDS)
        ink = theme.mark(verdict).ink if verdict and self.tells else theme.ink_muted
        _broken(painter, under, lower, TYPE.caption, ink)
        self._paint_beside(painter, beside, under, lower)

    def paint_mark_of(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        """What stands before the title."""
        verdict = index.data(VERDICT)
        if verdict:
            square = QRectF(rect.left() + MARK_LEFT_PX, rect.top() + 5, MARK_PX, MARK_PX)
            paint_mark(painter, self.theme.mark(verdict), square)

    def _paint_beside(self, painter: QPainter, text: str, under: str, lower: QRectF) -> None:
        metrics = QFontMetricsF(font(TYPE.caption))
        taken = metrics.horizontalAdvance(under)
        rest = lower.adjusted(taken + _BETWEEN_PX, 0, 0, 0)
        if text and metrics.horizontalAdvance(text) <= rest.width():
            write(painter, text, rest, TYPE.caption, self.theme.ink_muted, right=True)

    def _heights(self, index: Index) -> tuple[float, float]:
        wide = self._room(index)
        title = _height(str(index.data()), TYPE.body, wide, _MOST_TITLE)
        return title, _height(index.data(WORDS)[0], TYPE.caption, wide, _MOST_WORDS)

    def left(self, index: Index) -> float:
        """Pixels before the title."""
        return _TEXT_LEFT_PX if index.data(VERDICT) else _BARE_LEFT_PX

    def _room(self, index: Index) -> float:
        shown = self.parent()
        wide = shown.viewport().width() if isinstance(shown, QListView) else 300
        return wide - self.left(index) - _EDGE_PX


class TallList(TrialList):
    """A list of such rows, laid out anew when its width changes."""

    def __init__(self, theme: Theme, rows: type[TallRows] = TallRows) -> None:
        super().__init__(rows, theme)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)

    def add_row(
        self, key: str, verdict: str, title: str, words: tuple[str, str]
    ) -> QListWidgetItem:
        """A row at the end; its tip says all of it."""
        row = QListWidgetItem(title)
        said = "\n".join(part for part in (title, *words) if part)
        row.setData(KEY, key)
        row.setData(VERDICT, verdict)
        row.setData(WORDS, words)
        row.setToolTip(said)
        spoken = self.rows.theme.mark(verdict).word + ": " if verdict else ""
        row.setData(Qt.ItemDataRole.AccessibleTextRole, spoken + said.replace("\n", ", "))
        self.addItem(row)
        return row

    def fit_rows(self) -> None:
        """Take no more height than the rows need: what stands below has more of it."""
        self.setMaximumHeight(
            max(sum(map(self.sizeHintForRow, range(self.count()))) + 4, _LEAST_PX)
        )

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.scheduleDelayedItemsLayout()  # words break elsewhere
            self.fit_rows()


def _broken(painter: QPainter, text: str, where: QRectF, size: int, colour: str) -> None:
    """Words on as many lines as there is room for."""
    painter.save()
    painter.setClipRect(where)
    painter.setFont(font(size))
    painter.setPen(QColor(colour))
    painter.drawText(where.adjusted(0, 0, 0, 400), _BREAKS, text)
    painter.restore()
