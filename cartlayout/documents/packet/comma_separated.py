"""Tables as CSV (RFC 4180).

They begin with a byte order mark: spreadsheet programs that find none take the file for one in
an old code page of the country, and °, ² and names come out wrong. Programs that read UTF-8
know how to pass over it ("utf-8-sig").
"""

import csv
import io
import math

from ...units import UnitSystem, Value, number_shown
from ...units.display import is_tape, tape_inches
from .cells import has_verdicts, head, is_plain, shown
from .content import Cell, Column, Table
from .tables import VERDICT

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What makes a spreadsheet program take a text for a formula (OWASP, CSV injection)."""


def csv_bytes(table: Table, system: UnitSystem) -> bytes:
    """A table as it stands on paper: unit in the head, plain numbers with a decimal point."""
    text = io.StringIO()
    writer = csv.writer(text)
    marked = has_verdicts(table.marks)
    heads = [head(column, system) for column in table.columns]
    writer.writerow([*map(safe, heads), *([VERDICT] if marked else [])])
    for place, row in enumerate(table.rows):
        mark = table.marks[place] if place < len(table.marks) else ""
        writer.writerow([*_cells(row, table, system), *([mark] if marked else [])])
    if table.totals:
        writer.writerow([*_cells(table.totals, table, system), *([""] if marked else [])])
    return text.getvalue().encode("utf-8-sig")


def _cells(row: tuple[Cell, ...], table: Table, system: UnitSystem) -> list[str]:
    padded = [*row, *[None] * (len(table.columns) - len(row))]
    pairs = zip(padded, table.columns, strict=False)
    return [cell_text(cell, column, system) for cell, column in pairs]


def cell_text(cell: Cell, column: Column, system: UnitSystem) -> str:
    """A cell: a number without thousands between, in the unit of the head."""
    if isinstance(cell, Value) and is_plain(cell, column, system):
        if is_fraction(cell, system):
            return f"{tape_inches(cell.si):.4f}".rstrip("0").rstrip(".")
        number = number_shown(cell.si, cell.dimension, system)
        text = f"{number:.{places(cell, column, system)}f}"
        return text.removeprefix("-") if float(text) == 0.0 else text
    return safe(shown(cell, column, system))


def is_fraction(cell: Value, system: UnitSystem) -> bool:
    """Whether a number is a fraction on paper, as on a tape: files have the same as a decimal."""
    exact = cell.decimals is None and math.isfinite(cell.si)
    return exact and is_tape(cell.dimension, system)


def places(cell: Value, column: Column, system: UnitSystem) -> int:
    """Decimals of a number on paper: files show as many."""
    _, _, decimals = shown(cell, column, system).partition(".")
    return sum(sign.isdigit() for sign in decimals)


def safe(text: str) -> str:
    """A text that is taken for one: what would be read as a formula has an apostrophe before it."""
    return f"'{text}" if text.startswith(_FORMULA) else text
