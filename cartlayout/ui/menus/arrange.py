"""Putting what is selected in order: in line, evenly spaced, turned, grouped; how drags rest."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from ...build.arranging import Axis, Line, Spacing
from ...build.edits import with_groups
from .. import commands
from ..entries import Entry, Listed
from ..session import Session

if TYPE_CHECKING:
    from ..main_window import MainWindow

_ITEM_FIRST = "Select an item first."
_TWO_FIRST = "Select two or more items first."


def _some(session: Session) -> bool:
    return bool(session.selection.items)


def _several(session: Session) -> bool:
    return len(session.selection.items) > 1


def _three(session: Session) -> bool:
    return len(session.selection.items) > 2


def _grouped(session: Session) -> bool:
    build = session.build
    chosen = set(with_groups(build, session.selection.items))
    return any(item.group for item in build.items if item.id in chosen)


def turn_to(window: "MainWindow") -> None:
    """Ask for an angle and turn the selection to it."""
    window.plan.boxes.ask_angle()


def group(window: "MainWindow") -> None:
    """Group the selection."""
    commands.group(window.session)


def ungroup(window: "MainWindow") -> None:
    """Let the selected groups go."""
    commands.ungroup(window.session)


def duplicate_connected(window: "MainWindow") -> None:
    """Copy the selection with its wires and tubes."""
    commands.duplicate_connected(window.session)


def connect(window: "MainWindow") -> None:
    """Pick what to join the selected item to."""
    window.plan.boxes.ask_connection()


def rename(window: "MainWindow") -> None:
    """Put the cursor in the label of the selected item."""
    commands.edit_label(window.session)


def edit_fields(window: "MainWindow") -> None:
    """Put the cursor in the first field of what is selected."""
    commands.edit_fields(window.session)


def toggle_snapping(window: "MainWindow") -> None:
    """Switch snapping on or off."""
    window.session.set_snapping(not window.session.snapping)


def toggle_isolated(window: "MainWindow") -> None:
    """Show this level alone, or the others faintly too."""
    window.session.set_isolated(not window.session.isolated)


def _snapping(session: Session) -> bool:
    return session.snapping


def _isolated(session: Session) -> bool:
    return session.isolated


def _align(line: Line, window: "MainWindow") -> None:
    commands.align(window.session, line)


def _space(axis: Axis, spacing: Spacing, window: "MainWindow") -> None:
    commands.distribute(window.session, axis, spacing)


def _alignment(key: str, text: str, line: Line, tip: str, keys: tuple[str, ...] = ()) -> Entry:
    run: Callable[[MainWindow], object] = partial(_align, line)
    return Entry(
        f"arrange.align-{key}",
        text,
        run,
        "Arrange/&Align",
        2,
        keys,
        tip,
        "line up edge middle flush",
        enabled=_several,
        needs=_TWO_FIRST,
    )


def _spread(key: str, text: str, axis: Axis, spacing: Spacing, tip: str) -> Entry:
    return Entry(
        f"arrange.space-{key}",
        text,
        partial(_space, axis, spacing),
        "Arrange/&Space Evenly",
        2,
        (),
        tip,
        "distribute even equal spread gaps",
        enabled=_three,
        needs="Select three or more items first.",
    )


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "arrange.turn-to",
        "&Turn To…",
        turn_to,
        "Arrange",
        0,
        ("T",),
        "Turn the selected items to an angle that is typed",
        "rotate angle degrees",
        enabled=_some,
        needs=_ITEM_FIRST,
        on_plan_only=True,
    ),
    Entry(
        "arrange.group",
        "&Group",
        group,
        "Arrange",
        1,
        ("Ctrl+G",),
        "Let the selected items move and turn as one",
        "together join",
        enabled=_several,
        needs=_TWO_FIRST,
    ),
    Entry(
        "arrange.ungroup",
        "&Ungroup",
        ungroup,
        "Arrange",
        1,
        ("Ctrl+Shift+G",),
        "Let the items of the group go their own ways",
        "apart split",
        enabled=_grouped,
        needs="Select a group first.",
    ),
    _alignment("left", "&Left Edges", "left", "Bring left edges into line", ("Ctrl+Shift+Left",)),
    _alignment(
        "right", "&Right Edges", "right", "Bring right edges into line", ("Ctrl+Shift+Right",)
    ),
    _alignment("rear", "R&ear Edges", "rear", "Bring rear edges into line", ("Ctrl+Shift+Up",)),
    _alignment(
        "front", "&Front Edges", "front", "Bring front edges into line", ("Ctrl+Shift+Down",)
    ),
    _alignment(
        "across", "Middles, Lef&t to Right", "middle across", "Put middles one behind the other"
    ),
    _alignment(
        "along", "&Middles, Rear to Front", "middle along", "Put middles one beside the other"
    ),
    _spread(
        "gaps-across", "&Gaps, Left to Right", "across", "gaps", "Make the gaps in a row equal"
    ),
    _spread(
        "gaps-along", "Gaps, &Rear to Front", "along", "gaps", "Make the gaps in a column equal"
    ),
    _spread(
        "middles-across",
        "&Middles, Left to Right",
        "across",
        "centres",
        "Put middles at equal distances in a row",
    ),
    _spread(
        "middles-along",
        "Middles, Rear to &Front",
        "along",
        "centres",
        "Put middles at equal distances in a column",
    ),
    Entry(
        "arrange.snapping",
        "S&nap to Grid and Neighbours",
        toggle_snapping,
        "Arrange",
        3,
        ("S",),
        "Let drags come to rest on the grid and in line; hold Alt to drag freely",
        "magnet guides align off on",
        checked=_snapping,
        on_plan_only=True,
        looks_only=True,
    ),
    Entry(
        "edit.duplicate-connected",
        "Duplicate with Wires and Tu&bes",
        duplicate_connected,
        "Edit",
        1,
        ("Ctrl+Shift+D",),
        "Add a copy, joined to what the original is joined to",
        "copy connected",
        enabled=_some,
        needs=_ITEM_FIRST,
    ),
    Entry(
        "edit.connect",
        "C&onnect…",
        connect,
        "Edit",
        3,
        ("C",),
        "Join a port of the selected item to one that fits, with the keyboard",
        "plug wire tube hose drain join run",
        enabled=_some,
        needs=_ITEM_FIRST,
        on_plan_only=True,
    ),
    Entry(
        "edit.label",
        "Edit &Label",
        rename,
        "Edit",
        3,
        ("F2",),
        "Put the cursor in the label of the selected item",
        "rename name call",
        enabled=_some,
        needs=_ITEM_FIRST,
    ),
    Entry(
        "edit.fields",
        "&Edit Details",
        edit_fields,
        "Edit",
        3,
        ("Return", "Enter"),
        "Put the cursor in the first field of what is selected",
        "properties values numbers type",
        on_plan_only=True,
        looks_only=True,
    ),
    Entry(
        "view.isolate",
        "Onl&y This Level",
        toggle_isolated,
        "View",
        1,
        ("I",),
        "Draw only the level that is worked on, and nothing of the others",
        "isolate hide ghosts layer alone",
        checked=_isolated,
        on_plan_only=True,
        looks_only=True,
    ),
)
