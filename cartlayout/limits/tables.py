"""Tables from resources/limits, decoded strictly, with errors that name file and place."""

import re
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from ..data import resources
from ..units import Quantity, QuantityError
from .rows import LimitsError

T = TypeVar("T")


def folder() -> Path:
    """Folder of the tables that the program ships with."""
    return resources() / "limits"


def read_table(name: str, kind: type[T]) -> T:
    """Read one table of the limits folder.

    Args:
        name: path inside the folder, such as "cords.json".
        kind: struct that the file must match field by field.

    Raises:
        LimitsError: the file is missing, is no JSON, or does not match.
    """
    path = folder() / name
    try:
        return decode_table(path.read_bytes(), name, kind)
    except OSError as error:
        raise LimitsError(
            f"The table {path} cannot be read: {error.strerror}. Install the program again."
        ) from error


def decode_table(data: bytes, name: str, kind: type[T]) -> T:
    """Decode the text of a table; `name` is what an error calls the file.

    Raises:
        LimitsError: the text is no JSON, or does not match.
    """
    try:
        return msgspec.json.decode(data, type=kind, dec_hook=_decode_quantity)
    except msgspec.ValidationError as error:
        message, _, place = str(error).rpartition(" - at `")
        where = place.rstrip("`").removeprefix("$").removeprefix(".")
        if not message:
            message, where = str(error), ""
        raise LimitsError(f"{name}: {where or 'the whole table'}: {message}") from error
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise LimitsError(f"{name}: {_line(data, str(error))}: no usable JSON: {error}") from error


def _line(data: bytes, message: str) -> str:
    found = re.search(r"byte (\d+)", message)
    if found is None:
        return "at its end"
    return f"line {data[: int(found[1])].count(10) + 1}"


def _decode_quantity(kind: type, value: Any) -> Any:
    if issubclass(kind, Quantity):
        if not isinstance(value, str):
            raise QuantityError(f"{value!r} is no {kind.name}; write '{kind.example}'")
        return kind(value)
    raise NotImplementedError(kind.__name__)


def by_key(table: str, keys_and_rows: list[tuple[str, T]]) -> dict[str, T]:
    """Index rows by their key; `table` is the file and the field that holds them.

    Raises:
        LimitsError: two rows share a key.
    """
    index: dict[str, T] = {}
    for place, (key, row) in enumerate(keys_and_rows):
        if key in index:
            raise LimitsError(f"{table}[{place}]: '{key}' is there twice")
        index[key] = row
    return index
