"""The cart itself: editing it on the plan, its shape, its levels, what is added to it."""

from typing import TYPE_CHECKING

from ...build.cart_edits import CORNERS, add_level, free_name, shape_of
from ...build.cart_shape import Corner, Shape
from ...units import Length
from .. import cart_commands as commands
from ..entries import Choice, Choices, Entry, Listed, Run, Test
from ..plan.cart_edit.placing import PLACEABLE
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow


def _editing(session: Session) -> bool:
    return session.editing_cart


def edit_cart(window: "MainWindow") -> None:
    """Edit the cart itself, or go back to what stands on it."""
    if window.session.editing_cart:
        window.plan.cart_edit.leave()
    else:
        window.plan.cart_edit.enter()
        window.plan.setFocus()


def _adding(what: str) -> Run:
    def run(window: "MainWindow") -> None:
        window.plan.cart_edit.place_next(what)

    return run


def _shaping(shape: Shape) -> tuple[Run, Test]:
    def run(window: "MainWindow") -> None:
        commands.to_shape(window.session, shape)
        window.plan.cart_edit.enter()

    def is_so(session: Session) -> bool:
        return shape_of(session.build.cart) == shape

    return run, is_so


def fold(window: "MainWindow") -> None:
    """Fold the selected leaves, or all."""
    commands.fold(window.session)


def _has_leaves(session: Session) -> bool:
    return bool(session.build.cart.leaves)


def new_level(window: "MainWindow") -> None:
    """Add a level below the others, halfway down to the floor."""
    session = window.session
    levels = session.build.cart.levels
    us = session.build.units == "US"
    lowest = min((level.height.si for level in levels), default=0.9)
    unit = "in" if us else "mm"
    height = Length.from_si(
        round(lowest / 2 / 0.0127) * 0.0127 if us else round(lowest / 2, 2), unit
    )
    clear = Length.from_si(max(lowest - height.si - 0.02, 0.05), unit, 1)
    name = free_name("level", (level.name for level in levels))
    session.apply(f"Add level {name}", add_level(session.build, name, height, clear))
    session.set_level(name)


def _levels(window: "MainWindow") -> tuple[Choice, ...]:
    return tuple(
        Choice(level.name.capitalize(), level.name) for level in window.session.build.cart.levels
    )


def _take_level(window: "MainWindow", name: object) -> None:
    commands.take_level_away(window.session, str(name))


def _corners(window: "MainWindow") -> tuple[Choice, ...]:
    return tuple(Choice(corner.capitalize(), corner) for corner in CORNERS)


def _cut_corner(window: "MainWindow", corner: object) -> None:
    known: dict[str, Corner] = {one: one for one in CORNERS}
    commands.to_shape(window.session, "L", known[str(corner)])
    window.plan.cart_edit.enter()


def _add(what: str, words: str, more: str = "", section: int = 1) -> Entry:
    return Entry(
        f"cart.add-{what}",
        words,
        _adding(what),
        "Cart",
        section,
        tip=f"{PLACEABLE[what][1]}; Enter puts it in the middle",
        words=f"{PLACEABLE[what][0]} {more}",
    )


def _shape(shape: Shape, words: str, tip: str) -> Entry:
    run, is_so = _shaping(shape)
    return Entry(
        f"cart.shape-{shape}",
        words,
        run,
        "Cart/&Shape",
        0,
        tip=tip,
        words="outline form",
        checked=is_so,
    )


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "cart.edit",
        "&Edit Cart on the Plan",
        edit_cart,
        "Cart",
        0,
        ("Ctrl+B",),
        "Drag the cart's edges, corners, wheels, leaves and zones; Escape when you are done",
        "body frame outline size resize",
        checked=_editing,
    ),
    _shape("rectangle", "&Rectangle", "Square corners all round"),
    _shape("rounded", "R&ounded Rectangle", "Rounded corners; the radius stands in Details"),
    _shape("free", "&Free Outline", "As many corners as you like; double-click an edge for one"),
    Choices(
        "cart.shape-L",
        "&L, Without the Corner",
        _corners,
        _cut_corner,
        "Cart/&Shape",
        1,
        "An L: the rectangle without one of its corners",
        "Cut out the corner",
    ),
    _add("reserved", "Add &Reserved Zone", "keep free jugs cups knock-out floor"),
    _add("no-go", "Add &No-go Zone", "keep out forbidden"),
    _add("opening", "Add &Hole", "opening cut-out drill grommet"),
    _add("caster", "Add &Caster", "wheel", 2),
    _add("leg", "Add Le&g", "post foot", 2),
    _add("leaf", "Add &Leaf", "flap fold hinge table", 2),
    _add("panel", "Add Rear &Panel", "board back wall mount", 2),
    _add("handle", "Add Han&dle", "push bar", 2),
    _add("corner", "Add C&orner to the Outline", "vertex point", 2),
    Entry(
        "cart.fold",
        "&Fold Leaves Up or Down",
        fold,
        "Cart",
        3,
        tip="Put the selected leaves, or all, up or down",
        words="flap hinge",
        enabled=_has_leaves,
        needs="The cart has no leaves.",
    ),
    Entry(
        "cart.add-level",
        "Add Le&vel",
        new_level,
        "Cart",
        4,
        tip="Add a level under the others; its heights stand in Details",
        words="shelf storey floor",
    ),
    Choices(
        "cart.remove-level",
        "Re&move Level",
        _levels,
        _take_level,
        "Cart",
        4,
        "Take a level away on which nothing stands",
        "Remove level",
    ),
)
