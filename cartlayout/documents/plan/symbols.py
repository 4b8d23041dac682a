"""Silhouettes from resources/symbols as painter paths.

A symbol is an SVG file of its own, drawn on a square of 100 x 100 in the
subset that line drawings need: paths (M L H V C Q A Z, both cases), rect,
circle, ellipse, line, polyline, polygon. Stroked in `currentColor` unless an
element says fill="currentColor". Read once into paths, so that painting is the
same vector drawing on the screen, in an SVG and in a PDF.
"""

import math
import re
import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass
from functools import cache

from PySide6.QtGui import QPainterPath

from ...data import resources

SIDE = 100.0
"""Of the square that every symbol is drawn on."""
_TOKEN = re.compile(r"([MmLlHhVvCcQqAaZzSsTt])|([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)")
_ARGUMENTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Q": 4, "A": 7, "Z": 0}


class SymbolError(ValueError):
    """A symbol file that cannot be read; the message names the file and the place."""


@dataclass(frozen=True, slots=True)
class Symbol:
    """A silhouette: lines, and filled parts."""

    name: str
    lines: QPainterPath
    fills: QPainterPath


@cache
def symbol(name: str) -> Symbol:
    """The symbol of that name; "box" for a name that has no drawing.

    Raises:
        SymbolError: the file is damaged.
    """
    path = resources() / "symbols" / f"{name}.svg"
    if not re.fullmatch(r"[a-z0-9-]+", name) or not path.is_file():
        if name == "box":
            raise SymbolError(f"{path} is missing; install the program again")
        return symbol("box")
    return parse(name, path.read_text(encoding="utf-8"))


def parse(name: str, text: str) -> Symbol:
    """Read a symbol from SVG text.

    Raises:
        SymbolError: it is no SVG, or uses something outside the subset.
    """
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as error:
        raise SymbolError(f"symbol {name}: {error}") from error
    lines, fills = QPainterPath(), QPainterPath()
    for element in root.iter():
        tag = element.tag.rpartition("}")[2]
        if tag in ("svg", "g", "title"):
            continue
        maker = _MAKERS.get(tag)
        if maker is None:
            raise SymbolError(f"symbol {name}: <{tag}> is not used in symbols")
        try:
            made = maker(element)
        except (KeyError, ValueError, IndexError) as error:
            raise SymbolError(f"symbol {name}: <{tag}>: {error}") from error
        (fills if element.get("fill") == "currentColor" else lines).addPath(made)
    return Symbol(name, lines, fills)


def _number(element: ElementTree.Element, key: str) -> float:
    return float(element.get(key, "0"))


def _rect(element: ElementTree.Element) -> QPainterPath:
    path = QPainterPath()
    radius = _number(element, "rx")
    path.addRoundedRect(
        _number(element, "x"),
        _number(element, "y"),
        float(element.attrib["width"]),
        float(element.attrib["height"]),
        radius,
        radius,
    )
    return path


def _circle(element: ElementTree.Element) -> QPainterPath:
    radius = float(element.attrib["r"])
    return _round(element, radius, radius)


def _ellipse(element: ElementTree.Element) -> QPainterPath:
    return _round(element, float(element.attrib["rx"]), float(element.attrib["ry"]))


def _round(element: ElementTree.Element, rx: float, ry: float) -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(_number(element, "cx") - rx, _number(element, "cy") - ry, 2 * rx, 2 * ry)
    return path


def _line(element: ElementTree.Element) -> QPainterPath:
    path = QPainterPath()
    path.moveTo(_number(element, "x1"), _number(element, "y1"))
    path.lineTo(_number(element, "x2"), _number(element, "y2"))
    return path


def _polyline(element: ElementTree.Element) -> QPainterPath:
    numbers = [float(one) for one in re.split(r"[\s,]+", element.attrib["points"].strip())]
    path = QPainterPath()
    path.moveTo(numbers[0], numbers[1])
    for at in range(2, len(numbers) - 1, 2):
        path.lineTo(numbers[at], numbers[at + 1])
    return path


def _polygon(element: ElementTree.Element) -> QPainterPath:
    path = _polyline(element)
    path.closeSubpath()
    return path


