"""Exchanging equipment, and taking a set of it out in one lift."""

from typing import TYPE_CHECKING

from ..entries import Entry, Listed
from ..replacing import open_replace
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow


def _one(session: Session) -> bool:
    return len(session.selection.items) == 1


def replace(window: "MainWindow") -> None:
    """Ask what takes the place of the selected item."""
    open_replace(window.session, window)


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
)
