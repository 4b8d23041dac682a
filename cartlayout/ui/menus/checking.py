"""What should be checked first."""

from typing import TYPE_CHECKING

from ..entries import Entry, Listed
from ..sensitivity import open_sensitivity
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow


def what_to_check(window: "MainWindow") -> None:
    """Find the figures that nobody has checked and that would change a verdict."""
    open_sensitivity(window.session, window)


def _has_items(session: Session) -> bool:
    return bool(session.build.items)


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "cart.what-to-check",
        "What to Chec&k First",
        what_to_check,
        "Cart",
        9,
        tip="Which figures that nobody has checked would change a verdict, and from where on",
        words="unknown typical assumed sensitivity threshold nameplate measure uncertain verify",
        enabled=_has_items,
        needs="Place some equipment first.",
    ),
)
