"""Taking a set of equipment out of the cart in one lift, and mounting it again."""

from ..build.edits import EditError, with_groups
from ..build.groups import crossing_tubes, lift_outs
from ..stock.modules import chosen_set, lift_out, mount
from ..stock.trays import is_tray
from ..units import counted, show
from .commands import sentence
from .selection import Selection
from .session import Session


def make_module(session: Session) -> None:
    """Make what is selected a module that lifts out: one step; the status bar says what it has."""
    build = session.build
    try:
        after, group = lift_out(build, session.selection.items)
    except EditError as error:
        session.tell(sentence(str(error)))
        return
    items = tuple(item for item in after.items if item.group == group)
    ids = tuple(item.id for item in items)
    name = next((item.name for item in items if is_tray(item)), items[0].name)
    session.apply(f"Make {name} lift out", after, select=Selection(items=ids))
    mass = show(sum(item.specification.mass.si for item in items), "mass", session.system)
    joints = counted(len(crossing_tubes(after, ids)), "tube")
    session.tell(f"{name}: {len(items)} parts, {mass} empty; {joints} can be parted by hand.")


def mount_module(session: Session) -> None:
    """Mount the selected module in the cart again: one step."""
    build = session.build
    try:
        after = mount(build, session.selection.items)
    except EditError as error:
        session.tell(sentence(str(error)))
        return
    chosen = set(with_groups(build, session.selection.items))
    items = [item for item in build.items if item.id in chosen]
    left = tuple(item.id for item in items if after.item(item.id) is not None)
    name = next((item.name for item in items if is_tray(item)), items[0].name)
    session.apply(f"Mount {name} in the cart", after, select=Selection(items=left))


def can_be_module(session: Session) -> bool:
    """Whether the selection is, or stands for, a set that could lift out."""
    try:
        chosen_set(session.build, session.selection.items)
    except EditError:
        return False
    return True


def is_module(session: Session) -> bool:
    """Whether part of a lift-out module is selected."""
    chosen = set(session.selection.items)
    return any(item.id in chosen for items in lift_outs(session.build).values() for item in items)
