"""A sheet laid out on pages: heading, what it says, title block."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtGui import QPainter

from ..devices import Canvas
from ..lettering import Face
from ..plan.picture import Box
from ..sheet.drawing import PlanDrawing
from ..sheet.elements import SMALL, Element, LineItem, TextItem
from ..sheet.layout import MARGIN, SIZES_MM
from ..sheet.painting import paint_page
from ..theme import LIGHT
from .content import Content, Job
from .flow import Poured, pour, strips_of
from .lines import broken
from .setting import SETTINGS, Setting
from .title import READERS, Place, title_elements, title_height

_GAP = 3.0


@dataclass(frozen=True, slots=True)
class Page:
    """One page, ready to paint. Millimetres from its upper left corner."""

    paper: str
    """"letter" or "A4"."""
    width: float
    height: float
    elements: tuple[Element, ...]
    plans: tuple[PlanDrawing, ...]
    area: Box
    """Where the sheet's own contents stand: between heading and title block."""

    @property
    def texts(self) -> tuple[TextItem, ...]:
        """Every line of text outside the plans."""
        return tuple(one for one in self.elements if isinstance(one, TextItem))

    def paint(self, painter: QPainter) -> None:
        """Paint it; the painter is scaled to millimetres."""
        paint_page(painter, self.plans, self.elements, LIGHT)

    def canvas(self) -> Canvas:
        """As a page of a file."""
        return Canvas(self.width, self.height, self.paper, self.paint)


@dataclass(frozen=True, slots=True)
class Laid:
    """A sheet poured on pages, before it is known which sheet of how many it is."""

    content: Content
    job: Job
    size: tuple[float, float]
    area: Box
    poured: tuple[Poured, ...]

    def pages(self, sheet: int = 1, sheets: int = 1) -> tuple[Page, ...]:
        """With the title blocks of a place in the packet."""
        width, height = self.size
        block = title_height(self.content, width - 2 * MARGIN)
        box = Box(MARGIN, height - MARGIN - block, width - 2 * MARGIN, block)
        made = []
        for number, one in enumerate(self.poured, 1):
            scale = ", ".join(one.scales) or ("not to scale" if one.has_drawing else "–")
            place = Place(sheet, sheets, number, len(self.poured), scale)
            elements = (
                *one.elements,
                *_heading(self.content, self.size, number > 1),
                *title_elements(self.content, self.job, place, box),
            )
            made.append(Page(self.job.paper, width, height, elements, one.plans, self.area))
        return tuple(made)


def lay_out(content: Content, job: Job) -> Laid:
    """Pour a sheet on as many pages as it needs. Needs a QGuiApplication for widths of letters."""
    wide, high = SIZES_MM[job.paper]
    size = (wide, high) if content.is_wide else (min(wide, high), max(wide, high))
    inner = size[0] - 2 * MARGIN
    top = MARGIN + _heading_height(content, inner)
    bottom = size[1] - MARGIN - title_height(content, inner) - _GAP
    area = Box(MARGIN, top, inner, bottom - top)
    return Laid(content, job, size, area, _poured(content, job, area))


_NEARLY_EMPTY = 0.3


def _poured(content: Content, job: Job, area: Box) -> tuple[Poured, ...]:
    """In the usual type; in a smaller one where that spares a page.

    A sheet that has to stay on one page may go down to the least size, any other by one step, and
    only for the sake of a last page with next to nothing on it.
    """

    def in_setting(setting: Setting) -> tuple[Poured, ...]:
        return pour(strips_of(content.parts, setting, area.width, job.system), area)

    usual = in_setting(SETTINGS[0])
    if len(usual) == 1:
        return usual
    if content.one_page:
        tried = (usual, *map(in_setting, SETTINGS[1:]))
        return min(tried, key=len)  # the largest type of those with the fewest pages
    if usual[-1].filled < _NEARLY_EMPTY and not usual[-1].has_drawing:
        smaller = in_setting(SETTINGS[1])
        return smaller if len(smaller) < len(usual) else usual
    return usual


def _heading_lines(content: Content, width: float, later: bool) -> tuple[str, ...]:
    text = f"{content.title} (continued)" if later else content.title
    return broken(text, _face(), width - 40.0)


def _face() -> Face:
    return Face(Setting().title, 700)


def _heading_height(content: Content, width: float) -> float:
    lines = max(len(_heading_lines(content, width, later)) for later in (False, True))
    return _face().cap + (lines - 1) * _face().line + 5.2


def _heading(content: Content, size: tuple[float, float], later: bool) -> tuple[Element, ...]:
    face, right = _face(), size[0] - MARGIN
    inner = size[0] - 2 * MARGIN
    texts = [
        TextItem(MARGIN, MARGIN + face.cap + at * face.line, line, face.size, 700)
        for at, line in enumerate(_heading_lines(content, inner, later))
    ]
    y = MARGIN + _heading_height(content, inner) - 2.6
    reader = READERS[content.reader]
    return (
        *texts,
        TextItem(right, MARGIN + face.cap, reader, SMALL, 600, "ink_muted", 1.0),
        LineItem(MARGIN, y, right, y, 0.6, "line_strong"),
    )


def numbered(laid: Sequence[Laid]) -> list[tuple[Content, tuple[Page, ...]]]:
    """All sheets of a packet with their pages, numbered through."""
    return [(one.content, one.pages(sheet, len(laid))) for sheet, one in enumerate(laid, 1)]
