"""Every action of the menus, made once, with its shortcut."""

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from ..documents.theme import THEMES, Theme
from ..units import UnitSystem
from . import commands
from .icons import icon
from .selection import NOTHING, Selection
from .session import Session

Key = QKeySequence.StandardKey


class Actions(QObject):
    """The actions that work on the session; the window adds those that need the window."""

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(window)
        self._session = session
        self._icons: list[tuple[QAction, str]] = []

        self.undo = session.undo_stack.createUndoAction(self, "Undo")
        self.redo = session.undo_stack.createRedoAction(self, "Redo")
        # The stack's own actions know their texts; what they do goes through the commands,
        # which leave the build alone in mid-drag.
        for action, slot in ((self.undo, self._undo), (self.redo, self._redo)):
            action.triggered.disconnect()
            action.triggered.connect(slot)
        self.undo.setShortcuts(QKeySequence.keyBindings(Key.Undo))
        self.redo.setShortcuts([QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")])
        self._inked(self.undo, "undo")
        self._inked(self.redo, "redo")

        self.cut = self.make("Cu&t", Key.Cut, self._cut, "Put the selection on the clipboard")
        self.copy = self.make("&Copy", Key.Copy, self._copy, "Copy the selected items")
        self.paste = self.make("&Paste", Key.Paste, self._paste, "Add what was copied")
        self.duplicate = self.make(
            "D&uplicate", "Ctrl+D", self._duplicate, "Add a copy of the selected items beside them"
        )
        self.delete = self.make(
            "&Delete", Key.Delete, self._delete, "Take the selected items, wires and tubes away"
        )
        self.select_all = self.make(
            "Select &All", Key.SelectAll, self._select_all, "Select all items of this level"
        )
        self.rotate = self.make("&Rotate", "R", self._rotate, "Turn the selected items clockwise")
        self.rotate_back = self.make(
            "Rotate &Back", "Shift+R", self._rotate_back, "Turn the selected items back"
        )
        self.lock = self.make(
            "&Lock", "Ctrl+L", self._lock, "Keep the selected items where they stand"
        )
        for action in (self.rotate, self.rotate_back, self.delete):
            # Shown in the menu; the plan itself answers to these keys, because they are
            # letters, or mean something else in a text field or in mid-drag.
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        self._inked(self.rotate, "rotate")
        session.selection_changed.connect(self._selection_changed)
        session.build_changed.connect(self._build_changed)
        session.theme_changed.connect(self.ink)
        self._selection_changed(NOTHING)
        self.ink(session.theme)

    def make(
        self,
        text: str,
        shortcut: "QKeySequence.StandardKey | str | None",
        slot: object,
        tip: str,
        icon_name: str = "",
        checkable: bool = False,
    ) -> QAction:
        """An action; slot is a bound method of a QObject."""
        action = QAction(text, self)
        if shortcut is not None:
            action.setShortcut(QKeySequence(shortcut))
        action.setCheckable(checkable)
        action.setStatusTip(tip)
        action.setToolTip(_with_key(tip, action))
        if checkable:
            action.toggled.connect(slot)
        else:
            action.triggered.connect(slot)
        if icon_name:
            self._inked(action, icon_name)
            action.setIcon(icon(icon_name, self._session.theme))
        return action

    def ink(self, theme: Theme) -> None:
        """Give every icon the theme's ink."""
        for action, name in self._icons:
            action.setIcon(icon(name, theme))

    def _inked(self, action: QAction, name: str) -> None:
        self._icons.append((action, name))

    def _selection_changed(self, selection: Selection) -> None:
        some = bool(selection.items)
        for action in (
            self.cut,
            self.copy,
            self.duplicate,
            self.rotate,
            self.rotate_back,
            self.lock,
        ):
            action.setEnabled(some)
        self.delete.setEnabled(bool(selection))
        self._build_changed(self._session.build)

    def _build_changed(self, _build: object) -> None:
        chosen = [
            item for item in self._session.build.items if item.id in self._session.selection.items
        ]
        locked = bool(chosen) and all(item.locked for item in chosen)
        self.lock.setText("Un&lock" if locked else "&Lock")

    def _undo(self) -> None:
        commands.undo(self._session)

    def _redo(self) -> None:
        commands.redo(self._session)

    def _cut(self) -> None:
        commands.cut(self._session)

    def _copy(self) -> None:
        commands.copy(self._session)

    def _paste(self) -> None:
        commands.paste(self._session)

    def _duplicate(self) -> None:
        commands.duplicate(self._session)

    def _delete(self) -> None:
        commands.delete(self._session)

    def _select_all(self) -> None:
        commands.select_all(self._session)

    def _rotate(self) -> None:
        commands.rotate(self._session, 90.0)

    def _rotate_back(self) -> None:
        commands.rotate(self._session, -90.0)

    def _lock(self) -> None:
        commands.toggle_lock(self._session)

    def us_units(self) -> None:
        """Show US units."""
        self._session.set_system(UnitSystem.US)

    def metric_units(self) -> None:
        """Show metric units."""
        self._session.set_system(UnitSystem.METRIC)

    def light(self) -> None:
        """Use the light colours."""
        self._session.set_theme(THEMES["light"])

    def dark(self) -> None:
        """Use the dark colours."""
        self._session.set_theme(THEMES["dark"])


def _with_key(tip: str, action: QAction) -> str:
    key = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
    return f"{tip} ({key})" if key else tip