def _path(element: ElementTree.Element) -> QPainterPath:
    pen = _Pen()
    for command, numbers in _commands(element.attrib["d"]):
        pen.follow(command, numbers)
    return pen.path


_MAKERS = {
    "rect": _rect,
    "circle": _circle,
    "ellipse": _ellipse,
    "line": _line,
    "polyline": _polyline,
    "polygon": _polygon,
    "path": _path,
}


def _commands(data: str) -> list[tuple[str, list[float]]]:
    """Split path data; repeated argument groups become commands of their own."""
    rest = _TOKEN.sub("", data).strip(" ,\n\t")
    if rest:
        raise ValueError(f"path data has '{rest[:12]}'")
    commands: list[tuple[str, list[float]]] = []
    command, numbers = "", list[float]()

    def finish() -> None:
        if not command:
            if numbers:
                raise ValueError("path data starts with a number")
            return
        if command.upper() not in _ARGUMENTS:
            raise ValueError(f"path command {command} is not used in symbols")
        size = _ARGUMENTS[command.upper()]
        if size == 0:
            commands.append((command, []))
            return
        if not numbers or len(numbers) % size:
            raise ValueError(f"path command {command} with {len(numbers)} numbers")
        for at in range(0, len(numbers), size):
            # Further pairs after a move are lines.
            again = {"M": "L", "m": "l"}.get(command, command) if at else command
            commands.append((again, numbers[at : at + size]))

    for letter, number in _TOKEN.findall(data):
        if letter:
            finish()
            command, numbers = letter, []
        else:
            numbers.append(float(number))
    finish()
    return commands


class _Pen:
    def __init__(self) -> None:
        self.path = QPainterPath()
        self.x = self.y = 0.0
        self.start = (0.0, 0.0)

    def follow(self, command: str, numbers: list[float]) -> None:
        x0, y0 = (self.x, self.y) if command.islower() else (0.0, 0.0)
        kind = command.upper()
        if kind == "Z":
            self.path.closeSubpath()
            self.x, self.y = self.start
            return
        if kind == "H":
            end = (x0 + numbers[0], self.y)
        elif kind == "V":
            end = (self.x, y0 + numbers[0])
        else:
            end = (x0 + numbers[-2], y0 + numbers[-1])
        if kind == "M":
            self.path.moveTo(*end)
            self.start = end
        elif kind == "C":
            a, b, c, d = numbers[:4]
            self.path.cubicTo(x0 + a, y0 + b, x0 + c, y0 + d, *end)
        elif kind == "Q":
            self.path.quadTo(x0 + numbers[0], y0 + numbers[1], *end)
        elif kind == "A":
            self._arc(numbers, end)
        else:
            self.path.lineTo(*end)
        self.x, self.y = end

    def _arc(self, numbers: list[float], end: tuple[float, float]) -> None:
        """Elliptical arc: SVG 1.1, appendix F.6.5 and F.6.6."""
        rx, ry, tilt, large, sweep = abs(numbers[0]), abs(numbers[1]), *numbers[2:5]
        if tilt:
            raise ValueError("tilted arcs are not used in symbols")
        if not rx or not ry or (self.x, self.y) == end:
            self.path.lineTo(*end)
            return
        hx, hy = (self.x - end[0]) / 2, (self.y - end[1]) / 2
        grow = math.sqrt(max(1.0, (hx / rx) ** 2 + (hy / ry) ** 2))
        rx, ry = rx * grow, ry * grow
        under = (rx * hy) ** 2 + (ry * hx) ** 2
        root = math.sqrt(max(0.0, ((rx * ry) ** 2 - under) / under))
        root = -root if large == sweep else root
        cx, cy = root * rx * hy / ry, -root * ry * hx / rx
        middle = (cx + (self.x + end[0]) / 2, cy + (self.y + end[1]) / 2)
        start = math.degrees(math.atan2((hy - cy) / ry, (hx - cx) / rx))
        stop = math.degrees(math.atan2((-hy - cy) / ry, (-hx - cx) / rx))
        turn = (stop - start) % 360.0 if sweep else -((start - stop) % 360.0)
        self.path.arcTo(middle[0] - rx, middle[1] - ry, 2 * rx, 2 * ry, -start, -turn)
