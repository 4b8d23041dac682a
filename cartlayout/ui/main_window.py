"""The window: plan in the middle, stock left, details right, three boards below."""

from pathlib import Path

from PySide6.QtCore import QByteArray, QSize, Qt, QTimer
from PySide6.QtGui import (
    QAction,
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QKeySequence,
)
from PySide6.QtWidgets import (
    QApplication,
    QLabel,
    QMainWindow,
    QMenu,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from ..analysis import Analysis
from ..data import sample_builds
from ..documents.caution import CAUTION
from ..documents.theme import DARK, LIGHT, THEMES, Theme
from ..units import UnitSystem, counted, show
from . import dialogs, settings
from .actions import Actions, Key
from .boards.circuits import CircuitsBoard
from .boards.findings import FindingsBoard
from .boards.taps import TapsBoard
from .details.panel import DetailsPanel
from .export_dialog import ask_export
from .files import Files
from .new_cart import ask_new
from .plan.view import PlanView
from .session import Session
from .stock_panel import StockPanel
from .style import palette, style_sheet
from .toolbar import ToolRow

_LAYOUT = 1
"""Raised when remembered sizes no longer fit the window's make-up."""
_TOLD_MS = 8000


class MainWindow(QMainWindow):
    """Everything that is seen of one session."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        session.setParent(self)
        self.setMinimumSize(QSize(1200, 680))
        self.setAcceptDrops(True)
        self.files = Files(session, self)
        self.actions_ = Actions(session, self)
        self.plan = PlanView(session)
        self.stock = StockPanel(session)
        self.details = DetailsPanel(session)
        self.circuits = CircuitsBoard(session)
        self.taps = TapsBoard(session)
        self.findings = FindingsBoard(session)
        self._follow_system = True
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
        make = self.actions_.make
        bar = self.menuBar()
        file = bar.addMenu("&File")
        self.new = make("&New…", Key.New, self._new, "Start a new cart", "new")
        self.open = make("&Open…", Key.Open, self.files.open, "Open a cart build", "open")
        self.save = make("&Save", Key.Save, self.files.save, "Save the build", "save")
        self.save_as = make(
            "Save &As…", "Ctrl+Shift+S", self.files.save_as, "Save the build under another name"
        )
        self.export = make(
            "&Export Plan…",
            "Ctrl+E",
            self._export,
            "Write the annotated plan as an image",
            "export",
        )
        self.quit = make("&Quit", "Ctrl+Q", self.close, "Close the window")
        file.addActions([self.new, self.open])
        self.recent = file.addMenu("Open &Recent")
        self.recent.aboutToShow.connect(self._fill_recent)
        self.recent.triggered.connect(self._recent_chosen)
        self.samples = file.addMenu("Open Sa&mple")
        self.samples.aboutToShow.connect(self._fill_samples)
        self.samples.triggered.connect(self._sample_chosen)
        file.addSeparator()
        file.addActions([self.save, self.save_as])
        file.addSeparator()
        file.addAction(self.export)
        file.addSeparator()
        file.addAction(self.quit)
        self._make_edit_menu(bar.addMenu("&Edit"))
        self._make_view_menu(bar.addMenu("&View"))
        help_menu = bar.addMenu("&Help")
        help_menu.addAction(
            make("&Cautions and About", None, self._about, "What this program is, and is not")
        )

    def _make_edit_menu(self, menu: QMenu) -> None:
        actions = self.actions_
        menu.addActions([actions.undo, actions.redo])
        menu.addSeparator()
        menu.addActions([actions.cut, actions.copy, actions.paste, actions.duplicate])
        menu.addActions([actions.delete, actions.select_all])
        menu.addSeparator()
        menu.addActions([actions.rotate, actions.rotate_back, actions.lock])
        menu.addSeparator()
        find = actions.make(
            "&Find in Stock",
            Key.Find,
            self.stock.focus_search,
            "Put the cursor in the stock's field",
        )
        menu.addAction(find)

    def _make_view_menu(self, menu: QMenu) -> None:
        make = self.actions_.make
        self.fit = make("&Whole Plan", "Ctrl+0", self.plan.fit, "Show the whole plan", "fit")
        self.zoom_in = make("Zoom &In", None, self.plan.zoom_in, "Come nearer", "zoom-in")
        self.zoom_in.setShortcuts([QKeySequence("Ctrl++"), QKeySequence("Ctrl+=")])
        self.zoom_out = make(
            "Zoom &Out", "Ctrl+-", self.plan.zoom_out, "Go further off", "zoom-out"
        )
        menu.addActions([self.fit, self.zoom_in, self.zoom_out])
        menu.addSeparator()
        self.show_stock = make(
            "&Stock", "Ctrl+1", self.stock.setVisible, "Show the stock", checkable=True
        )
        self.show_details = make(
            "&Details", "Ctrl+2", self.details.setVisible, "Show the details", checkable=True
        )
        self.show_stock.setChecked(True)
        self.show_details.setChecked(True)
        menu.addActions([self.show_stock, self.show_details])
        menu.addAction(
            make("&Usual Arrangement", None, self._usual, "Put every part back in its place")
        )
        menu.addSeparator()
        self.us_units = make(
            "US &Units (in, psi, gal)", None, self.actions_.us_units, "Show US units"
        )
        self.metric_units = make(
            "&Metric Units (mm, bar, L)", None, self.actions_.metric_units, "Show metric units"
        )
        self.light = make("&Light Colours", None, self.actions_.light, "Use light colours")
        self.dark = make("Da&rk Colours", None, self.actions_.dark, "Use dark colours")
        self.system_colours = make(
            "Colours of the S&ystem", None, self._use_system_colours, "Follow the system's choice"
        )
        for action in (
            self.us_units,
            self.metric_units,
            self.light,
            self.dark,
            self.system_colours,
        ):
            action.setCheckable(True)
        menu.addActions([self.us_units, self.metric_units])
        menu.addSeparator()
        menu.addActions([self.light, self.dark, self.system_colours])

    def _make_toolbar(self) -> None:
        actions = self.actions_
        self.tools = ToolRow(
            self.session,
            (
                self.new,
                self.open,
                self.save,
                None,
                actions.undo,
                actions.redo,
                None,
                actions.rotate,
                self.fit,
                self.export,
            ),
            self,
        )
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
        session.theme_changed.connect(self._theme_changed)
        session.told.connect(self._tell)
        session.document_changed.connect(self._title)
        self.stock.place_requested.connect(self.plan.place_stock)
        hints = QGuiApplication.styleHints()
        hints.colorSchemeChanged.connect(self._system_scheme_changed)
        self._system_changed(session.system)

    # Remembering

    def _restore(self) -> None:
        chosen = settings.text("colours", "system")
        self._follow_system = chosen not in THEMES
        self.session.set_theme(_system_theme() if self._follow_system else THEMES[chosen])
        self._theme_changed(self.session.theme)
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

    def _new(self) -> None:
        if not self.files.may_leave():
            return
        build = ask_new(self)
        if build is not None:
            self.session.set_document(build, None)

    def _fill_recent(self) -> None:
        self.recent.clear()
        for path in settings.recent_files():
            action = QAction(path.name.replace("&", "&&"), self.recent)
            action.setData(str(path))
            action.setToolTip(str(path))
            self.recent.addAction(action)
        if self.recent.isEmpty():
            none = QAction("No file yet", self.recent)
            none.setEnabled(False)
            self.recent.addAction(none)

    def _recent_chosen(self, action: QAction) -> None:
        if action.data():
            self.files.open_path(Path(str(action.data())))

    def _fill_samples(self) -> None:
        self.samples.clear()
        for path in sorted(sample_builds().glob("*.cart")):
            action = QAction(path.stem.replace("_", " ").capitalize(), self.samples)
            action.setData(str(path))
            self.samples.addAction(action)

    def _sample_chosen(self, action: QAction) -> None:
        if action.data():
            self.files.open_sample(Path(str(action.data())))

    def _export(self) -> None:
        ask_export(self, self.session, self.files.name)

    def _about(self) -> None:
        dialogs.show_about(self)

    def _usual(self) -> None:
        self.show_stock.setChecked(True)
        self.show_details.setChecked(True)
        self._usual_sizes()

    def _use_system_colours(self) -> None:
        self.session.set_theme(_system_theme())
        self._follow_system = True
        settings.remember("colours", "system")
        self._check_colours()

    def _system_scheme_changed(self, _scheme: object) -> None:
        if self._follow_system:
            self.session.set_theme(_system_theme())
            self._follow_system = True
            settings.remember("colours", "system")
            self._check_colours()

    # What the session says

    def _theme_changed(self, theme: Theme) -> None:
        if self._follow_system and theme is not _system_theme():
            self._follow_system = False
        if not self._follow_system:
            settings.remember("colours", theme.name)
        QApplication.setPalette(palette(theme))
        self.setStyleSheet(style_sheet(theme))
        self._check_colours()

    def _check_colours(self) -> None:
        self.system_colours.setChecked(self._follow_system)
        theme = self.session.theme
        self.light.setChecked(not self._follow_system and theme is LIGHT)
        self.dark.setChecked(not self._follow_system and theme is DARK)

    def _system_changed(self, system: UnitSystem) -> None:
        self.us_units.setChecked(system is UnitSystem.US)
        self.metric_units.setChecked(system is UnitSystem.METRIC)
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


def _system_theme() -> Theme:
    dark = QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark
    return DARK if dark else LIGHT


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
