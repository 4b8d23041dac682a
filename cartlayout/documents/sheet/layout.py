"""How a sheet is divided: the plan as large as a standard scale allows, the tables where they fit.

Two ways are tried: tables in a column beside the plan, and tables in a band
under it. The one with the larger scale is taken.
"""

import datetime
from dataclasses import dataclass
from typing import Literal

from ...analysis import Analysis
from ...build import Build
from ...units import UnitSystem, show
from ..plan.picture import Box, Overlay, PlanOptions, PlanPicture
from ..plan.scene import plan_picture
from ..theme import LIGHT, Theme
from .blocks import blocks
from .columns import Cut, column_width, least_height, pour
from .drawing import PlanDrawing, best_scale, content, draw_plan, scale_text, usable
from .elements import SMALL, Element, Sheet, TextItem
from .key import key_elements, key_height
from .title import HEIGHT as TITLE_HEIGHT
from .title import TitleFacts, title_block

SheetName = Literal["letter", "A4"]
SIZES_MM: dict[SheetName, tuple[float, float]] = {"letter": (279.4, 215.9), "A4": (297.0, 210.0)}
"""Landscape. ISO 216 for A4; ANSI/ASME Y14.1 size A for letter."""
MARGIN = 9.0
"""Of office printers' unprintable edge and a little more."""
_GAP = 5.0
_SIDE_WIDTHS = (66.0, 72.0, 80.0, 92.0)
_WIDER = (80.0, 92.0, 140.0)


@dataclass(frozen=True, slots=True)
class SheetOptions:
    """What is asked of a sheet."""

    sheet: SheetName = "letter"
    overlays: frozenset[Overlay] = frozenset(("power", "water", "drain"))
    system: UnitSystem = UnitSystem.US
    date: datetime.date | None = None
    """None: today."""
    level: str | None = None
    file: str = ""
    theme: Theme = LIGHT


@dataclass(frozen=True, slots=True)
class _Way:
    plan: Box
    tables: tuple[Element, ...]
    denominator: float


def lay_out(build: Build, analysis: Analysis, options: SheetOptions) -> Sheet:
    """Decide where everything on the sheet goes. Needs a QGuiApplication for the font's widths."""
    width, height = SIZES_MM[options.sheet]
    picture = plan_picture(
        build,
        analysis,
        PlanOptions(level=options.level, overlays=options.overlays, system=options.system),
    )
    title = Box(MARGIN, height - MARGIN - TITLE_HEIGHT, width - 2 * MARGIN, TITLE_HEIGHT)
    free = Box(MARGIN, MARGIN, width - 2 * MARGIN, title.y - MARGIN - _GAP)
    way = _best_way(build, analysis, options, picture, free)
    key = key_height(picture, way.plan.width)
    area = Box(way.plan.x, way.plan.y, way.plan.width, way.plan.height - key)
    drawing = draw_plan(picture, area, way.denominator, options.theme, options.system)
    facts = TitleFacts(
        date=options.date or datetime.date.today(),
        scale=scale_text(way.denominator, options.system),
        sheet=options.sheet.capitalize(),
        system=options.system,
        file=options.file,
    )
    elements = (
        *way.tables,
        *key_elements(build, picture, Box(area.x, area.bottom, area.width, key)),
        *title_block(build, facts, title),
        *_scale_words(drawing, options),
    )
    return Sheet(options.sheet, width, height, elements, drawing)


def _best_way(
    build: Build, analysis: Analysis, options: SheetOptions, picture: PlanPicture, free: Box
) -> _Way:
    ways = [
        *_beside(build, analysis, options, picture, free),
        *_below(build, analysis, options, picture, free),
    ]
    for cut in (Cut.LESSER, Cut.ANYTHING):  # more than any division holds whole
        ways = ways or _beside(build, analysis, options, picture, free, cut)
    if not ways:
        ways = [_Way(free, (), _scale(picture, free, options))]
    return min(ways, key=lambda way: (way.denominator, -_slack(picture, way)))


def _slack(picture: PlanPicture, way: _Way) -> float:
    """How many times the drawing fits in its area, the tighter way: room for labels around it."""
    need = content(picture)
    wide, high = usable(way.plan)
    return min(wide / need.width, high / need.height) * way.denominator


def _beside(
    build: Build,
    analysis: Analysis,
    options: SheetOptions,
    picture: PlanPicture,
    free: Box,
    cut: Cut = Cut.NOTHING,
) -> list[_Way]:
    ways = []
    for width in _SIDE_WIDTHS if cut is Cut.NOTHING else _WIDER:
        count = 1 if width < 100.0 else 2
        tables = blocks(
            build, analysis, options.overlays, options.system, column_width(width, count)
        )
        side = Box(free.right - width, free.y, width, free.height)
        elements = pour(tables, side, count, cut)
        if elements is None:
            continue
        plan = Box(free.x, free.y, free.width - width - _GAP, free.height)
        ways.append(_Way(plan, elements, _scale(picture, plan, options)))
    return ways


def _below(
    build: Build, analysis: Analysis, options: SheetOptions, picture: PlanPicture, free: Box
) -> list[_Way]:
    ways = []
    for count in (3, 4):
        tables = blocks(
            build, analysis, options.overlays, options.system, column_width(free.width, count)
        )
        height = least_height(tables, free.width, count, free.height * 0.6)
        if height is None:
            continue
        band = Box(free.x, free.bottom - height, free.width, height)
        elements = pour(tables, band, count)
        plan = Box(free.x, free.y, free.width, free.height - height - _GAP)
        if elements is not None:
            ways.append(_Way(plan, elements, _scale(picture, plan, options)))
    return ways


def _scale(picture: PlanPicture, plan: Box, options: SheetOptions) -> float:
    height = plan.height - key_height(picture, plan.width)
    return best_scale(picture, Box(plan.x, plan.y, plan.width, height), options.system)


def _scale_words(drawing: PlanDrawing, options: SheetOptions) -> tuple[Element, ...]:
    """Scale, and the cart's measures, at the right of the strip under the plan."""
    box = drawing.picture.cart.box
    size = " × ".join(
        show(side / 1000.0, "length", options.system) for side in (box.width, box.height)
    )
    text = f"{size} · scale {scale_text(drawing.denominator, options.system)}"
    area = drawing.area
    return (TextItem(area.right - 1.0, area.bottom - 2.4, text, SMALL, 600, "ink", 1.0),)
