"""`.cart` files: strict reading with located errors, writing that never leaves half a file."""

import contextlib
import json
import os
import re
import tempfile
from pathlib import Path
from typing import Any, Literal

import msgspec

from .base import Part
from .codec import decode_hook, to_builtins
from .document import Build
from .upgrade import upgraded

FORMAT: Literal["cartlayout build"] = "cartlayout build"
VERSION = 4


class CartFile(Part, frozen=True):
    """What stands in a file: the build, and which format it is written in."""

    format: Literal["cartlayout build"]
    version: int
    build: Build


class CartFileError(Exception):
    """A file that cannot be used. The message says which file, where in it, and what to do."""


def load(path: Path) -> Build:
    """Read a build.

    Raises:
        CartFileError: the file cannot be read, is no build, is of a newer
            version, or something in it is wrong; the message names the place.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise CartFileError(f"{path}: {error.strerror or error}") from error
    try:
        return decode(data)
    except CartFileError as error:
        raise CartFileError(f"{path.name}: {error}") from error


def decode(data: bytes) -> Build:
    """Read a build from the bytes of a file.

    Raises:
        CartFileError: as `load`, without the file's name.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise CartFileError(f"is not UTF-8 text (byte {error.start})") from error
    try:
        raw = json.loads(text, object_pairs_hook=_no_key_twice)
    except json.JSONDecodeError as error:
        raise CartFileError(f"line {error.lineno}, column {error.colno}: {error.msg}") from error
    except RecursionError as error:
        raise CartFileError("is nested too deeply to be a build") from error
    if not isinstance(raw, dict) or raw.get("format") != FORMAT:
        raise CartFileError(f'is no cart build: "format" must be "{FORMAT}"')
    version = raw.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise CartFileError('"version" must be a whole number from 1')
    if version > VERSION:
        raise CartFileError(
            f"was written by a newer program (file version {version}, this program reads up to "
            f"{VERSION}); open it with a newer cartlayout, nothing has been changed"
        )
    try:
        build = msgspec.convert(upgraded(raw), CartFile, dec_hook=decode_hook).build
    except (msgspec.ValidationError, RecursionError) as error:
        raise CartFileError(_located(str(error))) from error
    _check_ids(build)
    return build


def _no_key_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise CartFileError(f"the key '{twice}' stands twice in one object")
    return found


def _located(message: str) -> str:
    """Turn "... - at `$.build.items[3].x`" into "items[3].x: ..."."""
    found = re.fullmatch(r"(?P<what>.*?)(?: - at `\$\.?(?P<where>.*)`)?", message, re.DOTALL)
    if found is None or not found["where"]:
        return message
    where = found["where"].removeprefix("build.")
    return f"{where}: {found['what']}"


def _check_ids(build: Build) -> None:
    for kind, ids in (
        ("items", [item.id for item in build.items]),
        ("runs", [run.id for run in build.runs]),
    ):
        seen: dict[str, int] = {}
        for index, one in enumerate(ids):
            if not one:
                raise CartFileError(f"{kind}[{index}].id: is empty")
            if one in seen:
                raise CartFileError(f"{kind}[{index}].id: '{one}' is also {kind}[{seen[one]}]")
            seen[one] = index


def encode(build: Build) -> bytes:
    """Write a build as the bytes of a file: stable key order, one item and one run a line."""
    whole = to_builtins(CartFile(format=FORMAT, version=VERSION, build=build))
    parts = whole["build"]
    lines = [f'{{"format": {_json(FORMAT)}, "version": {VERSION}, "build": {{']
    entries = []
    for key, value in parts.items():
        if isinstance(value, (list, tuple)) and value:
            inner = ",\n".join("    " + _json(one) for one in value)
            entries.append(f"  {_json(key)}: [\n{inner}\n  ]")
        else:
            entries.append(f"  {_json(key)}: {_json(value)}")
    lines.append(",\n".join(entries))
    lines.append("}}")
    return ("\n".join(lines) + "\n").encode()


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def save(build: Build, path: Path) -> None:
    """Write a build so that a crash leaves either the old file or the new one, whole.

    Raises:
        CartFileError: the file cannot be written; the old one is untouched.
    """
    path = Path(os.path.realpath(path))
    try:
        write_atomically(path, encode(build))
    except OSError as error:
        raise CartFileError(
            f"{path} could not be written ({error.strerror or error}); "
            "what stood there before is untouched"
        ) from error


def write_atomically(path: Path, data: bytes) -> None:
    """Write a temporary file beside the target, flush it to disk, then put it in place.

    Raises:
        OSError: nothing has been changed.
    """
    handle, temporary = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask()
        os.chmod(temporary, mode)
        os.replace(temporary, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
