"""Labels in rows of a grid, as strips: cut lines run from edge to edge."""

from ...units import UnitSystem
from ..lettering import Face
from ..sheet.elements import Element, LineItem, SampleItem, TextItem
from .blocks import titled
from .cells import words
from .content import Label, Labels
from .lines import broken
from .setting import Setting
from .strips import Strip

_WIDTH = 62.0
"""About so wide is a label: it goes round a cord or a tube as a flag, or flat beside an outlet
(common practice, no source)."""
_PAD = 2.6
_SAMPLE = 13.0
_LEAST_HEIGHT = 19.0
_OUT = 2.5
"""So far cut lines run out beyond the labels."""
_CUT = (3.0, 2.0)
_HEADLINE = 3.4


def label_strips(
    part: Labels, setting: Setting, width: float, system: UnitSystem
) -> tuple[Strip, ...]:
    """Rows of labels of one height each; a label is never broken between pages."""
    title = titled(part.title, setting, width)
    if not part.labels:
        face = Face(setting.body)
        text = TextItem(0.0, face.cap, part.empty or "None.", face.size, 400, "ink_muted")
        return (*title, Strip(face.line, (text,), setting.gap(1.6)))
    inner = width - 2 * _OUT
    count = max(1, int(inner / _WIDTH))
    wide = inner / count
    made = [_label(one, setting, wide, system) for one in part.labels]
    later = titled(part.title, setting, width, continued=True)
    strips = [*title]
    for first in range(0, len(made), count):
        row = made[first : first + count]
        height = max(_LEAST_HEIGHT, *(high for _, high in row))
        elements: list[Element] = []
        for column, (parts, _) in enumerate(row):
            elements += [one.moved(_OUT + column * wide, 0.0) for one in parts]
        elements += _cuts(len(row), wide, height)
        gap = setting.gap(2.6) if first == 0 else 0.0
        strips.append(Strip(height, tuple(elements), gap, repeated=later))
    return tuple(strips)


def _cuts(count: int, wide: float, height: float) -> list[Element]:
    """Round every label of a row: two long cuts, and one between any two neighbours."""
    end = 2 * _OUT + count * wide
    return [
        *(LineItem(0.0, y, end, y, 0.4, "line_strong", _CUT) for y in (0.0, height)),
        *(
            LineItem(x, 0.0, x, height, 0.4, "line_strong", _CUT)
            for x in (_OUT + column * wide for column in range(count + 1))
        ),
    ]


def _label(
    label: Label, setting: Setting, wide: float, system: UnitSystem
) -> tuple[list[Element], float]:
    """Headline with a piece of its line, then what there is to know."""
    strong, small = Face(_HEADLINE * setting.share, 700), Face(setting.small)
    lines = broken(label.headline, strong, wide - 3 * _PAD - _SAMPLE)
    baseline = _PAD + strong.cap
    elements: list[Element] = [
        TextItem(_PAD, baseline + at * strong.line, line, strong.size, 700)
        for at, line in enumerate(lines)
    ]
    sample = SampleItem(
        wide - _PAD - _SAMPLE, _PAD + strong.cap / 2, _SAMPLE, label.medium, label.letter
    )
    elements.append(sample)
    y = baseline + max(len(lines) - 1, 0) * strong.line + 1.0
    for text in label.lines:
        for line in broken(words(text, system), small, wide - 2 * _PAD):
            y += small.line
            elements.append(TextItem(_PAD, y, line, small.size))
    return elements, y + 0.3 * small.size + _PAD - 0.6
