"""Workings: how the number that has the keyboard came about, and those of the whole build."""

from typing import TYPE_CHECKING

from ...workings.shown import told_result
from ..entries import Choice, Choices, Entry, Listed

if TYPE_CHECKING:
    from ..main_window import MainWindow


def show_working(window: "MainWindow") -> None:
    """Open the working of what has the keyboard, or of what is selected."""
    window.workings.ask_focused()


def numbers(window: "MainWindow") -> tuple[Choice, ...]:
    """The numbers that the build is judged by."""
    system = window.session.system
    return tuple(
        Choice(f"{one.title.shown(system)}: {told_result(one).shown(system)}", number)
        for number, one in window.workings.choices()
    )


def open_working(window: "MainWindow", number: object) -> None:
    """Open the working that was chosen."""
    window.workings.ask(number)


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "view.working",
        "Show Wor&king",
        show_working,
        "View",
        3,
        ("Ctrl+Shift+W",),
        "How a number came about: formula, numbers put in, limit and where it is from. Of the "
        "row that has the keyboard, or of what is selected",
        "formula calculation explain why check by hand steps source",
        looks_only=True,
    ),
    Choices(
        "view.workings",
        "Nu&mbers of This Build",
        numbers,
        open_working,
        "View",
        3,
        "The numbers that the build is judged by, each with how it came about",
        verb="Working",
        empty="Nothing is worked out yet",
    ),
)
