"""`cartlayout mend`: clear the stops that can be cleared, and write what comes of it."""

import json
import sys
from pathlib import Path

from .words import (
    CANNOT_BE_USED,
    NOTHING_TO_STOP_FOR,
    SOMETHING_TO_STOP_FOR,
    Parser,
    add_file,
    add_units,
    read,
    say,
    tell,
)


def run(words: list[str]) -> int:
    """Mend and write; returns the exit code."""
    parser = Parser(
        prog="cartlayout mend",
        description="Find a few changes that clear every stop they can, each tried on a copy, and "
        "write the changed build; the file it was read from stays as it is. "
        "Exit code 0: no stop is left, 1: some are, 2: a file cannot be used.",
    )
    add_file(parser)
    parser.add_argument(
        "-o", "--output", type=Path, required=True, metavar="OUT.cart", help="the mended build"
    )
    parser.add_argument("--force", action="store_true", help="write over a file that is there")
    parser.add_argument("--json", action="store_true", help="print JSON (keys: README)")
    add_units(parser)
    given = parser.parse_args(words)
    if _is_one_file(given.file, given.output):
        say(f"{given.output} is the build itself, which stays as it is; choose another name")
        return CANNOT_BE_USED
    if given.output.exists() and not given.force:
        say(f"{given.output} is there already; choose another name, or say --force")
        return CANNOT_BE_USED
    if not given.output.parent.is_dir():
        say(f"there is no folder {given.output.parent} to write {given.output.name} into")
        return CANNOT_BE_USED
    build = read(given.file)
    if build is None:
        return CANNOT_BE_USED
    from ..advice.remedies import Mended, Tried, mend
    from ..analysis import analyse
    from ..build.file import CartFileError, save
    from ..documents.remedy_lines import mended_json, mended_lines
    from ..units import UnitSystem

    system = UnitSystem(given.units or build.units)
    mended: Mended | None = None
    for step in mend(analyse(build)):
        if isinstance(step, Tried):
            _progress(step.done, step.whole)
        else:
            mended = step
    _progress(0, 0)
    assert mended is not None
    try:
        save(mended.after.build, given.output)
    except CartFileError as error:
        say(str(error))
        return CANNOT_BE_USED
    if given.json:
        print(json.dumps(mended_json(mended, system), indent=1, ensure_ascii=False))
    else:
        tell("\n".join(mended_lines(mended, system)))
    return SOMETHING_TO_STOP_FOR if mended.remaining else NOTHING_TO_STOP_FOR


def _is_one_file(one: Path, other: Path) -> bool:
    """Whether two names lead to the same file; links are followed."""
    try:
        return one.samefile(other)
    except OSError:
        return False


def _progress(done: int, whole: int) -> None:
    """One line that is written over, where somebody sits at a terminal."""
    if sys.stderr.isatty():
        text = f"tried {done} of about {whole} changes" if whole else ""
        print(f"\r{text:<48}", end="\r" if not text else "", file=sys.stderr, flush=True)
