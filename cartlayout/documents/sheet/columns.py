"""Blocks poured into columns."""

from collections.abc import Sequence

from ..plan.picture import Box
from .blocks import HEADING, Block, Row, heading, left_out
from .elements import Element

BLOCK_GAP = 4.0
COLUMN_GAP = 6.0
_LEFT_OUT_MM = 5.0


def pour(
    blocks: Sequence[Block], area: Box, count: int, strict: bool = True
) -> tuple[Element, ...] | None:
    """Place blocks in columns of equal width, breaking between rows.

    Args:
        blocks: laid out for the width of one column.
        area: where the columns are.
        count: how many.
        strict: give up rather than leave out a row.

    Returns:
        The elements, or None where not everything that must stay fits.
    """
    width = column_width(area.width, count)
    flow = _Flow(area, width, count)
    for block in blocks:
        if not flow.add(block, strict):
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
    def __init__(self, area: Box, width: float, count: int) -> None:
        self.area, self.width, self.count = area, width, count
        self.column = 0
        self.y = area.y
        self.elements: list[Element] = []

    @property
    def _left(self) -> float:
        return self.area.bottom - self.y

    def _next(self) -> bool:
        self.column += 1
        self.y = self.area.y
        return self.column < self.count

    def add(self, block: Block, strict: bool) -> bool:
        """Add a block; says whether everything that must stay found room."""
        head = heading(block.title, block.side, self.width)
        more = heading(block.title, "continued", self.width)
        if self.y > self.area.y:
            self.y += BLOCK_GAP
        first = block.rows[0].height if block.rows else 0.0
        if self._left < HEADING + first and not self._next():
            return False
        self._put(head)
        for place, row in enumerate(block.rows):
            rest = block.rows[place:]
            if not strict and row.may_go and not self._fits(rest):
                return self._cut(rest)
            if self._left < row.height:
                if not self._next():
                    return False
                self._put(more)
                if self._left < row.height:
                    return False
            self._put(row)
        return True

    def _fits(self, rows: Sequence[Row]) -> bool:
        """Whether the rest fits in what is left of this column and the free ones after it."""
        free = self._left + (self.count - 1 - self.column) * (self.area.height - HEADING)
        return sum(row.height for row in rows) <= free

    def _cut(self, rows: Sequence[Row]) -> bool:
        """Put what fits above the row that counts the rest."""
        kept = list(rows)
        while kept and sum(row.height for row in kept) + _LEFT_OUT_MM > self._left:
            kept.pop()
        for row in kept:
            self._put(row)
        self._put(left_out(len(rows) - len(kept), self.width))
        return self.y <= self.area.bottom + 1e-6

    def _put(self, row: Row) -> None:
        x = self.area.x + self.column * (self.width + COLUMN_GAP)
        self.elements += [one.moved(x, self.y) for one in row.elements]
        self.y += row.height
