"""`cartlayout export`: the annotated plan, or a plan or elevation to scale, as a file."""

import argparse
from pathlib import Path

from ..build import Build
from .words import (
    CANNOT_BE_USED,
    PAPERS,
    Parser,
    add_file,
    add_units,
    drawn,
    read,
)

_OVERLAYS = ("power", "water", "drain", "clearance", "weight")
_USUAL_OVERLAYS = ("power", "water", "drain")
_VIEWS = ("plan", "front", "rear", "left", "right")


def run(words: list[str]) -> int:
    """Write it; returns the exit code."""
    parser = _parser()
    given = parser.parse_args(words)
    if not 72 <= given.dpi <= 1200:
        parser.error(f"--dpi {given.dpi} is outside 72 to 1200")
    overlays = _overlays(parser, given)
    build = read(given.file)
    if build is None:
        return CANNOT_BE_USED
    if _is_single(given):
        return drawn(lambda: _write_single(build, given))
    return drawn(lambda: _write_plan(build, given, overlays))


def _parser() -> Parser:
    parser = Parser(
        prog="cartlayout export",
        description="Write the annotated plan of a build with its tables; with --view, --level or "
        "--scale one drawing alone, to scale. The file's ending says how (.png, .svg, .pdf; .dxf "
        "for the shop: plans and elevations at real size, layers by medium). No display is needed.",
    )
    add_file(parser)
    parser.add_argument(
        "-o",
        "--output",
        type=Path,
        required=True,
        metavar="PLAN",
        help="plan.png, .svg, .pdf or .dxf",
    )
    parser.add_argument("--view", choices=_VIEWS, help="one drawing: the plan, or from which side")
    parser.add_argument("--level", metavar="NAME", help="of the plan; usually the cart's first")
    parser.add_argument(
        "--scale",
        metavar="1:10",
        help="usually the largest that fits the sheet; of a DXF: what its texts are sized for",
    )
    parser.add_argument("--dpi", type=int, default=300, help="of a PNG (72 to 1200, usual 300)")
    parser.add_argument("--sheet", choices=PAPERS, default="auto")
    add_units(parser)
    parser.add_argument(
        "--overlays",
        help=f"which to draw, with commas between: {', '.join(_OVERLAYS)} or none",
    )
    return parser


def _overlays(parser: Parser, given: argparse.Namespace) -> tuple[str, ...]:
    if given.overlays is None:
        return _USUAL_OVERLAYS
    overlays = tuple(one for one in given.overlays.split(",") if one and one != "none")
    for one in overlays:
        if one not in _OVERLAYS:
            parser.error(f"--overlays: '{one}' is none of {', '.join(_OVERLAYS)}")
    if _is_single(given):
        parser.error("--overlays goes with the annotated plan only, not with --view or a DXF")
    return overlays


def _is_single(given: argparse.Namespace) -> bool:
    """Whether one drawing is asked for, rather than the plan with its tables."""
    asked = given.view or given.level or given.scale
    return bool(asked) or given.output.suffix.lower() == ".dxf"


def _write_plan(build: Build, given: argparse.Namespace, overlays: tuple[str, ...]) -> None:
    from ..analysis import analyse
    from ..documents.export import export_plan
    from ..units import UnitSystem

    export_plan(
        build,
        analyse(build),
        given.output,
        dpi=given.dpi,
        sheet=given.sheet,
        overlays=overlays,
        system=UnitSystem(given.units or build.units),
        file=given.file.name,
    )


def _write_single(build: Build, given: argparse.Namespace) -> None:
    from ..analysis import analyse
    from ..documents.devices import ExportError
    from ..documents.packet.packet import make_job
    from ..documents.single import Single, denominator_of, export_single
    from ..units import UnitSystem

    try:
        denominator = denominator_of(given.scale) if given.scale is not None else None
    except ValueError as error:
        raise ExportError(f"--scale: {error}") from None
    job = make_job(
        analyse(build),
        system=UnitSystem(given.units or build.units),
        paper=given.sheet,
        file=given.file.name,
    )
    wanted = Single(given.view, given.level, denominator, given.dpi)
    export_single(job, given.output, wanted)
