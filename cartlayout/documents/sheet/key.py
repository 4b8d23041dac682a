"""The key under the plan: what the kinds of line mean, and which level is drawn how."""

from ...build import VENUE, Build
from ...units import UnitSystem, show
from ..lettering import Face, wrapped
from ..plan.clearance import MEANINGS
from ..plan.picture import Box, PlanPicture
from .elements import SMALL, Element, SampleItem, TextItem

_ROW = 4.4
_SAMPLE = 9.0
_GAP = 5.0
_FACE = Face(SMALL)
_LINE = 3.4
_ZONES = {"opening": "hole", "no-go": "nothing may stand", "reserved": "kept free"}


def _entries(picture: PlanPicture) -> list[tuple[str, str]]:
    media = {run.medium for run in picture.runs}
    entries = []
    if "power" in media:
        entries.append(("power", "cord, letter of its circuit"))
    if "water" in media:
        entries.append(("water", "supply tube, width by bore"))
    if any(run.hot for run in picture.runs):
        entries.append(("hot", "hot water"))
    if any(run.still and run.flow for run in picture.runs):
        entries.append(("still", f"stands still ({_case(picture)})"))
    if "drain" in media:
        entries.append(("drain", "drain"))
    if any(body.ghosted for body in picture.bodies):
        entries.append(("ghost", "on another level"))
    if any(run.climb is not None for run in picture.runs):
        entries.append(("climb", "goes down, comes up"))
    kinds = {zone.kind for zone in picture.zones if not zone.ghosted}
    entries += [(kind, words) for kind, words in _ZONES.items() if kind in kinds]
    return entries


def _case(picture: PlanPicture) -> str:
    case = picture.options.case
    return f"{case[:1].lower()}{case[1:]}"


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
    return _ROW * (len(_rows(picture, width)) + 1) + _LINE * len(_words(picture, width))


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
    top = area.y + _ROW * (len(_rows(picture, area.width)) + 1)
    for place, line in enumerate(_words(picture, area.width)):
        baseline = top + _LINE * place + 3.0
        elements.append(TextItem(area.x, baseline, line, SMALL, 400, "ink_muted"))
    return tuple(elements)


def _words(picture: PlanPicture, width: float) -> list[str]:
    """What the letters and lines of the clearance and the weight overlay mean."""
    said = []
    if picture.clearance is not None:
        letters = ", ".join(f"{letter} {meaning}" for letter, meaning in MEANINGS.items())
        said.append(
            f"Hatched: kept free for {letters}; an arrow: above it. Across the cart: how far "
            "hands go in from the operator. Drop: water may fall here; with a bar over it: a "
            "board keeps it off."
        )
    if picture.weight is not None:
        said.append(
            "Dashed: what the wheels span; the thick side is the one it goes over first. Dotted: "
            "where the centre of gravity may be, as high as it is now. Line: its way over a "
            "service, from the disc to the ring; triangle: the worst mix of full and empty "
            "vessels. At each wheel: the most it bears, against its rating."
        )
    return [line for text in said for line in wrapped(text, _FACE, width)]


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
    if picture.options.isolated and any(run.far for run in picture.runs):
        parts.append("pale: on another level")
    parts.append(f"operator at the {build.cart.operator_side}")
    return " · ".join(parts)


def _height(height_m: float, system: UnitSystem) -> str:
    return show(height_m, "tape", system)
