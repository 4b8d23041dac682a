"""Text in an exported SVG that keeps its width where the program's font is not installed."""

import html
import re

from .lettering import base_width

_TEXT = re.compile(rb"<text\b(?P<attributes>[^>]*)>(?P<text>[^<]*)</text>")
_WEIGHT = re.compile(rb'font-weight="(\d+)"')
_FAMILY = re.compile(rb"font-family=\"([^\"]*)\"")
_FALLBACK = b", Helvetica, Arial, sans-serif"


def steady_text(svg: bytes) -> bytes:
    """Say for every text how wide it is, and which fonts to use instead of ours."""

    def mended(found: "re.Match[bytes]") -> bytes:
        attributes, text = found["attributes"], found["text"]
        weight = _WEIGHT.search(attributes)
        width = base_width(html.unescape(text.decode()), int(weight[1]) if weight else 400)
        attributes = _FAMILY.sub(rb'font-family="\1' + _FALLBACK + b'"', attributes, count=1)
        length = f' textLength="{width:.2f}" lengthAdjust="spacingAndGlyphs"'.encode()
        return b"<text" + attributes + length + b">" + text + b"</text>"

    return _TEXT.sub(mended, svg)
