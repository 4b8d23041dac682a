"""Where the data folders are: beside the package in a checkout, inside it in a wheel."""

from functools import cache
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


class MissingDataError(RuntimeError):
    """The data folders that belong to the program are not where they must be."""


@cache
def _folder(name: str) -> Path:
    for base in (_PACKAGE / "_data", _PACKAGE.parent):
        folder = base / name
        if folder.is_dir():
            return folder
    raise MissingDataError(
        f"The folder '{name}' that belongs to cartlayout was found neither in "
        f"{_PACKAGE / '_data'} nor in {_PACKAGE.parent}. Install the program again."
    )


def resources() -> Path:
    """Folder of the stock, limits, fonts and symbols that the program ships with."""
    return _folder("resources")


def sample_builds() -> Path:
    """Folder of the sample builds that the program ships with."""
    return _folder("sample_builds")
