"""`cartlayout packet`: the sheets that builder, venue, inspector and operator ask for."""

import argparse
import datetime
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from .words import (
    CANNOT_BE_USED,
    NOTHING_TO_STOP_FOR,
    PAPERS,
    Parser,
    add_file,
    add_units,
    drawn,
    read,
)

if TYPE_CHECKING:
    from ..build import Build
    from ..documents.packet.content import Job

_KINDS = ("pdf", "png", "svg", "dxf", "csv", "xlsx")
_USUAL_KINDS = ("pdf", "csv", "xlsx")


def run(words: list[str]) -> int:
    """Write them; returns the exit code."""
    parser = _parser()
    if words == ["--list"]:
        return _list()
    given = parser.parse_args(words)
    if given.output is None:
        parser.error("the following arguments are required: -o/--output")
    build = read(given.file)
    if build is None:
        return CANNOT_BE_USED
    return drawn(lambda: _write(build, given), _with_advice)


def _parser() -> Parser:
    parser = Parser(
        prog="cartlayout packet",
        description="Write the sheets for builder, venue, inspector and operator into a folder: "
        "one PDF of all, one a sheet, and their tables. No display is needed.",
        epilog="'cartlayout packet --list' prints the names of the sheets.",
    )
    add_file(parser)
    parser.add_argument(
        "-o",
        "--output",
        type=Path,
        metavar="FOLDER",
        help="where to, made if need be; a name that ends in .pdf writes one PDF and nothing else",
    )
    parser.add_argument(
        "--only", metavar="SHEETS", help="names of sheets with commas between; usually all"
    )
    parser.add_argument(
        "--formats",
        default=",".join(_USUAL_KINDS),
        help=f"with commas between: {', '.join(_KINDS)} (usual {','.join(_USUAL_KINDS)})",
    )
    parser.add_argument("--sheet", choices=PAPERS, default="auto")
    add_units(parser)
    parser.add_argument(
        "--date", type=_date, metavar="YYYY-MM-DD", help="in the title blocks; usually today"
    )
    parser.add_argument("--replace", action="store_true", help="replace files of the same names")
    return parser


def _date(text: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is no date such as 2026-03-01") from None


def _list() -> int:
    from ..documents.packet.registry import SHEETS

    widest = max(map(len, SHEETS))
    for key, entry in SHEETS.items():
        print(f"{key:<{widest}}  {entry.reader:<9}  {entry.says}")
    return NOTHING_TO_STOP_FOR


def _names(text: str | None) -> list[str] | None:
    return None if text is None else [one.strip() for one in text.split(",") if one.strip()]


def _write(build: "Build", given: argparse.Namespace) -> None:
    from ..documents.packet.packet import asked, write_packet, write_pdf
    from ..documents.packet.placing import FilesThereError, there

    job = _job(build, given)
    single = given.output.suffix.lower() == ".pdf"
    kinds = ("pdf",) if single else tuple(_names(given.formats) or ())
    what = asked(_names(given.only), kinds)
    watch = _told() if sys.stderr.isatty() else _quiet
    if single:
        if not given.replace and there(given.output.parent, (given.output.name,)):
            raise FilesThereError(given.output.parent, (given.output.name,))
        write_pdf(job, given.output, what, watch)
    else:
        written = write_packet(job, given.output, what, given.replace, watch)
        print(f"{len(written)} files in {given.output}")


def _job(build: "Build", given: argparse.Namespace) -> "Job":
    from ..analysis import analyse
    from ..documents.packet.packet import make_job
    from ..units import UnitSystem

    return make_job(
        analyse(build),
        system=UnitSystem(given.units or build.units),
        paper=given.sheet,
        date=given.date,
        file=given.file.name,
    )


def _quiet(_share: float, _words: str) -> bool:
    return True


def _told() -> Callable[[float, str], bool]:
    """Tells on one line of the terminal how far it is."""

    def watch(share: float, words: str) -> bool:
        end = "\r\x1b[K" if share >= 1.0 else ""
        print(f"\r\x1b[K{share:4.0%}  {words}", end=end, file=sys.stderr, flush=True)
        return True

    return watch


def _with_advice(error: Exception) -> str:
    from ..documents.packet.placing import FilesThereError

    if isinstance(error, FilesThereError):
        return f"{error} (--replace does)"
    return str(error)
