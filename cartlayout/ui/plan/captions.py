"""Small words on the ground that say what is seen."""

from ...documents.plan import Box, PlanPicture
from ...documents.plan.paint import Ink, dimension_text_box
from .mirrors import CAPTION_PT

CAPTION_AWAY_PT = 40.0


def captions(picture: PlanPicture, ink: Ink) -> list[tuple[str, Box]]:
    """Small words that say what is seen: the level under the cart, the venue in its band."""
    face = ink.face(CAPTION_PT, 600)
    inset = 3.0 * ink.unit

    def at(text: str, x: float, y: float) -> tuple[str, Box]:
        return text, Box(x, y, face.width(text), face.line)

    cart = picture.cart
    alone = " ALONE" if picture.options.isolated else ""
    words = f"{cart.level.upper()}{alone} · operator at the {cart.operator_side}"
    made = []
    level = at(words, cart.box.x + inset, cart.whole.bottom + inset)
    if not any(dimension_text_box(one, ink).meets(level[1]) for one in picture.dimensions):
        made.append(level)
    if picture.venue is not None:
        there = [body.box for body in picture.bodies if body.venue]
        words = "VENUE" if there else "VENUE · place outlets, mains water and drains here"
        band, width = picture.venue, face.width(words)
        ends = (band.x + inset, band.right - inset - width, band.centre[0] - width / 2)
        spots = [at(words, x, band.y + inset / 2) for x in ends]
        # Away from the venue's things, which want room for their own names, if it can be.
        for away in (CAPTION_AWAY_PT * ink.unit, 0.0):
            free = [one for one in spots if not any(box.grown(away).meets(one[1]) for box in there)]
            if free:
                made.append(free[0])
                break
    return made
