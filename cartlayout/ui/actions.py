"""The actions of the menus, one made from each entry, kept up to date with the session."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QKeySequence
from shiboken6 import isValid

from ..documents.theme import Theme
from .commands import IN_MID_DRAG
from .entries import Choices, Entry, Listed, plain
from .icons import icon

if TYPE_CHECKING:
    from .main_window import MainWindow


class EntryAction(QAction):
    """What a menu, a button or a key sets off; does what its entry says."""

    def __init__(self, entry: Entry, actions: "Actions") -> None:
        super().__init__(entry.text, actions)
        self.entry = entry
        self._actions = actions
        self.setShortcuts([QKeySequence(text) for text in entry.shortcuts])
        self.setCheckable(entry.checked is not None or entry.on_now is not None)
        self.setStatusTip(entry.tip)
        self.setToolTip(self._tip())
        if entry.on_plan_only:
            # Added to the plan by the window: elsewhere the key has another meaning.
            self.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        self.triggered.connect(self._triggered)

    @property
    def key_text(self) -> str:
        """Its first shortcut in the words of the platform, or nothing."""
        return self.shortcut().toString(QKeySequence.SequenceFormat.NativeText)

    @property
    def at_start(self) -> bool:
        """Whether the start page is shown."""
        return self._actions.window.at_start

    def refresh(self) -> None:
        """Say and allow what is right now."""
        window, entry = self._actions.window, self.entry
        session = window.session
        if window.at_start and not entry.at_start:
            self.setEnabled(False)
            return
        self.setEnabled(entry.enabled is None or entry.enabled(session))
        if entry.checked is not None:
            self.setChecked(entry.checked(session))
        elif entry.on_now is not None:
            self.setChecked(entry.on_now(window))
        if entry.says is not None:
            self.setText(entry.says(session))

    def ink(self, theme: Theme) -> None:
        """Paint its icon with the theme's ink."""
        if self.entry.icon:
            self.setIcon(icon(self.entry.icon, theme))

    def _tip(self) -> str:
        words = self.entry.tip or plain(self.entry.text)
        return f"{words} ({self.key_text})" if self.key_text else words

    def _triggered(self) -> None:
        window = self._actions.window
        if window.session.previewing and not self.entry.looks_only:
            window.session.tell(IN_MID_DRAG)
        else:
            self.entry.run(window)
        self.refresh()  # a switch that was not thrown after all shows so


class Actions(QObject):
    """Every action by its key. The session decides what is enabled and checked."""

    def __init__(self, window: "MainWindow", listed: Sequence[Listed]) -> None:
        super().__init__(window)
        self.window = window
        self.listed = tuple(listed)
        entries = [one for one in listed if isinstance(one, Entry)]
        self._by_key = {entry.key: EntryAction(entry, self) for entry in entries}
        if len(self._by_key) != len(entries):
            raise ValueError("two entries of the menus have one key")
        session = window.session
        for signal in (
            session.selection_changed,
            session.build_changed,
            session.level_changed,
            session.isolated_changed,
            session.snapping_changed,
            session.editing_cart_changed,
            session.overlays_changed,
            session.case_changed,
            session.system_changed,
            session.file_changed,
        ):
            signal.connect(self.refresh)
        session.undo_stack.indexChanged.connect(self._stepped)
        self._settled = session.settled
        session.analysis_changed.connect(self._analysed)
        session.theme_changed.connect(self.ink)
        self.ink(session.theme)

    def __getitem__(self, key: str) -> EntryAction:
        return self._by_key[key]

    def __iter__(self) -> Iterator[EntryAction]:
        return iter(self._by_key.values())

    @property
    def choices(self) -> tuple[Choices, ...]:
        """The submenus whose lines are made when they open."""
        return tuple(one for one in self.listed if isinstance(one, Choices))

    def refresh(self, *_: object) -> None:
        """Let every action say and allow what is right now."""
        for action in self._by_key.values():
            action.refresh()

    def _analysed(self, _analysis: object) -> None:
        """What an action is for, such as a stop to mend, is known a little after the edit."""
        settled = self.window.session.settled
        if settled is not self._settled:
            self._settled = settled
            self.refresh()

    def _stepped(self, _index: int) -> None:
        if isValid(self.window.session.undo_stack):  # a stack that goes says so once more
            self.refresh()

    def ink(self, theme: Theme) -> None:
        """Give every icon the theme's ink."""
        for action in self._by_key.values():
            action.ink(theme)
        self.refresh()
