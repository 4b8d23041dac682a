"""The pump's curve and the vessel's filling as parts of Details that fold."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from ...documents.fonts import font
from ...documents.theme import TYPE
from .. import widgets
from ..charts import Chart
from ..charts.view import ChartView
from ..session import Session
from .fields import Editor
from .pump_pictures import Vessel

_TALL = 96
_WIDE = 54.0


class CurveView(Editor):
    """The curve of a pump with its working points."""

    def __init__(self, session: Session, value: object) -> None:
        super().__init__()
        self._session = session
        self.view = ChartView(session.theme)
        self.remark = widgets.wrapped("", "muted")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.view)
        column.addWidget(self.remark)
        self.setFocusProxy(self.view)
        self.show_value(value)

    def show_value(self, value: object) -> None:
        if isinstance(value, Chart):
            self.view.show_chart(value, self._session.theme)
            self.remark.setText(value.remark)


class VesselView(Editor):
    """Water and air in an accumulator at both ends of its pump's range."""

    def __init__(self, session: Session, value: object) -> None:
        super().__init__()
        self._session = session
        self.picture = _Picture(session)
        self.words = widgets.wrapped("", "muted")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.picture)
        column.addWidget(self.words)
        self.show_value(value)

    def show_value(self, value: object) -> None:
        if not isinstance(value, Vessel):
            return
        self.picture.show_vessel(value)
        self.words.setText(
            f"Gives {value.useful} between the two; {value.whole} in all, "
            f"its air at {value.pre_charge} when empty."
        )


class _Picture(QWidget):
    """Two vessels side by side."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._vessel: Vessel | None = None
        self.setFixedHeight(_TALL)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setToolTip(
            "Air is pressed together as water comes in: its absolute pressure times its volume "
            "stays the same (Boyle). Between cut-out and cut-in the pump rests and it gives."
        )

    def sizeHint(self) -> QSize:
        return QSize(240, _TALL)

    def show_vessel(self, vessel: Vessel) -> None:
        """Show other values."""
        self._vessel = vessel
        self.setAccessibleName(vessel.spoken)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        vessel = self._vessel
        if vessel is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        half = self.width() / 2
        self._paint(painter, 0.0, "Cut-in", vessel.low, vessel.low_water, vessel.low_water_share)
        self._paint(
            painter, half, "Cut-out", vessel.high, vessel.high_water, vessel.high_water_share
        )
        painter.end()

    def _paint(
        self, painter: QPainter, left: float, name: str, pressure: str, water: str, share: float
    ) -> None:
        theme = self._session.theme
        body = QRectF(left + 3, 3, _WIDE, self.height() - 6)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.track))
        painter.drawRoundedRect(body, 10, 10)
        filled = body.height() * min(max(share, 0.0), 1.0)
        painter.save()
        painter.setClipRect(body.adjusted(0, body.height() - filled, 0, 0))
        painter.setBrush(QColor(theme.water))
        painter.drawRoundedRect(body, 10, 10)
        painter.restore()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(theme.body_edge), 1.2))
        painter.drawRoundedRect(body, 10, 10)
        lines = (
            (name, theme.ink, 600),
            (pressure, theme.ink, 400),
            (f"{water} water", theme.ink_muted, 400),
        )
        where = QRectF(body.right() + 8, 12, self.width() / 2 - _WIDE - 14, 18)
        for text, colour, weight in lines:
            painter.setFont(font(TYPE.caption, weight, tabular=True))
            painter.setPen(QColor(colour))
            painter.drawText(
                where, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text
            )
            where.translate(0, 18)
