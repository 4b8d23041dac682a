"""The paper under the plan and what stands on it wherever one looks: grid, scale bar, hints."""

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QLabel, QWidget

from ...build import VENUE, Build
from ...documents.fonts import font
from ...documents.plan.paint import Ink, draw_scale_bar
from ...documents.theme import SPACE, TYPE
from ...units import UnitSystem
from .snapping import drawn_grid_m
from .tips import Tips

if TYPE_CHECKING:
    from .view import PlanView

EMPTY = "Drag equipment from Stock onto the counter"
_BAR = QSize(190, 34)
_LONGEST_PX = 150.0


class ScaleBar(QWidget):
    """A measure in the corner that follows the zoom."""

    def __init__(self, view: "PlanView") -> None:
        super().__init__(view)
        self._view = view
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAccessibleName("Scale of the plan")
        self.resize(_BAR)

    def paintEvent(self, event: QPaintEvent) -> None:
        view = self._view
        scale = view.camera.scale
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ground = QColor(view.session.theme.paper)
        ground.setAlphaF(0.8)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ground)
        painter.drawRoundedRect(self.rect(), SPACE.radius, SPACE.radius)
        painter.scale(scale, scale)
        ink = Ink(view.session.theme, 1.5 / scale)
        draw_scale_bar(
            painter, 14.0 / scale, 6.0 / scale, view.session.system, _LONGEST_PX / scale, ink
        )
        painter.end()


class Paper:
    """Ground, grid, scale bar and the hint of an empty cart."""

    def __init__(self, view: "PlanView") -> None:
        self.view = view
        self.bar = ScaleBar(view)
        self.tips = Tips(view)
        self.hint = QLabel(EMPTY, view)
        self.hint.setObjectName("planHint")
        self.hint.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.hint.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hint.setFont(font(TYPE.title, 600))
        self.hint.hide()
        self.ring = QFrame(view)
        self.ring.setObjectName("planFocus")
        self.ring.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.ring.hide()
        self.theme_changed()

    def paint_grid(self, painter: QPainter, area: QRectF) -> None:
        """Fill an area (millimetres) with paper and lines, every so many of them stronger."""
        theme = self.view.session.theme
        painter.fillRect(area, QColor(theme.paper))
        step_m = drawn_grid_m(self.view.session.system, self.view.pixels_per_m)
        step = step_m * 1000.0
        strong = 12 if self.view.session.system is UnitSystem.US else 10
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        for major in (False, True):
            pen = QPen(QColor(theme.paper_grid_major if major else theme.paper_grid), 1.0)
            pen.setCosmetic(True)
            painter.setPen(pen)
            painter.drawLines(_grid(area, step, strong, major))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)

    def refresh(self, build: Build, system: UnitSystem) -> None:
        """Show the hint while nothing stands on the cart."""
        empty = not any(item.level != VENUE for item in build.items)
        if empty == self.hint.isHidden():
            self.hint.setVisible(empty)
        if empty:
            self._place_hint(build)

    def moved(self) -> None:
        """The view was scrolled, zoomed or resized."""
        view = self.view
        self.bar.move(
            view.width() - _BAR.width() - SPACE.small, view.height() - _BAR.height() - SPACE.small
        )
        self.bar.update()
        self.ring.setGeometry(view.rect())
        if not self.hint.isHidden():
            self._place_hint(view.session.analysis.build)

    def theme_changed(self) -> None:
        """Take the session's colours."""
        self.bar.update()

    def show_focus(self, reason: Qt.FocusReason) -> None:
        """Ring the plan for who came to it by keyboard."""
        by_keyboard = (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason)
        if reason in by_keyboard:
            self.ring.setGeometry(self.view.rect())
            self.ring.raise_()
            self.ring.show()

    def hide_focus(self) -> None:
        """The keyboard is elsewhere, or the mouse has taken over."""
        self.ring.hide()

    def _place_hint(self, build: Build) -> None:
        view = self.view
        middle = view.camera.to_viewport((build.cart.width.si / 2, build.cart.depth.si / 2))
        self.hint.adjustSize()
        self.hint.move(
            round(middle.x() - self.hint.width() / 2), round(middle.y() - self.hint.height() / 2)
        )


def _grid(area: QRectF, step: float, strong: int, major: bool) -> list[QLineF]:
    lines = []
    for number in range(math.floor(area.left() / step), math.ceil(area.right() / step) + 1):
        if (number % strong == 0) == major:
            x = number * step
            lines.append(QLineF(x, area.top(), x, area.bottom()))
    for number in range(math.floor(area.top() / step), math.ceil(area.bottom() / step) + 1):
        if (number % strong == 0) == major:
            y = number * step
            lines.append(QLineF(area.left(), y, area.right(), y))
    return lines
