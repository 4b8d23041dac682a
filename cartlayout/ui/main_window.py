"""The window: plan in the middle, stock left, details right, three boards below."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QSize, Signal
from PySide6.QtGui import (
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QLabel, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from ..analysis import Analysis
from . import settings
from .actions import Actions
from .boards.circuits import CircuitsBoard
from .boards.findings import FindingsBoard
from .boards.taps import TapsBoard
from .colours import Colours
from .command_box import CommandBox
from .details.panel import DetailsPanel
from .files import Files
from .guide import Guide
from .items_list import ItemsList
from .menu_bar import Menus
from .menus import subjects
from .panels import Arrangement
from .panels.left import LeftPanel
from .panels.walking import walk
from .plan.view import PlanView
from .remedies import Remedies
from .remembered import Remembered
from .session import Session
from .status import StatusLine, state_line, verdict
from .stock_panel import StockPanel
from .toolbar import ToolRow
from .workings import Workings

if TYPE_CHECKING:
    from .start import StartPage

__all__ = ["MainWindow", "state_line"]

_LEAST = QSize(400, 240)
"""At three times the usual size of everything, a screen of 1280 by 800 has 426 by 266 of these."""
_TOOLS = (
    "file.new",
    "file.open",
    "file.save",
    "",
    "edit.undo",
    "edit.redo",
    "",
    "edit.rotate",
    "view.fit",
    "file.export",
    "help.commands",
)
"""Actions in the row under the menus; an empty one is a line."""


class MainWindow(QMainWindow):
    """Everything that is seen of one session."""

    exported = Signal(object)
    """Path of a plan that was written."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        session.setParent(self)
        self.setMinimumSize(_LEAST)
        self.setAcceptDrops(True)
        self.files = Files(session, self)
        self.colours = Colours(session, self)
        self.remembered = Remembered(session, self)
        self.plan = PlanView(session)
        self.stock = StockPanel(session)
        self.items = ItemsList(session)
        self.details = DetailsPanel(session)
        self.circuits = CircuitsBoard(session)
        self.taps = TapsBoard(session)
        self.findings = FindingsBoard(session)
        self.start: StartPage | None = None
        self._make_layout()
        self.actions_ = Actions(self, subjects())
        self.command_box = CommandBox(self)
        self._make_fold_buttons()
        self._make_menus()
        self._make_toolbar()
        self._make_status()
        self.guide = Guide(self)
        self.remedies = Remedies(self)
        self.workings = Workings(self)
        self._connect()
        self._restore()
        self._title()
        self.plan.setFocus()

    # Making

    def _make_layout(self) -> None:
        self.plan.setMinimumSize(120, 70)
        self.left = LeftPanel({"Stock": self.stock, "Items": self.items})
        self.arrangement = Arrangement(
            {
                "stock": self.left,
                "details": self.details,
                "circuits": self.circuits,
                "taps": self.taps,
                "findings": self.findings,
            },
            self.plan,
            self,
        )
        central = QWidget()
        column = QVBoxLayout(central)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.arrangement.whole)
        self._pages = QStackedWidget()
        self._pages.addWidget(central)
        self.setCentralWidget(self._pages)

    def _make_fold_buttons(self) -> None:
        folds = self.arrangement.folds
        for name, head in (
            ("stock", self.left.head),
            ("details", self.details.head),
            ("circuits", self.circuits.head),
            ("taps", self.taps.head),
            ("findings", self.findings.head),
        ):
            head.addWidget(folds[name].make_button(self.actions_[f"view.{name}"].key_text))
        key = self.actions_["view.boards"].key_text
        folds["boards"].edge.setToolTip(f"Show the boards ({key})")

    def _make_menus(self) -> None:
        self.menus = Menus(self.menuBar(), self.actions_)
        self.plan.addActions([one for one in self.actions_ if one.entry.on_plan_only])

    def _make_toolbar(self) -> None:
        shown = tuple(self.actions_[key] if key else None for key in _TOOLS)
        self.tools = ToolRow(self.session, shown, self)
        self.addToolBar(self.tools)

    def _make_status(self) -> None:
        self.status = StatusLine(self.session)
        self.setStatusBar(self.status)

    def _connect(self) -> None:
        session = self.session
        session.file_changed.connect(self._title)
        session.document_changed.connect(self._title)
        session.document_changed.connect(self.leave_start)
        session.analysis_changed.connect(self._verdict_changed)
        self._verdict_changed(session.analysis)
        self.colours.changed.connect(self.actions_.refresh)
        self.arrangement.changed.connect(self.actions_.refresh)
        self.stock.place_requested.connect(self.plan.place_stock)

    # Parts

    @property
    def counts(self) -> QLabel:
        """The sentence at the foot: the state of the build, or what is told."""
        return self.status.counts

    @property
    def caution(self) -> QLabel:
        """The caution at the foot."""
        return self.status.caution

    def show_panel(self, name: str, on: bool = True) -> None:
        """Bring a part into sight, or hide it; names are those of `panels.PANELS`."""
        self.arrangement.show_part(name, on)

    def show_page(self, name: str) -> None:
        """Bring a page of the left panel into sight: "Stock", "Items"."""
        self.arrangement.show_part("stock")
        self.left.show_page(name)

    def panel_shown(self, name: str) -> bool:
        """Whether a part is in sight."""
        return self.arrangement.shows(name)

    def walk_parts(self, way: int) -> None:
        """Give the keyboard to the next part that is open, or the one before."""
        boards = (self.circuits, self.taps, self.findings)
        walk((self.left, self.plan, self.details, *boards), self.focusWidget(), way)

    # The start page

    @property
    def at_start(self) -> bool:
        """Whether the start page is seen instead of a build."""
        return self.start is not None and self._pages.currentWidget() is self.start

    def show_start(self) -> None:
        """Show the start page over the build that is open."""
        from .start import StartPage  # late: opening a file does not need it

        if self.start is None:
            self.start = StartPage(self)
            self._pages.addWidget(self.start)
        session = self.session
        is_worth_it = session.path is not None or session.build.items or session.dirty
        self.start.fill(self.files.name if is_worth_it else "")
        self._pages.setCurrentWidget(self.start)
        self._page_changed()
        self.start.form.name.setFocus()

    def leave_start(self, *_: object) -> None:
        """Show the build."""
        if self.at_start:
            self._pages.setCurrentIndex(0)
            self._page_changed()
            if self.isVisible():
                self.arrangement.shown_first()
                self.arrangement.fit()
            self.plan.setFocus()

    def _page_changed(self) -> None:
        self.tools.setVisible(not self.at_start)
        self.status.say_state(not self.at_start)
        self.actions_.refresh()
        self.menus.page_changed(self.at_start)
        self._title()

    # Remembering

    def _restore(self) -> None:
        self.left.show_page(settings.text("left-page"))
        geometry = settings.settings().value("geometry")
        if not (isinstance(geometry, QByteArray) and self.restoreGeometry(geometry)):
            self.resize(self._first_size())

    def _first_size(self) -> QSize:
        screen = QGuiApplication.primaryScreen()
        room = screen.availableSize() if screen is not None else QSize(1280, 800)
        return QSize(min(1440, room.width()), min(900, room.height()))

    def _remember(self) -> None:
        settings.remember("geometry", self.saveGeometry())
        settings.remember("left-page", self.left.page)
        self.arrangement.remember()

    # What the session says

    def _verdict_changed(self, analysis: Analysis) -> None:
        """What is wrong is said even where the findings are hidden."""
        note = verdict(analysis)
        for name in ("findings", "boards"):
            self.arrangement.folds[name].edge.set_note(note)

    def _title(self, *_: object) -> None:
        if self.at_start:
            self.setWindowTitle("cartlayout")
            return
        self.setWindowTitle(f"{self.files.name}[*] - cartlayout")
        self.setWindowModified(self.session.dirty)
        path = self.session.path
        self.setWindowFilePath(str(path) if path is not None else "")
        self.setWindowTitle(f"{self.files.name}[*] - cartlayout")

    # Size, and files dropped on the window

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if not self.at_start:
            self.arrangement.shown_first()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.isVisible() and not self.at_start:
            self.arrangement.fit()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if _cart_file(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        path = _cart_file(event)
        if path is not None:
            event.acceptProposedAction()
            self.files.open_path(path)

    def closeEvent(self, event: QCloseEvent) -> None:
        if not self.files.may_leave():
            event.ignore()
            return
        self.status.told.stop()
        self.guide.leave()
        self.session.end()
        self._remember()
        super().closeEvent(event)


def _cart_file(event: QDropEvent) -> Path | None:
    paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
    return next((path for path in paths if path.suffix.lower() == ".cart"), None)
