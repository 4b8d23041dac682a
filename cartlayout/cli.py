"""The command line: open the window, check a build, export its plan."""

import argparse
import json
import sys
from pathlib import Path
from typing import NoReturn

from . import __version__
from .build import Build
from .build.file import CartFileError, load

NOTHING_TO_STOP_FOR, SOMETHING_TO_STOP_FOR, CANNOT_BE_USED = 0, 1, 2
_OVERLAYS = ("power", "water", "drain", "clearance", "weight")
_USUAL_OVERLAYS = ("power", "water", "drain")


class _Parser(argparse.ArgumentParser):
    """Says in one line what is wrong with the words given, and exits with 2."""

    def error(self, message: str) -> NoReturn:
        self.exit(CANNOT_BE_USED, f"{self.prog}: {message}; see '{self.prog} --help'\n")


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; returns the exit code."""
    words = sys.argv[1:] if arguments is None else arguments
    commands = {"check": _check, "export": _export}
    if words and words[0] in commands:
        return commands[words[0]](words[1:])
    return _window(words)


def _window(words: list[str]) -> int:
    parser = _Parser(
        prog="cartlayout",
        description="Lay out a mobile beverage cart. Without a command the window opens.",
        epilog="Commands: 'cartlayout check FILE' prints circuits, taps and findings; "
        "'cartlayout export FILE -o plan.pdf' writes the annotated plan. Each has --help.",
    )
    parser.add_argument("file", nargs="?", type=Path, metavar="FILE", help="a .cart file to open")
    parser.add_argument("--sample", metavar="NAME", help="open a copy of a sample build instead")
    parser.add_argument("--version", action="version", version=f"cartlayout {__version__}")
    given = parser.parse_args(words)
    path, is_sample = given.file, False
    if given.sample is not None:
        if path is not None:
            parser.error("give a FILE or --sample, not both")
        path, is_sample = _sample(parser, given.sample), True
    from .documents.qt import why_no_window

    if reason := why_no_window():
        _say(reason)
        return CANNOT_BE_USED
    try:
        from .ui.app import run
    except ImportError as error:
        from .documents.qt import missing_libraries

        _say(missing_libraries(error))
        return CANNOT_BE_USED
    return run(path, is_sample)


def _sample(parser: _Parser, name: str) -> Path:
    from .data import sample_builds

    paths = {path.stem: path for path in sorted(sample_builds().glob("*.cart"))}
    if name not in paths:
        parser.error(f"there is no sample '{name}'; there are: {', '.join(paths)}")
    return paths[name]


def _check(words: list[str]) -> int:
    parser = _Parser(
        prog="cartlayout check",
        description="Print circuits, taps and findings of a build. "
        "Exit code 0: nothing to stop for, 1: something is, 2: the file cannot be used.",
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="a .cart file")
    parser.add_argument("--json", action="store_true", help="print JSON (keys: README)")
    parser.add_argument("--units", choices=("US", "metric"), help="instead of the build's own")
    given = parser.parse_args(words)
    build = _load(given.file)
    if build is None:
        return CANNOT_BE_USED
    from .analysis import analyse
    from .units import UnitSystem

    system = UnitSystem(given.units or build.units)
    analysis = analyse(build)
    if given.json:
        from .documents.json_report import json_report

        print(json.dumps(json_report(analysis, system), indent=1, ensure_ascii=False))
    else:
        from .documents.text_report import text_report

        print(text_report(analysis, system), end="")
    return SOMETHING_TO_STOP_FOR if analysis.count("stop") else NOTHING_TO_STOP_FOR


def _export(words: list[str]) -> int:
    parser = _Parser(
        prog="cartlayout export",
        description="Write the annotated plan of a build; the file's ending says how "
        "(.png, .svg or .pdf). No display is needed.",
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="a .cart file")
    parser.add_argument(
        "-o", "--output", type=Path, required=True, metavar="PLAN", help="plan.png, .svg or .pdf"
    )
    parser.add_argument("--dpi", type=int, default=300, help="of a PNG (72 to 1200, usual 300)")
    parser.add_argument("--sheet", choices=("auto", "letter", "A4"), default="auto")
    parser.add_argument("--units", choices=("US", "metric"), help="instead of the build's own")
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
    build = _load(given.file)
    if build is None:
        return CANNOT_BE_USED
    return _write_plan(build, given.output, given, overlays)


def _write_plan(
    build: Build, output: Path, given: argparse.Namespace, overlays: tuple[str, ...]
) -> int:
    from .analysis import analyse
    from .units import UnitSystem

    try:
        from .documents.export import ExportError, export_plan
    except ImportError as error:
        from .documents.qt import missing_libraries

        _say(missing_libraries(error))
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
        _say(str(error))
        return CANNOT_BE_USED
    return NOTHING_TO_STOP_FOR


def _load(path: Path) -> Build | None:
    try:
        return load(path)
    except CartFileError as error:
        _say(str(error))
        return None


def _say(message: str) -> None:
    print(f"cartlayout: {message}", file=sys.stderr)
