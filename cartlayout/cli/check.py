"""`cartlayout check`: circuits, taps and findings of a build."""

import json

from .words import (
    CANNOT_BE_USED,
    NOTHING_TO_STOP_FOR,
    SOMETHING_TO_STOP_FOR,
    Parser,
    add_file,
    add_units,
    read,
)


def run(words: list[str]) -> int:
    """Print it; returns the exit code."""
    parser = Parser(
        prog="cartlayout check",
        description="Print circuits, taps and findings of a build. "
        "Exit code 0: nothing to stop for, 1: something is, 2: the file cannot be used.",
    )
    add_file(parser)
    parser.add_argument("--json", action="store_true", help="print JSON (keys: README)")
    add_units(parser)
    given = parser.parse_args(words)
    build = read(given.file)
    if build is None:
        return CANNOT_BE_USED
    from ..analysis import analyse
    from ..units import UnitSystem

    system = UnitSystem(given.units or build.units)
    analysis = analyse(build)
    if given.json:
        from ..documents.json_report import json_report

        print(json.dumps(json_report(analysis, system), indent=1, ensure_ascii=False))
    else:
        from ..documents.text_report import text_report

        print(text_report(analysis, system), end="")
    return SOMETHING_TO_STOP_FOR if analysis.count("stop") else NOTHING_TO_STOP_FOR
