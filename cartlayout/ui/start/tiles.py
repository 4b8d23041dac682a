"""Builds to choose from: a picture, a name, and a line about it."""

import datetime
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QImage,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractButton, QGridLayout, QSizePolicy, QWidget

from ...documents.fonts import font
from ...documents.theme import SPACE, TYPE, Theme
from .thumbnails import PICTURE, Thumbnail

_PAD = 6
_WORDS_PX = 42
TILE = QSize(PICTURE[0] + 2 * _PAD, PICTURE[1] + 2 * _PAD + _WORDS_PX)
GAP = 12


class Tile(QAbstractButton):
    """One build."""

    def __init__(self, path: Path, title: str, remark: str, theme: Theme) -> None:
        """A tile without a remark takes name and remark from the file once it is read."""
        super().__init__()
        self.path = path
        self._takes_words = not remark
        self._remark = remark
        self._theme = theme
        self._image: QImage | None = None
        self.setText(title)
        self.setToolTip(str(path))
        self._describe()
        self.setFixedSize(TILE)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    @property
    def has_picture(self) -> bool:
        """Whether its picture has been drawn."""
        return self._image is not None

    def show_thumbnail(self, made: Thumbnail) -> None:
        """Show what the file looks like, or that it cannot be read."""
        self._image = made.image
        if made.problem:
            self._remark = "This file cannot be read"
            self.setToolTip(f"{self.path}\n{made.problem}")
        elif self._takes_words:
            self.setText(made.name)
            self._remark = made.remark
        self._describe()
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Other colours; a picture in the old ones goes."""
        self._theme = theme
        self._image = None
        self.update()

    def _describe(self) -> None:
        self.setAccessibleName(f"Open {self.text()}")
        self.setAccessibleDescription(self._remark)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self._theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        warm, focused = self.underMouse(), self.hasFocus()
        painter.setPen(
            QPen(QColor(theme.selection if focused else theme.line), 2 if focused else 1)
        )
        painter.setBrush(QColor(theme.selection_tint if self.isDown() else theme.panel_raised))
        inset = 1.0 if focused else 0.5
        frame = QRectF(self.rect()).adjusted(inset, inset, -inset, -inset)
        painter.drawRoundedRect(frame, SPACE.radius, SPACE.radius)
        place = QRectF(_PAD, _PAD, *PICTURE)
        rounded = QPainterPath()
        rounded.addRoundedRect(place, 3, 3)
        painter.save()
        painter.setClipPath(rounded)
        painter.fillRect(place, QColor(theme.paper))
        if self._image is not None:
            painter.drawImage(place, self._image)
        painter.restore()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(theme.line_strong if warm else theme.line), 1))
        painter.drawPath(rounded)
        self._words(painter, place.bottom() + 5)

    def _words(self, painter: QPainter, top: float) -> None:
        room = TILE.width() - 2 * _PAD - 4
        for text, face, colour, height in (
            (self.text(), font(TYPE.strong, QFont.Weight.DemiBold), self._theme.ink, 18),
            (self._remark, font(TYPE.caption), self._theme.ink_muted, 16),
        ):
            shown = QFontMetricsF(face).elidedText(text, Qt.TextElideMode.ElideMiddle, room)
            painter.setFont(face)
            painter.setPen(QColor(colour))
            painter.drawText(
                QRectF(_PAD + 2, top, room, height),
                Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
                shown,
            )
            top += height


class Tiles(QWidget):
    """As many tiles beside each other as there is room for."""

    chosen = Signal(object)
    """Path of the tile that was clicked."""

    def __init__(self, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(title)
        self.tiles: tuple[Tile, ...] = ()
        self._columns = 0
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(GAP)
        self._grid.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setMinimumWidth(TILE.width())

    def show_tiles(self, tiles: tuple[Tile, ...]) -> None:
        """Show others."""
        for tile in self.tiles:
            self._grid.removeWidget(tile)
            tile.hide()
            tile.deleteLater()
        self.tiles = tiles
        for tile in tiles:
            tile.clicked.connect(self._clicked)
        self._columns = 0
        self._deal()

    def show_thumbnail(self, made: Thumbnail) -> None:
        """Give a picture to the tiles of its file."""
        for tile in self.tiles:
            if tile.path == made.path:
                tile.show_thumbnail(made)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._deal()

    def _deal(self) -> None:
        columns = max(1, (self.width() + GAP) // (TILE.width() + GAP))
        if columns == self._columns:
            return
        self._columns = columns
        for at, tile in enumerate(self.tiles):
            self._grid.addWidget(tile, at // columns, at % columns)

    def _clicked(self) -> None:
        tile = self.sender()
        if isinstance(tile, Tile):
            self.chosen.emit(tile.path)


def when_and_where(path: Path, now: datetime.datetime) -> str:
    """Such as "today 14:05, in carts"."""
    changed = datetime.datetime.fromtimestamp(path.stat().st_mtime, now.tzinfo)
    days = (now.date() - changed.date()).days
    if days == 0:
        when = f"today {changed:%H:%M}"
    elif days == 1:
        when = f"yesterday {changed:%H:%M}"
    elif 0 < days < 7:
        when = f"{days} days ago"
    else:
        when = f"{changed:%Y-%m-%d}"
    return f"{when}, in {path.parent.name or path.parent}"
