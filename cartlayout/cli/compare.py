"""`cartlayout compare`: what moved, what changed, and how each verdict changed."""

import json
import os
from pathlib import Path

from .words import CANNOT_BE_USED, Parser, add_units, read, say, tell

THE_SAME, THEY_DIFFER = 0, 1
_OF_GIT = (7, 9)
"""Words that git hands to a command that shows differences: path, old file, hash and mode, new
file, hash and mode; two more for a file that was renamed (gitdiff documentation,
GIT_EXTERNAL_DIFF)."""


def run(words: list[str]) -> int:
    """Print it; returns the exit code."""
    parser = Parser(
        prog="cartlayout compare",
        description="Print what moved, what changed and how each verdict changed from build A to "
        "build B. Exit code 0: they are the same, 1: they differ, 2: a file cannot be used.",
    )
    parser.add_argument("files", nargs="+", metavar="A B", help="two .cart files")
    parser.add_argument("--json", action="store_true", help="print JSON (keys: README)")
    parser.add_argument(
        "--git",
        action="store_true",
        help="take the words that git hands to a diff command, and never fail (see README)",
    )
    add_units(parser)
    given = parser.parse_args(words)
    if given.git:
        if len(given.files) not in _OF_GIT:
            parser.error(f"git hands over 7 or 9 words, these are {len(given.files)}")
        return _for_git(given.files, given.units)
    if len(given.files) != 2:
        parser.error(f"two files are compared, {len(given.files)} are given")
    return _compare(Path(given.files[0]), Path(given.files[1]), given.units, given.json)


def _compare(first: Path, second: Path, units: str | None, as_json: bool) -> int:
    before, after = read(first), read(second)
    if before is None or after is None:
        return CANNOT_BE_USED
    from ..analysis import analyse
    from ..documents.comparison import comparison_json, comparison_text
    from ..units import UnitSystem

    system = UnitSystem(units or after.units)
    analyses = analyse(before), analyse(after)
    if as_json:
        print(json.dumps(comparison_json(*analyses, system), indent=1, ensure_ascii=False))
    else:
        tell(comparison_text(*analyses, system).rstrip("\n"))
    return THE_SAME if before == after else THEY_DIFFER


def _for_git(words: list[str], units: str | None) -> int:
    """Git takes any code but 0 for a breakdown, and shows nothing of the other files."""
    name, old, new = words[0], Path(words[1]), Path(words[4])
    tell(f"cartlayout compare a/{name} b/{words[7] if len(words) > 7 else name}")
    nothing = Path(os.devnull)
    if old == nothing or new == nothing:
        tell("This build is new." if old == nothing else "This build has been removed.")
    elif _compare(old, new, units, as_json=False) == CANNOT_BE_USED:
        say(f"{name} was left out; the other files follow")
    return 0
