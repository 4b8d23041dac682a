"""Elevations: the front, the rear, and both ends side by side, at one scale."""

from collections.abc import Sequence
from functools import partial

from ...elevation import VIEWS, Elevation, View, elevation
from ...elevation.drawing import draw_elevation
from ...elevation.layout import MM, best_denominator, columns, fits
from ...plan.picture import Box
from ...sheet.layout import MARGIN, SIZES_MM
from ..content import Content, Drawn, Job, Part, Picture

_BETWEEN = 6.0
"""Millimetres between two drawings side by side."""
_USUAL = 12.0
_FRAME = 62.0
"""Millimetres of a page that heading, title block and margins take at most."""
_NOTE = (
    "Bodies are drawn as boxes of their outer size; wheels and handles as signs of where they are. "
    "Heights are above the floor, as authored; measure before you cut."
)


def elevations(job: Job) -> Content:
    """All four sides."""
    return elevation_content(job)


def elevation_content(
    job: Job, views: Sequence[View] = VIEWS, denominator: float | None = None
) -> Content:
    """Some sides.

    Args:
        job: what is drawn.
        views: which sides; both ends share a page where that costs no scale.
        denominator: of the scale, 10 for 1:10; None: the largest that fits the sheet.
    """
    drawn = {view: elevation(job.build, job.analysis, view) for view in views}
    pages = _pages(job, drawn, denominator)
    parts: list[Part] = [
        Picture(partial(_draw, job, drawn, page, pages, denominator)) for page in pages
    ]
    title = "Elevations" if len(views) > 1 else "Elevation"
    return Content("elevations", title, "builder", tuple(parts), cautions=(_NOTE,))


def _pages(
    job: Job, drawn: dict[View, Elevation], asked: float | None
) -> tuple[tuple[View, ...], ...]:
    """Which sides share a page."""
    apart = tuple((view,) for view in drawn)
    ends = tuple(view for view in drawn if view in ("left", "right"))
    if len(ends) < 2:
        return apart
    width, height = SIZES_MM[job.paper]
    box = Box(0.0, 0.0, width - 2 * MARGIN, height - _FRAME)
    alone = [(one, box) for one in drawn.values()]
    beside = _areas(job, [drawn[view] for view in ends], box)
    scale = asked if asked is not None else best_denominator(alone, job.system)
    if not all(fits(one, area, scale, job.system) for one, area in beside):
        return apart
    return (*((view,) for view in drawn if view not in ends), ends)


def _draw(
    job: Job,
    drawn: dict[View, Elevation],
    page: tuple[View, ...],
    pages: tuple[tuple[View, ...], ...],
    asked: float | None,
    box: Box,
) -> Drawn:
    """What is on one page, at the scale that all pages fit."""
    shared = [
        pair
        for views in (pages if asked is None else (page,))
        for pair in _areas(job, [drawn[view] for view in views], box)
    ]
    denominator = best_denominator(shared, job.system, asked)
    made = [
        draw_elevation(one, area, denominator, job.system)
        for one, area in _areas(job, [drawn[view] for view in page], box)
    ]
    elements = tuple(element for one in made for element in one.elements)
    return Drawn(elements, scale=f"1:{denominator:g}")


def _areas(job: Job, drawn: Sequence[Elevation], box: Box) -> list[tuple[Elevation, Box]]:
    """Side by side, each as wide as its need is against the others'."""
    if len(drawn) == 1:
        return [(drawn[0], box)]
    needs = [_need(one, job) for one in drawn]
    free = box.width - _BETWEEN * (len(drawn) - 1)
    areas, x = [], box.x
    for one, need in zip(drawn, needs, strict=True):
        width = free * need / sum(needs)
        areas.append((one, Box(x, box.y, width, box.height)))
        x += width + _BETWEEN
    return areas


def _need(drawn: Elevation, job: Job) -> float:
    """Millimetres it takes at a usual scale, to share a page by."""
    left, right, _, _ = drawn.bounds
    beside = columns(drawn, job.system)
    return beside.left + beside.right + (right - left) * MM / _USUAL
