"""What a sheet is made of: values in millimetres from the sheet's upper left corner."""

from dataclasses import dataclass, replace

from ..lettering import Face
from ..plan.picture import Box
from .drawing import PlanDrawing

# Sizes of type in millimetres. Capitals of the smallest are 1.8 mm high, the
# least nominal height of lettering in ISO 3098-1 (from memory).
SMALL = 2.52
BODY = 2.75
STRONG = 3.1
TITLE = 5.0


@dataclass(frozen=True, slots=True)
class TextItem:
    """One line of text."""

    x: float
    baseline: float
    text: str
    size: float = SMALL
    weight: int = 400
    colour: str = "ink"
    """Name of a colour of the theme, or "#rrggbb"."""
    align: float = 0.0
    turn: float = 0.0
    """Degrees clockwise about (x, baseline)."""

    @property
    def face(self) -> Face:
        """Its lettering."""
        return Face(self.size, self.weight)

    @property
    def box(self) -> Box:
        """From the top of its capitals to the bottom of its descenders."""
        face = self.face
        width = face.width(self.text)
        return Box(
            self.x - self.align * width,
            self.baseline - face.cap,
            width,
            face.cap + 0.22 * face.size,
        )

    def moved(self, dx: float, dy: float) -> "TextItem":
        """The same, elsewhere."""
        return replace(self, x=self.x + dx, baseline=self.baseline + dy)


@dataclass(frozen=True, slots=True)
class LineItem:
    """A straight line."""

    ax: float
    ay: float
    bx: float
    by: float
    width_pt: float = 0.5
    colour: str = "line"
    dash: tuple[float, ...] = ()

    def moved(self, dx: float, dy: float) -> "LineItem":
        """The same, elsewhere."""
        return replace(self, ax=self.ax + dx, ay=self.ay + dy, bx=self.bx + dx, by=self.by + dy)


@dataclass(frozen=True, slots=True)
class BoxItem:
    """A rectangle."""

    box: Box
    fill: str = ""
    edge: str = ""
    radius: float = 0.0
    width_pt: float = 0.6

    def moved(self, dx: float, dy: float) -> "BoxItem":
        """The same, elsewhere."""
        box = self.box
        return replace(self, box=Box(box.x + dx, box.y + dy, box.width, box.height))


@dataclass(frozen=True, slots=True)
class MarkItem:
    """The mark of a verdict."""

    x: float
    y: float
    size: float
    severity: str

    def moved(self, dx: float, dy: float) -> "MarkItem":
        """The same, elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy)


@dataclass(frozen=True, slots=True)
class SampleItem:
    """A piece of a run, as a key to the drawing; a wire with its letter."""

    x: float
    y: float
    length: float
    medium: str
    letter: str = ""

    def moved(self, dx: float, dy: float) -> "SampleItem":
        """The same, elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy)


@dataclass(frozen=True, slots=True)
class PathItem:
    """A line through points, or the outline of an area."""

    points: tuple[tuple[float, float], ...]
    closed: bool = False
    fill: str = ""
    edge: str = "ink"
    width_pt: float = 0.6
    dash: tuple[float, ...] = ()

    def moved(self, dx: float, dy: float) -> "PathItem":
        """The same, elsewhere."""
        return replace(self, points=tuple((x + dx, y + dy) for x, y in self.points))


@dataclass(frozen=True, slots=True)
class RoundItem:
    """A circle, or an ellipse along the axes."""

    x: float
    y: float
    radius_x: float
    radius_y: float
    fill: str = ""
    edge: str = "ink"
    width_pt: float = 0.6
    dash: tuple[float, ...] = ()

    def moved(self, dx: float, dy: float) -> "RoundItem":
        """The same, elsewhere."""
        return replace(self, x=self.x + dx, y=self.y + dy)


Element = TextItem | LineItem | BoxItem | MarkItem | SampleItem | PathItem | RoundItem


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole sheet, ready to paint."""

    name: str
    """"letter" or "A4"."""
    width: float
    height: float
    elements: tuple[Element, ...]
    drawing: PlanDrawing

    @property
    def texts(self) -> tuple[TextItem, ...]:
        """Every line of text outside the drawing."""
        return tuple(one for one in self.elements if isinstance(one, TextItem))
