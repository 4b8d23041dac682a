"""The two commands: rebalance the loads, and list what to ask a venue for."""

from typing import TYPE_CHECKING

from ...build import Build, Load
from ...power.assign.request import Request, request
from .. import dialogs
from ..long_work import Watch, run_with_progress
from .dialog import RebalanceDialog
from .plan import plan
from .request_dialog import RequestDialog

if TYPE_CHECKING:
    from ..main_window import MainWindow


def has_loads(build: Build) -> bool:
    """Whether there is anything to plug in."""
    return any(isinstance(item.specification.electrical, Load) for item in build.items)


def rebalance(window: "MainWindow") -> None:
    """Propose the best assignment of loads to outlets, and make it if the person wants it."""
    session = window.session
    before = session.settled
    found = run_with_progress(window, "Rebalancing loads", lambda watch: plan(before, watch))
    if found is None:
        session.tell("Stopped; nothing was changed.")
        return
    if session.build is not before.build:
        session.tell("The build has changed meanwhile; rebalance once more.")
        return
    dialog = RebalanceDialog(found, session.theme, session.system, window)
    if not dialogs.answered(dialog) or found.after is None:
        return
    session.apply("Rebalance loads", found.after.build)
    count = len(found.moves)
    session.tell("One plug moved." if count == 1 else f"{count} plugs moved.")


def ask_venue(window: "MainWindow") -> None:
    """Show the fewest circuits that carry the cart."""
    session = window.session
    build = session.build
    found = run_with_progress(window, "Packing loads into circuits", lambda w: _requests(build, w))
    if found is None:
        session.tell("Stopped.")
        return
    dialogs.answered(RequestDialog(build, *found, window))


def _requests(build: Build, watch: Watch) -> tuple[Request, Request | None] | None:
    asked = request(build)
    if not watch(0.5):
        return None
    cases = [case.loads for case in build.cases if case.loads]
    return asked, request(build, cases) if cases else None
