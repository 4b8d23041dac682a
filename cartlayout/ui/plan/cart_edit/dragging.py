"""What a drag makes of the cart. Pure functions in metres, without Qt."""

from ....build import Build
from ....build.cart_edits import move_corner, move_edge, with_cart
from ....build.cart_moves import moved, pulled
from ....build.cart_parts import ref_of
from ....build.edits import EditError
from .grips import Grip


def dragged(build: Build, grip: Grip, dx_m: float, dy_m: float, square: bool = True) -> Build:
    """The build with what was taken hold of moved or pulled by so much.

    Args:
        build: before the drag.
        grip: what was taken hold of.
        dx_m: to the right.
        dy_m: to the front.
        square: a square-cornered outline stays so.

    Raises:
        EditError: it cannot be.
    """
    ref = ref_of(grip.part)
    if ref is None:
        raise EditError("there is no such part of the cart")
    if grip.sort == "corner":
        return with_cart(build, move_corner(build.cart, ref.index, dx_m, dy_m, square))
    if grip.sort == "edge":
        return with_cart(build, move_edge(build.cart, ref.index, dx_m, dy_m))
    if grip.sort == "size":
        return pulled(build, grip.part, grip.way, dx_m, dy_m)
    to = (grip.at[0] + dx_m, grip.at[1] + dy_m)
    return moved(build, (grip.part,), dx_m, dy_m, to)
