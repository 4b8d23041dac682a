"""Headings, sentences, facts and lines to tick, as strips."""

from ...units import UnitSystem
from ..lettering import Face
from ..plan.picture import Box
from ..sheet.elements import BoxItem, Element, LineItem, TextItem
from .cells import shown, words
from .content import Blanks, Checks, Facts, Heading, Paragraph, Picture, Role
from .lines import broken
from .setting import Setting
from .strips import PictureStrip, Strip

PART_GAP = 4.4
_MEASURE = 190.0
"""Sentences are not set wider: longer lines are hard to follow."""
_FACT_WIDTH = 78.0
"""About so wide is a name with its value; as many stand side by side as there is room for."""
_BETWEEN = 6.0
_BOX = 3.0
_ROLES: dict[Role, tuple[int, str]] = {
    "body": (400, "ink"),
    "strong": (600, "ink"),
    "muted": (400, "ink_muted"),
    "caution": (600, "stop"),
}


def heading_strips(part: Heading, setting: Setting, width: float) -> tuple[Strip, ...]:
    """A line in strong letters; it stays with what follows."""
    return titled(part.text, setting, width)


def titled(text: str, setting: Setting, width: float, continued: bool = False) -> tuple[Strip, ...]:
    """The title of a part; on a later page it says that the part goes on."""
    if not text:
        return ()
    face = Face(setting.heading, 700)
    lines = broken(f"{text} (continued)" if continued else text, face, width)
    elements = tuple(
        TextItem(0.0, face.cap + at * face.line, line, face.size, 700)
        for at, line in enumerate(lines)
    )
    height = face.line * len(lines) + setting.gap(0.7)
    return (Strip(height, elements, setting.gap(PART_GAP), holds_next=True),)


def paragraph_strips(
    part: Paragraph, setting: Setting, width: float, system: UnitSystem
) -> tuple[Strip, ...]:
    """Sentences, line by line; two lines stay together at either end."""
    weight, colour = _ROLES[part.role]
    size = setting.small if part.role == "muted" else setting.body
    face = Face(size, weight)
    lines = broken(words(part.text, system), face, min(width, _MEASURE))
    strips = []
    for at, line in enumerate(lines):
        item = TextItem(0.0, face.cap, line, size, weight, colour)
        alone = at == 0 or at == len(lines) - 2
        gap = setting.gap(2.0) if at == 0 else face.line - face.cap
        strips.append(Strip(face.cap, (item,), gap, holds_next=alone and len(lines) > 1))
    if strips:
        strips[-1] = Strip(face.cap + 0.3 * size, strips[-1].elements, strips[-1].gap)
    return tuple(strips)


