"""What Qt's SVG writer leaves to be mended: dashes of thin lines, needless digits, text widths."""

import html
import re

from .lettering import base_width

_TEXT = re.compile(rb"<text\b(?P<attributes>[^>]*)>(?P<text>[^<]*)</text>")
_WEIGHT = re.compile(rb'font-weight="(\d+)"')
_FAMILY = re.compile(rb"font-family=\"([^\"]*)\"")
_FALLBACK = b", Helvetica, Arial, sans-serif"
_DASHES = re.compile(
    rb'stroke-dasharray="(?P<dashes>[^"]*)"(?P<between>[^>]*?)stroke-width="(?P<width>[^"]*)"'
)
_WAY = re.compile(rb' d="[^"]*"')
_NEEDLESS_DIGITS = re.compile(rb"(?<=\.\d{3})\d+")


_CONTROLS = bytes(code for code in range(0x20) if code not in b"\t\n\r")
"""XML has none of them, not even escaped (XML 1.0, 2.2); Qt writes those of a name as they are."""


def mended(svg: bytes) -> bytes:
    """The same drawing, as it was meant."""
    svg = svg.translate(None, _CONTROLS)
    svg = _DASHES.sub(_thin_dashes, svg)
    svg = _WAY.sub(lambda found: _NEEDLESS_DIGITS.sub(b"", found[0]), svg)
    return _TEXT.sub(_steady_text, svg)


def _thin_dashes(found: "re.Match[bytes]") -> bytes:
    """Dashes are counted in pen widths; Qt 6 takes a pen thinner than 1 to be 1 wide here."""
    width = float(found["width"])
    if not 0.0 < width < 1.0:
        return found[0]
    dashes = b",".join(
        f"{float(dash) * width:.4g}".encode() for dash in found["dashes"].split(b",")
    )
    return (
        b'stroke-dasharray="' + dashes + b'"' + found["between"]
        + b'stroke-width="' + found["width"] + b'"'
    )  # fmt: skip


def _steady_text(found: "re.Match[bytes]") -> bytes:
    """Say how wide a text is, and which fonts to use instead of ours.

    The text is invisible and lies over its outlines; marked, it should cover them.
    """
    attributes, text = found["attributes"], found["text"]
    weight = _WEIGHT.search(attributes)
    width = base_width(html.unescape(text.decode()), int(weight[1]) if weight else 400)
    attributes = _FAMILY.sub(rb'font-family="\1' + _FALLBACK + b'"', attributes, count=1)
    length = f' textLength="{width:.2f}" lengthAdjust="spacingAndGlyphs"'.encode()
    return b"<text" + attributes + length + b">" + text + b"</text>"
