"""Icons from resources/icons, inked in the theme's colour."""

from functools import cache

from PySide6.QtCore import QByteArray, QDir, QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from ..data import resources
from ..documents.theme import Theme

_SIZES = (16, 20, 32, 40, 64)


def add_icon_folder() -> None:
    """Let style sheets name icons as "icons:name.svg"."""
    QDir.setSearchPaths("icons", [str(resources() / "icons")])


@cache
def _source(name: str) -> str:
    return (resources() / "icons" / f"{name}.svg").read_text(encoding="utf-8")


def pixmap(name: str, colour: str, size: int) -> QPixmap:
    """One icon as a square of pixels."""
    renderer = QSvgRenderer(QByteArray(_source(name).replace("currentColor", colour).encode()))
    made = QPixmap(QSize(size, size))
    made.fill(Qt.GlobalColor.transparent)
    painter = QPainter(made)
    renderer.render(painter, QRectF(0, 0, size, size))
    painter.end()
    return made


@cache
def _icon(name: str, ink: str, faint: str) -> QIcon:
    made = QIcon()
    for size in _SIZES:
        made.addPixmap(pixmap(name, ink, size), QIcon.Mode.Normal, QIcon.State.Off)
        made.addPixmap(pixmap(name, faint, size), QIcon.Mode.Disabled, QIcon.State.Off)
    return made


def icon(name: str, theme: Theme) -> QIcon:
    """An icon in a theme's ink, fainter where its control is disabled."""
    return _icon(name, theme.ink, theme.ghost)


def program_icon() -> QIcon:
    """The icon of the program itself."""
    made = QIcon()
    for size in (16, 24, 32, 48, 64, 128, 256):
        made.addPixmap(pixmap("cartlayout", "#26302f", size))
    return made