def facts_strips(
    part: Facts, setting: Setting, width: float, system: UnitSystem
) -> tuple[Strip, ...]:
    """Names with values; read down each column, then on in the next."""
    if not part.pairs:
        return ()
    count = max(1, min(len(part.pairs), int((width + _BETWEEN) / _FACT_WIDTH)))
    wide = (width - _BETWEEN * (count - 1)) / count
    rows = -(-len(part.pairs) // count)
    # Without a column that would stay empty.
    count = -(-len(part.pairs) // rows)
    strips = [*titled(part.title, setting, width)]
    for row in range(rows):
        height, elements = 0.0, list[Element]()
        for column, (name, cell) in enumerate(part.pairs[row::rows]):
            made, high = _fact(name, shown(cell, None, system), setting, wide)
            x = column * (wide + _BETWEEN)
            elements += [one.moved(x, 0.0) for one in made]
            height = max(height, high)
            rest = LineItem(x, 0.0, x + wide, 0.0, 0.35)
            elements.append(rest)
        ruled = tuple(
            one.moved(0.0, height) if isinstance(one, LineItem) else one for one in elements
        )
        gap = 0.0 if row else setting.gap(0.6 if part.title else 2.4)
        strips.append(Strip(height, ruled, gap))
    return tuple(strips)


def _fact(name: str, value: str, setting: Setting, width: float) -> tuple[list[Element], float]:
    """A name in quiet letters and its value beside it, or under it where it has no room."""
    label, strong = Face(setting.small), Face(setting.small, 600)
    left = min(label.width(name), 0.45 * width)
    names = broken(name, label, left + 0.01)
    values = broken(value, strong, width - left - 2.5)
    top = setting.gap(1.2) + label.cap
    elements: list[Element] = [
        TextItem(0.0, top + at * label.line, line, label.size, 400, "ink_muted")
        for at, line in enumerate(names)
    ]
    elements += [
        TextItem(width, top + at * label.line, line, label.size, 600, "ink", 1.0)
        for at, line in enumerate(values)
    ]
    lines = max(len(names), len(values), 1)
    return elements, top + (lines - 1) * label.line + 0.3 * label.size + setting.gap(0.8)


def checks_strips(
    part: Checks, setting: Setting, width: float, system: UnitSystem
) -> tuple[Strip, ...]:
    """A box to tick before each line."""
    face = Face(setting.body)
    number_width = face.width("00.") + 1.6 if part.is_numbered else 0.0
    left = _BOX + 2.2 + number_width
    strips = [*titled(part.title, setting, width)]
    for number, line in enumerate(part.lines, part.first):
        lines = broken(words(line, system), face, min(width, _MEASURE) - left)
        elements: list[Element] = [
            BoxItem(Box(0.0, 0.0, _BOX, _BOX), "", "ink_muted", 0.4, 0.8),
        ]
        baseline = _BOX / 2 + face.cap / 2
        if part.is_numbered:
            at = _BOX + 2.2 + number_width - 1.6
            elements.append(TextItem(at, baseline, f"{number}.", face.size, 600, "ink", 1.0))
        elements += [
            TextItem(left, baseline + at * face.line, text, face.size)
            for at, text in enumerate(lines)
        ]
        height = max(_BOX, baseline + max(len(lines) - 1, 0) * face.line + 0.25 * face.size)
        gap = setting.gap(1.9) if number > part.first else setting.gap(1.4)
        strips.append(Strip(height, tuple(elements), gap))
    return tuple(strips)


_BLANK = 8.5
"""Height of a line to write on: handwriting takes that much (common practice, no source)."""


def blanks_strips(part: Blanks, setting: Setting, width: float) -> tuple[Strip, ...]:
    """A name in front of each line to write on; they begin at one place and stay together."""
    face, small = Face(setting.body), Face(setting.small)
    left = min(max((face.width(name) for name in part.names), default=0.0), 0.45 * width)
    strips = [*titled(part.title, setting, width)]
    for name in part.names:
        lines = broken(name, face, left + 0.01)
        height = _BLANK + (len(lines) - 1) * face.line
        first = height - 1.8 - (len(lines) - 1) * face.line
        elements: list[Element] = [
            TextItem(0.0, first + at * face.line, line, face.size) for at, line in enumerate(lines)
        ]
        elements.append(LineItem(left + 3.0, height - 1.0, width, height - 1.0, 0.5, "line_strong"))
        strips.append(Strip(height, tuple(elements), holds_next=True))
    if part.names:
        strips[-1] = Strip(strips[-1].height, strips[-1].elements)
    for line in broken(part.note, small, min(width, _MEASURE)):
        text = TextItem(0.0, small.cap, line, small.size, 400, "ink_muted")
        strips.append(Strip(small.line, (text,), setting.gap(1.6)))
    return tuple(strips)


def picture_strips(part: Picture, setting: Setting, width: float) -> tuple[PictureStrip, ...]:
    """A drawing with its title."""
    above = titled(part.title, setting, width)
    gap = 0.0 if above else setting.gap(PART_GAP)
    return (PictureStrip(part.draw, part.least_height, part.height, gap, above),)
