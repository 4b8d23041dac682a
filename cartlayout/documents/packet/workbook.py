"""All tables of a packet in one workbook (Office Open XML), a tab a table."""

import io
import math
import re
from collections.abc import Sequence
from typing import Any

import xlsxwriter

from ... import __version__
from ...units import UnitSystem, Value, number_shown
from ...units.display import tape_inches, unit_label
from ..caution import CAUTION
from ..theme import LIGHT
from .cells import has_verdicts, head, is_plain, shown, words
from .comma_separated import is_fraction, places
from .content import Cell, Column, Content, Job, Table
from .tables import VERDICT

_MOST_NAME = 31
_FORBIDDEN = re.compile(r"[\[\]:*?/\\]")
"""What the name of a tab may not hold, and how long it may be (ECMA-376, sheet names)."""
_MOST_CELL = 32767
"""Letters in a cell, of the same format's limits."""
_LEAST_WIDE, _MOST_WIDE = 7.0, 52.0
_UNITS = ("length", "mass", "pressure", "flow", "volume", "temperature", "current", "voltage")
_HEAD_ROW = 2
_PAPERS = {"letter": 1, "tabloid": 3, "A3": 8, "A4": 9}
"""How the format numbers sizes of paper (ECMA-376, paperSize)."""


def workbook_bytes(contents: Sequence[Content], job: Job) -> bytes:
    """Title, date, units and cautions on the first tab; then every table of every sheet."""
    buffer = io.BytesIO()
    book = xlsxwriter.Workbook(buffer, {"in_memory": True, "strings_to_formulas": False})
    book.set_properties({"title": job.build.name or "Unnamed cart", "comments": CAUTION})
    styles = _Styles(book)
    names = _TabNames()
    tables = [(content, table) for content in contents for table in tables_of(content)]
    _about(book, styles, names, job, tables)
    for _, table in tables:
        _tab(book.add_worksheet(names.of(_name(table))), styles, table, job)
    book.close()
    return buffer.getvalue()


def tables_of(content: Content) -> tuple[Table, ...]:
    """The tables of a sheet."""
    return (*(part for part in content.parts if isinstance(part, Table)), *content.file_tables)


def _name(table: Table) -> str:
    """Of its tab: as its CSV file is called, since titles are longer than a tab's name may be."""
    return table.key.replace("-", " ").capitalize()


class _Styles:
    """Formats, each made once."""

    def __init__(self, book: Any) -> None:
        self._book = book
        self._made: dict[tuple[tuple[str, object], ...], Any] = {}

    def of(self, **properties: object) -> Any:
        """A format with these properties."""
        whole = {"font_size": 10, "valign": "top", **properties}
        key = tuple(sorted(whole.items(), key=lambda pair: pair[0]))
        if key not in self._made:
            self._made[key] = self._book.add_format(whole)
        return self._made[key]


class _TabNames:
    """Names that tabs may have, no two alike whatever their capitals."""

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def of(self, title: str) -> str:
        base = _FORBIDDEN.sub(" ", title).strip().strip("'") or "Table"
        name, number = base[:_MOST_NAME].rstrip(), 2
        while name.lower() in self._taken or name.lower() == "history":
            more = f" {number}"
            name = base[: _MOST_NAME - len(more)].rstrip() + more
            number += 1
        self._taken.add(name.lower())
        return name


