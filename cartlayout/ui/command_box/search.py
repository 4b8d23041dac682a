"""Which lines answer to typed words, the best first."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cached_property
from typing import Literal

Kind = Literal["action", "choice", "item", "finding", "stock"]

_WHOLE, _START, _INSIDE, _INITIALS, _MORE, _PLACE = 110, 100, 60, 55, 50, 30
_FIRST_BONUS = 12
_CAN_BONUS = 25
_KIND_BONUS: dict[Kind, int] = {"action": 15, "choice": 8, "item": 10, "finding": 5, "stock": 0}
_LEAST_FOR_GUESS = 4
"""A typed word of fewer letters is not guessed at: too much is like it."""


@dataclass(frozen=True)
class Line:
    """One thing the command box can do."""

    key: str
    """Stable, so that what was used last can be remembered."""
    text: str
    place: str
    """Where else it is found: "Arrange > Align", "on the counter"."""
    run: Callable[[], object]
    kind: Kind = "action"
    key_text: str = ""
    """Its shortcut in the platform's words."""
    words: str = ""
    """More words by which it is found."""
    tip: str = ""
    enabled: bool = True
    needs: str = ""
    """Why it cannot be done now."""
    is_on: bool | None = None
    """Of a switch: whether it is on."""

    @cached_property
    def parts(self) -> tuple[str, ...]:
        """The words of the text, small."""
        return _split(self.text)

    @cached_property
    def more(self) -> tuple[str, ...]:
        """The other words that find it, small."""
        return _split(f"{self.words} {self.tip}")

    @cached_property
    def initials(self) -> str:
        """First letters of the text's words."""
        return "".join(part[0] for part in self.parts)


def find(lines: Sequence[Line], typed: str, lately: Sequence[str] = ()) -> tuple[Line, ...]:
    """The lines every typed word is found in, the best first.

    With nothing typed: what was used lately, then every action that can be done
    now, in the order of the menus. A word that is found nowhere is taken for a
    slip of the finger and read as the nearest word there is.
    """
    wanted = _split(typed)
    if not wanted:
        return _untyped(lines, lately)
    found = _ranked(lines, wanted, lately)
    if not found:
        guessed = tuple(_nearest(word, lines) for word in wanted)
        if guessed != wanted:
            found = _ranked(lines, guessed, lately)
    return found


def _untyped(lines: Sequence[Line], lately: Sequence[str]) -> tuple[Line, ...]:
    by_key = {line.key: line for line in lines}
    first = [by_key[key] for key in lately if key in by_key]
    rest = [line for line in lines if line.kind == "action" and line not in first]
    rest.sort(key=lambda line: not line.enabled)
    return (*first, *rest)


def _ranked(
    lines: Sequence[Line], wanted: tuple[str, ...], lately: Sequence[str]
) -> tuple[Line, ...]:
    scored = []
    for at, line in enumerate(lines):
        score = _score(line, wanted)
        if score is not None:
            score += _CAN_BONUS * line.enabled + _KIND_BONUS[line.kind]
            score += 20 * (line.key in lately) - 0.2 * len(line.text)
            scored.append((-score, at, line))
    return tuple(line for _, _, line in sorted(scored, key=lambda one: one[:2]))


def _score(line: Line, wanted: tuple[str, ...]) -> float | None:
    """How well a line answers; None: one of the words is not in it."""
    total = 0.0
    for word in wanted:
        best = _score_word(line, word)
        if best == 0:
            return None
        total += best
    in_order = wanted == line.parts[: len(wanted)]
    return total / len(wanted) + 15 * in_order


def _score_word(line: Line, word: str) -> float:
    for at, part in enumerate(line.parts):
        if part.startswith(word):
            whole = _WHOLE if part == word else _START
            return whole + (_FIRST_BONUS if at == 0 else 0)
    if len(word) > 1 and line.initials.startswith(word):
        return _INITIALS
    if len(word) > 2 and any(word in part for part in line.parts):
        return _INSIDE
    if any(part.startswith(word) for part in line.more):
        return _MORE
    if any(part.startswith(word) for part in _split(line.place)):
        return _PLACE
    return 0


def _nearest(word: str, lines: Sequence[Line]) -> str:
    if len(word) < _LEAST_FOR_GUESS:
        return word
    known = {part for line in lines for part in (*line.parts, *line.more)}
    if any(part.startswith(word) for part in known):
        return word
    near = get_close_matches(word, known, n=1, cutoff=0.7)
    return near[0] if near else word


def _split(text: str) -> tuple[str, ...]:
    kept = "".join(sign if sign.isalnum() else " " for sign in text.casefold())
    return tuple(kept.split())
