"""Colours, type and spacing, one place for the window and for every exported sheet.

The circuit accents are the colours that Okabe and Ito published for readers of
every colour vision (Color Universal Design, 2008). A colour never stands
alone: each accent has its dash, each circuit its letter, each severity its
shape and word. All colours are "#rrggbb" texts, ready for QColor.
"""

from dataclasses import dataclass
from typing import Literal

Shape = Literal["diamond", "triangle", "circle", "tick"]


@dataclass(frozen=True, slots=True)
class Accent:
    """How one circuit looks."""

    fill: str
    """The published colour: bars, letters' discs."""
    on_fill: str
    """Text on `fill`."""
    ink: str
    """The same hue, dark or light enough to be read as text on any ground of its theme."""
    line: str
    """The same hue for a line: 3:1 or better against every ground of its theme."""
    dash: tuple[float, ...]
    """Dash pattern in pen widths; empty for a solid line."""


@dataclass(frozen=True, slots=True)
class Mark:
    """How a verdict looks: colour, shape and word always go together."""

    fill: str
    on_fill: str
    ink: str
    tint: str
    """A quiet ground for a card or a chip; body ink and `ink` are both legible on it."""
    shape: Shape
    word: str


@dataclass(frozen=True, slots=True)
class Theme:
    """Every colour the program paints with."""

    name: Literal["light", "dark"]
    paper: str
    """Ground of the plan."""
    paper_grid: str
    paper_grid_major: str
    venue: str
    """Band of the venue's wall."""
    cart: str
    """Surface of the cart."""
    body: str
    """A piece of equipment."""
    body_edge: str
    panel: str
    """Ground of the docks and boards."""
    panel_raised: str
    """Cards on a panel."""
    field: str
    """Ground of an input."""
    bar: str
    """Toolbar, menu bar."""
    ink: str
    ink_muted: str
    line: str
    """Hairlines between things."""
    line_strong: str
    """Borders of inputs; at least 3:1 against the ground."""
    track: str
    """The empty part of a bar or a scale."""
    primary: str
    on_primary: str
    """The chosen segment, the main button, the status bar."""
    link: str
    selection: str
    selection_tint: str
    ghost: str
    """Outlines of what stands on another level."""
    ghost_ink: str
    water: str
    water_fill: str
    """Between the two lines of a supply tube."""
    water_ink: str
    drain: str
    drain_ink: str
    circuits: tuple[Accent, ...]
    ok: Mark
    care: Mark
    stop: Mark
    note: Mark

    def circuit(self, letter: str) -> Accent:
        """The accent that goes with a circuit's letter ("A", "B" ... "Z", "AA")."""
        number = 0
        for sign in letter.upper():
            number = number * 26 + ord(sign) - ord("A") + 1
        return self.circuits[(number - 1) % len(self.circuits)]

    def mark(self, severity: str) -> Mark:
        """The mark of "ok", "care", "stop" or "note"."""
        marks = {"ok": self.ok, "care": self.care, "stop": self.stop}
        return marks.get(severity, self.note)


# Colour, the text on it, and a dash each. Where hues run out the dash still differs.
_DASHES: tuple[tuple[float, ...], ...] = (
    (),
    (6.0, 2.0),
    (2.0, 1.5),
    (8.0, 2.0, 1.5, 2.0),
    (4.0, 1.5, 1.5, 1.5, 1.5, 1.5),
    (1.0, 1.5),
    (10.0, 3.0),
    (3.0, 3.0),
)
_FILLS: tuple[tuple[str, str, str, str, str, str], ...] = (
    # fill, text on it, as text and as line on light grounds, as text and as line on dark grounds
    ("#0072b2", "#ffffff", "#006fad", "#0072b2", "#5ea6ce", "#2f8cc6"),
    ("#d55e00", "#101414", "#af4d00", "#d55e00", "#e08842", "#d55e00"),
    ("#cc79a7", "#101414", "#935778", "#bd6793", "#d288b1", "#cc79a7"),
    ("#e69f00", "#101414", "#8c6100", "#b67d00", "#e69f00", "#e69f00"),
    ("#009e73", "#101414", "#007857", "#00936b", "#33b18f", "#009e73"),
    ("#f0e442", "#101414", "#716b1f", "#958c00", "#f0e442", "#f0e442"),
    ("#56b4e9", "#101414", "#357090", "#3a8fc4", "#56b4e9", "#56b4e9"),
    ("#5f6b6a", "#ffffff", "#566261", "#5f6b6a", "#a9b5b4", "#7f8b8a"),
)

