"""Exchanging equipment, and taking a set of it out in one lift."""

from typing import TYPE_CHECKING

from ..entries import Entry, Listed
from ..modules import can_be_module, is_module, make_module, mount_module
from ..replacing import open_replace
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow


def _one(session: Session) -> bool:
    return len(session.selection.items) == 1


def replace(window: "MainWindow") -> None:
    """Ask what takes the place of the selected item."""
    open_replace(window.session, window)


def lift_out(window: "MainWindow") -> None:
    """Make the selected set a module that lifts out."""
    make_module(window.session)


def mount(window: "MainWindow") -> None:
    """Mount the selected module in the cart again."""
    mount_module(window.session)


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "equipment.replace",
        "Replace &With…",
        replace,
        "Edit",
        4,
        ("Ctrl+R",),
        "Exchange the selected item for another from stock and see first what would change",
        "swap exchange bigger smaller change machine",
        enabled=_one,
        needs="Select the one item that is to be replaced.",
    ),
    Entry(
        "equipment.lift-out",
        "Make Lift-&out Module",
        lift_out,
        "Arrange",
        4,
        ("Ctrl+M",),
        "Put the selected set, or a pump and its line, on a tray that lifts out in one piece",
        "tray crate carry remove pump quick connect group",
        enabled=can_be_module,
        needs="Select a pump, or the parts that are to lift out together.",
    ),
    Entry(
        "equipment.mount",
        "&Mount in the Cart",
        mount,
        "Arrange",
        4,
        ("Ctrl+Shift+M",),
        "Take the selected module off its tray and mount it in the cart again",
        "fasten fix lift-out module back",
        enabled=is_module,
        needs="Select a part of a lift-out module.",
    ),
)
