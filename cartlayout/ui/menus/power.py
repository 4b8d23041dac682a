"""Power: loads rebalanced over the outlets, and what to ask a venue for."""

from typing import TYPE_CHECKING

from ...limits import profile
from ...power import room
from ...units import show
from ..entries import Choice, Choices, Entry, Listed
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


def circuits(window: "MainWindow") -> tuple[Choice, ...]:
    """Every circuit with what it has left."""
    session = window.session
    rules = profile(session.build.region)
    found = []
    for circuit in session.settled.power.circuits:
        left = show(room(circuit, rules, session.settled.power).amps, "current", session.system)
        text = f"{circuit.letter}: {circuit.name}, {left}"
        found.append(Choice(text, circuit.key, "What of the stock still goes on it"))
    return tuple(found)


def ask_room(window: "MainWindow", key: object) -> None:
    """Offer what still goes on a circuit."""
    window.circuits.ask_room(str(key))


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "power.rebalance",
        "Re&balance Loads…",
        _rebalance,
        "Power",
        shortcuts=("Ctrl+Shift+B",),
        tip="Find the best outlet for every load: nothing over, then even, then few moves",
        words="circuit breaker overload spread distribute optimise assign",
        enabled=_has_loads,
        needs="Place an appliance first.",
    ),
    Entry(
        "power.ask-venue",
        "&What to Ask the Venue For…",
        _ask_venue,
        "Power",
        tip="The fewest circuits that carry the cart, to be asked for beforehand",
        words="request circuits outlets order",
        enabled=_has_loads,
        needs="Place an appliance first.",
    ),
    Choices(
        "power.room",
        "What Can Still Be &Added",
        circuits,
        ask_room,
        "Power",
        1,
        "The room that a circuit has by each limit, and what of the stock goes on it as it is",
        verb="Add to circuit",
        empty="No circuit yet",
    ),
)
