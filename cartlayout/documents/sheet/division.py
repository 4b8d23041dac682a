"""How the room above the title block is shared between the plan and the tables.

Two ways are tried: tables in a column beside the plan, and tables in a band
under it. The one with the larger scale is taken; of equals, one beside, where
the tables have room to say more about the findings; of those, the one that
leaves the plan more room for its labels.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ...analysis import Analysis
from ...build import Build
from ...findings.finding import Severity
from ...units import UnitSystem
from ..plan.picture import Box, Overlay, PlanPicture
from .blocks import Block, blocks
from .columns import Cut, column_width, least_height, pour
from .drawing import best_scale, content, usable
from .elements import Element
from .key import key_height

GAP = 5.0
_SIDE_WIDTHS = (66.0, 72.0, 80.0, 92.0)
_WIDER = (80.0, 92.0, 140.0)
_MOST_OF_HEIGHT = 0.6
"""More than this the band under the plan never takes."""
_EXPLAINED: tuple[frozenset[Severity], ...] = (
    frozenset(("stop", "care", "note")),
    frozenset(("stop", "care")),
    frozenset(("stop",)),
)


@dataclass(frozen=True, slots=True)
class Division:
    """Where the plan goes, at which scale, and the tables in their places."""

    plan: Box
    """With the key under it."""
    tables: Box
    columns: int
    elements: tuple[Element, ...]
    denominator: float


@dataclass(frozen=True, slots=True)
class Divider:
    """What has to be shared out."""

    build: Build
    analysis: Analysis
    overlays: frozenset[Overlay]
    system: UnitSystem
    picture: PlanPicture
    free: Box

    def best(self) -> Division:
        """The way that shows the plan largest."""
        ways = [*self._beside(_SIDE_WIDTHS, Cut.NOTHING), *self._below()]
        for cut in (Cut.LESSER, Cut.ANYTHING):  # more than any way holds whole
            ways = ways or list(self._beside(_WIDER, cut))
        if not ways:
            ways = [self._division(self.free, Box(0.0, 0.0, 0.0, 0.0), 1, ())]
        return self._explained(min(ways, key=self._rank))

    def _rank(self, way: Division) -> tuple[float, bool, float]:
        below = way.tables.y > way.plan.y
        return way.denominator, below, -self._slack(way)

    def _tables(
        self, width: float, count: int, explained: frozenset[Severity] = frozenset()
    ) -> tuple[Block, ...]:
        column = column_width(width, count)
        return blocks(self.build, self.analysis, self.overlays, self.system, column, explained)

    def _beside(self, widths: tuple[float, ...], cut: Cut) -> Iterator[Division]:
        free = self.free
        for width in widths:
            count = 1 if width < 100.0 else 2
            side = Box(free.right - width, free.y, width, free.height)
            elements = pour(self._tables(width, count), side, count, cut)
            if elements is not None:
                plan = Box(free.x, free.y, free.width - width - GAP, free.height)
                yield self._division(plan, side, count, elements)

    def _below(self) -> Iterator[Division]:
        free = self.free
        for count in (3, 4):
            tables = self._tables(free.width, count)
            height = least_height(tables, free.width, count, free.height * _MOST_OF_HEIGHT)
            if height is None:
                continue
            band = Box(free.x, free.bottom - height, free.width, height)
            elements = pour(tables, band, count)
            if elements is not None:
                plan = Box(free.x, free.y, free.width, free.height - height - GAP)
                yield self._division(plan, band, count, elements)

    def _division(
        self, plan: Box, tables: Box, columns: int, elements: tuple[Element, ...]
    ) -> Division:
        height = plan.height - key_height(self.picture, plan.width)
        scale = best_scale(self.picture, Box(plan.x, plan.y, plan.width, height), self.system)
        return Division(plan, tables, columns, elements, scale)

    def _slack(self, way: Division) -> float:
        """How many times the drawing fits in its area, in the tighter direction."""
        need = content(self.picture)
        wide, high = usable(way.plan)
        return min(wide / need.width, high / need.height) * way.denominator

    def _explained(self, way: Division) -> Division:
        """The same with what to do about the findings, as far as there is room for it."""
        for explained in _EXPLAINED:
            tables = self._tables(way.tables.width, way.columns, explained)
            elements = pour(tables, way.tables, way.columns)
            if elements is not None:
                return Division(way.plan, way.tables, way.columns, elements, way.denominator)
        return way
