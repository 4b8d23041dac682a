"""What keys, menus and the context menu do to selected parts of the cart: one undo step each."""

from msgspec.structs import replace

from ..build import Build, Cart, CartLeg, Caster, Zone
from ..build.cart_edits import (
    Corner,
    Shape,
    add,
    free_name,
    remove_level,
    remove_parts,
    settled,
    shape_of,
    shaped_cart,
    with_cart,
)
from ..build.cart_moves import moved, stretched
from ..build.cart_parts import name_of, part_of, with_part
from ..build.cart_shape import shifted
from ..build.edits import EditError
from .commands import grid_m, telling
from .selection import NOTHING, Selection
from .session import Session


def named(cart: Cart, verb: str, parts: tuple[str, ...]) -> str:
    """Name of an undo step: "Move Jugs", "Delete 3 parts of the cart"."""
    if len(parts) == 1:
        return f"{verb} {name_of(cart, parts[0])}"
    return f"{verb} {len(parts)} parts of the cart"


@telling
def delete(session: Session) -> None:
    """Take the selected parts away."""
    parts = session.selection.parts
    if parts:
        label = named(session.build.cart, "Delete", parts)
        session.apply(label, remove_parts(session.build, parts), select=NOTHING)


@telling
def nudge(session: Session, dx_m: float, dy_m: float) -> None:
    """Move the selected parts by an offset; nudges in a row are one step."""
    parts = session.selection.parts
    made = moved(session.build, parts, dx_m, dy_m)
    _apply(session, named(session.build.cart, "Move", parts), made, f"nudge {' '.join(parts)}")


@telling
def stretch(session: Session, dx_m: float, dy_m: float) -> None:
    """Make the selected parts larger or smaller at their right and front sides."""
    parts, made = session.selection.parts, session.build
    for part in parts:
        made = stretched(made, part, dx_m, dy_m)
    _apply(session, named(session.build.cart, "Resize", parts), made, f"stretch {' '.join(parts)}")


def _apply(session: Session, label: str, made: Build, merge_key: str) -> None:
    if made.cart == session.build.cart:
        session.tell("It cannot go further that way.")
        return
    session.apply(label, settled(made)[0], select=session.selection, merge_key=merge_key)


@telling
def duplicate(session: Session) -> None:
    """Add a copy of every selected part beside it."""
    build, new = session.build, []
    step_m = grid_m(session) * 2
    for part in session.selection.parts:
        found = part_of(build.cart, part)
        if not isinstance(found, (Zone, Caster, CartLeg)):
            raise EditError(f"there is one {name_of(build.cart, part)} only")
        copy = replace(found, x=shifted(found.x, step_m), y=shifted(found.y, step_m))
        if isinstance(copy, Zone):
            taken = (zone.name for zone in build.cart.zones)
            copy = replace(copy, name=free_name(copy.name or copy.kind, taken))
        build, ref = add(build, copy)
        new.append(ref)
    if new:
        label = named(session.build.cart, "Duplicate", session.selection.parts)
        session.apply(label, build, select=Selection(parts=tuple(new)))


@telling
def fold(session: Session) -> None:
    """Put every leaf up, or all down where all are up."""
    leaves = session.build.cart.leaves
    if not leaves:
        raise EditError("the cart has no leaves; add one with Cart, Add Leaf")
    up = not all(leaf.up for leaf in leaves)
    chosen = [one for one in session.selection.parts if one.startswith("leaf")]
    names = chosen or [f"leaf:{at}" for at in range(len(leaves))]
    cart = session.build.cart
    if chosen:
        first = part_of(cart, chosen[0])
        up = not getattr(first, "up", True)
    for part in names:
        found = part_of(cart, part)
        if found is not None:
            cart = with_part(cart, part, replace(found, up=up))
    label = f"Fold {name_of(cart, names[0])}" if len(names) == 1 else "Fold the leaves"
    session.apply(f"{label} {'up' if up else 'down'}", with_cart(session.build, cart))


@telling
def to_shape(session: Session, shape: Shape, corner: Corner = "front right") -> None:
    """Give the cart an outline of another shape."""
    before = session.build
    made = with_cart(before, shaped_cart(before.cart, shape, corner=corner))
    if made.cart == before.cart:
        session.tell(f"The cart is {_words(shape_of(made.cart))} already.")
        return
    session.apply(f"Make the cart {_words(shape)}", made, select=NOTHING)


def _words(shape: str) -> str:
    return {"rectangle": "a rectangle", "rounded": "rounded", "L": "an L"}.get(shape, "free")


@telling
def take_level_away(session: Session, name: str) -> None:
    """Remove a level on which nothing stands."""
    session.apply(f"Remove level {name}", remove_level(session.build, name))
