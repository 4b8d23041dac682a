"""The window, with a build or a sample in it."""

from collections.abc import Mapping
from pathlib import Path

from .. import __version__
from .words import CANNOT_BE_USED, Parser, say


def run(words: list[str], commands: Mapping[str, str]) -> int:
    """Open the window; returns the exit code once it is closed."""
    told = "; ".join(f"'cartlayout {name}': {what}" for name, what in commands.items())
    parser = Parser(
        prog="cartlayout",
        description="Lay out a mobile beverage cart. Without a command the window opens.",
        epilog=f"Commands: {told}. Each has --help.",
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
    from ..documents.qt import why_no_window

    if reason := why_no_window():
        say(reason)
        return CANNOT_BE_USED
    try:
        from ..ui.app import run as open_window
    except ImportError as error:
        from ..documents.qt import missing_libraries

        say(missing_libraries(error))
        return CANNOT_BE_USED
    return open_window(path, is_sample)


def _sample(parser: Parser, name: str) -> Path:
    from ..data import sample_builds

    paths = {path.stem: path for path in sorted(sample_builds().glob("*.cart"))}
    if name not in paths:
        parser.error(f"there is no sample '{name}'; there are: {', '.join(paths)}")
    return paths[name]
