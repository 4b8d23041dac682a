"""How much room a part takes, and the part drawn at its place."""

from dataclasses import dataclass

from ..plan.picture import Box
from ..sheet.elements import SMALL, BoxItem, Element, MarkItem, TextItem
from .model import LINE, Part, Words
from .symbols import BOXED, drawn, size

_INSIDE_X, _INSIDE_Y = 1.6, 1.0
_MARK = 2.8
_UNDER = 0.6
_OVER = _MARK + 0.9
"""So high stands a part with a mark: the mark stays clear of the line."""
"""Between a symbol and its words."""
_DEPTHS = {"accumulator": 1.0, "regulator": 2.4}
"""How far a symbol reaches under its line, where that is not half of its height."""
NAME_WIDTH = 34.0
BOX_WIDTH = 48.0
_CAP = 0.727 * SMALL


@dataclass(frozen=True, slots=True)
class Shape:
    """A part with its words broken into lines, about the line that comes in."""

    part: Part
    lines: tuple[Words, ...]
    width: float
    """Of everything."""
    body: tuple[float, float]
    """Width and height of the symbol or of the box around the words."""
    up: float
    down: float

    @property
    def is_boxed(self) -> bool:
        """Its words stand inside."""
        return self.part.symbol in BOXED


def shape(part: Part, ports_span: float = 0.0) -> Shape:
    """The room that a part takes.

    Args:
        part: anything.
        ports_span: millimetres from the first to the last of lines that come in apart.
    """
    widest = BOX_WIDTH if part.symbol in BOXED else NAME_WIDTH
    lines = tuple(line for words in part.words for line in words.lines(widest))
    text_width = max((line.width for line in lines), default=0.0)
    mark = _MARK + 0.8 if part.state else 0.0
    if part.symbol in BOXED:
        width = text_width + 2 * _INSIDE_X + mark
        height = max(len(lines) * LINE + 2 * _INSIDE_Y, ports_span + 3.0)
        return Shape(part, lines, width, (width, height), height / 2, height / 2)
    wide, high = size(part.symbol)
    half = max(high, ports_span + 1.0) / 2
    low = max(_DEPTHS.get(part.symbol, high / 2), (ports_span + 1.0) / 2)
    if part.symbol.startswith("reference"):  # its number stands inside, the rest under it
        under = len(lines[1:])
        text_width = max((line.width for line in lines[1:]), default=0.0)
    else:
        under = len(lines)
    down = low + (_UNDER + under * LINE if under else 0.0)
    width = max(wide + 2 * mark, text_width)
    return Shape(part, lines, width, (wide, high), max(half, _OVER if mark else 0.0), down)


def elements(one: Shape, x: float, y: float) -> list[Element]:
    """The part with the middle of its body at (x, y)."""
    part = one.part
    width, height = one.body
    found: list[Element] = []
    if one.is_boxed:
        box = Box(x - width / 2, y - height / 2, width, height)
        found.append(BoxItem(box, "panel", "ink", 0.6, 1.1 if part.bar else 0.8))
        top = y - len(one.lines) * LINE / 2
        found += [
            _text(line, box.x + _INSIDE_X, top + at * LINE, 0.0)
            for at, line in enumerate(one.lines)
        ]
        if part.state:
            found.append(
                MarkItem(box.right - _INSIDE_X - _MARK / 2 + 0.4, y - height / 2 + _MARK / 2 + 0.8,
                         _MARK, part.state)
            )  # fmt: skip
        return found
    found += drawn(part.symbol, x, y)
    lines = one.lines
    if part.symbol.startswith("reference"):
        found.append(
            TextItem(x - 0.7, y + _CAP / 2, lines[0].text, SMALL, lines[0].weight,
                     lines[0].colour, 0.5)
        )  # fmt: skip
        lines = lines[1:]
    top = y + one.down - len(lines) * LINE
    found += [_text(line, x, top + at * LINE, 0.5) for at, line in enumerate(lines)]
    if part.state:
        found.append(MarkItem(x + width / 2 + 0.6 + _MARK / 2, y - one.up + _MARK / 2, _MARK,
                              part.state))  # fmt: skip
    return found


def _text(line: Words, x: float, top: float, align: float) -> TextItem:
    """A line whose room begins at `top`."""
    baseline = top + (LINE + _CAP) / 2
    return TextItem(x, baseline, line.text, SMALL, line.weight, line.colour, align)
