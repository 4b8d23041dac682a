"""What an action of the menus is, said once: menus, command box and cheat sheet are made from it.

A subject keeps its entries in a module of its own (`ui/menus/`), so that a new
action is one entry and nothing else.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from .session import Session

if TYPE_CHECKING:
    from .main_window import MainWindow

Run = Callable[["MainWindow"], object]
Test = Callable[[Session], bool]
WindowTest = Callable[["MainWindow"], bool]


@dataclass(frozen=True, slots=True)
class Entry:
    """One action."""

    key: str
    """Stable name, such as "arrange.align-left"."""
    text: str
    """In the menu, with its mnemonic: "Align &Left Edges". Three dots where a dialog follows."""
    run: Run
    menu: str = ""
    """"Edit", "Arrange", "Cart", ...; a submenu after a slash: "Arrange/Align".
    Empty: in the command box only."""
    section: int = 0
    """Entries of one menu with different sections have a line between them."""
    shortcuts: tuple[str, ...] = ()
    """Portable texts, such as "Ctrl+G"; the first is shown."""
    tip: str = ""
    """One sentence: what it does."""
    words: str = ""
    """More words by which the command box finds it."""
    icon: str = ""
    enabled: Test | None = None
    """Whether it can be done now; None: always."""
    checked: Test | None = None
    """Whether it is on now; None: it is no switch."""
    on_plan_only: bool = False
    """Its key is a bare letter or means something else in a text field: the plan answers it."""
    says: Callable[[Session], str] | None = None
    """The text of the moment, where it changes: "Un&lock" instead of "&Lock"."""
    on_now: WindowTest | None = None
    """As `checked`, but of the window: whether a panel is in sight."""
    needs: str = ""
    """Why it cannot be done while it is not enabled: "Select an item first."."""
    at_start: bool = False
    """Also while the start page is shown and there is no build to work on."""
    looks_only: bool = False
    """It changes nothing of the build, so it may be done in mid-drag."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One line of a list that is made anew whenever it is looked at."""

    text: str
    value: object
    tip: str = ""


@dataclass(frozen=True, slots=True)
class Choices:
    """A submenu whose lines are made when it opens, such as the recent files."""

    key: str
    text: str
    list: Callable[["MainWindow"], Sequence[Choice]]
    choose: Callable[["MainWindow", object], object]
    menu: str = ""
    section: int = 0
    tip: str = ""
    verb: str = ""
    """Before a line in the command box: "Open sample" makes "Open sample: Market cart"."""
    empty: str = "Nothing yet"
    at_start: bool = False
    """Also while the start page is shown."""


Listed = Entry | Choices


def plain(text: str) -> str:
    """A text of a menu without its mnemonic."""
    return text.replace("&&", "\0").replace("&", "").replace("\0", "&")
