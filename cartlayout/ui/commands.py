"""What the Edit menu, the plan's keys and its context menu do to the selection.

Each function makes at most one undo step. What cannot be done is said in the
status bar and changes nothing.
"""

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec

from msgspec.structs import replace
from PySide6.QtGui import QGuiApplication

from ..build import Build, arranging, edits
from ..build.edits import EditError
from ..network.copies import duplicate_joined
from ..units import Length, capitalised
from .selection import Selection
from .session import Session

P = ParamSpec("P")
IN_MID_DRAG = "Let go, or press Escape, before doing something else."


def sentence(text: str) -> str:
    """A reason as a sentence: with a capital and a full stop."""
    text = text.strip().rstrip(".")
    return f"{capitalised(text)}."


def telling(
    command: Callable[Concatenate[Session, P], None],
) -> Callable[Concatenate[Session, P], None]:
    """Say why an edit cannot be made instead of raising. In mid-drag nothing else is edited."""

    @wraps(command)
    def told(session: Session, *args: P.args, **kwargs: P.kwargs) -> None:
        if session.previewing:
            session.tell(IN_MID_DRAG)
            return
        try:
            command(session, *args, **kwargs)
        except EditError as error:
            session.cancel_preview()
            session.tell(sentence(str(error)))

    return told


def named(build: Build, verb: str, ids: tuple[str, ...]) -> str:
    """Name of an undo step: "Move Kettle", "Move 3 items"."""
    if len(ids) == 1 and (item := build.item(ids[0])) is not None:
        return f"{verb} {item.name}"
    return f"{verb} {len(ids)} items"


def offset_m(session: Session) -> float:
    """How far a copy is put from its original: one step of the grid."""
    return grid_m(session) * 2


def grid_m(session: Session) -> float:
    """One step of the grid in the person's units: 1 in or 20 mm."""
    return Length("1 in" if session.system.value == "US" else "20 mm").si


def going_along(build: Build, selection: Selection) -> tuple[str, ...]:
    """The selected items with their groups; one that was picked out of its group goes alone."""
    if selection.alone:
        return selection.items
    return edits.with_groups(build, selection.items)


@telling
def nudge(session: Session, dx_m: float, dy_m: float) -> None:
    """Move the selection by an offset; nudges in a row are one step."""
    ids = going_along(session.build, session.selection)
    if not ids:
        return
    moved = edits.move(session.build, ids, dx_m, dy_m)
    if moved is session.build:
        raise EditError("what is selected is locked")
    session.apply(
        named(session.build, "Move", session.selection.items),
        moved,
        merge_key=f"nudge {' '.join(ids)}",
    )


@telling
def rotate(session: Session, degrees: float = 90.0) -> None:
    """Turn the selected items clockwise, each about its middle; a group turns as one."""
    ids = session.selection.items
    if not ids:
        return
    turned = arranging.turn(session.build, ids, degrees, alone=session.selection.alone)
    if turned is session.build:
        raise EditError("what is selected is locked")
    session.apply(named(session.build, "Rotate", ids), turned)


@telling
def turn_to(session: Session, degrees: float) -> None:
    """Turn the selected items so that they stand at an angle, clockwise from un-turned."""
    ids = session.selection.items
    if not ids:
        return
    turned = arranging.turn_to(session.build, ids, degrees, alone=session.selection.alone)
    if turned is session.build:
        chosen = [item for item in session.build.items if item.id in ids]
        if all(item.locked for item in chosen):
            raise EditError("what is selected is locked")
        return
    session.apply(f"{named(session.build, 'Turn', ids)} to {degrees:g}°", turned)


@telling
def align(session: Session, line: arranging.Line) -> None:
    """Bring the selected items into line."""
    aligned = arranging.align(session.build, session.selection.items, line)
    if aligned is session.build:
        session.tell("They are in line already.")
        return
    session.apply(named(session.build, "Align", session.selection.items), aligned)


@telling
def distribute(session: Session, axis: arranging.Axis, spacing: arranging.Spacing) -> None:
    """Space the selected items evenly between the outermost two."""
    spaced = arranging.distribute(session.build, session.selection.items, axis, spacing)
    if spaced is session.build:
        session.tell("They are evenly spaced already.")
        return
    session.apply(named(session.build, "Space", session.selection.items), spaced)


@telling
def group(session: Session) -> None:
    """Let the selected items move and turn as one from now on."""
    chosen = session.selection.items
    build, _ = arranging.group(session.build, chosen)
    ids = edits.with_groups(build, chosen)
    session.apply(named(session.build, "Group", ids), build, select=Selection(items=ids))


@telling
def ungroup(session: Session) -> None:
    """Let the items of the selected groups go their own ways again."""
    chosen = session.selection.items
    ids = edits.with_groups(session.build, chosen)
    build = arranging.ungroup(session.build, chosen)
    session.apply(named(session.build, "Ungroup", ids), build, select=Selection(items=ids))


