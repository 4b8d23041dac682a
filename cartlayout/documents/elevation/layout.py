"""At which scale an elevation is drawn and where it goes. Millimetres of the sheet."""

from collections.abc import Sequence
from dataclasses import dataclass

from ...units import UnitSystem, show
from ..lettering import Face, wrapped
from ..plan.picture import XY, Box
from ..sheet.drawing import ScaleError, standard_scales
from ..sheet.elements import SMALL
from .model import Elevation, Height
from .view import UZ

MM = 1000.0
COLUMN_GAP = 5.0
"""Between the drawing and the heights beside it."""
LINE = 3.3
MARK_GAP = 1.0
MOST_COLUMN = 32.0
DIMENSION_ROW = 6.0
TITLE_ROW = 8.0
KEY_ROW = 4.4
KEY_SAMPLE = 9.0
_KEY_GAP = 5.0
KEY_WORDS = (
    ("power", "cord, letter of its circuit"),
    ("water", "supply tube"),
    ("hot", "hot water"),
    ("drain", "drain"),
    ("hidden", "hidden; cords and tubes dotted"),
)
TOP_ROOM = 3.0
"""Above the drawing, for names that stand over their bodies."""
NAME_ROOM = 4.0
NUMBER_FACE = Face(SMALL, 600)
NAME_FACE = Face(SMALL)


@dataclass(frozen=True, slots=True)
class Columns:
    """How wide the heights at the left and at the right of a drawing are."""

    left: float
    right: float


def columns(drawn: Elevation, system: UnitSystem) -> Columns:
    """Room for the heights on both sides, gaps included."""
    return Columns(*(_column(drawn.heights, side, system) for side in ("left", "right")))


def _column(heights: Sequence[Height], side: str, system: UnitSystem) -> float:
    widths = [
        max(
            NUMBER_FACE.width(number_text(one, system)),
            *(NAME_FACE.width(line) for line in name_lines(one, system)),
        )
        for one in heights
        if one.side == side
    ]
    return max(widths) + COLUMN_GAP + 1.0 if widths else 3.0


def number_text(height: Height, system: UnitSystem) -> str:
    """Such as "36.0 in"."""
    return show(height.height_m, "tape", system)


def name_text(height: Height, system: UnitSystem) -> str:
    """What it is the height of, and how far off that is where it is not drawn."""
    if not height.off_m:
        return height.name
    return f"{height.name}, {show(height.off_m, 'length', system)} off to the {height.side}"


def name_lines(height: Height, system: UnitSystem) -> list[str]:
    """The same in lines."""
    return wrapped(name_text(height, system), NAME_FACE, MOST_COLUMN)


@dataclass(frozen=True, slots=True)
class Place:
    """Where an elevation is on the sheet."""

    area: Box
    denominator: float
    origin: XY
    """Of the cart's left edge on the floor."""
    columns: Columns

    def on_sheet(self, at: UZ) -> XY:
        """From metres as seen to millimetres of the sheet."""
        return (
            self.origin[0] + at[0] * MM / self.denominator,
            self.origin[1] - at[1] * MM / self.denominator,
        )

    def box_on_sheet(self, left_m: float, right_m: float, bottom_m: float, top_m: float) -> Box:
        """A rectangle, likewise."""
        x, y = self.on_sheet((left_m, top_m))
        right, bottom = self.on_sheet((right_m, bottom_m))
        return Box(x, y, right - x, bottom - y)


def dimension_rows(drawn: Elevation) -> int:
    """One for the cart, one more where something stands out from it."""
    return 1 if parts_m(drawn) == (0.0, drawn.width_m) else 2


def parts_m(drawn: Elevation) -> tuple[float, float]:
    """From the leftmost to the rightmost point of the cart, handle and leaves included."""
    own = [one for one in drawn.pieces if one.kind in ("board", "leaf", "handle", "panel")]
    left = min((one.left_m for one in own), default=0.0)
    right = max((one.right_m for one in own), default=drawn.width_m)
    return (
        0.0 if abs(left) < 1e-6 else left,
        drawn.width_m if abs(right - drawn.width_m) < 1e-6 else right,
    )


KeyEntry = tuple[float, str, str]
"""Where it begins, the kind of line, what is said of it."""


def key_rows(drawn: Elevation, width: float) -> list[list[KeyEntry]]:
    """What the kinds of line mean, in as many rows as a width asks for."""
    media: set[str] = {run.medium for run in drawn.runs}
    if any(run.is_hot for run in drawn.runs):
        media.add("hot")
    rows: list[list[KeyEntry]] = [[]]
    x = 0.0
    for kind, text in KEY_WORDS:
        if kind != "hidden" and kind not in media:
            continue
        need = KEY_SAMPLE + 1.5 + NAME_FACE.width(text)
        if x > 0.0 and x + need > width:
            rows.append([])
            x = 0.0
        rows[-1].append((x, kind, text))
        x += need + _KEY_GAP
    return rows


def rest_mm(drawn: Elevation, system: UnitSystem, width: float) -> tuple[float, float]:
    """Width and height that an elevation takes whatever its scale, in an area of some width."""
    beside = columns(drawn, system)
    rows = len(key_rows(drawn, width))
    below = DIMENSION_ROW * dimension_rows(drawn) + TITLE_ROW + KEY_ROW * rows
    return beside.left + beside.right, below + TOP_ROOM + NAME_ROOM


def fits(drawn: Elevation, area: Box, denominator: float, system: UnitSystem) -> bool:
    """Whether an elevation has room in an area at a scale."""
    left, right, bottom, top = drawn.bounds
    wide, high = rest_mm(drawn, system, area.width)
    return (
        wide + (right - left) * MM / denominator <= area.width
        and high + (top - bottom) * MM / denominator <= area.height
    )


def best_denominator(
    shared: Sequence[tuple[Elevation, Box]], system: UnitSystem, asked: float | None = None
) -> float:
    """The largest standard scale at which every elevation fits its area, or the one asked for.

    Raises:
        ScaleError: at the scale asked for one of them does not fit.
    """
    for denominator in (asked,) if asked is not None else standard_scales(system):
        if all(fits(drawn, area, denominator, system) for drawn, area in shared):
            return denominator
    if asked is not None:
        least = best_denominator(shared, system)
        raise ScaleError(asked, least)
    return _least_round(shared, system)


def _least_round(shared: Sequence[tuple[Elevation, Box]], system: UnitSystem) -> float:
    """Beyond the standard scales, by hundreds."""
    denominator = 600.0
    while denominator < 1e5 and not all(
        fits(drawn, area, denominator, system) for drawn, area in shared
    ):
        denominator += 100.0
    return denominator


def placed(drawn: Elevation, area: Box, denominator: float, system: UnitSystem) -> Place:
    """Put an elevation in the middle of an area, its title and key under it."""
    left, right, bottom, top = drawn.bounds
    beside = columns(drawn, system)
    _, rest = rest_mm(drawn, system, area.width)
    wide = (right - left) * MM / denominator + beside.left + beside.right
    high = (top - bottom) * MM / denominator + rest
    x = area.x + (area.width - wide) / 2 + beside.left - left * MM / denominator
    y = area.y + max(area.height - high, 0.0) / 2
    floor = y + TOP_ROOM + NAME_ROOM + top * MM / denominator
    return Place(area, denominator, (x, floor), beside)
