"""One circuit's bar: loads as segments in its accent, against 80 % and 100 % of its rating."""

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QContextMenuEvent,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QApplication, QToolTip

from ...documents.fonts import font
from ...documents.theme import TYPE, Accent, Theme
from ...findings.number import Number
from ..marks import paint_mark
from ..typical import SIGN, tip_of
from ..widgets import PaintedRow
from ..workings.asking import Spots
from .circuit_rows import CircuitRow, Segment

HEAD = 19
BAR = 21
FOOT = 5
LEG = 14
"""Of a bar that shows its legs one under the other."""
MOST_BAR, MOST_FOOT = 34, 18
"""What of a row may grow to where there is room."""
_BADGE_PX = 50.0
"""The letter and the line of a circuit, before its title."""
_TITLE_PX = 24
"""So much of a title is seen before a verdict says all of its words."""


class CircuitBar(PaintedRow):
    """Paints a prepared row; tells the board what the mouse and the keys ask for."""

    chosen = Signal(object)
    """Ids of items to select."""
    drag_started = Signal(object)
    """Id of the load that is taken up."""
    drag_moved = Signal(object)
    """QPoint on the screen."""
    drag_dropped = Signal()
    drag_cancelled = Signal()
    menu_requested = Signal(object, object)
    """Id of a load and the QPoint on the screen."""
    room_requested = Signal(object)
    """QPoint on the screen: what has still room on it."""
    working_asked = Signal(object)
    """Tuple of Numbers: how they came about."""

    def __init__(self, row: CircuitRow, scale: float, theme: Theme) -> None:
        super().__init__()
        self.row = row
        self._scale = scale
        self._theme = theme
        self._selected: frozenset[str] = frozenset()
        self._current = -1
        self._pressed: QPoint | None = None
        self._taken: str | None = None
        self._target = ""
        self._moved_here: str | None = None
        self.spots = Spots(self)
        self._asks: tuple[Number, ...] = ()
        self._bar, self._foot, self._spare = self._least_bar(), FOOT, 0
        self.setFixedHeight(self.least_height())
        self.setMouseTracking(True)
        self.setAccessibleName(row.spoken)
        self.setAccessibleDescription(
            "Left and right go through the loads, the menu key offers other circuits"
        )

    def sizeHint(self) -> QSize:
        return QSize(300, self.height())

    def least_height(self) -> int:
        """Head, bar and the space under it."""
        return HEAD + self._least_bar() + FOOT

    def _least_bar(self) -> int:
        """Each leg needs room for its letters."""
        return max(BAR, LEG * len(self.row.legs))

    def grow(self, spare: int) -> None:
        """A higher bar first, then more space under it."""
        self._spare = spare
        least = self._least_bar()
        bar = least + min(spare * 2 // 3, max(MOST_BAR - least, 0))
        foot = FOOT + min(spare - (bar - least), MOST_FOOT - FOOT)
        if (bar, foot) != (self._bar, self._foot):
            self._bar, self._foot = bar, foot
            self.setFixedHeight(HEAD + bar + foot)
            self.update()

    def show_row(self, row: CircuitRow, scale: float, theme: Theme) -> None:
        """Show other values."""
        if row == self.row and scale == self._scale and theme is self._theme:
            return
        before = self.row.segments[self._current].item if self._current >= 0 else None
        self.row, self._scale, self._theme = row, scale, theme
        items = [segment.item for segment in row.segments]
        self._current = items.index(before) if before in items else -1
        self.setAccessibleName(row.spoken)
        self.grow(self._spare)
        self.update()

    def show_selection(self, items: frozenset[str]) -> None:
        """Outline the segments of selected items."""
        if items != self._selected:
            self._selected = items
            self.update()

    def show_target(self, kind: str, moved: str | None = None) -> None:
        """Mark the bar while a load hangs over it: "fits", "refused" or ""."""
        if (kind, moved) != (self._target, self._moved_here):
            self._target, self._moved_here = kind, moved
            self.update()

    # Geometry

    def bar_rect(self) -> QRectF:
        """Where the bar is."""
        return QRectF(1, HEAD, self.width() - 2, self._bar)

    def _x(self, share: float) -> float:
        bar = self.bar_rect()
        return bar.left() + bar.width() * min(share / self._scale, 1.0)

    def segment_rect(self, segment: Segment) -> QRectF:
        """Where a segment is."""
        left, right = self._x(segment.start), self._x(segment.end)
        return QRectF(left, HEAD, max(right - left - 1.5, 2.0), self._bar)

    def segment_at(self, position: QPointF) -> int:
        """Index of the segment there, or -1."""
        for index, segment in enumerate(self.row.segments):
            if self.segment_rect(segment).adjusted(-1, 0, 1, 0).contains(position):
                return index
        return -1

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_head(painter)
        self._paint_track(painter)
        if self.row.legs:
            self._paint_legs(painter)
        else:
            for segment in self.row.segments:
                self._paint_segment(painter, segment)
        self._paint_over(painter)
        self._paint_marks(painter)
        for index, segment in enumerate(() if self.row.legs else self.row.segments):
            self._paint_words(painter, index, segment)
        self._paint_frame(painter)
        painter.end()

    def accent(self) -> Accent:
        """The colours of its fillings."""
        return self._theme.circuit(self.row.letter)

    def paint_badge(self, painter: QPainter) -> float:
        """What stands before the title; returns where that begins."""
        accent = self.accent()
        badge = QRectF(1, 1, 17, 15)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(accent.fill))
        painter.drawRoundedRect(badge, 4, 4)
        painter.setFont(font(TYPE.caption, 700))
        painter.setPen(QColor(accent.on_fill))
        painter.drawText(badge, Qt.AlignmentFlag.AlignCenter, self.row.letter)
        pen = QPen(QColor(accent.line), 2.5)
        if accent.dash:
            pen.setDashPattern(list(accent.dash))
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.drawLine(QPointF(21, 8.5), QPointF(43, 8.5))
        return _BADGE_PX

    def _paint_head(self, painter: QPainter) -> None:
        theme, row = self._theme, self.row
        self.spots.begin()
        left = self.paint_badge(painter)
        right = self._paint_verdict(painter)
        strong = font(TYPE.body, 600, tabular=True)
        painter.setFont(strong)
        painter.setPen(QColor(theme.ink))
        metrics = QFontMetricsF(strong)
        width = metrics.horizontalAdvance(row.numbers)
        sign = metrics.horizontalAdvance(f"{SIGN} ") if row.about else 0.0
        room = right - 8 - left - width - 10 - sign
        title = self._title(metrics, room)
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(QRectF(left, 0, room + 4, 17), flags, title)
        x = left + metrics.horizontalAdvance(title) + 10
        painter.setPen(QColor(theme.ink_muted if row.state in ("ok", "note") else theme.ink))
        if row.about:
            painter.drawText(QRectF(x, 0, sign + 4, 17), flags, SIGN)
        where = QRectF(x + sign, 0, width + 4, 17)
        strong.setUnderline(self.spots.add(where, row.told[:1]))
        painter.setFont(strong)
        painter.drawText(where, flags, row.numbers)

    def _title(self, metrics: QFontMetricsF, room: float) -> str:
        """The title, cut in its middle where it must be; its leg goes before anything is cut."""
        row = self.row
        for whole in (f"{row.title}{row.leg}", row.title):
            if metrics.horizontalAdvance(whole) <= room:
                return whole
        tail = row.tail if metrics.horizontalAdvance(row.tail) < 0.7 * room else ""
        room_ahead = max(room - metrics.horizontalAdvance(tail), 24)
        ahead = row.title.removesuffix(tail)
        title = metrics.elidedText(ahead, Qt.TextElideMode.ElideRight, room_ahead)
        return title.replace(",…", "…") + tail

    def _paint_verdict(self, painter: QPainter) -> float:
        mark = self._theme.mark(self.row.state)
        used = font(TYPE.body, 600, tabular=True)
        metrics = QFontMetricsF(used)
        numbers = metrics.horizontalAdvance(f"{SIGN} {self.row.numbers}")
        room = self.width() - _BADGE_PX - _TITLE_PX - numbers - 10 - 8 - 17 - 3
        words = self.row.verdict
        if not any(map(str.isdigit, words)):  # a number is never cut
            words = metrics.elidedText(words, Qt.TextElideMode.ElideRight, max(room, 40))
        width = metrics.horizontalAdvance(words)
        left = self.width() - width - 3
        where = QRectF(left, 0, width + 2, 17)
        used.setUnderline(self.spots.add(where, self.row.judged))
        painter.setFont(used)
        painter.setPen(QColor(mark.ink))
        painter.drawText(where, Qt.AlignmentFlag.AlignVCenter, words)
        paint_mark(painter, mark, QRectF(left - 17, 2, 13, 13))
        return left - 17

    def _paint_track(self, painter: QPainter) -> None:
        painter.setPen(QPen(QColor(self._theme.line), 1))
        painter.setBrush(QColor(self._theme.track))
        painter.drawRoundedRect(self.bar_rect().adjusted(-0.5, 0.5, 0.5, -0.5), 4, 4)

    def _paint_segment(self, painter: QPainter, segment: Segment) -> None:
        accent = self.accent()
        rect = self.segment_rect(segment)
        taken = segment.item == self._taken
        painter.setPen(QPen(QColor(accent.line), 1))
        colour = QColor(accent.fill)
        if taken:
            colour.setAlphaF(0.35)
        painter.setBrush(colour)
        painter.drawRoundedRect(rect.adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
        if segment.item == self._moved_here:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            pen = QPen(QColor(accent.on_fill), 1.5, Qt.PenStyle.DashLine)
            painter.setPen(pen)
            painter.drawRoundedRect(rect.adjusted(2, 2, -2, -2), 2, 2)

    def _paint_words(self, painter: QPainter, index: int, segment: Segment) -> None:
        accent = self.accent()
        rect = self.segment_rect(segment)
        taken = segment.item == self._taken
        used = font(TYPE.caption, 600, tabular=True)
        metrics = QFontMetricsF(used)
        room = rect.width() - 8
        text = segment.text
        if metrics.horizontalAdvance(text) > room:
            amps = segment.text.rpartition(" ")[2]
            name_room = room - metrics.horizontalAdvance(f" {amps}")
            short = metrics.elidedText(segment.name, Qt.TextElideMode.ElideRight, name_room)
            text = f"{short} {amps}" if len(short) > 2 else amps
        if metrics.horizontalAdvance(text) <= room + 5:
            painter.setFont(used)
            if not taken and self._struck(rect, metrics.horizontalAdvance(text), segment):
                wide = metrics.horizontalAdvance(text) + 6
                patch = QRectF(0, 0, min(wide, rect.width()), metrics.height())
                patch.moveCenter(rect.center())
                painter.fillRect(patch, QColor(accent.fill))
            painter.setPen(QColor(self._theme.ink if taken else accent.on_fill))
            painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, text)
        if segment.item in self._selected or (self.hasFocus() and index == self._current):
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self._theme.ink), 2))
            painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 3, 3)

    def _struck(self, rect: QRectF, wide: float, segment: Segment) -> bool:
        """Whether hatching or one of the marks would run through letters in its middle."""
        middle = rect.center().x()
        marks = (self._x(0.8), self._x(1.0))
        return segment.end > 1.0 or any(abs(x - middle) < wide / 2 + 3 for x in marks)

    def _paint_legs(self, painter: QPainter) -> None:
        accent = self.accent()
        height = self._bar / len(self.row.legs)
        used = font(TYPE.caption, 700, tabular=True)
        metrics = QFontMetricsF(used)
        painter.setFont(used)
        for index, leg in enumerate(self.row.legs):
            top = HEAD + height * index
            right = self._x(leg.share)
            rect = QRectF(1, top, max(right - 1, 2.0), height - 1)
            if leg.neutral:  # what the legs leave over: an outline, for it is no leg
                painter.setPen(QPen(QColor(accent.line), 1.5))
                painter.setBrush(QColor(self._theme.track))
                rect.adjust(0.75, 0.75, -0.75, -0.75)
            else:
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(QColor(accent.fill))
            painter.drawRoundedRect(rect, 2, 2)
            inside = metrics.horizontalAdvance(leg.text) + 10 < rect.width()
            on_fill = inside and not leg.neutral
            painter.setPen(QColor(accent.on_fill if on_fill else self._theme.ink))
            start = 6 if inside else right + 5
            painter.drawText(
                QRectF(start, top - 1, 160, height), Qt.AlignmentFlag.AlignVCenter, leg.text
            )

    def _paint_over(self, painter: QPainter) -> None:
        if self.row.share <= 1.0:
            return
        left, right = self._x(1.0), self._x(self.row.share)
        rect = QRectF(left, HEAD, right - left, self._bar)
        painter.setPen(Qt.PenStyle.NoPen)
        brush = QBrush(QColor(self._theme.stop.fill), Qt.BrushStyle.BDiagPattern)
        painter.setBrush(brush)
        painter.drawRect(rect)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(self._theme.stop.fill), 2))
        painter.drawRect(rect.adjusted(1, 1, -1, -1))

    def _paint_marks(self, painter: QPainter) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        for share, width in ((0.8, 1), (1.0, 2)):
            x = round(self._x(share))
            painter.setPen(QPen(QColor(self._theme.ink), width))
            painter.drawLine(x, HEAD - 2, x, HEAD + self._bar + 1)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def _paint_frame(self, painter: QPainter) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        bar = self.bar_rect().adjusted(0, 0, 0, 0)
        if self._target:
            theme = self._theme
            colour = theme.selection if self._target == "fits" else theme.stop.fill
            style = Qt.PenStyle.SolidLine if self._target == "fits" else Qt.PenStyle.DashLine
            painter.setPen(QPen(QColor(colour), 2.5, style))
            painter.drawRoundedRect(bar, 4, 4)
        elif self.hasFocus() and self._current < 0:
            painter.setPen(QPen(QColor(self._theme.selection), 2))
            painter.drawRoundedRect(bar, 4, 4)

    # Mouse

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton:
            return
        self._asks = self.spots.at(event.position())
        if self._asks:
            return
        self._current = self.segment_at(event.position())
        if self._current >= 0:
            self._pressed = event.position().toPoint()
            self.chosen.emit((self.row.segments[self._current].item,))
        else:
            self.chosen.emit(self.row.items)
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._taken is not None:
            self.drag_moved.emit(event.globalPosition().toPoint())
            return
        if self._pressed is None:
            over = self.segment_at(event.position()) >= 0
            shape = Qt.CursorShape.OpenHandCursor if over else Qt.CursorShape.ArrowCursor
            leads = self.spots.hover(event.position())
            self.setCursor(Qt.CursorShape.PointingHandCursor if leads else shape)
            return
        way = (event.position().toPoint() - self._pressed).manhattanLength()
        if way >= QApplication.startDragDistance() and self._current >= 0:
            self._taken = self.row.segments[self._current].item
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            self.drag_started.emit(self._taken)
            self.drag_moved.emit(event.globalPosition().toPoint())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton:
            return
        self._pressed = None
        asks, self._asks = self._asks, ()
        if asks and asks == self.spots.at(event.position()):
            self.working_asked.emit(asks)
        if self._taken is not None:
            self._taken = None
            self._current = -1
            self.setCursor(Qt.CursorShape.ArrowCursor)
            self.drag_dropped.emit()
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.spots.hover(None)

    def told_numbers(self) -> tuple[Number, ...]:
        """Of the load that the keyboard is on, else of the circuit."""
        if 0 <= self._current < len(self.row.segments):
            return self.row.segments[self._current].told
        return (*self.row.told, *self.row.judged)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if event.reason() == QContextMenuEvent.Reason.Mouse:
            self._current = self.segment_at(QPointF(event.pos()))
            self.update()
        self._ask_menu(event.globalPos())

    def _ask_menu(self, where: QPoint | None) -> None:
        if not 0 <= self._current < len(self.row.segments):
            middle = self.bar_rect().center().toPoint()
            self.room_requested.emit(where or self.mapToGlobal(middle))
            return
        segment = self.row.segments[self._current]
        if where is None or not self.rect().contains(self.mapFromGlobal(where)):
            where = self.mapToGlobal(self.segment_rect(segment).center().toPoint())
        self.menu_requested.emit(segment.item, where)

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._taken is not None:
            self._taken = self._pressed = None
            self.setCursor(Qt.CursorShape.ArrowCursor)
            self.drag_cancelled.emit()
            self.update()
        elif event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right) and self.row.segments:
            step = 1 if event.key() == Qt.Key.Key_Right else -1
            self._current = max(0, min(self._current + step, len(self.row.segments) - 1))
            segment = self.row.segments[self._current]
            self.setAccessibleName(f"{self.row.spoken}. {segment.text} A")
            self.chosen.emit((segment.item,))
            self.update()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Menu):
            self._ask_menu(None)
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            index = self.segment_at(QPointF(event.pos()))
            tip = self.row.segments[index].tip if index >= 0 else self.row.tip
            about = tip_of(self.row.about) if index < 0 else ""
            tip = "\n".join(text for text in (tip, about) if text)
            QToolTip.showText(event.globalPos(), tip, self)
            return True
        return super().event(event)