def _about(
    book: Any,
    styles: _Styles,
    names: _TabNames,
    job: Job,
    tables: Sequence[tuple[Content, Table]],
) -> None:
    sheet = book.add_worksheet(names.of("About"))
    build = job.build
    sheet.write_string(0, 0, build.name or "Unnamed cart", styles.of(bold=True, font_size=14))
    units = ", ".join(unit_label(one, job.system) for one in _UNITS)
    facts = (
        ("Date", job.date.isoformat()),
        ("Revision", build.revision),
        ("Designer", build.designer),
        ("Venue", build.venue.name),
        ("File", job.file),
        ("Units", units),
        ("Written by", f"cartlayout {__version__}"),
    )
    for row, (name, value) in enumerate(facts, 2):
        sheet.write_string(row, 0, name, styles.of(font_color=LIGHT.ink_muted))
        sheet.write_string(row, 1, value or "–", styles.of())
    row = len(facts) + 3
    cautions = dict.fromkeys([CAUTION, *(one for made, _ in tables for one in made.cautions)])
    for caution in cautions:
        sheet.merge_range(
            row, 0, row, 3, "", styles.of(bold=True, font_color=LIGHT.stop.ink, text_wrap=True)
        )
        sheet.write_string(
            row, 0, caution, styles.of(bold=True, font_color=LIGHT.stop.ink, text_wrap=True)
        )
        sheet.set_row(row, 15 * (1 + len(caution) // 85))
        row += 1
    sheet.set_column(0, 0, 16)
    sheet.set_column(1, 3, 30)


def _tab(sheet: Any, styles: _Styles, table: Table, job: Job) -> None:
    system = job.system
    sheet.write_string(0, 0, table.title, styles.of(bold=True, font_size=12))
    marked = has_verdicts(table.marks)
    heads = [head(column, system) for column in table.columns]
    for place, column in enumerate(table.columns):
        sheet.write_string(_HEAD_ROW, place, heads[place], _head_style(styles, column))
    if marked:
        sheet.write_string(_HEAD_ROW, len(heads), VERDICT, _head_style(styles, Column("")))
    row = _HEAD_ROW + 1
    for at, cells in enumerate(table.rows):
        _row(sheet, styles, row, cells, table, system, bold=False)
        mark = table.marks[at] if at < len(table.marks) else ""
        if mark:
            style = styles.of(bold=True, font_color=LIGHT.mark(mark).ink)
            sheet.write_string(row, len(heads), LIGHT.mark(mark).word, style)
        row += 1
    if not table.rows:
        sheet.write_string(row, 0, table.empty or "Nothing to list.", styles.of())
        row += 1
    if table.totals:
        _row(sheet, styles, row, table.totals, table, system, bold=True)
        row += 1
    if note := words(table.note, system):
        sheet.write_string(row + 1, 0, note[:_MOST_CELL], styles.of(font_color=LIGHT.ink_muted))
        row += 1
    caution = styles.of(bold=True, font_color=LIGHT.stop.ink)
    sheet.write_string(row + 1, 0, CAUTION, caution)
    sheet.freeze_panes(_HEAD_ROW + 1, 1 if len(heads) > 3 else 0)
    for place in range(len(heads)):
        sheet.set_column(place, place, _width(heads[place], table, place, system))
    _print(sheet, table, job)


def _print(sheet: Any, table: Table, job: Job) -> None:
    """How the tab goes on paper, if somebody prints it."""
    sheet.set_landscape()
    sheet.set_paper(_PAPERS[job.paper])
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(_HEAD_ROW)
    sheet.set_footer(f"&L{job.date.isoformat()}&RPage &P of &N")


def _head_style(styles: _Styles, column: Column) -> Any:
    return styles.of(
        bold=True, text_wrap=True, bottom=1, align=column.align, font_color=LIGHT.ink_muted
    )


def _row(
    sheet: Any,
    styles: _Styles,
    row: int,
    cells: tuple[Cell, ...],
    table: Table,
    system: UnitSystem,
    bold: bool,
) -> None:
    more: dict[str, object] = {"bold": True, "top": 1} if bold else {}
    for place, column in enumerate(table.columns):
        cell = cells[place] if place < len(cells) else None
        if isinstance(cell, Value) and is_number(cell, column, system):
            decimals = places(cell, column, system)
            shape = "#,##0" + ("." + "0" * decimals if decimals else "")
            number = number_shown(cell.si, cell.dimension, system)
            if is_fraction(cell, system):
                number, shape = tape_inches(cell.si), "# ??/??" if tape_inches(cell.si) % 1 else "0"
            style = styles.of(num_format=shape, align=column.align, **more)
            sheet.write_number(row, place, number, style)
            continue
        text = shown(cell, column, system)[:_MOST_CELL]
        style = styles.of(text_wrap=True, align=column.align, **more)
        if text:
            sheet.write_string(row, place, text, style)
        elif more:
            sheet.write_blank(row, place, None, style)


def is_number(cell: Value, column: Column, system: UnitSystem) -> bool:
    """Whether a cell goes into a file as a number: its unit stands in the head, and it has an end.

    Of other columns the unit has to stand in the cell, so that it is a text.
    """
    return is_plain(cell, column, system) and math.isfinite(cell.si)


def _width(title: str, table: Table, place: int, system: UnitSystem) -> float:
    """In letters, as the format counts it."""
    column = table.columns[place]
    texts = [shown(row[place], column, system) for row in table.rows if place < len(row)]
    longest = max([max((len(word) for word in title.split()), default=0), *map(len, texts)])
    return min(max(longest + 2.0, _LEAST_WIDE), _MOST_WIDE)
