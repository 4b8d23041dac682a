"""What the program is, and how it is worked."""

from typing import TYPE_CHECKING

from .. import dialogs
from ..entries import Entry, Listed

if TYPE_CHECKING:
    from ..main_window import MainWindow


def about(window: "MainWindow") -> None:
    """Say what the program is, and what it is not."""
    dialogs.show_about(window)


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "help.about",
        "&Cautions and About",
        about,
        "Help",
        9,
        tip="What this program is, and is not",
        words="version safety licence",
        looks_only=True,
    ),
)
