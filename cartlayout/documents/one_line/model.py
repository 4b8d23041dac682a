"""What a one-line diagram says, before anything has a place: parts, and links between them."""

from dataclasses import dataclass, replace
from typing import Literal

from ..lettering import wrapped
from ..sheet.elements import SMALL, TextItem

LINE = 3.3
"""From one line of text to the next, millimetres."""
_WIDEST_TEXT = 30.0
_LINK_WIDTH = 26.0

Symbol = Literal[
    "panel", "bar", "breaker", "breaker us", "receptacle", "receptacle us", "load", "cord",
    "generator", "battery", "transformer", "mains", "tank", "waste tank", "pump", "accumulator",
    "filter", "regulator", "check valve", "shut-off", "heater", "tee", "gauge", "tap",
    "basin", "floor drain", "reference in", "reference out",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text of a part or a link."""

    text: str
    weight: int = 400
    colour: str = "ink"

    @property
    def width(self) -> float:
        """Millimetres."""
        return TextItem(0.0, 0.0, self.text, SMALL, self.weight).box.width

    def lines(self, width: float = _WIDEST_TEXT) -> tuple["Words", ...]:
        """The same in as many lines as it needs; a single word may be wider than `width`."""
        face = TextItem(0.0, 0.0, "", SMALL, self.weight).face
        widest = max((face.width(word) for word in self.text.split()), default=0.0) + 0.01
        width = max(width, widest)
        lines = wrapped(self.text, face, width)
        while len(lines) > 1 and width > widest:  # no word left alone on the last line
            width = max(width - 1.0, widest)
            closer = wrapped(self.text, face, width)
            if len(closer) > len(lines):
                break
            lines = closer
        return tuple(replace(self, text=line) for line in lines)


@dataclass(frozen=True, slots=True)
class Part:
    """Something that a line leads to or from."""

    key: str
    symbol: Symbol
    words: tuple[Words, ...] = ()
    """The name first."""
    state: str = ""
    """"stop" or "care" where something about it does not hold."""
    bar: bool = False
    """What leaves it leaves from a heavy bar: a panel, a strip, a manifold."""
    called: str = ""
    """What a reference elsewhere calls it; empty: its first line."""

    @property
    def name(self) -> str:
        """For a reference; empty for what has no words."""
        return self.called or (self.words[0].text if self.words else "")


@dataclass(frozen=True, slots=True)
class Link:
    """A line from one part to another, in the direction of supply."""

    key: str
    a: str
    b: str
    above: tuple[Words, ...] = ()
    """Written over its line."""
    below: tuple[Words, ...] = ()
    colour: str = "ink"
    dash: tuple[float, ...] = ()
    width_pt: float = 1.1
    flow: int = 0
    """1: an arrow towards b; -1: towards a; 0: none."""
    state: str = ""


@dataclass(frozen=True, slots=True)
class Diagram:
    """Parts and links, joined up or not."""

    parts: tuple[Part, ...]
    links: tuple[Link, ...]

    def part(self, key: str) -> Part:
        """The part of that key."""
        return next(one for one in self.parts if one.key == key)


def link_words(link: Link) -> tuple[tuple[Words, ...], tuple[Words, ...]]:
    """Words over and under a link, broken into lines."""
    above = tuple(line for words in link.above for line in words.lines(_LINK_WIDTH))
    below = tuple(line for words in link.below for line in words.lines(_LINK_WIDTH))
    return above, below


def words_width(link: Link) -> float:
    """Millimetres that the words of a link take along its line."""
    above, below = link_words(link)
    return max((line.width for line in (*above, *below)), default=0.0)
