"""Blocks of bodies: real size, with label, id and size as attributes."""

from collections.abc import Sequence

from ezdxf.document import Drawing
from ezdxf.layouts import BlockLayout
from PySide6.QtGui import QPainterPath

from ...build import Item
from ...units import UnitSystem, show
from ..plan.picture import XY
from .layers import HIDDEN, SYMBOLS, layer_name
from .plot import plain

MM = 1000.0
_FLAG_HIDDEN = 1
_ATTRIBUTES = ("LABEL", "ID", "SIZE", "LEVEL")


def size_text(item: Item, system: UnitSystem) -> str:
    """Width, depth and height."""
    size = item.specification.size
    return " x ".join(
        show(side.si, "tape", system) for side in (size.width, size.depth, size.height)
    )


def attributes(item: Item, system: UnitSystem) -> dict[str, str]:
    """What a block says of its body."""
    return {
        "LABEL": plain(item.name),
        "ID": plain(item.id),
        "SIZE": size_text(item, system),
        "LEVEL": plain(item.level),
    }


def plan_block(
    doc: Drawing, item: Item, lines: QPainterPath, unit: float, level: str
) -> BlockLayout:
    """A body from above, around its middle, un-turned.

    Args:
        doc: gets the block.
        item: the body.
        lines: of its symbol, in millimetres around its middle.
        unit: drawing units in a metre.
        level: that is drawn; the venue's things are on the plans of all levels.
    """
    block = _new(doc, layer_name("PLAN", level.upper(), item.id), unit)
    size = item.specification.size
    x, y = size.width.si / 2 * unit, size.depth.si / 2 * unit
    block.add_lwpolyline([(-x, -y), (x, -y), (x, y), (-x, y)], close=True)
    for points in _pieces(lines):
        block.add_lwpolyline(
            [(u / MM * unit, -v / MM * unit) for u, v in points], dxfattribs={"layer": SYMBOLS}
        )
    return block


def side_block(
    doc: Drawing, name: str, seen: Sequence[Sequence[XY]], unseen: Sequence[Sequence[XY]],
    corner: XY, unit: float,
) -> BlockLayout:  # fmt: skip
    """A body from the side: the lines in sight, and dashed those that are not.

    Args:
        doc: gets the block.
        name: of the block.
        seen: lines in metres.
        unseen: likewise.
        corner: its lower left corner, which the block is inserted at.
        unit: drawing units in a metre.
    """
    block = _new(doc, name, unit)
    for lines, layer in ((seen, "0"), (unseen, HIDDEN)):
        for line in lines:
            points = [((u - corner[0]) * unit, (z - corner[1]) * unit) for u, z in line]
            block.add_lwpolyline(points, dxfattribs={"layer": layer})
    return block


def _new(doc: Drawing, name: str, unit: float) -> BlockLayout:
    found, number = name, 2
    while found in doc.blocks:
        found, number = f"{name}-{number}", number + 1
    block = doc.blocks.new(found)
    for tag in _ATTRIBUTES:
        block.add_attdef(tag, (0.0, 0.0), height=0.01 * unit, dxfattribs={"flags": _FLAG_HIDDEN})
    return block


def _pieces(path: QPainterPath) -> list[list[XY]]:
    return [
        [(point.x(), point.y()) for point in polygon.toList()]
        for polygon in path.toSubpathPolygons()
        if len(polygon.toList()) > 1
    ]
