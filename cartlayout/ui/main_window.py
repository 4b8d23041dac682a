"""The window: plan in the middle, stock left, details right, three boards below."""

from pathlib import Path

from PySide6.QtCore import QByteArray, QSize, Qt, QTimer
from PySide6.QtGui import (
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
)
from PySide6.QtWidgets import (
    QLabel,
    QMainWindow,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from ..analysis import Analysis
from ..documents.caution import CAUTION
from ..units import UnitSystem, counted, show
from . import settings
from .actions import Actions
from .boards.circuits import CircuitsBoard
from .boards.findings import FindingsBoard
from .boards.taps import TapsBoard
from .colours import Colours
from .command_box import CommandBox
from .details.panel import DetailsPanel
from .files import Files
from .menu_bar import Menus
from .menus import subjects
from .plan.view import PlanView
from .session import Session
from .stock_panel import StockPanel
from .toolbar import ToolRow

_LAYOUT = 1
"""Raised when remembered sizes no longer fit the window's make-up."""
_TOLD_MS = 8000
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

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        session.setParent(self)
        self.setMinimumSize(QSize(1200, 680))
        self.setAcceptDrops(True)
        self.files = Files(session, self)
        self.colours = Colours(session, self)
        self.plan = PlanView(session)
        self.stock = StockPanel(session)
        self.details = DetailsPanel(session)
        self.circuits = CircuitsBoard(session)
        self.taps = TapsBoard(session)
        self.findings = FindingsBoard(session)
        self.actions_ = Actions(self, subjects())
        self.command_box = CommandBox(self)
        self._make_layout()
        self._make_menus()
        self._make_toolbar()
        self._make_status()
        self._connect()
        self._restore()
        self._title()
        self._analysis_changed(session.analysis)
        self.plan.setFocus()

    # Making

    def _make_layout(self) -> None:
        self.middle = QSplitter(Qt.Orientation.Horizontal)
        self.boards = QSplitter(Qt.Orientation.Horizontal)
        self.whole = QSplitter(Qt.Orientation.Vertical)
        for part in (self.stock, self.plan, self.details):
            self.middle.addWidget(part)
        for board in (self.circuits, self.taps, self.findings):
            self.boards.addWidget(board)
        self.whole.addWidget(self.middle)
        self.whole.addWidget(self.boards)
        for splitter in (self.middle, self.boards, self.whole):
            splitter.setChildrenCollapsible(False)
            splitter.setHandleWidth(1)
        self.stock.setMinimumWidth(170)
        self.details.setMinimumWidth(260)
        self.boards.setMinimumHeight(150)
        for at, stretch in enumerate((0, 1, 0)):
            self.middle.setStretchFactor(at, stretch)
        for at in range(3):
            self.boards.setStretchFactor(at, 1)
        self.whole.setStretchFactor(0, 1)
        self.whole.setStretchFactor(1, 0)
        central = QWidget()
        column = QVBoxLayout(central)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.whole)
        self.setCentralWidget(central)
        self._usual_sizes()

    def _usual_sizes(self) -> None:
        self.middle.setSizes([216, 744, 320])
        self.boards.setSizes([440, 400, 440])
        boards = max(236, min(self.height() * 27 // 100, 360))
        self.whole.setSizes([max(self.height() - boards - 110, 300), boards])

    def _make_menus(self) -> None:
        self.menus = Menus(self.menuBar(), self.actions_)
        self.plan.addActions([one for one in self.actions_ if one.entry.on_plan_only])

    def _make_toolbar(self) -> None:
        shown = tuple(self.actions_[key] if key else None for key in _TOOLS)
        self.tools = ToolRow(self.session, shown, self)
        self.addToolBar(self.tools)

    def _make_status(self) -> None:
        self.counts = QLabel()
        self.counts.setAccessibleName("State of the build")
        self.caution = QLabel(CAUTION)
        self.caution.setToolTip(
            "Electricity and water can hurt people. Nothing here is an approval; "
            "check every figure against nameplates and makers' sheets."
        )
        bar = self.statusBar()
        bar.setSizeGripEnabled(False)
        bar.addWidget(self.counts, 1)
        bar.addPermanentWidget(self.caution)
        self._told = QTimer(self)
        self._told.setSingleShot(True)
        self._told.setInterval(_TOLD_MS)
        self._told.timeout.connect(self._untell)

    def _connect(self) -> None:
        session = self.session
        session.analysis_changed.connect(self._analysis_changed)
        session.system_changed.connect(self._system_changed)
        session.file_changed.connect(self._title)
        self.colours.changed.connect(self.actions_.refresh)
        session.told.connect(self._tell)
        session.document_changed.connect(self._title)
        self.stock.place_requested.connect(self.plan.place_stock)
        self._system_changed(session.system)

    # Remembering

    def _restore(self) -> None:
        stored = settings.settings()
        if settings.text("layout") != str(_LAYOUT):
            self.resize(self._first_size())
            self._usual_sizes()
            return
        for name, part in self._remembered():
            state = stored.value(name)
            if isinstance(state, QByteArray):
                part.restoreState(state)
        geometry = stored.value("geometry")
        if not (isinstance(geometry, QByteArray) and self.restoreGeometry(geometry)):
            self.resize(self._first_size())

    def _remembered(self) -> tuple[tuple[str, QSplitter], ...]:
        return (("middle", self.middle), ("boards", self.boards), ("whole", self.whole))

    def _first_size(self) -> QSize:
        screen = QGuiApplication.primaryScreen()
        room = screen.availableSize() if screen is not None else QSize(1280, 800)
        return QSize(min(1440, room.width()), min(900, room.height()))

    def _remember(self) -> None:
        settings.remember("layout", str(_LAYOUT))
        settings.remember("geometry", self.saveGeometry())
        for name, part in self._remembered():
            settings.remember(name, part.saveState())

    # What the menus do

    def show_panel(self, name: str, on: bool = True) -> None:
        """Bring a panel into sight, or hide it: "stock", "details"."""
        {"stock": self.stock, "details": self.details}[name].setVisible(on)
        self.actions_.refresh()

    def panel_shown(self, name: str) -> bool:
        """Whether a panel is in sight."""
        return not {"stock": self.stock, "details": self.details}[name].isHidden()

    def usual_arrangement(self) -> None:
        """Put every part back in its place."""
        self.show_panel("stock")
        self.show_panel("details")
        self._usual_sizes()

    # What the session says

    def _system_changed(self, _system: UnitSystem) -> None:
        self._analysis_changed(self.session.analysis)

    def _title(self, *_: object) -> None:
        self.setWindowTitle(f"{self.files.name}[*] - cartlayout")
        self.setWindowModified(self.session.dirty)
        path = self.session.path
        self.setWindowFilePath(str(path) if path is not None else "")
        self.setWindowTitle(f"{self.files.name}[*] - cartlayout")

    def _analysis_changed(self, analysis: Analysis) -> None:
        if not self._told.isActive():
            self.counts.setText(state_line(analysis, self.session.power_case, self.session.system))

    def _tell(self, sentence: str) -> None:
        self.counts.setText(sentence)
        self._told.start()

    def _untell(self) -> None:
        self._told.stop()
        self._analysis_changed(self.session.analysis)

    # Files dropped on the window

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
        self._told.stop()
        self._remember()
        super().closeEvent(event)


def _cart_file(event: QDropEvent) -> Path | None:
    paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
    return next((path for path in paths if path.suffix.lower() == ".cart"), None)


def state_line(analysis: Analysis, power_case: str, system: UnitSystem) -> str:
    """The build in one line: circuits, amps, taps, highest static pressure, time to solve."""
    power, water = analysis.power, analysis.water
    amps = sum(
        circuit.amps.get(power_case, 0.0) for circuit in power.circuits if circuit.parent is None
    )
    parts = [
        counted(len(power.circuits), "circuit"),
        show(amps, "current", system),
        counted(len(water.taps), "tap"),
    ]
    fed = [tap.static_pa for tap in water.taps if tap.fed]
    if fed:
        parts.append(f"{show(max(fed), 'pressure', system)} static")
    parts.append(f"solved in {max(1, round(analysis.seconds * 1000))} ms")
    return " · ".join(parts)
