"""An elevation at its real size."""

from collections.abc import Sequence

from ...build import VENUE
from ..elevation import Elevation, Piece, RunPiece, View, elevation
from ..elevation.drawing import ElevationDrawing, draw_elevation
from ..elevation.layout import DIMENSION_ROW, MM, name_text, number_text, parts_m, placed, rest_mm
from ..elevation.measures import MarkPlace, mark_places
from ..lettering import CAP_SHARE, Face
from ..packet.content import Job
from ..plan.picture import XY, Box
from ..sheet.elements import STRONG, LineItem, TextItem
from .bodies import attributes, side_block
from .layers import (
    CART,
    LEVELS,
    PARTS,
    TEXT,
    ZONES,
    elsewhere_layer,
    equipment_layer,
    layer_name,
    run_layer,
)
from .plot import DIMENSION_MM, Plot

_ROOM_MM = 14.0
"""Beside the drawing, for names that stand outside."""
_WIDE = 4000.0
"""Millimetres: so wide that the key needs a single row."""
_PORT_MM = 0.55
_HEIGHT_FACE = Face(DIMENSION_MM / CAP_SHARE)
_OTHER_FONT = 1.3
"""Fonts of other programs can be so much wider than ours."""
_AROUND_MM = 12.0
"""The line that a height stands on goes on a little, and begins after a bend."""


class SideDrawing:
    """An elevation: how much room it takes, and putting it down."""

    def __init__(self, job: Job, view: View, denominator: float) -> None:
        self.job = job
        self.view = view
        self.drawn: Elevation = elevation(job.build, job.analysis, view)
        wide, high = rest_mm(self.drawn, job.system, _WIDE)
        left, right, bottom, top = self.drawn.bounds
        area = Box(
            0.0,
            0.0,
            (right - left) * MM / denominator + wide + _ROOM_MM,
            (top - bottom) * MM / denominator + high,
        )
        self.place = placed(self.drawn, area, denominator, job.system)
        self.drawing: ElevationDrawing = draw_elevation(self.drawn, area, denominator, job.system)

    @property
    def title(self) -> str:
        """Such as "Front elevation, operator's side"."""
        return self.drawn.title

    @property
    def room(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top in metres from the cart's lower left corner on the floor."""
        area = self.place.area
        ends = [self._reach(mark) for mark in mark_places(self.drawn, self.place, self.job.system)]
        left, top = self._metres((min([area.x, *ends]), area.y))
        right, bottom = self._metres((max([area.right, *ends]), area.bottom))
        return left, bottom, right, top

    def _reach(self, mark: MarkPlace) -> float:
        """How far the line goes that a height is written on, number and name after one another."""
        height = mark.height
        text = f"{number_text(height, self.job.system)} {name_text(height, self.job.system)}"
        width = _HEIGHT_FACE.width(text) * _OTHER_FONT + _AROUND_MM
        return mark.x - width if height.side == "left" else mark.x + width

    def _metres(self, at: XY) -> XY:
        """From the sheet's millimetres to metres as seen."""
        share = self.place.denominator / MM
        x, y = self.place.origin
        return (at[0] - x) * share, (y - at[1]) * share

    def put(self, plot: Plot) -> None:
        """Draw it."""
        left, right, _, _ = self.drawn.bounds
        plot.line([(left, 0.0), (right, 0.0)], PARTS)
        self._envelope(plot)
        for piece in self.drawn.pieces:
            self._piece(plot, piece)
        for run in self.drawn.runs:
            self._run(plot, run)
        self._measures(plot)
        for element in self.drawing.names:
            if isinstance(element, TextItem):
                plot.label(*self._metres(element.box.centre), element.text, element.size)
            elif isinstance(element, LineItem):
                ends = ((element.ax, element.ay), (element.bx, element.by))
                plot.line([self._metres(at) for at in ends], TEXT)
        x, y = self._metres((self.place.area.x, self.place.area.bottom - 3.0))
        plot.text(x, y, self.title, STRONG)

    def _envelope(self, plot: Plot) -> None:
        """The cart's width from its lowest board to the counter."""
        boards = [one.top_m for one in self.drawn.pieces if one.kind == "board"]
        if boards:
            low, high, width = min(boards), self.drawn.counter_m, self.drawn.width_m
            corners = [(0.0, low), (width, low), (width, high), (0.0, high)]
            plot.line(corners, CART, closed=True)

    def _piece(self, plot: Plot, piece: Piece) -> None:
        layers = {"board": LEVELS, "opening": ZONES}
        if piece.kind in ("body", "venue"):
            self._body(plot, piece)
            return
        if piece.kind == "opening":
            self._lines(plot, (*piece.seen, *piece.unseen), ZONES)
            return
        self._lines(plot, piece.seen, layers.get(piece.kind, PARTS))

    def _body(self, plot: Plot, piece: Piece) -> None:
        item = self.job.build.item(piece.key)
        if item is None:
            return
        name = layer_name(self.view.upper(), piece.key)
        corner = (piece.left_m, piece.bottom_m)
        block = side_block(plot.doc, name, piece.seen, piece.unseen, corner, plot.unit)
        layer = equipment_layer(item.level, item.level == VENUE)
        plot.insert(block, *corner, layer, 0.0, attributes(item, self.job.system))

    def _lines(self, plot: Plot, lines: Sequence[Sequence[XY]], layer: str) -> None:
        for line in lines:
            plot.line(line, layer)

    def _run(self, plot: Plot, run: RunPiece) -> None:
        for lines, name in ((run.seen, run_layer), (run.unseen, elsewhere_layer)):
            for line in lines:
                plot.line(line, name(run.medium, run.letter, run.is_hot), run=run.key)
        radius = _PORT_MM * plot.denominator / MM
        for at, _ in run.ends:
            plot.circle(*at, radius, run_layer(run.medium, run.letter, run.is_hot))

    def _measures(self, plot: Plot) -> None:
        width = self.drawn.width_m
        plot.measure((0.0, 0.0), (width, 0.0), DIMENSION_ROW - 1.2)
        left, right = parts_m(self.drawn)
        if (left, right) != (0.0, width):
            plot.measure((left, 0.0), (right, 0.0), 2 * DIMENSION_ROW - 1.2)
        for mark in mark_places(self.drawn, self.place, self.job.system):
            feature = (mark.height.at_m, mark.height.height_m)
            said = name_text(mark.height, self.job.system)
            plot.height(feature, self._metres((mark.x, mark.y)), (0.0, 0.0), said)
