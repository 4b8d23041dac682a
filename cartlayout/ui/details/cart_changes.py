"""Edits of the cart from its pages: one undo step each; a refusal is said and changes nothing."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any, cast

from msgspec.structs import replace

from ...build import Build
from ...build import cart_edits as edits
from ...build.edits import EditError
from ...units import Length
from ..commands import sentence

if TYPE_CHECKING:
    from .pages import Page


def shape_edited(build: Build, name: str, value: object, carry: bool) -> Build:
    """The build with one field of the cart's size and shape changed.

    Raises:
        EditError: the cart cannot be so.
    """
    cart = build.cart
    if name in ("width", "depth") and isinstance(value, Length):
        sizes = {"width": cart.width, "depth": cart.depth, name: value}
        return edits.with_cart(build, edits.resized(cart, sizes["width"], sizes["depth"], carry))
    if name == "shape":
        return edits.with_cart(build, edits.shaped_cart(cart, cast(Any, value)))
    if name == "corner_radius":
        return edits.with_cart(build, edits.with_radius(cart, cast(Length, value)))
    if name.startswith("cut_"):
        corner, wide, deep = edits.notch_of(cart) or ("front right", 0.1, 0.1)
        notch = {
            "cut_width": edits.length_like(cart.width, wide),
            "cut_depth": edits.length_like(cart.width, deep),
        }
        if name == "cut_corner":
            corner = cast(Any, value)
        else:
            notch[name] = cast(Length, value)
        cut = (notch["cut_width"], notch["cut_depth"])
        return edits.with_cart(build, edits.shaped_cart(cart, "L", corner=corner, notch=cut))
    return edits.with_cart(build, replace(cart, **{name: value}))


class CartEdits:
    """What the pages of the cart share: an edit is one undo step, a refusal is said."""

    def __init__(self, page: "Page") -> None:
        self.page = page
        self.session = page.session

    def apply(self, label: str, make: Callable[[], Build]) -> None:
        """Make an edit; say why where it cannot be, and show again what is."""
        try:
            build = make()
        except EditError as error:
            self.session.tell(sentence(str(error)))
            self.page.refresh()
            return
        if build == self.session.build:
            self.page.refresh()
            return
        self.session.apply(label, build, select=self.session.selection)

    def shape_edited(self, value: object, words: object, carry: bool) -> None:
        """A field of the size and shape was changed."""
        name, new = cast("tuple[str, object]", value)
        change = partial(shape_edited, self.session.build, name, new, carry)
        self.apply(f"Change {words} of the cart", change)
