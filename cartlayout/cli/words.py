"""What all commands share: exit codes, the parser, reading a file, saying what is wrong."""

import argparse
import sys
import unicodedata
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

from ..build import Build
from ..build.file import CartFileError, load

PAPERS = ("auto", "letter", "A4", "tabloid", "A3")
"""Sizes of paper; auto is letter in the US and A4 elsewhere."""
NOTHING_TO_STOP_FOR, SOMETHING_TO_STOP_FOR, CANNOT_BE_USED = 0, 1, 2


class Parser(argparse.ArgumentParser):
    """Says in one line what is wrong with the words given, and exits with 2."""

    def error(self, message: str) -> NoReturn:
        """Say it and leave."""
        self.exit(CANNOT_BE_USED, f"{self.prog}: {message}; see '{self.prog} --help'\n")


def add_file(parser: argparse.ArgumentParser, name: str = "file") -> None:
    """Take the build's file as an argument."""
    parser.add_argument(name, type=Path, metavar=name.upper(), help="a .cart file")


def add_units(parser: argparse.ArgumentParser) -> None:
    """Take the units as an option."""
    parser.add_argument("--units", choices=("US", "metric"), help="instead of the build's own")


def read(path: Path) -> Build | None:
    """The build in a file; None, once it has been said why, where it cannot be used."""
    try:
        return load(path)
    except CartFileError as error:
        say(str(error))
        return None


def drawn(write: Callable[[], None], said: Callable[[Exception], str] = str) -> int:
    """Write something that has to be drawn; returns the exit code.

    Args:
        write: draws and writes; what keeps it from that is an `ExportError`.
        said: how such an error is told.
    """
    try:
        from ..documents.devices import ExportError
    except ImportError as error:  # a machine without the libraries that Qt needs
        from ..documents.qt import missing_libraries

        say(missing_libraries(error))
        return CANNOT_BE_USED
    try:
        write()
    except ExportError as error:
        say(said(error))
        return CANNOT_BE_USED
    return NOTHING_TO_STOP_FOR


def say(message: str) -> None:
    """One line for people, beside the output."""
    print(harmless(f"cartlayout: {message}"), file=sys.stderr)


def tell(text: str) -> None:
    """Text for people, on the output."""
    print(harmless(text))


def harmless(text: str) -> str:
    """Without what a terminal would obey instead of show: names come from files of others."""
    return "".join(one for one in text if one == "\n" or unicodedata.category(one) not in _OBEYED)


_OBEYED = ("Cc", "Cf")
"""Control characters, and those that turn the direction of writing or show nothing."""
