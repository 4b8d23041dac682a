"""What stands on the cheat sheet: the menus' shortcuts, and what mouse and keys do on the plan."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from ..entries import plain
from ..menus import MENUS

if TYPE_CHECKING:
    from ..actions import Actions


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that can be done, and how."""

    what: str
    keys: tuple[str, ...] = ()
    """Any of these keys, as portable texts."""
    how: str = ""
    """What the mouse does instead, or as well."""


@dataclass(frozen=True, slots=True)
class Group:
    """Rows with a heading."""

    title: str
    rows: tuple[Row, ...]


MOUSE = Group(
    "Mouse on the plan",
    (
        Row("Select", how="click"),
        Row("Add to the selection, or take away", how="Shift or Ctrl + click"),
        Row("One out of a group", how="Alt + click"),
        Row("Select what lies in a frame", how="drag from an empty spot"),
        Row("Only what lies wholly in it", how="hold Alt"),
        Row("Move", how="drag"),
        Row("Move without snapping", how="hold Ctrl or Alt"),
        Row("Move straight", how="hold Shift"),
        Row("Turn", how="drag the knob above it"),
        Row("Turn to any angle", how="hold Shift or Alt"),
        Row("Join", how="drag from a port to another"),
        Row("Plug in elsewhere", how="drag a plug"),
        Row("Bend a wire or tube", how="double-click it, or drag it"),
        Row("Edit a label", how="double-click an item"),
        Row("Go to what lies on another level", how="double-click its ghost"),
        Row("Move the paper", how="middle button, or Space + drag"),
        Row("Nearer, further", how="wheel"),
        Row("Place equipment", how="drag from the stock"),
        Row("Balance the circuits", how="drag a load to another bar"),
        Row("Everything there is to do with it", how="right click"),
    ),
)
KEYS = Group(
    "Keys on the plan",
    (
        Row("Next thing, thing before", ("Tab", "Shift+Tab")),
        Row("Nudge by a step of the grid", ("Left", "Right", "Up", "Down")),
        Row("Nudge a little", ("Shift+Left", "Shift+Right", "Shift+Up", "Shift+Down")),
        Row("Edit its values", ("Return",)),
        Row("Edit its label", ("F2",)),
        Row("Join it to something", ("C",)),
        Row("Turn to an angle", ("T",)),
        Row("Rotate, rotate back", ("R", "Shift+R")),
        Row("Snapping on or off", ("S",)),
        Row("This level alone", ("I",)),
        Row("Level above, level below", ("PgUp", "PgDown")),
        Row("Take away", ("Del",)),
        Row("Nearer, further", ("+", "-")),
        Row("Let go of everything; break off a drag", ("Esc",)),
    ),
)
CART = Group(
    "While the cart itself is edited",
    (
        Row("Make it wider, deeper", how="drag an edge or a corner"),
        Row("One corner alone", how="Shift + drag"),
        Row("Another corner", how="double-click an edge"),
        Row("Fold a leaf", how="double-click it"),
        Row("Next part, part before", ("Tab", "Shift+Tab")),
        Row("Move a part", ("Left", "Right", "Up", "Down")),
        Row("Larger, smaller", ("Ctrl+Right", "Ctrl+Left", "Ctrl+Down", "Ctrl+Up")),
        Row("Put what is added in the middle", ("Return",)),
        Row("Back to what stands on it", ("Esc",)),
    ),
)
CART = Group(
    "While the cart itself is edited",
    (
        Row("Next part, part before", ("Tab", "Shift+Tab")),
        Row("Move a part", ("Left", "Right", "Up", "Down")),
        Row("Make it larger or smaller", ("Ctrl+Left", "Ctrl+Right", "Ctrl+Up", "Ctrl+Down")),
        Row("Edit its values; put down what is placed", ("Return",)),
        Row("Take a part away", ("Del",)),
        Row("Go back to what stands on the cart", ("Esc",)),
    ),
)
FIELDS = Group(
    "In lists and fields",
    (
        Row("From the search field to the list", ("Down",)),
        Row("Place, open, choose", ("Return",)),
        Row("Load before, load after on a circuit's bar", ("Left", "Right")),
        Row("Finding before, finding after", ("Up", "Down")),
        Row("Keep what was typed", ("Return",)),
        Row("Leave a field as it was", ("Esc",)),
    ),
)


def groups(actions: "Actions") -> tuple[Group, ...]:
    """Everything on the sheet: the menus in their order, then the plan."""
    made = []
    for menu in MENUS:
        rows = tuple(
            Row(plain(action.entry.text).rstrip("…"), action.entry.shortcuts)
            for action in actions
            if action.entry.shortcuts and action.entry.menu.partition("/")[0] == menu
        )
        if rows:
            made.append(Group(menu, rows))
    return (*made, MOUSE, KEYS, CART, FIELDS)


def key_words(row: Row) -> tuple[str, ...]:
    """The keys of a row in the platform's words, or what the mouse does."""
    native = QKeySequence.SequenceFormat.NativeText
    keys = tuple(QKeySequence(key).toString(native) for key in row.keys)
    return keys or (row.how,)


def columns(groups: tuple[Group, ...], count: int) -> tuple[tuple[Group, ...], ...]:
    """Groups dealt into columns of about the same height, in their order."""
    heights = [len(group.rows) + 2 for group in groups]
    made: list[list[Group]] = [[] for _ in range(count)]
    at, filled, left = 0, 0, sum(heights)
    for group, height in zip(groups, heights, strict=True):
        share = (left + filled) / (count - at)
        if made[at] and at < count - 1 and filled + height / 2 > share:
            at, filled = at + 1, 0
        made[at].append(group)
        filled += height
        left -= height
    return tuple(tuple(column) for column in made if column)
