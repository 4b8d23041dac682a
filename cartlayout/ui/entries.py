"""What an action of the menus is, said once: menus, command box and cheat sheet are made from it.

A subject keeps its entries in a module of its own (`ui/menus/`), so that a new
action is one entry and nothing else.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from .session import Session

if TYPE_CHECKING:
    from .main_window import MainWindow

Run = Callable[["MainWindow"], object]
Test = Callable[[Session], bool]


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
