"""All drawing of the plan in one place to import from.

Every function takes a QPainter scaled to millimetres of the plan, prepared
values, and an `Ink` (theme, and the size of a point). Nothing is computed that
could fail: paint code that raises can end the process.
"""

from PySide6.QtGui import QPainter

from .cart import draw_cart, draw_casters, draw_zone, ground_words
from .ink import Ink
from .lines import (
    draw_drain,
    draw_far,
    draw_run,
    draw_supply_tube,
    draw_wire,
    run_path,
    tube_width_pt,
)
from .picture import PlanPicture, ZoneShape
from .shapes import (
    draw_body,
    draw_ghost,
    draw_mark,
    draw_symbol,
    draw_venue,
    symbol_room,
)
from .texts import (
    dimension_text_box,
    draw_dimension,
    draw_leader,
    draw_name,
    draw_note,
    draw_operator_side,
    draw_scale_bar,
    name_size,
    note_size,
)

__all__ = [
    "Ink",
    "dimension_text_box",
    "draw_body",
    "draw_cart",
    "draw_casters",
    "draw_dimension",
    "draw_drain",
    "draw_far",
    "draw_ghost",
    "draw_ground",
    "draw_leader",
    "draw_mark",
    "draw_name",
    "draw_note",
    "draw_operator_side",
    "draw_run",
    "draw_scale_bar",
    "draw_supply_tube",
    "draw_symbol",
    "draw_venue",
    "draw_wire",
    "draw_zone",
    "ground_words",
    "name_size",
    "note_size",
    "run_path",
    "symbol_room",
    "tube_width_pt",
]


def draw_ground(
    painter: QPainter,
    picture: PlanPicture,
    ink: Ink,
    zones: tuple[ZoneShape, ...] | None = None,
) -> None:
    """What lies under the bodies: the venue's band, the cart, its wheels and zones (or these)."""
    if picture.venue is not None:
        draw_venue(painter, picture.venue, ink)
    draw_cart(painter, picture.cart, ink)
    for zone in picture.zones if zones is None else zones:
        draw_zone(painter, zone, ink)
