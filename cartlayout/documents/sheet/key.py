"""The key under the plan: what the kinds of line mean, and which level is drawn how."""

from ...build import VENUE, Build
from ...units import UnitSystem, show
from ..lettering import Face
from ..plan.picture import Box, PlanPicture
from .elements import SMALL, Element, SampleItem, TextItem

_ROW = 4.4
_SAMPLE = 9.0
_GAP = 5.0
_FACE = Face(SMALL)
_ZONES = {"opening": "hole", "no-go": "nothing may stand", "reserved": "kept free"}


def _entries(picture: PlanPicture) -> list[tuple[str, str]]:
    media = {run.medium for run in picture.runs}
    entries = []
    if "power" in media:
        entries.append(("power", "cord, letter of its circuit"))
    if "water" in media:
        entries.append(("water", "supply tube, width by bore"))
    if "drain" in media:
        entries.append(("drain", "drain"))
    if any(body.ghosted for body in picture.bodies):
        entries.append(("ghost", "on another level"))
    kinds = {zone.kind for zone in picture.zones if not zone.ghosted}
    entries += [(kind, words) for kind, words in _ZONES.items() if kind in kinds]
    return entries


def _rows(picture: PlanPicture, width: float) -> list[list[tuple[float, str, str]]]:
    rows: list[list[tuple[float, str, str]]] = [[]]
    x = 0.0
    for kind, text in _entries(picture):
        need = _SAMPLE + 1.5 + _FACE.width(text)
        if x > 0 and x + need > width:
            rows.append([])
            x = 0.0
        rows[-1].append((x, kind, text))
        x += need + _GAP
    return [row for row in rows if row]


def key_height(picture: PlanPicture, width: float) -> float:
    """Room the key takes."""
    return _ROW * (len(_rows(picture, width)) + 1)


def key_elements(build: Build, picture: PlanPicture, area: Box) -> tuple[Element, ...]:
    """The key: a row for the level, rows for the lines."""
    elements: list[Element] = [
        TextItem(area.x, area.y + 3.0, _levels(build, picture), SMALL, 400, "ink_muted")
    ]
    for place, row in enumerate(_rows(picture, area.width)):
        y = area.y + _ROW * (place + 1)
        for x, kind, text in row:
            elements.append(SampleItem(area.x + x, y + 2.1, _SAMPLE, kind))
            elements.append(
                TextItem(area.x + x + _SAMPLE + 1.5, y + 3.0, text, SMALL, 400, "ink_muted")
            )
    return tuple(elements)


def _levels(build: Build, picture: PlanPicture) -> str:
    system = picture.options.system
    shown = build.cart.level(picture.cart.level)
    parts = []
    if shown is not None:
        parts.append(f"Shown: {shown.name}, {_height(shown.height.si, system)} above the floor")
    ghosted = {body.level for body in picture.bodies if body.ghosted}
    others = [
        f"{level.name} {_height(level.height.si, system)}"
        for level in build.cart.levels
        if level.name in ghosted and level.name != VENUE
    ]
    if others:
        parts.append(f"dashed: {', '.join(others)}")
    parts.append(f"operator at the {build.cart.operator_side}")
    return " · ".join(parts)


def _height(height_m: float, system: UnitSystem) -> str:
    return show(height_m, "length", system)
