"""A rubber band around things selects them.

Bodies that it touches, with their groups; with Alt held only what lies wholly
in it. Where it touches no body, it takes the wires and tubes that it touches.
"""

import itertools
from typing import TYPE_CHECKING

import shapely
from PySide6.QtCore import Qt

from ....build.edits import with_groups
from ..moving import box_of
from ..snapping import Box
from .base import NOTHING, XY, Cursor, Gesture, Trace

if TYPE_CHECKING:
    from ..view import PlanView


class BandGesture(Gesture):
    """Selects bodies of the shown level and of the venue; runs where there are no bodies."""

    kind = "band"
    cursor = Cursor.CrossCursor

    def __init__(self, view: "PlanView", start: XY, *, adds: bool) -> None:
        super().__init__(view)
        self.start = start
        self.kept = view.selected_items if adds else frozenset()
        self.kept_runs = view.selected_runs if adds else frozenset()
        self.original = (view.selected_items, view.selected_runs)

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Select what the band touches now."""
        band = Box.around((self.start, at))
        self.view.trace(Trace(band=band))
        whole = bool(modifiers & Qt.KeyboardModifier.AltModifier)
        items = self._items(band, whole=whole)
        runs = frozenset() if items else self._runs(band, whole=whole)
        self.view.choose(self.kept | items, self.kept_runs | runs)

    def _items(self, band: Box, *, whole: bool) -> frozenset[str]:
        build = self.session.build
        test = _holds if whole else _touch
        found = {
            item.id for item in build.items if self.view.is_solid(item) and test(band, box_of(item))
        }
        if not whole:
            return frozenset(with_groups(build, found))
        outside = {item.group for item in build.items if item.group and item.id not in found}
        return frozenset(
            item.id for item in build.items if item.id in found and item.group not in outside
        )

    def _runs(self, band: Box, *, whole: bool) -> frozenset[str]:
        """Runs drawn solid that come into the band, or that lie in it with all their way."""
        test = _all_in if whole else _some_in
        picture = self.view.plan.picture
        solid = {run.id for run in picture.runs if not run.ghosted} if picture else set()
        return frozenset(
            run_id
            for run_id, points in self.view.plan.lines.items()
            if run_id in solid and test(band, points)
        )

    def finished(self) -> None:
        """Keep the selection."""
        self.view.trace(NOTHING)

    def cancelled(self) -> None:
        """Give back the selection that was there before."""
        self.view.trace(NOTHING)
        self.view.choose(*self.original)


def _holds(band: Box, box: Box) -> bool:
    return (
        band.left <= box.left
        and box.right <= band.right
        and band.top <= box.top
        and box.bottom <= band.bottom
    )


def _all_in(band: Box, points: tuple[XY, ...]) -> bool:
    return all(_touch(band, Box(x, y, x, y)) for x, y in points)


def _some_in(band: Box, points: tuple[XY, ...]) -> bool:
    area = shapely.box(*band)
    return any(
        _touch(band, Box.around(leg)) and area.intersects(shapely.LineString(leg))
        for leg in itertools.pairwise(points)
    )


def _touch(a: Box, b: Box) -> bool:
    return a.left <= b.right and b.left <= a.right and a.top <= b.bottom and b.top <= a.bottom
