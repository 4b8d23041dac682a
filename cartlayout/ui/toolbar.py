"""The row under the menus: file and undo, level, overlays, operating case, units."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QSizePolicy,
    QToolBar,
    QToolButton,
    QWidget,
)

from ..analysis import Analysis
from ..build import Build
from ..documents.theme import THEMES, Theme
from ..power.results import EVERYTHING_ON
from ..units import UnitSystem
from ..water.results import ALL_OPEN
from . import widgets
from .actions import EntryAction
from .entries import plain
from .icons import icon, pixmap
from .session import OVERLAYS, Session

_CASES_PX = (190, 250)
"""Least and greatest width of the chooser of operating cases."""
_CAPTIONS_GO, _FILES_GO, _CHIPS_LOSE_WORDS, _CASES_GO, _STEPS = 1, 2, 3, 4, 5
"""Steps of narrowing at which something loses its words, or goes because a menu has it too."""
_LESS_NEEDED = ("file.new", "file.open")
OVERLAY_TIPS = {
    "power": "Show wires, circuits and amps on the plan",
    "water": "Show supply tubes and the pressure at the taps on the plan",
    "drain": "Show drains on the plan",
    "clearance": "Show what must stay free on the plan: V air, H heat, S service, "
    "L lids and doors, W hands at work; how far hands reach; where water may drip",
    "weight": "Show the centre of gravity over a service on the plan, where it may be, "
    "and the most that each caster carries",
}


class ToolRow(QToolBar):
    """Shows what is looked at, and changes it."""

    def __init__(
        self, session: Session, actions: tuple[QAction | None, ...], parent: QWidget
    ) -> None:
        super().__init__("Tools", parent)
        self.setObjectName("tools")
        self.setMovable(False)
        self.setFloatable(False)
        self.setIconSize(QSize(18, 18))
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
        self._session = session
        self._level_names: tuple[str, ...] = ()
        self._captions: list[QAction] = []
        self._dispensable: QAction | None = None
        self._add_actions(actions)
        self._add_levels()
        self._add_overlays()
        self._add_cases()
        self._add_looks()
        session.build_changed.connect(self._build_changed)
        session.level_changed.connect(self._level_changed)
        session.overlays_changed.connect(self._overlays_changed)
        session.analysis_changed.connect(self._analysis_changed)
        session.case_changed.connect(self._case_changed)
        session.system_changed.connect(self._system_changed)
        session.theme_changed.connect(self._theme_changed)
        self._build_changed(session.build)
        self._analysis_changed(session.analysis)
        self._system_changed(session.system)
        self._theme_changed(session.theme)

    # Making

    def _add_actions(self, actions: tuple[QAction | None, ...]) -> None:
        giving_way = [one for one in actions if _is_less_needed(one)]
        if giving_way:
            # An action that is hidden would be gone from its menu too: its button is, instead.
            self._dispensable = self.addWidget(self._buttons(giving_way))
        for action in actions:
            if action is None:
                self.addSeparator()
            elif action not in giving_way:
                self.addAction(action)
                self._name(self.widgetForAction(action), action)

    def _buttons(self, actions: list[QAction | None]) -> QWidget:
        """Buttons for actions, as the bar itself would make them."""
        frame = QWidget()
        row = QHBoxLayout(frame)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        for action in actions:
            if action is not None:
                button = QToolButton()
                button.setProperty("in-bar", True)
                button.setIconSize(self.iconSize())
                button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
                button.setDefaultAction(action)
                self._name(button, action)
                row.addWidget(button)
        return frame

    def _name(self, button: QWidget | None, action: QAction) -> None:
        if button is not None:
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            button.setAccessibleName(plain(action.text()))

    def _add_caption(self, text: str) -> None:
        self._captions.append(self.addWidget(widgets.label(text, "muted")))

    def _add_levels(self) -> None:
        self.addSeparator()
        self._add_caption("Level ")
        self.levels = QFrame()
        self._level_row = QHBoxLayout(self.levels)
        self._level_row.setContentsMargins(0, 0, 0, 0)
        self._level_row.setSpacing(0)
        self.addWidget(self.levels)

    def _add_overlays(self) -> None:
        self.addSeparator()
        self._add_caption("Show ")
        self.overlays: dict[str, QToolButton] = {}
        chips = QFrame()
        chip_row = QHBoxLayout(chips)
        chip_row.setContentsMargins(0, 0, 0, 0)
        chip_row.setSpacing(4)
        for name in OVERLAYS:
            made = widgets.chip(name.capitalize(), OVERLAY_TIPS[name])
            made.setChecked(name in self._session.overlays)
            made.toggled.connect(self._overlay_toggled)
            self.overlays[name] = made
            chip_row.addWidget(made)
        self.addWidget(chips)

    def _add_cases(self) -> None:
        self.addSeparator()
        self._add_caption("Running ")
        self.cases = QComboBox()
        self.cases.setAccessibleName("Operating case that is looked at")
        self.cases.setToolTip(
            "What is on and open together. The worst case is always checked, whatever is shown."
        )
        self.cases.activated.connect(self._case_chosen)
        self._cases_action = self.addWidget(self.cases)

    def _add_looks(self) -> None:
        gap = QWidget()
        gap.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.addWidget(gap)
        self.units = QToolButton()
        self.units.clicked.connect(self._units_clicked)
        self.shade = QToolButton()
        self.shade.clicked.connect(self._shade_clicked)
        for button in (self.units, self.shade):
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            self.addWidget(button)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit()

    def fit(self) -> None:
        """Give way until everything has room: first words, then what the menus have as well."""
        for step in range(_STEPS):
            self._narrow(step)
            if self._needs() <= self.width():
                break

    def _needs(self) -> int:
        layout = self.layout()
        if layout is not None:
            layout.invalidate()
        return self.sizeHint().width()

    def _narrow(self, step: int) -> None:
        alone = step >= _CHIPS_LOSE_WORDS
        for chip in self.overlays.values():
            chip.setToolButtonStyle(
                Qt.ToolButtonStyle.ToolButtonIconOnly
                if alone
                else Qt.ToolButtonStyle.ToolButtonTextBesideIcon
            )
        for caption in self._captions:
            caption.setVisible(step < _CAPTIONS_GO)
        if self._dispensable is not None:
            self._dispensable.setVisible(step < _FILES_GO)
        self._cases_action.setVisible(step < _CASES_GO)

    # Levels

    def level_button(self, level: str) -> QToolButton | None:
        """The button of a level."""
        for at in range(self._level_row.count()):
            entry = self._level_row.itemAt(at)
            button = entry.widget() if entry is not None else None
            if isinstance(button, QToolButton) and button.property("level") == level:
                return button
        return None

    def _build_changed(self, build: Build) -> None:
        names = tuple(level.name for level in build.cart.levels)
        if names == self._level_names:
            return
        self._level_names = names
        while self._level_row.count():
            taken = self._level_row.takeAt(0)
            if taken is not None and (button := taken.widget()) is not None:
                button.hide()
                button.deleteLater()
        for at, name in enumerate(names):
            end = "only" if len(names) == 1 else {0: "first", len(names) - 1: "last"}.get(at, "")
            shown = name if len(name) <= 12 else f"{name[:11]}…"
            made = widgets.segment(shown.capitalize(), end, f"Work on the level {name}")
            made.setProperty("level", name)
            made.setChecked(name == self._session.level)
            made.clicked.connect(self._level_clicked)
            self._level_row.addWidget(made)
        self.fit()

    def _level_clicked(self) -> None:
        button = self.sender()
        if isinstance(button, QToolButton):
            self._session.set_level(str(button.property("level")))

    def _level_changed(self, level: str) -> None:
        button = self.level_button(level)
        if button is not None:
            button.setChecked(True)

    # Overlays

    def _overlay_toggled(self, on: bool) -> None:
        for name, button in self.overlays.items():
            if button is self.sender():
                self._session.set_overlay(name, on)

    def _overlays_changed(self, overlays: frozenset[str]) -> None:
        for name, button in self.overlays.items():
            button.setChecked(name in overlays)

    # Operating cases

    def _analysis_changed(self, analysis: Analysis) -> None:
        wanted = [
            ALL_OPEN,
            *(case for case in analysis.cases if case not in (ALL_OPEN, EVERYTHING_ON)),
        ]
        shown = [self.cases.itemData(at) for at in range(self.cases.count())]
        if wanted != shown:
            self.cases.clear()
            for case in wanted:
                words = "Everything on and open" if case == ALL_OPEN else case
                self.cases.addItem(words, case)
            metrics = self.cases.fontMetrics()
            longest = max(
                metrics.horizontalAdvance(self.cases.itemText(at))
                for at in range(self.cases.count())
            )
            self.cases.setFixedWidth(max(_CASES_PX[0], min(longest + 40, _CASES_PX[1])))
            self.fit()
        self._case_changed(self._session.case)

    def _case_changed(self, case: str) -> None:
        self.cases.setCurrentIndex(max(0, self.cases.findData(case)))

    def _case_chosen(self, index: int) -> None:
        self._session.set_case(self.cases.itemData(index))

    # Units and colours

    def _system_changed(self, system: UnitSystem) -> None:
        us = system is UnitSystem.US
        self.units.setText("in · psi · gal" if us else "mm · bar · L")
        other = "millimetres, bar and litres" if us else "inches, psi and gallons"
        self.units.setToolTip(f"Show {other} instead")
        self.units.setAccessibleName(f"Units: {'US' if us else 'metric'}. Show {other} instead")

    def _units_clicked(self) -> None:
        us = self._session.system is UnitSystem.US
        self._session.set_system(UnitSystem.METRIC if us else UnitSystem.US)

    def _theme_changed(self, theme: Theme) -> None:
        other = "dark" if theme.name == "light" else "light"
        self.shade.setIcon(icon(other, theme))
        self.shade.setToolTip(f"Use {other} colours")
        self.shade.setAccessibleName(f"Use {other} colours")
        inks = {"water": theme.water_ink, "drain": theme.drain_ink}
        for name, button in self.overlays.items():
            button.setIcon(pixmap(name, inks.get(name, theme.ink), 28))
        more = self.findChild(QToolButton, "qt_toolbar_ext_button")
        if more is not None:
            more.setIcon(icon("more", theme))
            more.setToolTip("What has no room in this row")

    def _shade_clicked(self) -> None:
        other = "dark" if self._session.theme.name == "light" else "light"
        self._session.set_theme(THEMES[other])


def _is_less_needed(action: QAction | None) -> bool:
    return isinstance(action, EntryAction) and action.entry.key in _LESS_NEEDED
