"""Text of any size on any device, laid out the same everywhere.

Fonts are asked for at one large pixel size and the painter is scaled, so that
a width measured here is the width on screen, in a PNG, in an SVG and in a PDF.
Sizes and positions are in whatever unit the painter has been scaled to.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache, lru_cache

from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath

from .fonts import load_fonts

_BASE_PX = 96
CAP_SHARE = 0.727
"""Height of a capital as a share of the size, of the shipped font (its OS/2 table)."""
LINE_SHARE = 1.22
"""Distance of lines as a share of the size."""


@dataclass(frozen=True, slots=True)
class Face:
    """A size, in the painter's unit, and a weight."""

    size: float
    weight: int = 400

    def width(self, text: str) -> float:
        """Advance width of a text."""
        return base_width(text, self.weight) * self.size / _BASE_PX

    def steady_width(self, text: str) -> float:
        """Width with every digit as wide as the widest, so that a frame does not twitch."""
        return self.width("".join("0" if sign.isdigit() else sign for sign in text))

    @property
    def cap(self) -> float:
        """Height of a capital."""
        return self.size * CAP_SHARE

    @property
    def line(self) -> float:
        """Distance from one line to the next."""
        return self.size * LINE_SHARE


@cache
def _font(weight: int) -> QFont:
    made = QFont(load_fonts())
    made.setPixelSize(_BASE_PX)
    made.setWeight(QFont.Weight(weight))
    # Hinting would make widths depend on the device.
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    made.setStyleStrategy(QFont.StyleStrategy.PreferAntialias)
    # Glyphs put in by features (tabular digits, raised colons) have no way back to
    # their characters in a PDF: "1:12" would be read and copied as "1916".
    made.setFeature(QFont.Tag("calt"), 0)
    return made


@cache
def _metrics(weight: int) -> QFontMetricsF:
    return QFontMetricsF(_font(weight))


@lru_cache(maxsize=8192)
def base_width(text: str, weight: int) -> float:
    """Width at the base size: asked for the same few texts at every step of a drag."""
    return _metrics(weight).horizontalAdvance(text)


_outlined: ContextVar[bool] = ContextVar("outlined", default=False)


@contextmanager
def outlined() -> Iterator[None]:
    """Within this, letters are drawn as outlines, with invisible text over them.

    For files that are shown by programs which have not got the font: the outlines
    look the same everywhere, the text can still be searched and copied.
    """
    token = _outlined.set(True)
    try:
        yield
    finally:
        _outlined.reset(token)


def draw_text(
    painter: QPainter,
    x: float,
    baseline: float,
    text: str,
    face: Face,
    colour: str,
    align: float = 0.0,
) -> None:
    """Write one line.

    Args:
        painter: any painter.
        x: where the text starts; with `align` 0.5 its middle, with 1.0 its end.
        baseline: y on which the letters stand.
        text: what to write.
        face: size and weight.
        colour: "#rrggbb".
        align: share of the width that lies left of `x`.
    """
    if not text:
        return
    painter.save()
    painter.translate(x - align * face.width(text), baseline)
    painter.scale(face.size / _BASE_PX, face.size / _BASE_PX)
    painter.setFont(_font(face.weight))
    ink = QColor(colour)
    if _outlined.get():
        letters = QPainterPath()
        letters.addText(QPointF(0.0, 0.0), _font(face.weight), text)
        painter.fillPath(letters, ink)
        ink.setAlphaF(0.0)
    painter.setPen(ink)
    painter.drawText(QPointF(0.0, 0.0), text)
    painter.restore()


def wrapped(text: str, face: Face, width: float, most: int = 99) -> list[str]:
    """Break a text into lines that fit a width; the last of `most` lines ends with an ellipsis."""
    lines: list[str] = []
    current = ""
    for word in text.split():
        trial = f"{current} {word}" if current else word
        if current and face.width(trial) > width:
            lines.append(current)
            current = word
        else:
            current = trial
    if current:
        lines.append(current)
    if len(lines) > most:
        lines = [*lines[: most - 1], " ".join(lines[most - 1 :])]
    return [elided(line, face, width) for line in lines]


def elided(text: str, face: Face, width: float) -> str:
    """The text, cut short with an ellipsis where it does not fit."""
    if face.width(text) <= width:
        return text
    while text and face.width(text + "…") > width:
        text = text[:-1]
    return text.rstrip() + "…" if text else ""
