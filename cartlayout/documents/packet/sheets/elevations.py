"""Elevations: the front, the rear, and both ends side by side, at one scale."""

from collections.abc import Sequence
from functools import partial

from ...elevation import VIEWS, Elevation, View, elevation
from ...elevation.drawing import draw_elevation
from ...elevation.layout import best_denominator, least_width
from ...plan.picture import Box
from ..content import Content, Drawn, Job, Part, Picture

_BETWEEN = 6.0
"""Millimetres between two drawings side by side."""
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
        views: which sides; both ends share a page.
        denominator: of the scale, 10 for 1:10; None: the largest that fits the sheet.
    """
    drawn = {view: elevation(job.build, job.analysis, view) for view in views}
    ends = tuple(view for view in views if view in ("left", "right"))
    pages = [*((view,) for view in views if view not in ends), *((ends,) if ends else ())]
    parts: list[Part] = [
        Picture(partial(_draw, job, drawn, page, tuple(pages), denominator)) for page in pages
    ]
    return Content("elevations", "Elevations", "builder", tuple(parts), cautions=(_NOTE,))


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
    needs = [least_width(one, job.system) for one in drawn]
    free = box.width - _BETWEEN * (len(drawn) - 1)
    areas, x = [], box.x
    for one, need in zip(drawn, needs, strict=True):
        width = free * need / sum(needs)
        areas.append((one, Box(x, box.y, width, box.height)))
        x += width + _BETWEEN
    return areas
