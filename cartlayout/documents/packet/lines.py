"""Text broken into lines so that nothing of it is lost, whatever the width."""

from ..lettering import Face


def broken(text: str, face: Face, width: float) -> tuple[str, ...]:
    """Lines that fit a width: broken at blanks and line ends, in a word only where it is wider.

    Every letter of the text stands in one of the lines, in order. An empty text has no line.
    """
    lines: list[str] = []
    for part in text.splitlines():
        words = part.split()
        whole = " ".join(words)
        if not words or face.width(whole) <= width:
            lines += [whole] if words else []
        else:
            lines += _wrapped(words, face, width)
    return tuple(lines)


def _wrapped(words: list[str], face: Face, width: float) -> list[str]:
    """Word after word; widths of words, which come again and again, are added up.

    Added up they are a little off where two letters move together over a blank, so that a line is
    measured once more when it is about to be full.
    """
    blank = face.width(" ")
    lines: list[str] = []
    current, used = "", 0.0
    for word in words:
        wide = face.width(word)
        trial = f"{current} {word}" if current else word
        reached = used + blank + wide if current else wide
        near = abs(reached - width) < blank
        if (reached if not near else face.width(trial)) <= width:
            current, used = trial, reached
            continue
        if current:
            lines.append(current)
        *full, current = _pieces(word, face, width)
        lines += full
        used = wide if not full else face.width(current)
    return [*lines, current]


def _pieces(word: str, face: Face, width: float) -> list[str]:
    """A word cut where it has to be; after a hyphen or a slash where there is one."""
    pieces: list[str] = []
    while len(word) > 1 and face.width(word) > width:
        count = _fitting(word, face, width)
        seam = max(word.rfind(sign, 0, count) for sign in "-/_.,") + 1
        count = seam if seam > count // 2 else count
        pieces.append(word[:count])
        word = word[count:]
    return [*pieces, word]


def _fitting(word: str, face: Face, width: float) -> int:
    """How many of its letters fit, at least one."""
    low, high = 1, len(word) - 1
    while low < high:
        middle = (low + high + 1) // 2
        if face.width(word[:middle]) <= width:
            low = middle
        else:
            high = middle - 1
    return low


def widest_word(text: str, face: Face) -> float:
    """Width below which a word would have to be cut."""
    return max((face.width(word) for word in text.split()), default=0.0)