@telling
def delete(session: Session) -> None:
    """Take the selected items and runs away."""
    chosen = session.selection
    if not chosen:
        return
    left = edits.remove(session.build, chosen.items, chosen.runs)
    if left is session.build:
        raise EditError("what is selected is locked")
    session.apply(_delete_label(session.build, chosen), left)


def _delete_label(build: Build, chosen: Selection) -> str:
    if chosen.items:
        return named(build, "Delete", chosen.items)
    if len(chosen.runs) == 1:
        run = build.run(chosen.runs[0])
        return "Delete tube" if run is not None and run in build.tubes else "Delete wire"
    return f"Delete {len(chosen.runs)} wires and tubes"


@telling
def duplicate(session: Session) -> None:
    """Add copies of the selected items beside them."""
    ids = session.selection.items
    if not ids:
        return
    step_m = offset_m(session)
    build, new = edits.duplicate(session.build, ids, step_m, step_m)
    session.apply(named(session.build, "Duplicate", ids), build, select=Selection(items=new))


@telling
def duplicate_connected(session: Session) -> None:
    """Add copies of the selected items, joined to what the originals are joined to."""
    ids = session.selection.items
    if not ids:
        return
    step_m = offset_m(session)
    build, new, missed = duplicate_joined(session.build, ids, step_m, step_m)
    text = f"{named(session.build, 'Duplicate', ids)} with wires and tubes"
    session.apply(text, build, select=Selection(items=new))
    if missed:
        session.tell(f"No free fitting port is left on {', '.join(missed)}.")


@telling
def copy(session: Session) -> None:
    """Put the selected items on the clipboard."""
    if session.selection.items:
        text = edits.copy(session.build, session.selection.items)
        QGuiApplication.clipboard().setText(text)
        session.tell(f"{named(session.build, 'Copied', session.selection.items)}.")


@telling
def cut(session: Session) -> None:
    """Put the selected items on the clipboard and take them away."""
    ids = session.selection.items
    if not ids:
        return
    left = edits.remove(session.build, ids)
    if left is session.build:
        raise EditError("what is selected is locked")
    QGuiApplication.clipboard().setText(edits.copy(session.build, ids))
    session.apply(named(session.build, "Cut", ids), left)


@telling
def paste(session: Session, at: tuple[float, float] | None = None) -> None:
    """Add what is on the clipboard with its middle at a place in metres.

    Without a place: a step aside from where it was copied. What stood on a level
    that this cart does not have comes to the one that is worked on.
    """
    text = QGuiApplication.clipboard().text()
    if at is not None:
        build, new = edits.paste_at(session.build, text, *at, session.level)
    else:
        step_m = offset_m(session)
        build, new = edits.paste(session.build, text, step_m, step_m, session.level)
    if not new:
        raise EditError("the clipboard holds no equipment")
    session.apply(named(build, "Paste", new), build, select=Selection(items=new))


def select_all(session: Session) -> None:
    """Select every item of the level that is worked on; asked again, every item."""
    build = session.build
    here = tuple(item.id for item in build.items if item.level == session.level)
    if set(here) <= set(session.selection.items):
        here = tuple(item.id for item in build.items)
    session.select(Selection(items=here))


@telling
def to_level(session: Session, level: str) -> None:
    """Put the selected items on another level of the cart."""
    ids = tuple(
        one
        for one in edits.with_groups(session.build, session.selection.items)
        if (item := session.build.item(one)) is not None and item.level != level
    )
    if ids:
        moved = edits.set_level(session.build, ids, level)
        session.apply(f"{named(session.build, 'Put', ids)} on {level}", moved)
        session.set_level(level)


def edit_label(session: Session) -> None:
    """Put the cursor in the label of the selected item."""
    if session.selection.items:
        session.label_requested.emit(session.selection.items[0])


def edit_fields(session: Session) -> None:
    """Put the cursor in the first field of what is selected, or of the build."""
    session.fields_requested.emit(session.selection)


@telling
def toggle_lock(session: Session) -> None:
    """Lock the selected items where they stand, or unlock them if all are locked."""
    chosen = [item for item in session.build.items if item.id in session.selection.items]
    if not chosen:
        return
    lock = not all(item.locked for item in chosen)
    build = session.build
    for item in chosen:
        build = edits.replace_item(build, replace(item, locked=lock))
    verb = "Lock" if lock else "Unlock"
    session.apply(named(build, verb, tuple(item.id for item in chosen)), build)


@telling
def undo(session: Session) -> None:
    """Take the latest step back."""
    session.undo_stack.undo()


@telling
def redo(session: Session) -> None:
    """Do again what was taken back."""
    session.undo_stack.redo()
