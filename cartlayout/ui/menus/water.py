"""Water: which pump, and what is drawn of it."""

from typing import TYPE_CHECKING

from ..choosing_pump import open_choosing_pump, supply_of
from ..entries import Entry, Listed
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow


def which_pump(window: "MainWindow") -> None:
    """Find out which pumps of the stock do for the supply that is selected, or the first."""
    open_choosing_pump(window.session, window)


def _has_supply(session: Session) -> bool:
    return supply_of(session) is not None


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "water.which-pump",
        "Which &Pump?",
        which_pump,
        "Water",
        0,
        ("Ctrl+P",),
        "What the supply has to give to all taps, and which pumps of the stock do it, best first",
        "choose find select supply pressure flow accumulator regulator window mains arrival gauge",
        enabled=_has_supply,
        needs="Place a pump, a tank or a mains tap first, and run a tube from it.",
    ),
)
