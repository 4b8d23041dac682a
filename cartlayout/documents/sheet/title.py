"""The title block and the caution under it."""

import datetime
import re
from dataclasses import dataclass

from ... import __version__
from ...build import Build
from ...units import UnitSystem
from ...units.display import unit_label
from ..caution import CAUTION
from ..lettering import Face, elided, wrapped
from ..plan.picture import Box
from .elements import BODY, SMALL, TITLE, BoxItem, Element, LineItem, TextItem

HEIGHT = 25.0
_CELL_WIDTHS = (33.0, 36.0, 56.0)
REGIONS = {
    "US": "United States",
    "UK": "United Kingdom",
    "EU": "European Union",
    "AU": "Australia",
}


@dataclass(frozen=True, slots=True)
class TitleFacts:
    """What stands in the title block besides the build's own."""

    date: datetime.date
    scale: str
    sheet: str
    system: UnitSystem
    file: str = ""


def title_block(build: Build, facts: TitleFacts, area: Box) -> tuple[Element, ...]:
    """Name, story, who, when, where, scale; below it the caution on its own band."""
    caution_height = 5.6
    y, bottom = area.y, area.bottom - caution_height
    cells = _cells(build, facts)
    cells_width = sum(_CELL_WIDTHS)
    left_width = area.width - cells_width - 6.0
    elements: list[Element] = [
        BoxItem(area, "panel", "ink", 0.0, 0.9),
        LineItem(area.x, bottom, area.right, bottom, 0.6, "ink"),
        TextItem(
            area.x + 3.0,
            y + 6.4,
            elided(build.name or "Unnamed cart", Face(TITLE, 700), left_width),
            TITLE,
            700,
        ),
    ]
    story = wrapped(first_sentence(build.story), Face(BODY), left_width, 2)
    for at, line in enumerate(story):
        elements.append(
            TextItem(area.x + 3.0, y + 11.6 + at * BODY * 1.3, line, BODY, 400, "ink_muted")
        )
    x = area.right - cells_width
    row_height = (bottom - y) / 3
    elements.append(LineItem(x, y, x, bottom, 0.6, "ink"))
    for place, (name, value) in enumerate(cells):
        row, column = divmod(place, 3)
        left = x + sum(_CELL_WIDTHS[:column])
        box = Box(left, y + row * row_height, _CELL_WIDTHS[column], row_height)
        elements += cell(name, value, box)
    elements.append(TextItem(area.x + 3.0, area.bottom - 1.9, CAUTION, BODY, 600, "stop"))
    elements.append(
        TextItem(
            area.right - 2.0,
            area.bottom - 1.9,
            f"cartlayout {__version__}",
            SMALL,
            400,
            "ink_muted",
            1.0,
        )
    )
    return tuple(elements)


def _cells(build: Build, facts: TitleFacts) -> list[tuple[str, str]]:
    units = ", ".join(
        unit_label(dimension, facts.system) for dimension in ("length", "pressure", "flow")
    )
    return [
        ("Date", facts.date.isoformat()),
        ("Scale", facts.scale),
        ("Designer", build.designer or "–"),
        ("Revision", build.revision or "–"),
        ("Units", units),
        ("Venue", build.venue.name or "–"),
        ("Sheet", facts.sheet),
        ("Region", REGIONS.get(build.region, build.region)),
        ("File", facts.file or "–"),
    ]


def cell(name: str, value: str, box: Box) -> list[Element]:
    """A name and its value in a box of the title block."""
    label = Face(SMALL)
    gap = label.width(name) + 1.6
    baseline = box.y + box.height / 2 + label.cap / 2
    elements: list[Element] = [
        TextItem(box.x + 1.8, baseline, name, SMALL, 400, "ink_muted"),
        TextItem(
            box.x + 1.8 + gap,
            baseline,
            elided(value, Face(SMALL, 600), box.width - gap - 3.0),
            SMALL,
            600,
        ),
        LineItem(box.x, box.bottom, box.right, box.bottom, 0.35, "line_strong"),
        LineItem(box.right, box.y, box.right, box.bottom, 0.35, "line_strong"),
    ]
    return elements


def first_sentence(text: str) -> str:
    """Up to the first full stop that ends a sentence."""
    found = re.match(r".*?[.!?](?=\s|$)", text.strip(), re.DOTALL)
    return " ".join((found[0] if found else text).split())
