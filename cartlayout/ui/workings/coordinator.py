"""Opens the panel on a number, keeps the way back, and follows the build."""

import weakref
from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, Qt
from PySide6.QtWidgets import QMenu, QWidget

from ...analysis import Analysis
from ...findings.number import Number
from ...workings.find import working
from ...workings.headlines import headlines, numbers_of
from ...workings.model import Working
from ...workings.shown import text, told_result
from .asking import numbers_at
from .panel import WorkingPanel, to_clipboard
from .rows import working_rows

if TYPE_CHECKING:
    from ..main_window import MainWindow

_NOTHING = (
    "Put the keyboard on a number first: a row of a board, a line of Details, a finding; or "
    "select something on the plan"
)
_GONE = "This number is not there any more. It comes back if the step is undone."


class Workings(QObject):
    """One working at a time; only the one that is open is worked out, from the newest analysis."""

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window = window
        self._session = window.session
        self._way: list[Number] = []
        """The workings that were opened one from another, the one that is seen last."""
        self._focus: weakref.ref[QWidget] | None = None
        self.panel = WorkingPanel(window)
        self.panel.back_asked.connect(self.back)
        self.panel.copy_asked.connect(self.copy)
        self.panel.closed.connect(self._closed)
        self.panel.asked.connect(self._deeper)
        session = self._session
        session.working_requested.connect(self.ask)
        session.analysis_changed.connect(self._follow)
        session.system_changed.connect(self._refresh)
        session.theme_changed.connect(self._refresh)
        session.document_changed.connect(self._document_changed)

    @property
    def number(self) -> Number | None:
        """What is seen, or None."""
        return self._way[-1] if self._way and self.panel.isVisible() else None

    @property
    def shown(self) -> Working | None:
        """The working that is seen, worked out from the newest analysis."""
        number = self.number
        return working(self._session.analysis, number) if number is not None else None

    # Opening

    def ask(self, asked: object) -> None:
        """Open on a number, or let one of several be chosen."""
        numbers = (asked,) if isinstance(asked, Number) else tuple(asked)  # type: ignore[arg-type]
        known = self._known(numbers)
        if not known:
            self._session.tell("There is no working of this number")
        elif len(known) == 1:
            self.open(known[0][0])
        else:
            self._let_choose(known)

    def open(self, number: Number) -> None:
        """Open on one number; what was seen before is left behind."""
        focus = self._window.focusWidget()
        if focus is not None and not self.panel.isAncestorOf(focus) and focus is not self.panel:
            self._focus = weakref.ref(focus)
        self._way = [number]
        self._show_anew()

    def ask_focused(self) -> None:
        """Open on the number that has the keyboard, or on one of what is selected."""
        numbers = numbers_at(self._window.focusWidget())
        if not numbers:
            selection = self._session.selection
            analysis = self._session.analysis
            numbers = tuple(
                number
                for one in (*selection.items, *selection.runs)
                for number in numbers_of(analysis, one, self._cases())
            )
        if numbers:
            self.ask(numbers)
        else:
            self._session.tell(_NOTHING)

    def _cases(self) -> tuple[str, ...]:
        return (self._session.power_case, self._session.water_case)

    def choices(self) -> tuple[tuple[Number, Working], ...]:
        """The numbers that a build is judged by, with their workings."""
        session = self._session
        numbers = headlines(session.analysis, session.power_case, session.water_case)
        return self._known(numbers)

    def _known(self, numbers: Sequence[Number]) -> tuple[tuple[Number, Working], ...]:
        analysis = self._session.analysis
        found = []
        for number in dict.fromkeys(numbers):
            one = working(analysis, number)
            if one is not None:
                found.append((number, one))
        return tuple(found)

    def _let_choose(self, known: tuple[tuple[Number, Working], ...]) -> None:
        menu = QMenu(self._window)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        system = self._session.system
        for number, one in known:
            words = f"{one.title.shown(system)}: {told_result(one).shown(system)}"
            menu.addAction(words.replace("&", "&&")).setData(number)
        menu.triggered.connect(lambda action: self.open(action.data()))
        at = self._window.focusWidget() or self._window
        menu.popup(at.mapToGlobal(QPoint(at.width() // 3, min(at.height(), 40))))

    # Deeper and back

    def _deeper(self, number: Number) -> None:
        self._way.append(number)
        self._show_anew()

    def back(self) -> None:
        """To the working that this one was opened from."""
        if len(self._way) > 1:
            self._way.pop()
            self._show_anew()

    def copy(self) -> None:
        """The whole working as text."""
        one = self.shown
        if one is not None:
            to_clipboard(text(one, self._session.system))
            self._session.tell("The working is copied as text")

    def _closed(self) -> None:
        self._way = []
        focus = self._focus() if self._focus is not None else None
        if focus is not None and focus.isVisible():
            focus.setFocus(Qt.FocusReason.PopupFocusReason)
        else:
            self._window.plan.setFocus(Qt.FocusReason.PopupFocusReason)

    # Following the build

    def _show_anew(self) -> None:
        self.panel.view.forget()
        self._refresh()
        self.panel.open_panel()
        self.panel.area.verticalScrollBar().setValue(0)
        self.panel.fit()

    def _follow(self, analysis: Analysis) -> None:
        if self.panel.isVisible() and analysis.whole:
            self._refresh()

    def _refresh(self, *_: object) -> None:
        if not self._way:
            return
        session = self._session
        one = working(session.analysis, self._way[-1])
        if one is None:
            self.panel.show_gone(_GONE)
            return
        self.panel.show_rows(working_rows(one, session.system), session.theme)
        before = working(session.analysis, self._way[-2]) if len(self._way) > 1 else None
        self.panel.show_back(before.title.shown(session.system) if before is not None else "")

    def _document_changed(self, *_: object) -> None:
        self.panel.close_panel()
