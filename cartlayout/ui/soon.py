"""Something to do once in this turn of the event loop, before anything is painted.

A timer of no delay comes after the paint that an event asks for: what a drag
shows over the plan would be painted without the plan, and then again with it.
"""

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, Signal

_DUE = QEvent.Type(QEvent.registerEventType())


class Soon(QObject):
    """Asked any number of times in a turn, it is due once."""

    due = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._wanted = False
        self._posted = False

    def start(self) -> None:
        """It is to be due."""
        self._wanted = True
        if not self._posted:
            self._posted = True
            QCoreApplication.postEvent(self, QEvent(_DUE), Qt.EventPriority.HighEventPriority.value)

    def stop(self) -> None:
        """It need not be."""
        self._wanted = False

    def is_active(self) -> bool:
        """Whether it is going to be due."""
        return self._wanted

    def event(self, event: QEvent) -> bool:
        if event.type() != _DUE:
            return super().event(event)
        self._posted = False
        if self._wanted:
            self._wanted = False
            self.due.emit()
        return True
