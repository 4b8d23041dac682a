"""Undo, the clipboard, and what is done to the selection as a whole."""

from typing import TYPE_CHECKING

from .. import cart_commands, commands
from ..entries import Entry, Listed
from ..plan.cart_edit import keys as cart_keys
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow

_ITEM_FIRST = "Select an item first."


def items_selected(session: Session) -> bool:
    """Whether an item is selected."""
    return bool(session.selection.items)


def anything_selected(session: Session) -> bool:
    """Whether an item, a wire or a tube is selected."""
    return bool(session.selection)


def _undo_text(session: Session) -> str:
    return _named("&Undo", session.undo_stack.undoText())


def _redo_text(session: Session) -> str:
    return _named("&Redo", session.undo_stack.redoText())


def _named(verb: str, step: str) -> str:
    return f"{verb} {step.replace('&', '&&')}".rstrip()


def _can_undo(session: Session) -> bool:
    return session.undo_stack.canUndo()


def _can_redo(session: Session) -> bool:
    return session.undo_stack.canRedo()


def undo(window: "MainWindow") -> None:
    """Take the latest step back."""
    commands.undo(window.session)


def redo(window: "MainWindow") -> None:
    """Do again what was taken back."""
    commands.redo(window.session)


def cut(window: "MainWindow") -> None:
    """Put the selection on the clipboard and take it away."""
    commands.cut(window.session)


def copy(window: "MainWindow") -> None:
    """Put the selection on the clipboard."""
    commands.copy(window.session)


def paste(window: "MainWindow") -> None:
    """Add what is on the clipboard."""
    window.plan.boxes.paste()


def duplicate(window: "MainWindow") -> None:
    """Add a copy of the selection."""
    commands.duplicate(window.session)


def delete(window: "MainWindow") -> None:
    """Take away the bend that was clicked, or else what is selected."""
    if window.session.editing_cart:
        cart_commands.delete(window.session)
    elif not window.plan.remove_active_bend():
        commands.delete(window.session)


def select_all(window: "MainWindow") -> None:
    """Select every item of the level; asked again, every item. Of a cart being edited its parts."""
    if window.session.editing_cart:
        cart_keys.select_all(window.session)
        return
    commands.select_all(window.session)


def rotate(window: "MainWindow") -> None:
    """Turn the selection clockwise."""
    commands.rotate(window.session, 90.0)


def rotate_back(window: "MainWindow") -> None:
    """Turn the selection back."""
    commands.rotate(window.session, -90.0)


def lock(window: "MainWindow") -> None:
    """Keep the selection where it stands, or let it go."""
    commands.toggle_lock(window.session)


def _lock_text(session: Session) -> str:
    ids = session.selection.items
    chosen = [item for item in session.build.items if item.id in ids]
    return "Un&lock" if chosen and all(item.locked for item in chosen) else "&Lock"


def find_in_stock(window: "MainWindow") -> None:
    """Put the cursor in the stock's field."""
    window.show_panel("stock")
    window.left.show_page("Stock")
    window.stock.focus_search()


def find_on_cart(window: "MainWindow") -> None:
    """Put the cursor in the field of the list of items."""
    window.show_panel("stock")
    window.left.show_page("Items")
    window.items.focus_search()


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "edit.undo",
        "&Undo",
        undo,
        "Edit",
        0,
        ("Ctrl+Z",),
        "Take the latest step back",
        "back revert",
        "undo",
        enabled=_can_undo,
        says=_undo_text,
        needs="There is no step to take back.",
    ),
    Entry(
        "edit.redo",
        "&Redo",
        redo,
        "Edit",
        0,
        ("Ctrl+Y", "Ctrl+Shift+Z"),
        "Do again what was taken back",
        "again repeat",
        "redo",
        enabled=_can_redo,
        says=_redo_text,
        needs="Nothing was taken back.",
    ),
    Entry(
        "edit.cut",
        "Cu&t",
        cut,
        "Edit",
        1,
        ("Ctrl+X",),
        "Put the selection on the clipboard",
        enabled=items_selected,
        needs=_ITEM_FIRST,
    ),
    Entry(
        "edit.copy",
        "&Copy",
        copy,
        "Edit",
        1,
        ("Ctrl+C",),
        "Copy the selected items",
        "clipboard",
        enabled=items_selected,
        needs=_ITEM_FIRST,
    ),
    Entry(
        "edit.paste",
        "&Paste",
        paste,
        "Edit",
        1,
        ("Ctrl+V",),
        "Add what was copied",
        "clipboard insert",
    ),
    Entry(
        "edit.duplicate",
        "Dupl&icate",
        duplicate,
        "Edit",
        1,
        ("Ctrl+D",),
        "Add a copy of the selected items beside them",
        "copy again twice",
        enabled=items_selected,
        needs=_ITEM_FIRST,
    ),
    Entry(
        "edit.delete",
        "&Delete",
        delete,
        "Edit",
        1,
        ("Del",),
        "Take the selected items, wires and tubes away",
        "remove erase",
        enabled=anything_selected,
        on_plan_only=True,
        needs="Select an item, a wire or a tube first.",
    ),
    Entry(
        "edit.select-all",
        "Select &All",
        select_all,
        "Edit",
        2,
        ("Ctrl+A",),
        "Select all items of this level; again, of every level",
        "everything",
        looks_only=True,
    ),
    Entry(
        "edit.rotate",
        "&Rotate",
        rotate,
        "Arrange",
        0,
        ("R",),
        "Turn the selected items clockwise",
        "turn spin quarter",
        "rotate",
        enabled=items_selected,
        on_plan_only=True,
        needs=_ITEM_FIRST,
    ),
    Entry(
        "edit.rotate-back",
        "Rotate &Back",
        rotate_back,
        "Arrange",
        0,
        ("Shift+R",),
        "Turn the selected items back",
        "turn counter",
        enabled=items_selected,
        on_plan_only=True,
        needs=_ITEM_FIRST,
    ),
    Entry(
        "edit.lock",
        "&Lock",
        lock,
        "Arrange",
        0,
        ("Ctrl+L",),
        "Keep the selected items where they stand",
        "fix pin hold",
        enabled=items_selected,
        says=_lock_text,
        needs=_ITEM_FIRST,
    ),
    Entry(
        "edit.find",
        "&Find in Stock",
        find_in_stock,
        "Edit",
        3,
        ("Ctrl+F",),
        "Put the cursor in the stock's field",
        "search equipment catalogue add",
        looks_only=True,
    ),
    Entry(
        "edit.find-item",
        "Find on T&his Cart",
        find_on_cart,
        "Edit",
        3,
        ("Ctrl+Shift+F",),
        "Put the cursor in the list of items, wires and tubes",
        "search select list layers",
        looks_only=True,
    ),
)
