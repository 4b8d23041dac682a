"""What is looked at, kept from one start to the next: overlays, one level alone, units."""

from PySide6.QtCore import QObject

from ..units import UnitSystem
from . import settings
from .session import OVERLAYS, Session

_OF_BUILD = "build"


class Remembered(QObject):
    """Takes up the way of looking at the last start, and keeps it at every change.

    Units chosen by the person hold for every document; without a choice each
    document is shown in its own.
    """

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self._opening = False
        stored = settings.text("units", _OF_BUILD)
        self.units = stored if stored in {one.value for one in UnitSystem} else _OF_BUILD
        self._take_up()
        session.overlays_changed.connect(self._overlays_changed)
        session.isolated_changed.connect(self._isolated_changed)
        session.document_changed.connect(self._document_changed)
        session.system_changed.connect(self._system_changed)

    @property
    def follows_build(self) -> bool:
        """Whether each document is shown in its own units."""
        return self.units == _OF_BUILD

    def units_of_build(self) -> None:
        """Show each document in its own units from now on."""
        self._session.set_system(UnitSystem(self._session.build.units))
        self._keep_units(_OF_BUILD)

    def units_always(self, system: UnitSystem) -> None:
        """Show every document in these units from now on."""
        self._session.set_system(system)
        self._keep_units(system.value)

    def _take_up(self) -> None:
        stored = settings.text("overlays", "\n".join(sorted(self._session.overlays)))
        shown = stored.split("\n")
        for name in OVERLAYS:
            self._session.set_overlay(name, name in shown)
        self._session.set_isolated(settings.text("one-level") == "yes")
        if not self.follows_build:
            self._session.set_system(UnitSystem(self.units))

    def _overlays_changed(self, overlays: frozenset[str]) -> None:
        settings.remember("overlays", "\n".join(sorted(overlays)))

    def _isolated_changed(self, on: bool) -> None:
        settings.remember("one-level", "yes" if on else "no")

    def _document_changed(self, _build: object) -> None:
        self._opening = True  # the document's own units are about to be shown

    def _system_changed(self, system: UnitSystem) -> None:
        if self._opening:
            self._opening = False
            if not self.follows_build:
                self._session.set_system(UnitSystem(self.units))
        else:
            self._keep_units(system.value)

    def _keep_units(self, units: str) -> None:
        self.units = units
        settings.remember("units", units)
