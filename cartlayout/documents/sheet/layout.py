"""A whole sheet: the plan with its key, the tables, the title block."""

import datetime
from dataclasses import dataclass, replace
from typing import Literal

from ...analysis import Analysis
from ...build import Build
from ...units import UnitSystem, show
from ..plan.picture import Box, Overlay, PlanOptions, PlanPicture
from ..plan.scene import plan_picture
from ..plan.water_notes import FASTEST
from ..theme import LIGHT, Theme
from .division import GAP, Divider
from .drawing import PlanDrawing, draw_plan, scale_text
from .elements import SMALL, Element, Sheet, TextItem
from .key import key_elements, key_height
from .title import HEIGHT as TITLE_HEIGHT
from .title import TitleFacts, title_block

SheetName = Literal["letter", "A4", "tabloid", "A3"]
SIZES_MM: dict[SheetName, tuple[float, float]] = {
    "letter": (279.4, 215.9),
    "A4": (297.0, 210.0),
    "tabloid": (431.8, 279.4),
    "A3": (420.0, 297.0),
}
"""Landscape. ISO 216 for A4 and A3; ANSI/ASME Y14.1 sizes A and B for letter and tabloid."""
MARGIN = 9.0
"""Of office printers' unprintable edge and a little more."""


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


def lay_out(build: Build, analysis: Analysis, options: SheetOptions) -> Sheet:
    """Decide where everything on the sheet goes. Needs a QGuiApplication for the font's widths."""
    width, height = SIZES_MM[options.sheet]
    picture = decisive(
        plan_picture(
            build,
            analysis,
            PlanOptions(level=options.level, overlays=options.overlays, system=options.system),
        )
    )
    title = Box(MARGIN, height - MARGIN - TITLE_HEIGHT, width - 2 * MARGIN, TITLE_HEIGHT)
    free = Box(MARGIN, MARGIN, width - 2 * MARGIN, title.y - MARGIN - GAP)
    way = Divider(build, analysis, options.overlays, options.system, picture, free).best()
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
        *way.elements,
        *key_elements(build, picture, Box(area.x, area.bottom, area.width, key)),
        *title_block(build, facts, title),
        *_scale_words(drawing, options),
    )
    return Sheet(options.sheet, width, height, elements, drawing)


def decisive(picture: PlanPicture) -> PlanPicture:
    """Without the numbers that say no more than that all is well with a tube."""
    notes = tuple(one for one in picture.notes if one.key != FASTEST or one.state)
    return replace(picture, notes=notes)


def _scale_words(drawing: PlanDrawing, options: SheetOptions) -> tuple[Element, ...]:
    """Scale, and the cart's measures, at the right of the strip under the plan."""
    box = drawing.picture.cart.box
    size = " × ".join(
        show(side / 1000.0, "tape", options.system) for side in (box.width, box.height)
    )
    text = f"{size} · scale {scale_text(drawing.denominator, options.system)}"
    area = drawing.area
    return (TextItem(area.right - 1.0, area.bottom - 2.4, text, SMALL, 600, "ink", 1.0),)
