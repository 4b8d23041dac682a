"""Silhouettes from resources/symbols as painter paths.

A symbol is an SVG file of its own: equipment as it is seen from above, rear edge
up, drawn on a square of 100 x 100 in the subset that line drawings need: paths
(M L H V C Q A Z, both cases), rect, circle, ellipse, line, polyline, polygon.
An element is stroked in `currentColor` unless it says stroke="none", and filled
where it says fill="currentColor", as dark as its fill-opacity. Its class, or
that of the group around it, says how it follows the proportions of a body
(`silhouettes.py`). Read once into paths, so that painting is the same vector
drawing on the screen, in an SVG and in a PDF.
"""

import math
import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Literal, cast, get_args

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainterPath, QPainterPathStroker

from ...data import resources
from .picture import Box

SIDE = 100.0
"""Of the square that every symbol is drawn on."""
_TOKEN = re.compile(r"([MmLlHhVvCcQqAaZzSsTt])|([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)")
_ARGUMENTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Q": 4, "A": 7, "Z": 0}


class SymbolError(ValueError):
    """A symbol file that cannot be read; the message names the file and the place."""


Follows = Literal["outline", "shell", "fill", "rear", "front", "spread", "core"]
"""How a part follows the proportions of the body it is drawn in:

outline: the body's own edge, which the plan draws itself; only in pictures that stand alone
shell: stretched over the whole body, corners and distances to the edges kept
fill: likewise over what its name leaves free of it
rear, front: not stretched, at that edge of what is free
spread: not stretched, moved apart along what is free
core: not stretched, in the middle of what is free; all that says nothing else
"""


@dataclass(frozen=True, slots=True)
class Part:
    """One element of a drawing."""

    path: QPainterPath
    follows: Follows
    tone: float
    """How dark it is filled, 0 (not at all) to 1."""
    stroked: bool


@dataclass(frozen=True, slots=True)
class Symbol:
    """A silhouette."""

    name: str
    parts: tuple[Part, ...]
    box: Box
    """Around all of it: laid into a body, this is what fills it."""


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
    parts = []
    for element, follows in _elements(root, "core"):
        tag = element.tag.rpartition("}")[2]
        maker = _MAKERS.get(tag)
        if maker is None:
            raise SymbolError(f"symbol {name}: <{tag}> is not used in symbols")
        try:
            if follows not in get_args(Follows):
                raise ValueError(f"class '{follows}' is not used in symbols")
            filled = element.get("fill") == "currentColor"
            tone = float(element.get("fill-opacity", "1")) if filled else 0.0
            stroked = element.get("stroke") != "none"
            path = maker(element)
            if "stroke-width" in element.attrib:
                path, tone, stroked = _bar(path, float(element.attrib["stroke-width"])), 1.0, False
            parts.append(Part(path, cast(Follows, follows), tone, stroked))
        except (KeyError, ValueError, IndexError) as error:
            raise SymbolError(f"symbol {name}: <{tag}>: {error}") from error
    return Symbol(name, tuple(parts), _around(name, parts))


def _bar(path: QPainterPath, width: float) -> QPainterPath:
    """A heavy stroke is a thing of its own width: a handle, a lever. It grows with the body."""
    stroker = QPainterPathStroker()
    stroker.setWidth(width)
    stroker.setCapStyle(Qt.PenCapStyle.RoundCap)
    stroker.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return stroker.createStroke(path)


def _around(name: str, parts: list[Part]) -> Box:
    whole = QRectF()
    for part in parts:
        whole |= part.path.boundingRect()
    if whole.width() <= 0 or whole.height() <= 0:
        raise SymbolError(f"symbol {name}: nothing is drawn")
    return Box(whole.x(), whole.y(), whole.width(), whole.height())


def _elements(
    parent: ElementTree.Element, follows: str
) -> Iterator[tuple[ElementTree.Element, str]]:
    """What is drawn, in its order, with the class of its own or of the group around it."""
    for element in parent:
        tag = element.tag.rpartition("}")[2]
        own = element.get("class", follows)
        if tag == "g":
            yield from _elements(element, own)
        elif tag not in ("title", "desc"):
            yield element, own


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
