"""How high a run that was led by hand passes each of its bends."""

import itertools
import math

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel

from ...build import Run, WayPoint
from ...network.results import Route
from ...units import Length, show
from .. import widgets
from ..session import Session
from .editors import LABEL_WIDTH
from .fields import Editor, QuantityField

_NONE = (
    "The program finds its way. Pull a bend out of its line on the plan, or keep this way, to give "
    "bends a height: over a rail, or down all the way to a tank."
)
_SOME = "Above the floor. Empty: as high as it runs there by itself."
_TIP = "The run goes up or down to this height at the bend, and keeps it until the next one given."


class BendHeights(Editor):
    """A field for each bend, in order from the run's first end."""

    inline = False

    def __init__(self, session: Session, run: Run) -> None:
        super().__init__()
        self._session = session
        self._run = run
        self.editors: dict[str, QuantityField] = {}
        self.words = widgets.wrapped("", "muted")
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnMinimumWidth(0, LABEL_WIDTH)
        self._grid.setColumnStretch(1, 1)
        self._grid.addWidget(self.words, 0, 0, 1, 2)
        self._labels: list[QLabel] = []
        self.show_value(run)

    def show_value(self, value: object) -> None:
        """Show the bends of a run; rows are made anew where their number differs."""
        if not isinstance(value, Run):
            return
        self._run = value
        if len(self.editors) != len(value.waypoints):
            self._rebuild(len(value.waypoints))
        self.words.setText(_SOME if value.waypoints else _NONE)
        route = self._session.analysis.network.routes.get(value.id)
        for point, label, field in zip(
            value.waypoints, self._labels, self.editors.values(), strict=True
        ):
            field.show_value(point.height)
            height_m = _height_m(route, point)
            known = "" if height_m is None else show(height_m, "length", self._session.system)
            field.set_unknown(f"as it runs: {known}" if known else "as it runs")
            label.setToolTip(self._place(point))

    def _place(self, point: WayPoint) -> str:
        system = self._session.system
        return (
            f"{show(point.x.si, 'length', system)} from the left, "
            f"{show(point.y.si, 'length', system)} from the rear"
        )

    def _rebuild(self, count: int) -> None:
        for old in (*self._labels, *self.editors.values()):
            self._grid.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._labels, self.editors = [], {}
        for at in range(count):
            name = f"bend {at + 1}"
            label = widgets.label(f"Bend {at + 1}", "muted")
            label.setContentsMargins(0, 4, 0, 0)
            field = QuantityField(
                Length, self._run.waypoints[at].height, "WayPoint", "height", optional=True
            )
            field.name_it(f"Height of bend {at + 1}", _TIP)
            field.edited.connect(self._field_edited)
            label.setBuddy(field)
            self._grid.addWidget(label, at + 1, 0, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(field, at + 1, 1, Qt.AlignmentFlag.AlignTop)
            self._labels.append(label)
            self.editors[name] = field

    def _field_edited(self, value: object, _words: object) -> None:
        field = self.sender()
        at = next((n for n, one in enumerate(self.editors.values()) if one is field), None)
        if at is None or at >= len(self._run.waypoints):
            return
        height = value if isinstance(value, Length) else None
        points = list(self._run.waypoints)
        points[at] = replace(points[at], height=height)
        self._run = replace(self._run, waypoints=tuple(points))
        self.edited.emit(self._run, f"height of bend {at + 1}")


def _height_m(route: Route | None, point: WayPoint) -> float | None:
    """How high a run is where it first comes by a place on the plan."""
    if route is None:
        return None
    place = (point.x.si, point.y.si)
    for a, b in itertools.pairwise(route.points):
        around = math.dist(a[:2], place) + math.dist(place, b[:2]) - math.dist(a[:2], b[:2])
        if around < 1e-3:
            return b[2]
    return None
