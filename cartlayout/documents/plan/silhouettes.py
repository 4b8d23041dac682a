"""A symbol laid into a body of any proportions: edges stretch, round things stay round.

Distances to an edge and corners keep their size, the way a frame is cut to
length: a point left of the symbol's middle keeps its distance from the left
edge, one right of it from the right edge. What must not be stretched is moved
as a whole.
"""

from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainterPath, QTransform

from .picture import Box
from .symbols import Part, symbol

_CURVE = QPainterPath.ElementType.CurveToElement
_MOVE = QPainterPath.ElementType.MoveToElement


@dataclass(frozen=True, slots=True)
class Silhouette:
    """What is painted, in coordinates of the body that it was laid into."""

    tones: tuple[tuple[float, QPainterPath], ...]
    """Filled parts, the faintest first, each with how dark it is."""
    lines: QPainterPath
    under_name: bool
    """Something of it may lie where the body's name stands."""


@lru_cache(maxsize=256)
def laid_into(name: str, body: Box, room: Box | None, outlined: bool = False) -> Silhouette:
    """A symbol in a body whose name leaves a room of it free.

    Args:
        name: of the symbol.
        body: all of the body, un-turned.
        room: the part of it that is free; None: only what lies along the edges is drawn.
        outlined: draw the edge of the body too, for a picture that stands alone.

    Raises:
        SymbolError: the file is damaged.
    """
    drawing = symbol(name)
    tones: dict[float, QPainterPath] = {}
    lines = QPainterPath()
    under_name = False
    for part in drawing.parts:
        if part.follows == "outline" and not outlined:
            continue
        target = body if part.follows in ("shell", "outline") else room
        if target is None or target.width <= 0 or target.height <= 0:
            continue
        path = _laid(part, drawing.box, target)
        under_name |= part.follows == "shell"
        if part.tone > 0:
            tones.setdefault(part.tone, QPainterPath()).addPath(path)
        if part.stroked:
            lines.addPath(path)
    for tone in tones.values():
        tone.setFillRule(Qt.FillRule.WindingFill)
    return Silhouette(tuple(sorted(tones.items(), key=lambda one: one[0])), lines, under_name)


def _laid(part: Part, box: Box, target: Box) -> QPainterPath:
    scale = min(target.width / box.width, target.height / box.height)
    if part.follows in ("outline", "shell", "fill"):
        return _stretched(part.path, box, target, scale)
    x, y = box.centre
    to_x, to_y = target.centre
    if part.follows == "rear":
        to_y = target.y + box.height / 2 * scale
    elif part.follows == "front":
        to_y = target.bottom - box.height / 2 * scale
    elif part.follows == "spread":
        centre = part.path.controlPointRect().center()
        x, y = centre.x(), centre.y()
        to_x = target.x + (x - box.x) / box.width * target.width
        to_y = target.y + (y - box.y) / box.height * target.height
    return QTransform(scale, 0.0, 0.0, scale, to_x - x * scale, to_y - y * scale).map(part.path)


def _stretched(path: QPainterPath, box: Box, target: Box, scale: float) -> QPainterPath:
    middle_x, middle_y = box.centre

    def at(index: int) -> tuple[float, float]:
        point = path.elementAt(index)
        x, y = point.x, point.y
        if x <= middle_x:
            x = target.x + (x - box.x) * scale
        else:
            x = target.right - (box.right - x) * scale
        if y <= middle_y:
            return x, target.y + (y - box.y) * scale
        return x, target.bottom - (box.bottom - y) * scale

    made = QPainterPath()
    index = 0
    while index < path.elementCount():
        kind = path.elementAt(index).type
        if kind == _CURVE:
            made.cubicTo(*at(index), *at(index + 1), *at(index + 2))
            index += 3
            continue
        if kind == _MOVE:
            made.moveTo(*at(index))
        else:
            made.lineTo(*at(index))
        index += 1
    return made
