"""The start page: make a cart, open one, or learn how it is done."""

import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from ...build import Region
from ...data import sample_builds
from .. import settings, widgets
from ..menus.file import sample_name
from ..new_cart import REGIONS, NewCartForm
from .thumbnails import Thumbnail, Thumbnails
from .tiles import Tile, Tiles, when_and_where

if TYPE_CHECKING:
    from ..main_window import MainWindow

_MOST_RECENT = 6
_FORM_PX = 400
_NARROW_PX = 820
"""Less width puts everything into one column."""


class StartPage(QScrollArea):
    """Seen before there is a build, and again when asked for."""

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window = window
        self._drawer: Thumbnails | None = None
        self.setObjectName("start")
        self.setAccessibleName("Start page")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._start = QTimer(self)
        self._start.setSingleShot(True)
        self._start.setInterval(0)
        self._start.timeout.connect(self._draw)
        body = QWidget()
        body.setObjectName("scrolled")
        whole = QVBoxLayout(body)
        whole.setContentsMargins(28, 20, 28, 24)
        whole.setSpacing(4)
        whole.addWidget(widgets.label("What would you like to lay out?", "heading"))
        whole.addWidget(
            widgets.wrapped(
                "A cart with its equipment, its water and its power. The program works out what "
                "fits, what holds and what flows; people who are licensed check it.",
                "muted",
            )
        )
        whole.addSpacing(12)
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._columns.setSpacing(28)
        self._columns.addWidget(self._make_form(), 0, Qt.AlignmentFlag.AlignTop)
        self._columns.addWidget(self._make_files(), 1)
        whole.addLayout(self._columns)
        whole.addStretch(1)
        self.setWidget(body)
        window.session.theme_changed.connect(self._theme_changed)

    # Making

    def _make_form(self) -> QWidget:
        card = QFrame()
        card.setProperty("card", True)
        card.setFixedWidth(_FORM_PX)
        self.form = NewCartForm(_last_region())
        self.form.submitted.connect(self._make_cart)
        self.make = QPushButton("Make the Cart")
        self.make.setDefault(True)
        self.make.clicked.connect(self._make_cart)
        self.guide = QPushButton("Guided First Cart")
        self.guide.setToolTip("Lay out a small cart; a card says what comes next and watches")
        self.guide.clicked.connect(self._guide)
        column = QVBoxLayout(card)
        column.setContentsMargins(16, 14, 16, 14)
        column.setSpacing(10)
        column.addWidget(widgets.label("New cart", "title"))
        column.addWidget(self.form)
        column.addLayout(widgets.row(self.make, self.guide, None, spacing=8))
        return card

    def _make_files(self) -> QWidget:
        made = QWidget()
        column = QVBoxLayout(made)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        self.open = QPushButton("Open a File…")
        self.open.clicked.connect(self._open)
        self.back = QPushButton("Go Back")
        self.back.clicked.connect(self._go_back)
        self.recent = Tiles("Recent files")
        self.samples = Tiles("Sample builds")
        self.recent.chosen.connect(self._recent_chosen)
        self.samples.chosen.connect(self._sample_chosen)
        self.no_recent = widgets.wrapped("Files you open or save will stand here.", "muted")
        column.addLayout(
            widgets.row(widgets.label("Recent files", "title"), None, self.back, self.open)
        )
        column.addWidget(self.no_recent)
        column.addWidget(self.recent)
        column.addSpacing(10)
        column.addLayout(
            widgets.row(
                widgets.label("Sample builds", "title"),
                widgets.label("opened as a copy", "muted"),
                None,
            )
        )
        column.addWidget(self.samples)
        return made

    # What is shown

    def fill(self, back_to: str) -> None:
        """List the files anew.

        Args:
            back_to: name of the build that is open behind the page; empty: there is none.
        """
        theme = self._window.session.theme
        now = datetime.datetime.now().astimezone()
        recent = settings.recent_files()[:_MOST_RECENT]
        self.recent.show_tiles(
            tuple(Tile(path, path.stem, when_and_where(path, now), theme) for path in recent)
        )
        self.samples.show_tiles(
            tuple(
                Tile(path, sample_name(path), "", theme)
                for path in sorted(sample_builds().glob("*.cart"))
            )
        )
        self.recent.setVisible(bool(recent))
        self.no_recent.setVisible(not recent)
        self.back.setVisible(bool(back_to))
        self.back.setText(f"Go Back to {back_to[:30]}")
        if self.isVisible():
            self._start.start()

    def _draw(self) -> None:
        """Draw the pictures that are missing, when the page itself has been painted."""
        self._stop()
        tiles = (*self.recent.tiles, *self.samples.tiles)
        missing = [tile.path for tile in tiles if not tile.has_picture]
        if missing:
            theme = self._window.session.theme
            self._drawer = Thumbnails(missing, theme, self.devicePixelRatioF(), self)
            self._drawer.drawn.connect(self._drawn)
            self._drawer.start()

    def _drawn(self, made: Thumbnail) -> None:
        if self.sender() is self._drawer:
            self.recent.show_thumbnail(made)
            self.samples.show_thumbnail(made)

    def _stop(self) -> None:
        self._start.stop()
        drawer, self._drawer = self._drawer, None
        if drawer is not None:
            drawer.stop()
            drawer.deleteLater()

    def _theme_changed(self, *_: object) -> None:
        for tile in (*self.recent.tiles, *self.samples.tiles):
            tile.set_theme(self._window.session.theme)
        if self.isVisible():
            self._start.start()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._start.start()

    def hideEvent(self, event: QHideEvent) -> None:
        self._stop()
        super().hideEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        narrow = self.width() < _NARROW_PX
        way = QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight
        if self._columns.direction() != way:
            self._columns.setDirection(way)
        card = self.make.parentWidget()
        if card is not None:
            card.setFixedWidth(max(280, min(_FORM_PX, self.viewport().width() - 56)))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and not self.back.isHidden():
            self._go_back()
        else:
            super().keyPressEvent(event)

    # What it does

    def _make_cart(self) -> None:
        build = self.form.made()
        if build is not None and self._window.files.new(build):
            settings.remember("region", build.region)

    def _guide(self) -> None:
        self._window.guide.start()

    def _open(self) -> None:
        self._window.files.open()

    def _go_back(self) -> None:
        self._window.leave_start()

    def _recent_chosen(self, path: Path) -> None:
        self._window.files.open_path(path)

    def _sample_chosen(self, path: Path) -> None:
        self._window.files.open_sample(path)


def _last_region() -> Region:
    known: dict[str, Region] = {region: region for region, _ in REGIONS}
    return known.get(settings.text("region"), "US")
