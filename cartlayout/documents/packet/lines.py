"""Text broken into lines so that nothing of it is lost, whatever the width."""

from ..lettering import Face


def broken(text: str, face: Face, width: float) -> tuple[str, ...]:
    """Lines that fit a width: broken at blanks and line ends, in a word only where it is wider.

    Every letter of the text stands in one of the lines, in order. An empty text has no line.
    """
    lines: list[str] = []
    for part in text.splitlines():
        current = ""
        for word in part.split():
            trial = f"{current} {word}" if current else word
            if face.width(trial) <= width:
                current = trial
                continue
            if current:
                lines.append(current)
            *whole, current = _pieces(word, face, width)
            lines += whole
        if current:
            lines.append(current)
    return tuple(lines)


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
