"""The sizes a run could have, in its context menu: tried while the menu is open."""

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from ..marks import mark_icon
from ..session import Session
from .trials import AnyRun, Choice, Sizes, Trials


class SizeMenu(QMenu):
    """Previews what the mouse or the arrows point at; a click makes the exchange."""

    def __init__(self, session: Session, run: AnyRun, sizes: Sizes, parent: QWidget) -> None:
        super().__init__(sizes.step.format(name="").strip(), parent)
        self._session = session
        self._sizes = sizes
        self._run = run
        self.setToolTipsVisible(True)
        self.trials = Trials(session, sizes, self)
        self.trials.found.connect(self._found)
        self.entries: dict[str, QAction] = {}
        self.aboutToShow.connect(self._opened)
        self.aboutToHide.connect(self._closed)
        self.hovered.connect(self._pointed_at)
        self.triggered.connect(self._chosen)
        for name in self.trials.start(run):
            self.entries[name] = self.addAction(name)
        self.trials.stop()
        self.setEnabled(bool(self.entries))

    def _opened(self) -> None:
        self.trials.start(self._run)

    def _closed(self) -> None:
        self.trials.stop()
        self._session.cancel_preview()

    def _found(self, choice: Choice) -> None:
        action = self.entries[choice.name]
        numbers = self._sizes.numbers(choice, self._session.system)
        now = " (now)" if choice.is_now else ""
        action.setText(f"{choice.name}{now}\t{numbers}")
        action.setIcon(mark_icon(self._session.theme, choice.verdict))
        action.setToolTip(self._sizes.words(choice, self._session.system))

    def _named(self, action: QAction) -> str:
        return next((name for name, one in self.entries.items() if one is action), "")

    def _pointed_at(self, action: QAction) -> None:
        name = self._named(action)
        if name:
            self._session.preview(self._sizes.taken(self._session, self._run, name))

    def _chosen(self, action: QAction) -> None:
        session, name = self._session, self._named(action)
        session.cancel_preview()
        build = self._sizes.taken(session, self._run, name)
        if build is session.build:
            session.tell(f"{name} is what is there.")
        else:
            session.apply(self._sizes.step.format(name=name), build)
