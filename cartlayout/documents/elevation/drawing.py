"""An elevation on a sheet at a scale: lines, names, heights, width, title and key."""

from collections.abc import Iterator
from dataclasses import dataclass

from ...units import UnitSystem
from ..plan.picture import Box
from ..sheet.drawing import scale_text
from ..sheet.elements import SMALL, STRONG, Element, PathItem, SampleItem, TextItem
from .layout import (
    DIMENSION_ROW,
    KEY_ROW,
    KEY_SAMPLE,
    NAME_FACE,
    TITLE_ROW,
    Place,
    dimension_rows,
    key_rows,
    placed,
)
from .measures import height_marks, scale_bar, width_dimensions
from .model import Elevation
from .names import place_names
from .strokes import HIDDEN_DASH, HIDDEN_PT, body_strokes, floor_line, run_strokes

_PAD = 0.5


@dataclass(frozen=True, slots=True)
class ElevationDrawing:
    """An elevation with everything in its place."""

    elevation: Elevation
    place: Place
    elements: tuple[Element, ...]
    names: tuple[Element, ...]
    """Those of them that name bodies and circuits."""
    labels: tuple[tuple[str, Box], ...]
    """Every text in the drawing with its room: none lies on another."""


def draw_elevation(
    drawn: Elevation, area: Box, denominator: float, system: UnitSystem
) -> ElevationDrawing:
    """Put an elevation in the middle of an area at a scale.

    Needs a QGuiApplication for the font's widths.
    """
    place = placed(drawn, area, denominator, system)
    under, numbers = height_marks(drawn, place, system)
    width = tuple(width_dimensions(drawn, place, system))
    below = tuple(_below(drawn, place, area, system))
    texts = [one for one in (*numbers, *width, *below) if isinstance(one, TextItem)]
    floor = place.origin[1]
    frame = Box(area.x, area.y, area.width, floor - area.y - 0.4)
    keep_out = [one.box.grown(_PAD) for one in texts if one.box.y < floor]
    names = place_names(drawn, place, frame, keep_out)
    elements = (
        *under,
        *body_strokes(drawn, place),
        floor_line(drawn, place),
        *run_strokes(drawn, place),
        *names.elements,
        *numbers,
        *width,
        *below,
    )
    labels = (*names.boxes, *((one.text, one.box) for one in texts))
    return ElevationDrawing(drawn, place, elements, names.elements, labels)


def _below(drawn: Elevation, place: Place, area: Box, system: UnitSystem) -> Iterator[Element]:
    """Title, scale bar and key, under the dimensions."""
    top = place.origin[1] + DIMENSION_ROW * dimension_rows(drawn) + 1.0
    title = TextItem(area.x + 1.0, top + 4.6, drawn.title, STRONG, 700)
    yield title
    scale = f"scale {scale_text(place.denominator, system)}"
    yield TextItem(title.box.right + 3.0, top + 4.6, scale, SMALL, 400, "ink_muted")
    yield from scale_bar(place, Box(area.x, top + 1.2, area.width, TITLE_ROW), system)
    yield from _key(drawn, Box(area.x + 1.0, top + TITLE_ROW - 0.6, area.width - 1.0, KEY_ROW))


def _key(drawn: Elevation, rows: Box) -> Iterator[Element]:
    for at, row in enumerate(key_rows(drawn, rows.width)):
        y = rows.y + KEY_ROW * (at + 0.5)
        for start, kind, text in row:
            x = rows.x + start
            ends = ((x, y), (x + KEY_SAMPLE, y))
            if kind == "hidden":
                yield PathItem(ends, False, "", "ghost", HIDDEN_PT, HIDDEN_DASH)
            else:
                yield SampleItem(x, y, KEY_SAMPLE, kind)
            baseline = y + NAME_FACE.cap / 2
            yield TextItem(x + KEY_SAMPLE + 1.5, baseline, text, SMALL, 400, "ink_muted")
