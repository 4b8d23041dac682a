"""Blocks poured into columns."""

import enum
from collections.abc import Sequence

from ..plan.picture import Box
from .blocks import HEADING, Block, Row, heading, left_out
from .elements import Element

BLOCK_GAP = 4.0
COLUMN_GAP = 6.0
_LATER_MM = 24.0
"""Of a block that comes later, so much is kept free for when rows are left out."""


class Cut(enum.Enum):
    """Which rows may be left out, with a row that counts them in their place."""

    NOTHING = 0
    LESSER = 1
    """Those that say themselves that they may go."""
    ANYTHING = 2


def pour(
    blocks: Sequence[Block], area: Box, count: int, cut: Cut = Cut.NOTHING
) -> tuple[Element, ...] | None:
    """Place blocks in columns of equal width, breaking between rows.

    Args:
        blocks: laid out for the width of one column.
        area: where the columns are.
        count: how many.
        cut: what may be left out where there is no room.

    Returns:
        The elements, or None where what has to stay does not fit.
    """
    flow = _Flow(area, column_width(area.width, count), count)
    for place, block in enumerate(blocks):
        later = 0.0
        if cut is Cut.ANYTHING:
            later = sum(min(one.height, _LATER_MM) + BLOCK_GAP for one in blocks[place + 1 :])
        if not flow.add(block, cut, min(later, 0.7 * area.height)):
            return None
    return tuple(flow.elements)


def column_width(width: float, count: int) -> float:
    """Width of one of so many columns."""
    return (width - (count - 1) * COLUMN_GAP) / count


def least_height(blocks: Sequence[Block], width: float, count: int, most: float) -> float | None:
    """The least height, in steps of a millimetre, at which all rows fit in so many columns."""
    low = sum(block.height for block in blocks) / count
    height = float(int(low))
    while height <= most:
        if pour(blocks, Box(0.0, 0.0, width, height), count) is not None:
            return height
        height += 1.0
    return None


class _Flow:
    """How far the columns are filled."""

    def __init__(self, area: Box, width: float, count: int) -> None:
        self.area, self.width, self.count = area, width, count
        self.column = 0
        self.y = area.y
        self.elements: list[Element] = []

    def add(self, block: Block, cut: Cut, later: float) -> bool:
        """Add a block; says whether everything that has to stay found room."""
        if self.y > self.area.y:
            self.y += BLOCK_GAP
        first = block.rows[0].height if block.rows else 0.0
        if self.y + HEADING + first > self._bottom(self.column, later):
            self.column += 1
            self.y = self.area.y
            if self.column >= self.count:
                return False
        start = self.column, self.y
        self.y += HEADING
        for rows in self._choices(block, cut):
            places = self._places(rows, later)
            if places is not None:
                self._put(heading(block.title, block.side, self.width), *start)
                self._put_rows(block.title, rows, places)
                return True
        return False

    def _choices(self, block: Block, cut: Cut) -> "list[tuple[Row, ...]]":
        """All rows; then, where that is allowed, fewer and fewer."""
        rows = block.rows
        if cut is Cut.NOTHING:
            return [rows]
        if cut is Cut.ANYTHING:
            least = min(1, len(rows))
        else:
            least = max((at + 1 for at, row in enumerate(rows) if not row.may_go), default=0)
        fewer = [
            (*rows[:kept], left_out(len(rows) - kept, self.width))
            for kept in range(len(rows) - 1, least - 1, -1)
        ]
        return [rows, *fewer]

    def _bottom(self, column: int, later: float) -> float:
        return self.area.bottom - (later if column == self.count - 1 else 0.0)

    def _places(self, rows: Sequence[Row], later: float) -> list[tuple[int, float]] | None:
        """Column and y of every row from here on, or None where they run out of columns."""
        column, y = self.column, self.y
        places = []
        for row in rows:
            if y + row.height > self._bottom(column, later):
                column, y = column + 1, self.area.y + HEADING
                if column >= self.count or y + row.height > self._bottom(column, later):
                    return None
            places.append((column, y))
            y += row.height
        return places

    def _put_rows(
        self, title: str, rows: Sequence[Row], places: Sequence[tuple[int, float]]
    ) -> None:
        for row, (column, y) in zip(rows, places, strict=True):
            if column != self.column:
                self.column = column
                self._put(heading(title, "continued", self.width), column, self.area.y)
            self._put(row, column, y)
            self.y = y + row.height

    def _put(self, row: Row, column: int, y: float) -> None:
        x = self.area.x + column * (self.width + COLUMN_GAP)
        self.elements += [one.moved(x, y) for one in row.elements]
