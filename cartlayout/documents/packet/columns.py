"""How wide the columns of a table are."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Wish:
    """What a column asks for. Millimetres, without the room between columns."""

    least: float
    """Its longest word."""
    natural: float
    """Its longest cell on a single line."""
    share: float = 1.0


MOST_STRETCHED, LEAST_STRETCHED = 1.75, 1.45
"""A table that fills its room when its columns grow by up to the first does so; one that would
have to grow more grows by the second only: the eye has to find its row."""


def widths(wishes: Sequence[Wish], room: float) -> tuple[float, ...] | None:
    """Widths that fill a room, or less of it where little is needed; None: no room for the words.

    Where all cells fit on a line, what is left over is shared out. Where not, each column has
    its longest word, and the rest is dealt out evenly, weighed by `share`: a name of two words
    is not broken for the sake of a long sentence.
    """
    least = sum(one.least for one in wishes)
    if least > room:
        return None
    natural = [max(one.natural, one.least) for one in wishes]
    total = sum(natural)
    if total <= room:
        stretched = room / total if total else 1.0
        if stretched > MOST_STRETCHED:
            stretched = LEAST_STRETCHED
        return tuple(one * stretched for one in natural)
    return _shared(wishes, natural, room - least)


def _shared(wishes: Sequence[Wish], natural: Sequence[float], rest: float) -> tuple[float, ...]:
    """The rest goes round until it is spent; nobody takes more than a single line needs."""
    given = [one.least for one in wishes]
    for _ in range(len(wishes)):
        lacking = [max(need - has, 0.0) for need, has in zip(natural, given, strict=True)]
        weights = [
            one.share if lack > 1e-9 else 0.0 for lack, one in zip(lacking, wishes, strict=True)
        ]
        total = sum(weights)
        if rest <= 1e-9 or total <= 1e-9:
            break
        portions = [
            min(rest * weight / total, lack) for weight, lack in zip(weights, lacking, strict=True)
        ]
        given = [has + portion for has, portion in zip(given, portions, strict=True)]
        rest -= sum(portions)
    return tuple(given)


def groups(wishes: Sequence[Wish], room: float, gap: float) -> list[list[int]]:
    """Columns in as many sets as it takes for all words to fit; the first column leads each."""
    first = wishes[0].least + gap
    made: list[list[int]] = [[0]]
    used = first
    for place in range(1, len(wishes)):
        need = wishes[place].least + gap
        if len(made[-1]) > 1 and used + need > room:
            made.append([0])
            used = first
        made[-1].append(place)
        used += need
    return made
