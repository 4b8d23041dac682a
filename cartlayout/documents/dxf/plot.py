"""Putting lines, texts and dimensions at their real size into the model space of a DXF."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ezdxf.document import Drawing
from ezdxf.entities import DXFGraphic
from ezdxf.enums import MTextEntityAlignment, TextEntityAlignment
from ezdxf.layouts import BlockLayout, Modelspace

from ...units import UnitSystem
from ..lettering import CAP_SHARE
from ..plan.picture import XY
from .layers import DIMENSIONS, TEXT

APP = "CARTLAYOUT"
"""Whose extended data says which run an entity is."""
STYLE, DIMENSION_STYLE = "CARTLAYOUT", "CARTLAYOUT"
DIMENSION_MM = 1.9
"""Height of a dimension's figures on paper."""
_STRING = 1000
_ALIGN = {
    0.0: TextEntityAlignment.LEFT,
    0.5: TextEntityAlignment.CENTER,
    1.0: TextEntityAlignment.RIGHT,
}


def per_metre(system: UnitSystem) -> float:
    """Drawing units in a metre: inches in the US, millimetres elsewhere."""
    return 1.0 / 0.0254 if system is UnitSystem.US else 1000.0


def plain(text: str) -> str:
    """A text as it has to be written so that it is read as it stands.

    In texts of the format "%%" and "^" begin a control code, and a backslash may.
    """
    line = " ".join(text.split())
    return line.replace("\\", "∖").replace("%%", "% %").replace("^", "ˆ")


@dataclass(slots=True)
class Plot:
    """One drawing of several: its place in the model space, and what has been put there.

    Places are metres from the drawing's own origin, up is positive.
    """

    doc: Drawing
    space: Modelspace
    unit: float
    """Drawing units in a metre."""
    denominator: float
    """Of the scale that texts are sized for."""
    origin: XY = (0.0, 0.0)
    """Drawing units."""
    made: list[DXFGraphic] = field(default_factory=list)

    def at(self, x_m: float, y_m: float) -> XY:
        """From metres of the drawing to units of the model space."""
        return self.origin[0] + x_m * self.unit, self.origin[1] + y_m * self.unit

    @property
    def paper(self) -> float:
        """Units that a millimetre of paper covers."""
        return self.denominator * self.unit / 1000.0

    def keep(self, entity: DXFGraphic) -> DXFGraphic:
        """Count an entity as part of this drawing."""
        self.made.append(entity)
        return entity

    def line(
        self, points: Sequence[XY], layer: str, closed: bool = False, run: str = ""
    ) -> DXFGraphic:
        """A polyline through places; `run` is written into its extended data."""
        made = self.space.add_lwpolyline(
            [self.at(*point) for point in points], close=closed, dxfattribs={"layer": layer}
        )
        if run:
            made.set_xdata(APP, [(_STRING, run)])
        return self.keep(made)

    def circle(self, x_m: float, y_m: float, radius_m: float, layer: str) -> None:
        """A circle."""
        self.keep(self.space.add_circle(self.at(x_m, y_m), radius_m * self.unit, {"layer": layer}))

    def text(
        self, x_m: float, y_m: float, text: str, size_mm: float, align: float = 0.0,
        layer: str = TEXT,
    ) -> None:  # fmt: skip
        """One line; `size_mm` is the type's size on paper, (x, y) where it stands."""
        if not plain(text):
            return
        made = self.space.add_text(
            plain(text),
            height=size_mm * CAP_SHARE * self.paper,
            dxfattribs={"layer": layer, "style": STYLE},
        )
        made.set_placement(self.at(x_m, y_m), align=_ALIGN[align])
        self.keep(made)

    def label(self, x_m: float, y_m: float, text: str, size_mm: float) -> None:
        """A line of text about a place, on a ground of its own: lines do not run through it."""
        if not plain(text):
            return
        made = self.space.add_mtext(
            plain(text).replace("{", r"\{").replace("}", r"\}"),
            {
                "layer": TEXT,
                "style": STYLE,
                "char_height": size_mm * CAP_SHARE * self.paper,
                "insert": self.at(x_m, y_m),
                "attachment_point": MTextEntityAlignment.MIDDLE_CENTER,
            },
        )
        made.set_bg_color("canvas", scale=1.3)
        self.keep(made)

    def measure(
        self, a: XY, b: XY, away_mm: float, upright: bool = False, text: str = "<>"
    ) -> None:
        """A dimension between two places, its line `away_mm` of paper below or left of a."""
        x, y = self.at(*a)
        away = away_mm * self.paper
        base = (x - away, y) if upright else (x, y - away)
        made = self.space.add_linear_dim(
            base=base,
            p1=(x, y),
            p2=self.at(*b),
            angle=90.0 if upright else 0.0,
            text=text,
            dimstyle=DIMENSION_STYLE,
            dxfattribs={"layer": DIMENSIONS},
        )
        made.render()
        self.keep(made.dimension)

    def height(self, feature: XY, to: XY, floor: XY, text: str) -> None:
        """The height of a place above the floor, written where a line from it ends.

        Args:
            feature: what is measured.
            to: where the text stands.
            floor: a place on the floor.
            text: besides the number.
        """
        (x, y), (u, v) = self.at(*feature), self.at(*to)
        made = self.space.add_ordinate_y_dim(
            feature_location=(x, y),
            offset=(u - x, v - y),
            origin=self.at(*floor),
            text=f"<> {_dimension_text(text)}".strip(),
            dimstyle=DIMENSION_STYLE,
            dxfattribs={"layer": DIMENSIONS},
        )
        made.render()
        self.keep(made.dimension)

    def insert(
        self, block: BlockLayout, x_m: float, y_m: float, layer: str, rotation: float,
        attributes: dict[str, str],
    ) -> None:  # fmt: skip
        """A block with what is known of its body."""
        made = self.space.add_blockref(
            block.name, self.at(x_m, y_m), {"layer": layer, "rotation": rotation}
        )
        made.add_auto_attribs(attributes)
        self.keep(made)

    def group(self, name: str, description: str) -> None:
        """Bind what has been put here together, so that it is picked as one."""
        group = self.doc.groups.new(_free(self.doc, name), description=plain(description))
        group.extend(self.made)


def _dimension_text(text: str) -> str:
    """Formatting signs of a dimension's text taken literally."""
    return plain(text).replace("<>", "‹›").replace("{", "(").replace("}", ")")


def _free(doc: Drawing, name: str) -> str:
    taken: Iterable[str] = {key for key, _ in doc.groups}
    found, number = name, 2
    while found in taken:
        found, number = f"{name}-{number}", number + 1
    return found
