"""Layers of a DXF: one a medium and circuit, one for the equipment of each level."""

from collections.abc import Iterable
from dataclasses import dataclass

from ezdxf.colors import RGB
from ezdxf.document import Drawing
from ezdxf.lldxf.validator import make_table_key

from ..plan.picture import Medium
from ..theme import LIGHT

CART, PARTS, LEVELS = "CART", "CART-PARTS", "CART-LEVELS"
EQUIPMENT, VENUE, SYMBOLS = "EQUIPMENT", "VENUE", "SYMBOLS"
POWER, WATER, HOT_WATER, DRAIN = "POWER", "WATER", "WATER-HOT", "DRAIN"
ZONES, HIDDEN, DIMENSIONS, TEXT = "ZONES", "HIDDEN", "DIMENSIONS", "TEXT"
HOLES = "HOLES"
"""What is cut or bored: openings as drawn, and holes for tubes of what is fed from below."""
ELSEWHERE = "OTHER-LEVEL"
DASHED, DOTTED, CHAIN = "CARTLAYOUT-DASHED", "CARTLAYOUT-DOTTED", "CARTLAYOUT-CHAIN"
_PATTERNS_MM: dict[str, tuple[str, list[float]]] = {
    DASHED: ("dashed __ __ __", [3.0, -1.6]),
    DOTTED: ("dotted . . . .", [0.4, -1.2]),
    CHAIN: ("chain __ . __ .", [5.0, -1.2, 0.4, -1.2]),
}
"""Dashes and gaps as seen on paper."""
_FORBIDDEN = set('<>/\\":;?*|=`,')
_WIDTHS = {"thin": 18, "plain": 25, "strong": 50}
"""Line widths of ISO 128-2, hundredths of a millimetre."""


@dataclass(frozen=True, slots=True)
class LayerLook:
    """How a layer is drawn."""

    name: str
    colour: str
    """"#rrggbb"."""
    linetype: str = "CONTINUOUS"
    width: str = "plain"


def layer_name(*parts: str) -> str:
    """Parts joined by hyphens; signs that the format does not allow in names become underscores."""
    text = "-".join(part for part in parts if part)
    allowed = "".join("_" if sign in _FORBIDDEN or ord(sign) < 32 else sign for sign in text)
    return allowed.strip()[:200] or "LAYER"


def equipment_layer(level: str, venue: bool = False) -> str:
    """Where the bodies of a level are."""
    return VENUE if venue else layer_name(EQUIPMENT, level.upper())


def run_layer(medium: Medium, letter: str = "", hot: bool = False) -> str:
    """Of a run: its medium, and of a cord its circuit."""
    if medium == "power":
        return layer_name(POWER, letter)
    if medium == "water":
        return HOT_WATER if hot else WATER
    return DRAIN


def elsewhere_layer(medium: Medium, letter: str = "", hot: bool = False) -> str:
    """Of the part of a run that is on another level than the one drawn, or hidden."""
    return layer_name(run_layer(medium, letter, hot), ELSEWHERE)


def make_layers(
    doc: Drawing, levels: Iterable[str], letters: Iterable[str], unit_per_paper_mm: float
) -> None:
    """Add every layer and the kinds of line they use.

    Args:
        doc: a new document.
        levels: names of the cart's levels.
        letters: of the circuits.
        unit_per_paper_mm: drawing units that a millimetre of paper covers at the drawing's scale.
    """
    for name, (text, pattern) in _PATTERNS_MM.items():
        lengths = [length * unit_per_paper_mm for length in pattern]
        doc.linetypes.add(name, [sum(map(abs, lengths)), *lengths], description=text)
    done: set[str] = set()
    for look in _looks(levels, letters):
        if make_table_key(look.name) not in done:
            done.add(make_table_key(look.name))
            layer = doc.layers.add(look.name, linetype=look.linetype)
            layer.rgb = _rgb(look.colour)
            layer.dxf.lineweight = _WIDTHS[look.width]


def _looks(levels: Iterable[str], letters: Iterable[str]) -> Iterable[LayerLook]:
    ink, muted = LIGHT.ink, LIGHT.ink_muted
    yield LayerLook(CART, ink, width="strong")
    yield LayerLook(PARTS, ink)
    yield LayerLook(LEVELS, ink)
    for level in levels:
        yield LayerLook(equipment_layer(level), LIGHT.body_edge)
    yield LayerLook(VENUE, muted)
    yield LayerLook(SYMBOLS, LIGHT.ghost, width="thin")
    yield LayerLook(ZONES, LIGHT.ok.ink, DASHED, "thin")
    yield LayerLook(HOLES, ink)
    yield LayerLook(HIDDEN, LIGHT.ghost, DASHED, "thin")
    yield LayerLook(DIMENSIONS, muted, width="thin")
    yield LayerLook(TEXT, ink, width="thin")
    for letter in ("", *letters):
        colour = LIGHT.circuit(letter).line if letter else muted
        yield from _medium("power", letter, colour, "CONTINUOUS")
    yield from _medium("water", "", LIGHT.water, "CONTINUOUS")
    yield from _medium("water", "", LIGHT.water_ink, "CONTINUOUS", hot=True)
    yield from _medium("drain", "", LIGHT.drain, DASHED)


def _medium(
    medium: Medium, letter: str, colour: str, linetype: str, hot: bool = False
) -> Iterable[LayerLook]:
    yield LayerLook(run_layer(medium, letter, hot), colour, linetype)
    yield LayerLook(elsewhere_layer(medium, letter, hot), colour, DOTTED, "thin")


def _rgb(colour: str) -> RGB:
    return RGB(int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16))
