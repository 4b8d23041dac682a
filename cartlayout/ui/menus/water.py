"""Water: which pump, and two taps open together."""

from typing import TYPE_CHECKING

from ...build.cases import OperatingCase
from ...build.edits import with_
from ..choosing_pump import open_choosing_pump, supply_of
from ..entries import Choice, Choices, Entry, Listed
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow


def which_pump(window: "MainWindow") -> None:
    """Find out which pumps of the stock do for the supply that is selected, or the first."""
    open_choosing_pump(window.session, window)


def _has_supply(session: Session) -> bool:
    return supply_of(session) is not None


def pairs(window: "MainWindow") -> tuple[Choice, ...]:
    """Every two taps of one line; those that take most from each other first."""
    water = window.session.settled.water
    falls = {one.case: one for one in reversed(water.together)}
    names = sorted(water.pairs, key=lambda name: -(falls[name].fall_pa if name in falls else 0.0))
    return tuple(
        Choice(name, name, "Keep it as a case of its own and look at it") for name in names
    )


def look_at_pair(window: "MainWindow", name: object) -> None:
    """Make an operating case of two taps, unless there is one, and look at it."""
    session = window.session
    taps = session.settled.water.pairs.get(str(name))
    if taps is None:
        return
    if all(case.name != name for case in session.build.cases):
        open_ = {tap[0] for tap in taps if isinstance(tap, tuple)}
        items = [item.id for item in session.build.items if item.id in open_]
        case = OperatingCase(name=str(name), taps=tuple(items))
        build = with_(session.build, cases=(*session.build.cases, case))
        session.apply(f"Add case {name}", build)
    session.set_case(str(name))


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "water.which-pump",
        "Which &Pump?",
        which_pump,
        "Water",
        0,
        ("Ctrl+Shift+P",),
        "What the supply has to give to all taps, and which pumps of the stock do it, best first",
        "choose find select supply pressure flow accumulator regulator window mains arrival gauge",
        enabled=_has_supply,
        needs="Place a pump, a tank or a mains tap first, and run a tube from it.",
    ),
    Choices(
        "water.pairs",
        "Look at &Two Taps Together",
        pairs,
        look_at_pair,
        "Water",
        1,
        "Two taps open at once, as an operating case that the plan and the boards show",
        verb="Two taps together",
        empty="No two taps on one line yet",
    ),
)
