"""One step of the undo stack, and the states of the build that lie before it."""

from typing import TYPE_CHECKING

from PySide6.QtGui import QUndoCommand, QUndoStack

from ..build import Build

if TYPE_CHECKING:
    from .session import Session

_MERGING = 1


class Change(QUndoCommand):
    """One undo step: the build before and the build after."""

    def __init__(
        self,
        session: "Session",
        label: str,
        before: Build,
        after: Build,
        merge_key: str,
    ) -> None:
        super().__init__(label)
        self._session = session
        self.before = before
        self.after = after
        self._merge_key = merge_key

    def redo(self) -> None:
        self._session._show(self.after)

    def undo(self) -> None:
        self._session._show(self.before)

    def id(self) -> int:
        return _MERGING if self._merge_key else -1

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, Change) or other._merge_key != self._merge_key:
            return False
        self.after = other.after
        return True


def state_at(stack: QUndoStack, index: int) -> Build | None:
    """The build after so many steps of the stack were done; None: there are not so many."""
    if 0 <= index < stack.count():
        step = stack.command(index)
        return step.before if isinstance(step, Change) else None
    if index == stack.count() > 0:
        step = stack.command(index - 1)
        return step.after if isinstance(step, Change) else None
    return None
