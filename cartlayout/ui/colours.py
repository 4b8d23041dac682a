"""Light or dark: chosen, or as the system has it."""

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget

from ..documents.theme import DARK, LIGHT, THEMES, Theme
from . import settings
from .session import Session
from .style import palette, style_sheet

_OF_SYSTEM = "system"


class Colours(QObject):
    """Dresses the window in the session's theme and remembers the choice."""

    changed = Signal()
    """Another choice was made, or the same colours are now chosen instead of followed."""

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(window)
        self._session = session
        self._window = window
        chosen = settings.text("colours", _OF_SYSTEM)
        self.follows_system = chosen not in THEMES
        session.set_theme(system_theme() if self.follows_system else THEMES[chosen])
        self._dress(session.theme)
        session.theme_changed.connect(self._theme_changed)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._system_changed)

    def choose(self, theme: Theme) -> None:
        """Use these colours, whatever the system does."""
        self._set(theme, follow=False)

    def follow_system(self) -> None:
        """Use the system's colours from now on."""
        self._set(system_theme(), follow=True)

    def _set(self, theme: Theme, *, follow: bool) -> None:
        self.follows_system = follow
        self._session.set_theme(theme)
        settings.remember("colours", _OF_SYSTEM if follow else theme.name)
        self.changed.emit()

    def _system_changed(self, _scheme: object) -> None:
        if self.follows_system:
            self.follow_system()

    def _theme_changed(self, theme: Theme) -> None:
        if self.follows_system and theme is not system_theme():
            self.follows_system = False
        if not self.follows_system:
            settings.remember("colours", theme.name)
        self._dress(theme)
        self.changed.emit()

    def _dress(self, theme: Theme) -> None:
        QApplication.setPalette(palette(theme))
        self._window.setStyleSheet(style_sheet(theme))


def system_theme() -> Theme:
    """The colours the desktop asks for."""
    dark = QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark
    return DARK if dark else LIGHT
