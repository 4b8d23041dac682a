"""The ways of wires and tubes: found by the program, or kept as they are."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from msgspec.structs import replace

from ...build import Build
from ...build.edits import replace_run
from ...stock import StockEntry
from ..entries import Choice, Choices, Entry, Listed
from ..inserting import insert_here, insertable, is_supply
from ..plan.legs import corners, led_along
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow

_LED_FIRST = "Select a wire or tube that was led by hand first."
_RUN_FIRST = "Select a wire or tube first."


def _led(build: Build, ids: Iterable[str]) -> list[str]:
    return [one for one in ids if (run := build.run(one)) is not None and run.waypoints]


def _any_selected(session: Session) -> bool:
    return bool(session.selection.runs)


def _led_selected(session: Session) -> bool:
    return bool(_led(session.build, session.selection.runs))


def _any_led(session: Session) -> bool:
    return any(run.waypoints for run in session.build.runs)


def _how_many(count: int) -> str:
    return "1 wire or tube" if count == 1 else f"{count} wires and tubes"


def _automatic(session: Session, ids: list[str]) -> None:
    build = session.build
    for run_id in ids:
        run = build.run(run_id)
        if run is not None:
            build = replace_run(build, replace(run, waypoints=()))
    if not ids:
        session.tell("Every way here is found by the program already.")
        return
    session.apply(f"Route {_how_many(len(ids))} automatically", build)


def route_automatically(window: "MainWindow") -> None:
    """Let the program find the ways of the selected runs."""
    session = window.session
    _automatic(session, _led(session.build, session.selection.runs))


def route_all_automatically(window: "MainWindow") -> None:
    """Let the program find every way."""
    session = window.session
    _automatic(session, _led(session.build, [run.id for run in session.build.runs]))


def keep_ways(window: "MainWindow") -> None:
    """Turn the corners of automatic ways into bends of their own."""
    session = window.session
    build, routes = session.build, session.analysis.network.routes
    kept = 0
    for run_id in session.selection.runs:
        run = build.run(run_id)
        if run is None or run.waypoints or run_id not in routes:
            continue
        points = corners(routes[run_id])
        if len(points) > 2:
            build = led_along(build, run_id, points)
            kept += 1
    if not kept:
        session.tell("What is selected is led by hand already, straight, or has a free end.")
        return
    session.apply(f"Keep the way of {_how_many(kept)}", build)


def _tube(session: Session) -> str | None:
    """The one supply tube that is selected."""
    chosen = session.selection
    if len(chosen.runs) == 1 and not chosen.items and is_supply(session.build, chosen.runs[0]):
        return chosen.runs[0]
    return None


def _insertable(window: "MainWindow") -> tuple[Choice, ...]:
    run_id = _tube(window.session)
    if run_id is None:
        return ()
    return tuple(
        Choice(entry.name, entry, f"{word}, half way along the selected tube")
        for word, entry in insertable(window.session.build, run_id)
    )


def _insert(window: "MainWindow", entry: object) -> None:
    run_id = _tube(window.session)
    if run_id is not None and isinstance(entry, StockEntry):
        insert_here(window.session, run_id, entry)


ENTRIES: tuple[Listed, ...] = (
    Choices(
        "runs.insert",
        "&Insert in the Tube",
        _insertable,
        _insert,
        "Water",
        1,
        "Cut the selected tube half way and put something of the stock between",
        "Insert in the tube",
        "Select one water tube first",
    ),
    Entry(
        "runs.automatic",
        "Route Automati&cally",
        route_automatically,
        "Arrange",
        5,
        (),
        "Find a new way for the selected wires and tubes; bends made by hand go",
        "straighten bends way-points reroute path",
        enabled=_led_selected,
        needs=_LED_FIRST,
    ),
    Entry(
        "runs.keep",
        "&Keep This Way",
        keep_ways,
        "Arrange",
        5,
        (),
        "Hold the selected wires and tubes where they run now, whatever is moved",
        "fix route bends way-points by hand",
        enabled=_any_selected,
        needs=_RUN_FIRST,
    ),
    Entry(
        "runs.all-automatic",
        "Rout&e All Automatically",
        route_all_automatically,
        "Arrange",
        5,
        (),
        "Find a new way for every wire and tube that was led by hand",
        "straighten bends way-points reroute path everything",
        enabled=_any_led,
        needs="No wire or tube was led by hand.",
    ),
)
