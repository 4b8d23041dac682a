"""Power: loads rebalanced over the outlets, and what to ask a venue for."""

from typing import TYPE_CHECKING

from ..entries import Entry, Listed
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow


def _has_loads(session: Session) -> bool:
    from ..rebalance.command import has_loads

    return has_loads(session.build)


def _rebalance(window: "MainWindow") -> None:
    from ..rebalance import rebalance

    rebalance(window)


def _ask_venue(window: "MainWindow") -> None:
    from ..rebalance import ask_venue

    ask_venue(window)


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "power.rebalance",
        "Re&balance Loads...",
        _rebalance,
        "Cart",
        section=8,
        shortcuts=("Ctrl+Shift+B",),
        tip="Find the best outlet for every load: nothing over, then even, then few moves",
        words="circuit breaker overload spread distribute optimise assign",
        enabled=_has_loads,
        needs="Place an appliance first.",
    ),
    Entry(
        "power.ask-venue",
        "What to As&k the Venue For...",
        _ask_venue,
        "Cart",
        section=8,
        tip="The fewest circuits that carry the cart, to be asked for beforehand",
        words="request circuits outlets order",
        enabled=_has_loads,
        needs="Place an appliance first.",
    ),
)
