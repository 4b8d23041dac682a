"""`cartlayout export`: the annotated plan as a picture."""

import argparse
from pathlib import Path

from ..build import Build
from .words import CANNOT_BE_USED, NOTHING_TO_STOP_FOR, Parser, add_file, add_units, read, say

_OVERLAYS = ("power", "water", "drain", "clearance", "weight")
_USUAL_OVERLAYS = ("power", "water", "drain")


def run(words: list[str]) -> int:
    """Write it; returns the exit code."""
    parser = Parser(
        prog="cartlayout export",
        description="Write the annotated plan of a build; the file's ending says how "
        "(.png, .svg or .pdf). No display is needed.",
    )
    add_file(parser)
    parser.add_argument(
        "-o", "--output", type=Path, required=True, metavar="PLAN", help="plan.png, .svg or .pdf"
    )
    parser.add_argument("--dpi", type=int, default=300, help="of a PNG (72 to 1200, usual 300)")
    parser.add_argument("--sheet", choices=("auto", "letter", "A4"), default="auto")
    add_units(parser)
    parser.add_argument(
        "--overlays",
        default=",".join(_USUAL_OVERLAYS),
        help=f"which to draw, with commas between: {', '.join(_OVERLAYS)} or none",
    )
    given = parser.parse_args(words)
    if not 72 <= given.dpi <= 1200:
        parser.error(f"--dpi {given.dpi} is outside 72 to 1200")
    overlays = tuple(one for one in given.overlays.split(",") if one and one != "none")
    for one in overlays:
        if one not in _OVERLAYS:
            parser.error(f"--overlays: '{one}' is none of {', '.join(_OVERLAYS)}")
    build = read(given.file)
    if build is None:
        return CANNOT_BE_USED
    return _write_plan(build, given.output, given, overlays)


def _write_plan(
    build: Build, output: Path, given: argparse.Namespace, overlays: tuple[str, ...]
) -> int:
    from ..analysis import analyse
    from ..units import UnitSystem

    try:
        from ..documents.export import ExportError, export_plan
    except ImportError as error:
        from ..documents.qt import missing_libraries

        say(missing_libraries(error))
        return CANNOT_BE_USED
    try:
        export_plan(
            build,
            analyse(build),
            output,
            dpi=given.dpi,
            sheet=given.sheet,
            overlays=overlays,
            system=UnitSystem(given.units or build.units),
            file=given.file.name,
        )
    except ExportError as error:
        say(str(error))
        return CANNOT_BE_USED
    return NOTHING_TO_STOP_FOR
