"""`cartlayout check`: circuits, taps and findings of a build, and what helps against them."""

import json
from typing import TYPE_CHECKING

from .words import (
    CANNOT_BE_USED,
    NOTHING_TO_STOP_FOR,
    SOMETHING_TO_STOP_FOR,
    Parser,
    add_file,
    add_units,
    read,
    tell,
)

if TYPE_CHECKING:
    from ..advice.remedies import Key, Remedy
    from ..analysis import Analysis


def run(words: list[str]) -> int:
    """Print it; returns the exit code."""
    parser = Parser(
        prog="cartlayout check",
        description="Print circuits, taps and findings of a build. "
        "Exit code 0: nothing to stop for, 1: something is, 2: the file cannot be used.",
    )
    add_file(parser)
    parser.add_argument("--json", action="store_true", help="print JSON (keys: README)")
    parser.add_argument(
        "--remedies",
        action="store_true",
        help="print with every finding what was tried and helps against it",
    )
    parser.add_argument(
        "--working",
        action="store_true",
        help="print with every finding how its number came about, for checking by hand",
    )
    parser.add_argument(
        "--unknowns",
        action="store_true",
        help="print which figures that nobody has checked would change a verdict, and from where "
        "on (takes a few seconds)",
    )
    add_units(parser)
    given = parser.parse_args(words)
    build = read(given.file)
    if build is None:
        return CANNOT_BE_USED
    from ..analysis import analyse
    from ..units import UnitSystem

    system = UnitSystem(given.units or build.units)
    analysis = analyse(build)
    found = _remedies(analysis) if given.remedies else None
    if given.json:
        from ..documents.json_report import json_report

        report = json_report(analysis, system, found)
        if given.unknowns:
            from ..advice.sensitivity import all_found
            from ..documents.unknown_lines import unknowns_json

            report["unknowns"] = unknowns_json(all_found(analysis), system)
        print(json.dumps(report, indent=1, ensure_ascii=False))
    else:
        from ..documents.text_report import text_report

        tell(text_report(analysis, system, found, with_workings=given.working).rstrip("\n"))
        if given.unknowns:
            from ..advice.sensitivity import all_found
            from ..documents.unknown_lines import unknown_lines

            tell("")
            tell("\n".join(unknown_lines(all_found(analysis), system)))
    return SOMETHING_TO_STOP_FOR if analysis.count("stop") else NOTHING_TO_STOP_FOR


def _remedies(analysis: "Analysis") -> "dict[Key, tuple[Remedy, ...]]":
    from ..advice.remedies import all_remedies, by_finding

    return by_finding(all_remedies(analysis))
