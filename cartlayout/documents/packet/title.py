"""The title block of a page of the packet, with the cautions under it."""

from dataclasses import dataclass

from ... import __version__
from ...units.display import unit_label
from ..caution import CAUTION
from ..lettering import Face, elided
from ..plan.picture import Box
from ..sheet.elements import BODY, SMALL, STRONG, BoxItem, Element, LineItem, TextItem
from ..sheet.title import REGIONS, cell
from .content import Content, Job
from .lines import broken

_ROW = 5.2
_NAME_ROW = 8.2
_UPRIGHT_BELOW = 240.0
"""A narrower block has its name on a row of its own."""
READERS = {
    "builder": "For the builder",
    "venue": "For the venue",
    "inspector": "For plan review",
    "operator": "For the operator",
}
_UNITS = ("length", "mass", "pressure", "flow", "volume", "temperature")


@dataclass(frozen=True, slots=True)
class Place:
    """Where a page stands in the packet."""

    sheet: int = 1
    sheets: int = 1
    page: int = 1
    pages: int = 1
    scale: str = "–"


def _caution_lines(content: Content, width: float) -> list[tuple[str, int]]:
    """Every caution, broken into lines, each with its weight."""
    lines = [(line, 400) for one in content.cautions for line in broken(one, Face(SMALL), width)]
    return [*lines, *((line, 600) for line in broken(CAUTION, Face(BODY, 600), width))]


def _caution_width(width: float) -> float:
    return width - 7.0 - Face(SMALL).width(_version())


def _version() -> str:
    return f"cartlayout {__version__}"


def _cautions_height(content: Content, width: float) -> float:
    return 2.2 + len(_caution_lines(content, _caution_width(width))) * 3.5


def title_height(content: Content, width: float) -> float:
    """Height of the block on every page of a sheet. Millimetres."""
    cells = 3 * _ROW if width >= _UPRIGHT_BELOW else _NAME_ROW + 3 * _ROW
    return cells + _cautions_height(content, width)


def title_elements(content: Content, job: Job, place: Place, area: Box) -> tuple[Element, ...]:
    """Name, who, when, where, in which units, which page of how many; under it the cautions."""
    bottom = area.bottom - _cautions_height(content, area.width)
    elements: list[Element] = [
        BoxItem(area, "panel", "ink", 0.0, 0.9),
        LineItem(area.x, bottom, area.right, bottom, 0.6, "ink"),
    ]
    if area.width >= _UPRIGHT_BELOW:
        left = 0.34 * area.width
        cells = Box(area.x + left, area.y, area.width - left, bottom - area.y)
        elements.append(LineItem(cells.x, area.y, cells.x, bottom, 0.6, "ink"))
        elements += _names(content, job, Box(area.x, area.y, left, bottom - area.y), stacked=True)
    else:
        cells = Box(area.x, area.y + _NAME_ROW, area.width, bottom - area.y - _NAME_ROW)
        elements.append(LineItem(area.x, cells.y, area.right, cells.y, 0.6, "ink"))
        elements += _names(content, job, Box(area.x, area.y, area.width, _NAME_ROW), stacked=False)
    elements += _grid(_cells(job, place), cells)
    elements += _cautions(content, area, bottom)
    return tuple(elements)


def _names(content: Content, job: Job, box: Box, stacked: bool) -> list[Element]:
    """The cart's name, and for whom the sheet is."""
    name, reader = job.build.name or "Unnamed cart", READERS[content.reader]
    size = 4.2
    if stacked:
        face = Face(size, 700)
        lines = broken(name, face, box.width - 6.0)
        if len(lines) > 1:
            size = STRONG * 1.1
            face = Face(size, 700)
            lines = broken(name, face, box.width - 6.0)[:2]
        top = box.y + 2.2 + face.cap
        texts: list[Element] = [
            TextItem(box.x + 3.0, top + at * face.line, line, size, 700)
            for at, line in enumerate(lines)
        ]
        what = elided(f"{content.title} · {reader}", Face(SMALL, 600), box.width - 6.0)
        texts.append(TextItem(box.x + 3.0, box.bottom - 2.2, what, SMALL, 600, "ink_muted"))
        return texts
    what = f"{content.title} · {reader}"
    room = box.width - 10.0 - Face(SMALL, 600).width(what)
    baseline = box.y + box.height / 2
    return [
        TextItem(
            box.x + 3.0,
            baseline + Face(size, 700).cap / 2,
            elided(name, Face(size, 700), room),
            size,
            700,
        ),
        TextItem(
            box.right - 3.0,
            baseline + Face(SMALL).cap / 2,
            what,
            SMALL,
            600,
            "ink_muted",
            1.0,
        ),
    ]


def _cells(job: Job, place: Place) -> list[tuple[str, str]]:
    """Row by row, three in each; the middle column is the narrowest."""
    build = job.build
    units = ", ".join(unit_label(one, job.system) for one in _UNITS)
    return [
        ("Date", job.date.isoformat()),
        ("Sheet", f"{place.sheet} of {place.sheets}"),
        ("Venue", build.venue.name or "–"),
        ("Revision", build.revision or "–"),
        ("Page", f"{place.page} of {place.pages}"),
        ("Units", units),
        ("Designer", build.designer or "–"),
        ("Scale", place.scale),
        ("File", _file(job)),
    ]


def _file(job: Job) -> str:
    region = REGIONS.get(job.build.region, job.build.region)
    return f"{job.file} · {region}" if job.file else region


def _grid(cells: list[tuple[str, str]], area: Box) -> list[Element]:
    shares = (0.29, 0.29, 0.42)
    elements: list[Element] = []
    for at, (name, value) in enumerate(cells):
        row, column = divmod(at, 3)
        x = area.x + sum(shares[:column]) * area.width
        box = Box(x, area.y + row * _ROW, shares[column] * area.width, _ROW)
        elements += cell(name, value, box)
    return elements


def _cautions(content: Content, area: Box, top: float) -> list[Element]:
    elements: list[Element] = []
    lines = _caution_lines(content, _caution_width(area.width))
    for at, (line, weight) in enumerate(lines):
        size = BODY if weight == 600 else SMALL
        elements.append(TextItem(area.x + 3.0, top + 3.7 + at * 3.5, line, size, weight, "stop"))
    elements.append(
        TextItem(area.right - 2.0, area.bottom - 2.0, _version(), SMALL, 400, "ink_muted", 1.0)
    )
    return elements
