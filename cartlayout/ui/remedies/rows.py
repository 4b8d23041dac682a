"""The list of remedies: what is done, and under it the number that comes of it."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QResizeEvent
from PySide6.QtWidgets import QListView, QListWidgetItem, QStyleOptionViewItem

from ...advice.remedies.model import Remedy
from ...documents.fonts import font
from ...documents.theme import TYPE, Theme
from ...units import UnitSystem
from ..marks import paint_mark
from ..trying import KEY, VERDICT, WORDS, Index, TrialList, TrialRows, write
from ..trying.rows import MARK_PX
from .words import effort_tip, effort_word, row_words, verdict

_LEFT_PX = MARK_PX + 12
_EDGE_PX = 5
_BETWEEN_PX = 12
_MOST_LINES = 3
_BREAKS = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)


def title_height(text: str, width: float) -> float:
    """Pixels that a title takes in a row so wide: three lines at the most."""
    metrics = QFontMetricsF(font(TYPE.body))
    box = metrics.boundingRect(QRectF(0, 0, max(width, 40.0), 1000.0), _BREAKS, text)
    return min(box.height(), _MOST_LINES * metrics.lineSpacing() + 1)


class RemedyRows(TrialRows):
    """Paints the mark, the title on as many lines as it needs, and the outcome."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        if not index.data(KEY):
            return super().sizeHint(option, index)
        lower = QFontMetricsF(font(TYPE.caption)).height()
        return QSize(120, round(title_height(str(index.data()), self._room()) + lower + 12))

    def paint_row(self, painter: QPainter, rect: QRectF, index: Index) -> None:
        theme = self.theme
        square = QRectF(rect.left() + 5, rect.top() + 5, MARK_PX, MARK_PX)
        paint_mark(painter, theme.mark(index.data(VERDICT)), square)
        left = rect.left() + _LEFT_PX
        title = str(index.data())
        high = title_height(title, self._room())
        upper = QRectF(left, rect.top() + 4, self._room(), high)
        painter.setFont(font(TYPE.body))
        painter.setPen(QColor(theme.ink))
        painter.save()
        painter.setClipRect(upper)
        painter.drawText(upper.adjusted(0, 0, 0, 400), _BREAKS, title)
        painter.restore()
        lower = QRectF(left, upper.bottom(), self._room(), rect.bottom() - upper.bottom() - 2)
        outcome, effort = index.data(WORDS)
        taken = write(painter, outcome, lower, TYPE.caption, self._ink(index))
        rest = lower.adjusted(taken + _BETWEEN_PX, 0, 0, 0)
        if QFontMetricsF(font(TYPE.caption)).horizontalAdvance(effort) <= rest.width():
            write(painter, effort, rest, TYPE.caption, theme.ink_muted, right=True)

    def _ink(self, index: Index) -> str:
        return self.theme.mark(index.data(VERDICT)).ink

    def _room(self) -> float:
        shown = self.parent()
        wide = shown.viewport().width() if isinstance(shown, QListView) else 300
        return wide - _LEFT_PX - _EDGE_PX - 4.0


class RemedyList(TrialList):
    """Remedies, the best first; one is current."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(RemedyRows, theme)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setAccessibleName("Remedies")

    def fill(self, remedies: Sequence[Remedy], theme: Theme, system: UnitSystem) -> None:
        """Show other remedies; the current one stays current."""
        before = self.current_key()
        self.rows.theme = theme
        self.blockSignals(True)
        self.clear()
        for one in remedies:
            self.addItem(_row(one, system))
        if before:
            self.choose(before)
        self.blockSignals(False)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()  # titles break elsewhere


def key_of(remedy: Remedy) -> str:
    """What a remedy's row is known by: what it does, to what."""
    return "\n".join((remedy.kind, remedy.title.shown(UnitSystem.METRIC), *remedy.items))


def _row(remedy: Remedy, system: UnitSystem) -> QListWidgetItem:
    title = remedy.title.shown(system)
    words = row_words(remedy, system)
    row = QListWidgetItem(title)
    row.setData(KEY, key_of(remedy))
    row.setData(VERDICT, verdict(remedy))
    row.setData(WORDS, (remedy.outcome.shown(system), effort_word(remedy.effort)))
    row.setToolTip(f"{title}\n{remedy.outcome.shown(system)}\n{effort_tip(remedy.effort)}")
    row.setData(Qt.ItemDataRole.AccessibleTextRole, f"{title}: {words}")
    return row
