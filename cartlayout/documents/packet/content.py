"""What a sheet says, before it is put on paper: plain values that also become tables in files."""

import datetime
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from ...analysis import Analysis
from ...build import Build
from ...units import Phrase, UnitSystem, Value
from ..plan.picture import Box
from ..sheet.drawing import PlanDrawing
from ..sheet.elements import Element
from ..sheet.layout import SheetName

Cell = Value | Phrase | str | None
"""A `Value` is a number in files too; a `Phrase` or text is text everywhere; None is empty."""
Role = Literal["body", "strong", "muted", "caution"]
Reader = Literal["builder", "venue", "inspector", "operator"]


def _nothing() -> None:
    """Nobody wants to be asked."""


@dataclass(frozen=True, slots=True)
class Job:
    """What all sheets of one packet are made from."""

    build: Build
    analysis: Analysis
    system: UnitSystem
    paper: SheetName
    date: datetime.date
    file: str = ""
    between: Callable[[], None] = field(default=_nothing, compare=False, repr=False)
    """Called now and then by a sheet that takes long to make; what it raises ends the work."""


@dataclass(frozen=True, slots=True)
class Column:
    """Head of a column."""

    title: str
    dimension: str = ""
    """Of its numbers, a key of the display table: the unit is said in the head, once."""
    align: Literal["left", "right"] = "left"
    share: float = 1.0
    """Of the width, against the other columns; a column never gets less than its longest word."""
    blank_mm: float = 0.0
    """So much room to write in with a pen; rows are high enough for it."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under heads. Goes to paper, to CSV and to the workbook."""

    key: str
    """Name of its CSV file and of its tab: "load-schedule". One table a key in a packet."""
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    marks: tuple[str, ...] = ()
    """A verdict for each row: "stop", "care", "ok" or "". None: no marks."""
    totals: tuple[Cell, ...] = ()
    """Last row, set apart."""
    note: Phrase | str = ""
    has_boxes: bool = False
    """On paper a box to tick stands before each row."""
    empty: str = ""
    """Said instead of rows where there are none; the table is in files all the same."""
    sums: tuple[int, ...] = ()
    """Places of rows that sum up those above them: set in strong type."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A part of a sheet begins."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A few sentences."""

    text: Phrase | str
    role: Role = "body"


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with values, in as many columns as there is room for."""

    pairs: tuple[tuple[str, Cell], ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Checks:
    """Lines with a box to tick, in order."""

    lines: tuple[Phrase | str, ...]
    title: str = ""
    is_numbered: bool = True
    first: int = 1
    """Number of the first line."""


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines to be filled in with a pen."""

    names: tuple[str, ...]
    title: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Label:
    """One label to cut out and stick on."""

    headline: str
    lines: tuple[Phrase | str, ...]
    medium: Literal["power", "water", "hot", "drain"] = "power"
    letter: str = ""
    """Of its circuit."""


@dataclass(frozen=True, slots=True)
class Labels:
    """Labels in a grid that scissors can cut: straight lines from edge to edge."""

    labels: tuple[Label, ...]
    title: str = ""
    empty: str = ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture that has been given its place: millimetres from the sheet's upper left corner."""

    elements: tuple[Element, ...] = ()
    plans: tuple[PlanDrawing, ...] = ()
    scale: str = ""
    """"1:10" for the title block; empty where it is drawn to no scale."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing that fits itself into the room it is given."""

    draw: Callable[[Box], Drawn]
    least_height: float = 60.0
    """Millimetres; with less it goes to the next page."""
    height: float | None = None
    """Millimetres; None: all that is left of the page."""
    title: str = ""


Part = Heading | Paragraph | Facts | Checks | Blanks | Labels | Table | Picture


@dataclass(frozen=True, slots=True)
class Content:
    """A whole sheet, on as many pages as it needs."""

    key: str
    """"load-schedule": its file name, and what the command line calls it."""
    title: str
    reader: Reader
    parts: tuple[Part, ...]
    is_wide: bool = True
    """Landscape; upright otherwise."""
    one_page: bool = False
    """It has to stay on a single page: type is set smaller, down to the least, before it breaks."""
    cautions: tuple[str, ...] = field(default=())
    """Besides the one that stands on every sheet."""
    applies: bool = True
    """False: nothing of its sort is on the build; among others such a sheet is left out."""
    file_tables: tuple[Table, ...] = ()
    """Tables that are in files only: on paper they would say again what stands there."""


Maker = Callable[[Job], Content]