LIGHT = Theme(
    name="light",
    paper="#fcfbf7",
    paper_grid="#f1efe8",
    paper_grid_major="#e4e1d6",
    venue="#edf0ec",
    cart="#fffefa",
    body="#eef1ee",
    body_edge="#4a5655",
    panel="#ffffff",
    panel_raised="#ffffff",
    field="#ffffff",
    bar="#f7f7f3",
    ink="#26302f",
    ink_muted="#5c6766",
    line="#dfe2de",
    line_strong="#828c8a",
    track="#eeefec",
    primary="#26302f",
    on_primary="#ffffff",
    link="#00629a",
    selection="#0072b2",
    selection_tint="#dcecf6",
    ghost="#88928f",
    ghost_ink="#636d6c",
    water="#3a8fc4",
    water_fill="#e3f2fc",
    water_ink="#2f6a8a",
    drain="#8c7b6b",
    drain_ink="#6f6154",
    circuits=tuple(
        Accent(fill, on, ink, line, dash)
        for (fill, on, ink, line, _, _), dash in zip(_FILLS, _DASHES, strict=True)
    ),
    ok=Mark("#009e73", "#101414", "#00704f", "#e0f3ec", "tick", "ok"),
    care=Mark("#e69f00", "#101414", "#815900", "#fdf3dc", "triangle", "care"),
    stop=Mark("#b3261e", "#ffffff", "#b3261e", "#fbe9e7", "diamond", "stop"),
    note=Mark("#5b6b70", "#ffffff", "#526166", "#eceff0", "circle", "note"),
)

DARK = Theme(
    name="dark",
    paper="#161a1b",
    paper_grid="#1d2223",
    paper_grid_major="#282e30",
    venue="#20272a",
    cart="#1b2021",
    body="#2a3234",
    body_edge="#aab6b5",
    panel="#1e2425",
    panel_raised="#262d2e",
    field="#171b1c",
    bar="#191e1f",
    ink="#e7eceb",
    ink_muted="#a9b5b4",
    line="#343c3e",
    line_strong="#78837f",
    track="#2f3739",
    primary="#dfe6e4",
    on_primary="#161a1b",
    link="#7fbfe6",
    selection="#56b4e9",
    selection_tint="#1f3a4c",
    ghost="#6f7a78",
    ghost_ink="#98a4a3",
    water="#56b4e9",
    water_fill="#1f3a4c",
    water_ink="#7cc4ee",
    drain="#b19c86",
    drain_ink="#c3b19d",
    circuits=tuple(
        Accent(fill, on, ink, line, dash)
        for (fill, on, _, _, ink, line), dash in zip(_FILLS, _DASHES, strict=True)
    ),
    ok=Mark("#009e73", "#101414", "#45bd98", "#193a32", "tick", "ok"),
    care=Mark("#e69f00", "#101414", "#efb440", "#40331a", "triangle", "care"),
    stop=Mark("#e5675d", "#101414", "#f29087", "#472725", "diamond", "stop"),
    note=Mark("#84949a", "#101414", "#a9b7bb", "#2c3538", "circle", "note"),
)

THEMES: dict[str, Theme] = {"light": LIGHT, "dark": DARK}

FAMILY = "Inter"
"""The one font family, shipped in resources/fonts."""


@dataclass(frozen=True, slots=True)
class TypeScale:
    """Sizes of type in pixels at 100 %, for the window; sheets scale them in points."""

    caption: int = 11
    body: int = 12
    strong: int = 13
    title: int = 15
    heading: int = 19


TYPE = TypeScale()


@dataclass(frozen=True, slots=True)
class Spacing:
    """Steps of distance in pixels at 100 %: everything sits on a grid of four."""

    hair: int = 2
    small: int = 4
    medium: int = 8
    large: int = 12
    wide: int = 16
    radius: int = 6


SPACE = Spacing()
