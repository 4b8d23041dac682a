"""The shapes that stand for stop, care, ok and note, painted wherever a verdict is shown."""

from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from ..documents.theme import Mark, Theme


def mark_path(mark: Mark, rect: QRectF) -> QPainterPath:
    """Outline of a mark's shape inside a square."""
    path = QPainterPath()
    middle = rect.center()
    if mark.shape == "diamond":
        path.addPolygon(
            QPolygonF(
                [
                    QPointF(middle.x(), rect.top()),
                    QPointF(rect.right(), middle.y()),
                    QPointF(middle.x(), rect.bottom()),
                    QPointF(rect.left(), middle.y()),
                ]
            )
        )
        path.closeSubpath()
    elif mark.shape == "triangle":
        path.addPolygon(
            QPolygonF(
                [
                    QPointF(middle.x(), rect.top() + rect.height() * 0.04),
                    QPointF(rect.right(), rect.bottom() - rect.height() * 0.06),
                    QPointF(rect.left(), rect.bottom() - rect.height() * 0.06),
                ]
            )
        )
        path.closeSubpath()
    else:
        path.addEllipse(rect)
    return path


def paint_mark(painter: QPainter, mark: Mark, rect: QRectF) -> None:
    """Paint a mark: shape in its colour, sign inside."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(mark.fill))
    painter.drawPath(mark_path(mark, rect))
    size = rect.height()
    pen = QPen(QColor(mark.on_fill), max(1.4, size * 0.12))
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    middle = rect.center()
    if mark.shape == "tick":
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(
            [
                QPointF(rect.left() + size * 0.28, middle.y() + size * 0.02),
                QPointF(middle.x() - size * 0.06, middle.y() + size * 0.18),
                QPointF(rect.right() - size * 0.26, middle.y() - size * 0.18),
            ]
        )
    elif mark.shape == "circle":  # an i: dot above, stem below
        painter.drawPoint(QPointF(middle.x(), middle.y() - size * 0.22))
        painter.drawLine(
            QPointF(middle.x(), middle.y() - size * 0.02),
            QPointF(middle.x(), middle.y() + size * 0.24),
        )
    else:  # an exclamation mark; a triangle's middle sits lower
        shift = size * (0.1 if mark.shape == "triangle" else 0.0)
        painter.drawLine(
            QPointF(middle.x(), middle.y() - size * 0.22 + shift),
            QPointF(middle.x(), middle.y() + size * 0.03 + shift),
        )
        painter.drawPoint(QPointF(middle.x(), middle.y() + size * 0.24 + shift))
    painter.restore()


def mark_pixmap(mark: Mark, size: int, ratio: float = 1.0) -> QPixmap:
    """A mark as pixels, for labels and buttons."""
    made = QPixmap(round(size * ratio), round(size * ratio))
    made.setDevicePixelRatio(ratio)
    made.fill(Qt.GlobalColor.transparent)
    painter = QPainter(made)
    paint_mark(painter, mark, QRectF(0.5, 0.5, size - 1, size - 1))
    painter.end()
    return made


@cache
def mark_icon(theme: Theme, severity: str) -> QIcon:
    """A mark as an icon."""
    made = QIcon()
    for ratio in (1, 2, 3):
        made.addPixmap(mark_pixmap(theme.mark(severity), 14, ratio))
    return made
