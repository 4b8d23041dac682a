"""The packet: the sheets asked for, as files in a folder."""

import dataclasses
import datetime
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, cast, get_args

from ...analysis import Analysis
from ...build.file import write_atomically
from ...units import UnitSystem
from ..devices import ExportError
from ..export import application
from ..fonts import FontError
from ..plan.symbols import SymbolError
from ..sheet.layout import SIZES_MM
from .comma_separated import csv_bytes
from .content import Content, Job
from .pages import Laid, Page, lay_out, numbered
from .placing import put
from .registry import SHEETS
from .workbook import tables_of, workbook_bytes
from .writing import Watch, go_on, page_names, pdf, png, sheet_title, svg

Kind = Literal["pdf", "png", "svg", "dxf", "csv", "xlsx"]
KINDS: tuple[Kind, ...] = get_args(Kind)
USUAL_KINDS: tuple[Kind, ...] = ("pdf", "csv", "xlsx")
PACKET_NAME = "packet.pdf"
WORKBOOK_NAME = "tables.xlsx"
DXF_NAME = "drawing.dxf"
_MAKING, _LAYING = 0.55, 0.8
"""Shares of the work that are behind when all contents are made, and laid out (measured)."""


def _never_stop(_share: float, _words: str) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be written."""

    sheets: tuple[str, ...]
    """Keys, in the order of the packet."""
    kinds: tuple[Kind, ...] = USUAL_KINDS


def make_job(
    analysis: Analysis,
    system: UnitSystem | None = None,
    paper: str = "auto",
    date: datetime.date | None = None,
    file: str = "",
) -> Job:
    """What the sheets are about.

    Args:
        analysis: with its build.
        system: units; None: the build's own.
        paper: a size of paper, or "auto": letter in the US, A4 elsewhere.
        date: in the title blocks; None: today.
        file: name of the build's file.

    Raises:
        ExportError: there is no such paper.
    """
    build = analysis.build
    if paper == "auto":
        paper = "letter" if build.region == "US" else "A4"
    if paper not in SIZES_MM:
        raise ExportError(f"there is no paper '{paper}'; use {', '.join(SIZES_MM)} or auto")
    return Job(
        build,
        analysis,
        system or UnitSystem(build.units),
        paper,
        date or datetime.date.today(),
        file,
    )


def asked(sheets: Iterable[str] | None = None, kinds: Collection[str] = USUAL_KINDS) -> Asked:
    """Check what is asked for.

    Args:
        sheets: keys of sheets; None: all.
        kinds: some of `KINDS`.

    Raises:
        ExportError: there is no such sheet or kind of file, or nothing is asked for.
    """
    wanted = list(SHEETS if sheets is None else sheets)
    for key in wanted:
        if key not in SHEETS:
            raise ExportError(f"there is no sheet '{key}'; there are: {', '.join(SHEETS)}")
    for kind in kinds:
        if kind not in KINDS:
            raise ExportError(f"there is no kind of file '{kind}'; there are: {', '.join(KINDS)}")
    if not wanted:
        raise ExportError("no sheet is asked for; choose at least one")
    if not kinds:
        raise ExportError("no kind of file is asked for; choose at least one")
    chosen = cast(tuple[Kind, ...], tuple(kind for kind in KINDS if kind in kinds))
    return Asked(tuple(key for key in SHEETS if key in wanted), chosen)


def write_packet(
    job: Job,
    folder: Path,
    what: Asked,
    replace: bool = False,
    watch: Watch = _never_stop,
) -> list[Path]:
    """Make the sheets and put them into a folder, all of them or none.

    Args:
        job: what they are about.
        folder: where to; made if need be.
        what: which sheets, which kinds of file.
        replace: whether files of the same names that stand there may go.
        watch: told the share that is done and what is being done; says whether to go on.

    Returns:
        The files written.

    Raises:
        FilesThereError: names are taken and `replace` is off.
        ExportCancelledError: `watch` said no; nothing has been written.
        ExportError: a sheet cannot be made or a file not be written; nothing has been changed.
    """
    return put(packet_files(job, what, watch), folder, replace)


def write_pdf(job: Job, path: Path, what: Asked, watch: Watch = _never_stop) -> Path:
    """Write the sheets asked for as one PDF; what stood there goes only for a whole file.

    Raises:
        ExportCancelledError: `watch` said no; nothing has been written.
        ExportError: a sheet cannot be made, or the file cannot be written.
    """
    data = _whole_pdf(job, what, watch)
    try:
        write_atomically(path, data)
    except OSError as error:
        raise ExportError(f"{path} could not be written: {error.strerror or error}") from error
    return path


def _whole_pdf(job: Job, what: Asked, watch: Watch) -> bytes:
    application()
    try:
        laid = _laid(_contents(job, what, watch), job, watch)
        sheets = numbered(laid)
        every = [page for _, pages in sheets for page in pages]

        def between(place: int) -> None:
            share = _LAYING + (1.0 - _LAYING) * place / len(every)
            go_on(watch, share, f"Writing page {place + 1} of {len(every)}")

        data = pdf(every, job.build.name or "Unnamed cart", between)
    except (FontError, SymbolError) as error:
        raise ExportError(str(error)) from error
    go_on(watch, 1.0, "Putting the file in its place")
    return data


def packet_files(job: Job, what: Asked, watch: Watch = _never_stop) -> dict[str, bytes]:
    """The files of a packet in memory, by name. Errors: as of `write_packet`."""
    application()
    try:
        contents = _contents(job, what, watch)
        laid = _laid(contents, job, watch)
        return _Files(job, what, watch).of(laid)
    except (FontError, SymbolError) as error:
        raise ExportError(str(error)) from error


def _contents(job: Job, what: Asked, watch: Watch) -> list[Content]:
    made = []
    for place, key in enumerate(what.sheets):
        entry = SHEETS[key]
        share, words = _MAKING * place / len(what.sheets), f"Making: {entry.title}"

        def between(share: float = share, words: str = words) -> None:
            go_on(watch, share, words)

        between()
        made.append(entry.make(dataclasses.replace(job, between=between)))
    # Alone it says that there is nothing; among others it would be an empty page.
    return [content for content in made if content.applies] or made[:1]


def _laid(contents: list[Content], job: Job, watch: Watch) -> list[Laid]:
    made = []
    for place, content in enumerate(contents):
        share = _MAKING + (_LAYING - _MAKING) * place / len(contents)
        go_on(watch, share, f"Laying out: {content.title}")
        made.append(lay_out(content, job))
    return made


def _drawing(job: Job) -> bytes:
    """Plans and elevations at their real size; of no single sheet."""
    from ..dxf import dxf_bytes  # late: it takes a while to import

    return dxf_bytes(job)


class _Files:
    """Writes kind after kind, and tells how far it is."""

    def __init__(self, job: Job, what: Asked, watch: Watch) -> None:
        self.job = job
        self.what = what
        self.watch = watch
        self.steps = 1
        self.done = 0
        self.files: dict[str, bytes] = {}

    def of(self, laid: list[Laid]) -> dict[str, bytes]:
        sheets = numbered(laid)
        count = sum(len(pages) for _, pages in sheets)
        kinds = self.what.kinds
        pictures = sum(kind in kinds for kind in ("png", "svg"))
        twice = 2 if len(sheets) > 1 else 1
        self.steps = count * (pictures + ("pdf" in kinds) * twice) + len(sheets) + 2
        if "pdf" in kinds:
            self._pdfs(sheets)
        for content, pages in sheets:
            self._pictures(content, pages)
        if "csv" in kinds:
            self._csv([content for content, _ in sheets])
        if "dxf" in kinds:
            self._step("Drawing for the shop")
            self.files[DXF_NAME] = _drawing(self.job)
        if "xlsx" in kinds and any(tables_of(content) for content, _ in sheets):
            self._step("Writing the workbook")
            self.files[WORKBOOK_NAME] = workbook_bytes([one for one, _ in sheets], self.job)
        go_on(self.watch, 1.0, "Putting the files into the folder")
        if not self.files:
            raise ExportError(
                "none of the sheets chosen has a table, so there is nothing to write as "
                f"{' or '.join(kinds)}; choose another sheet or PDF"
            )
        return self.files

    def _step(self, words: str) -> None:
        share = _LAYING + (1.0 - _LAYING) * min(self.done / self.steps, 1.0)
        go_on(self.watch, share, words)
        self.done += 1

    def _pdfs(self, sheets: list[tuple[Content, tuple[Page, ...]]]) -> None:
        for content, pages in sheets:
            name = f"{content.key}.pdf"
            title = sheet_title(self.job.build, content)
            self.files[name] = pdf(pages, title, lambda _, name=name: self._step(f"Writing {name}"))  # type: ignore[misc]
        if len(sheets) > 1:
            every = [page for _, pages in sheets for page in pages]
            title = self.job.build.name or "Unnamed cart"
            self.files[PACKET_NAME] = pdf(
                every, title, lambda _: self._step(f"Writing {PACKET_NAME}")
            )

    def _pictures(self, content: Content, pages: tuple[Page, ...]) -> None:
        if "png" in self.what.kinds:
            for name, page in page_names(content, pages, "png"):
                self._step(f"Writing {name}")
                self.files[name] = png(page)
        if "svg" in self.what.kinds:
            for name, page in page_names(content, pages, "svg"):
                self._step(f"Writing {name}")
                self.files[name] = svg(page, sheet_title(self.job.build, content))

    def _csv(self, contents: list[Content]) -> None:
        for content in contents:
            self._step(f"Writing the tables of: {content.title}")
            for table in tables_of(content):
                self.files[f"tables/{table.key}.csv"] = csv_bytes(table, self.job.system)
