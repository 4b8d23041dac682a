"""The annotated plan, one page for each level of the cart."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

import shapely

from ....build import Level
from ....build.cart_geometry import zone_ring
from ....build.geometry import bounds
from ....units import show
from ....units.display import capitalised
from ...plan.picture import Box, PlanOptions, PlanPicture
from ...plan.scene import plan_picture
from ...sheet.drawing import PlanDrawing, ScaleError, best_scale, draw_plan, fits, scale_text
from ...sheet.elements import SMALL, Element, PathItem, TextItem
from ...sheet.key import key_elements, key_height
from ...sheet.layout import decisive
from ...theme import LIGHT
from ..content import Content, Drawn, Job, Paragraph, Part, Picture
from ..passages import passages

MM = 1000.0
_HIDDEN = (2.0, 1.2)
_LEAST_MM = 0.9
"""On paper: a smaller circle would be taken for a port."""


def plans(job: Job) -> Content:
    """What stands on every level, with its cords and tubes, at one scale for all levels."""
    return plan_content(job)


def plan_content(
    job: Job, levels: Sequence[str] | None = None, denominator: float | None = None
) -> Content:
    """The plan of some levels.

    Args:
        job: what is drawn.
        levels: their names; None: all of them, the highest first.
        denominator: of the scale, 10 for 1:10; None: the largest that fits the sheet.
    """
    cart = job.build.cart
    shown = [one for one in cart.levels if levels is None or one.name in levels]
    shown.sort(key=lambda one: -one.height.si)
    pictures = {one.name: level_picture(job, one.name) for one in shown}
    others = tuple(pictures.values())
    parts: list[Part] = [
        Picture(
            partial(_draw, job, pictures[one.name], others, denominator), title=_title(job, one)
        )
        for one in shown
    ]
    if not parts:
        parts.append(Paragraph("The cart has no level yet, so there is nothing to draw."))
    title = "Plan of each level" if levels is None else "Plan"
    return Content("plans", title, "builder", tuple(parts))


def _title(job: Job, level: Level) -> str:
    height = show(level.height.si, "tape", job.system)
    return f"{capitalised(level.name)}, {height} above the floor"


def level_picture(job: Job, level: str) -> PlanPicture:
    """What is on one level and at the venue, without what is on the others.

    A cord between the venue and another level would end in the air, so it is left out.
    """
    options = PlanOptions(level=level, system=job.system, isolated=True)
    picture = decisive(plan_picture(job.build, job.analysis, options))
    there = {item.id for item in job.build.items if item.level == level}
    routes = job.analysis.network.routes
    runs = tuple(
        run
        for run in picture.runs
        if there & set(run.ends) or (run.id in routes and level in routes[run.id].levels)
    )
    left = {run.id for run in picture.runs} - {run.id for run in runs}
    notes = tuple(note for note in picture.notes if note.run not in left)
    return replace(picture, runs=runs, notes=notes)


def _draw(
    job: Job,
    picture: PlanPicture,
    others: Sequence[PlanPicture],
    asked: float | None,
    box: Box,
) -> Drawn:
    """The plan in a box, its key under it, at the scale that all levels fit."""
    scales = []
    for one in others:
        room = Box(box.x, box.y, box.width, box.height - key_height(one, box.width))
        scales.append(best_scale(one, room, job.system))
    denominator = asked if asked is not None else max(scales)
    key = key_height(picture, box.width)
    area = Box(box.x, box.y, box.width, box.height - key)
    if asked is not None and not fits(picture, area, asked):
        raise ScaleError(asked, max(scales))
    drawing = draw_plan(picture, area, denominator, LIGHT, job.system)
    size = " × ".join(
        show(side / 1000.0, "tape", job.system)
        for side in (picture.cart.box.width, picture.cart.box.height)
    )
    scale = scale_text(denominator, job.system)
    text = f"{size} · scale {scale}"
    elements: tuple[Element, ...] = (
        *key_elements(job.build, picture, Box(area.x, area.bottom, area.width, key)),
        TextItem(area.right - 1.0, area.bottom - 2.4, text, SMALL, 600, "ink", 1.0),
        *_holes(job, drawing),
    )
    return Drawn(elements, (drawing,), f"1:{denominator:g}")


def _holes(job: Job, drawing: PlanDrawing) -> Iterator[Element]:
    """Holes under what stands there, dotted: bodies hide them on the plan. No label is crossed."""
    rings = [*_cut(job, drawing), *_bored(job, drawing)]
    if not rings:
        return
    labels = shapely.union_all(
        [
            shapely.box(box.x, box.y, box.right, box.bottom).buffer(0.3)
            for _, box in drawing.label_boxes
        ]
    )
    for ring in rings:
        for line in shapely.get_parts(ring.difference(labels)):
            yield PathItem(tuple(line.coords), False, "", "ink", 0.6, _HIDDEN)
    y = drawing.area.bottom - 6.6
    words = "dotted: hole under what stands there"
    yield TextItem(drawing.area.right - 1.0, y, words, SMALL, 400, "ink_muted", 1.0)


def _cut(job: Job, drawing: PlanDrawing) -> Iterator[shapely.LinearRing]:
    """Openings that a body stands over, on the sheet."""
    level = drawing.picture.cart.level
    bodies = [shapely.box(*bounds(item)) for item in job.build.items if item.level == level]
    for zone in job.build.cart.zones:
        ring = zone_ring(zone)
        if zone.kind != "opening" or zone.level != level:
            continue
        if any(body.intersects(shapely.Polygon(ring)) for body in bodies):
            yield shapely.LinearRing([drawing.on_sheet((x * MM, y * MM)) for x, y in ring])


def _bored(job: Job, drawing: PlanDrawing) -> Iterator[shapely.LinearRing]:
    """Holes for the tubes of what is fed from below, on the sheet."""
    for one in passages(job.build, job.analysis.network):
        if one.is_bored and one.level.name == drawing.picture.cart.level and one.thick_m:
            middle = shapely.Point(drawing.on_sheet((one.x_m * MM, one.y_m * MM)))
            radius = max(one.thick_m * MM / drawing.denominator / 2, _LEAST_MM)
            yield middle.buffer(radius).exterior
