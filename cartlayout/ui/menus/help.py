"""What the program is, and how it is worked."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from .. import dialogs
from ..entries import Entry, Listed

if TYPE_CHECKING:
    from ..main_window import MainWindow


def commands(window: "MainWindow") -> None:
    """Open the field by which every action is found."""
    window.command_box.open()


def guide(window: "MainWindow") -> None:
    """Begin the guided first cart, or take it up again."""
    window.guide.start()


def cheat_sheet(window: "MainWindow") -> None:
    """Show every key and every movement of the mouse."""
    from ..cheat_sheet import CheatSheet

    sheet = CheatSheet(window)
    sheet.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    sheet.show()


def about(window: "MainWindow") -> None:
    """Say what the program is, and what it is not."""
    dialogs.show_about(window)


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "help.commands",
        "&Find a Command…",
        commands,
        "Help",
        0,
        ("Ctrl+K", "F3"),
        "Find every action, item and piece of equipment by typing a few letters",
        "search palette action",
        "search",
        looks_only=True,
        at_start=True,
    ),
    Entry(
        "help.guide",
        "&Guided First Cart",
        guide,
        "Help",
        0,
        tip="A card says what comes next while you lay out a cart, and sees when it is done",
        words="tutorial learn begin tour help lesson",
        looks_only=True,
        at_start=True,
    ),
    Entry(
        "help.keys",
        "&Keys and Mouse",
        cheat_sheet,
        "Help",
        0,
        ("F1",),
        "Show every key and every movement of the mouse on one page",
        "shortcuts cheat sheet keyboard print",
        looks_only=True,
        at_start=True,
    ),
    Entry(
        "help.about",
        "&Cautions and About",
        about,
        "Help",
        9,
        tip="What this program is, and is not",
        words="version safety licence",
        looks_only=True,
        at_start=True,
    ),
)
