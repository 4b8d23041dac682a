"""The program's own font, so that text is the same on every machine and in every export."""

from functools import cache

from PySide6.QtGui import QFont, QFontDatabase, QGuiApplication

from ..data import resources
from .theme import FAMILY, TYPE


class FontError(RuntimeError):
    """The font that belongs to the program cannot be loaded."""


@cache
def load_fonts() -> str:
    """Add the shipped font to Qt and return its family; needs a QGuiApplication.

    Raises:
        FontError: a file is missing or is no font.
    """
    if QGuiApplication.instance() is None:
        raise FontError("fonts are loaded after the application object is made")
    folder = resources() / "fonts"
    for weight in ("Regular", "SemiBold", "Bold"):
        path = folder / f"{FAMILY}-{weight}.ttf"
        if QFontDatabase.addApplicationFont(str(path)) < 0:
            raise FontError(f"the font {path} is missing or damaged; install the program again")
    return FAMILY


def font(size_px: int = TYPE.body, weight: int = 400, tabular: bool = False) -> QFont:
    """A font of the program's family.

    Args:
        size_px: height in whole pixels; for anything finer scale the painter.
        weight: 400 regular, 600 strong, 700 bold.
        tabular: digits of one width, for columns of numbers.
    """
    made = QFont(load_fonts())
    made.setPixelSize(size_px)
    made.setWeight(QFont.Weight(weight))
    if tabular:
        made.setFeature(QFont.Tag("tnum"), 1)
    return made
