"""Reading the technical sheets: a table's rows by the titles of their columns."""

import datetime

from cartlayout.analysis import analyse
from cartlayout.build import Build
from cartlayout.documents.packet.content import Cell, Content, Job, Table
from cartlayout.units import UnitSystem, Value

DATE = datetime.date(2026, 11, 30)
PSI = 6894.757
GPM = 3.785411784e-3 / 60.0
GALLON = 3.785411784e-3


def job_of(build: Build, system: UnitSystem = UnitSystem.US) -> Job:
    return Job(build, analyse(build), system, "letter", DATE)


def table(content: Content, key: str) -> Table:
    every = (*content.parts, *content.file_tables)
    return next(one for one in every if isinstance(one, Table) and one.key == key)


def rows(content: Content, key: str) -> list[dict[str, Cell]]:
    """Each row by its columns; of columns alike in title the dimension is added."""
    found = table(content, key)
    titles = [column.title for column in found.columns]
    names = [
        f"{column.title}, {column.dimension}" if titles.count(column.title) > 1 else column.title
        for column in found.columns
    ]
    for row in found.rows:
        assert len(row) == len(names)
    return [dict(zip(names, row, strict=True)) for row in found.rows]


def row(content: Content, key: str, **wanted: str) -> dict[str, Cell]:
    """The first row whose columns say so; "Tap_alone_open" stands for "Tap, alone open"."""
    return next(
        one
        for one in rows(content, key)
        if all(one[name.replace("__", ", ").replace("_", " ")] == text
               for name, text in wanted.items())
    )  # fmt: skip


def mark(content: Content, key: str, at: int = 0) -> str:
    return table(content, key).marks[at]


def si(cell: Cell) -> float:
    assert isinstance(cell, Value), cell
    return cell.si
