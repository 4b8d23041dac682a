"""The menus, made from the entries."""

from typing import TYPE_CHECKING

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from .actions import Actions
from .entries import Choices
from .menus import MENUS

if TYPE_CHECKING:
    from .main_window import MainWindow


class ChoicesMenu(QMenu):
    """A submenu that makes its lines when it opens."""

    def __init__(self, choices: Choices, window: "MainWindow", parent: QWidget) -> None:
        super().__init__(choices.text, parent)
        self._choices = choices
        self._window = window
        self.setToolTipsVisible(True)
        self.menuAction().setStatusTip(choices.tip)
        self.aboutToShow.connect(self.fill)
        self.triggered.connect(self._chosen)

    def page_changed(self, at_start: bool) -> None:
        """There is a build to work on, or the start page is shown."""
        self.setEnabled(self._choices.at_start or not at_start)

    def fill(self) -> None:
        """Make the lines anew."""
        self.clear()
        for choice in self._choices.list(self._window):
            action = QAction(choice.text.replace("&", "&&"), self)
            action.setData(choice.value)
            action.setToolTip(choice.tip or choice.text)
            self.addAction(action)
        if self.isEmpty():
            none = QAction(self._choices.empty, self)
            none.setEnabled(False)
            self.addAction(none)

    def _chosen(self, action: QAction) -> None:
        if action.data() is not None:
            self._choices.choose(self._window, action.data())


class Menus:
    """Fills a menu bar; what has a menu of its own can be found by its path or key."""

    def __init__(self, bar: QMenuBar, actions: Actions) -> None:
        self._bar = bar
        self._actions = actions
        self.by_path: dict[str, QMenu] = {}
        self.choices: dict[str, ChoicesMenu] = {}
        self._sections: dict[str, int] = {}
        for name in MENUS:
            self._add_menu(name)
        for listed in sorted(actions.listed, key=lambda one: one.section):
            if not listed.menu:
                continue
            menu = self._menu(listed.menu, listed.section)
            if isinstance(listed, Choices):
                made = ChoicesMenu(listed, actions.window, menu)
                self.choices[listed.key] = made
                menu.addMenu(made)
            else:
                menu.addAction(actions[listed.key])
        for name in MENUS:
            self.by_path[name].menuAction().setVisible(not self.by_path[name].isEmpty())

    def page_changed(self, at_start: bool) -> None:
        """There is a build to work on, or the start page is shown."""
        for menu in self.choices.values():
            menu.page_changed(at_start)

    def _add_menu(self, name: str) -> QMenu:
        self.by_path[name] = self._bar.addMenu(f"&{name}")
        return self.by_path[name]

    def _menu(self, path: str, section: int) -> QMenu:
        """The menu of a path, with a line in it where a new section begins."""
        head, _, rest = path.partition("/")
        menu = self.by_path[head] if head in self.by_path else self._add_menu(head)
        is_new = not rest or path not in self.by_path
        if is_new and self._sections.setdefault(head, section) != section:
            menu.addSeparator()
            self._sections[head] = section
        if not rest:
            return menu
        if path not in self.by_path:
            self.by_path[path] = menu.addMenu(rest)
        return self.by_path[path]
