"""Work that takes longer than a frame: off the GUI thread, with progress, and a way to stop it."""

from collections.abc import Callable

from PySide6.QtCore import QEventLoop, Qt, Signal
from PySide6.QtWidgets import QProgressDialog, QWidget

from .work import Result, Work

Watch = Callable[[float], bool]
"""Told the share that is done; says whether to go on."""


class _Worker(Work[Result]):
    """Runs one piece of work and keeps what came of it."""

    progressed = Signal(float)

    def __init__(self, work: Callable[[Watch], Result], parent: QWidget) -> None:
        super().__init__(parent)
        self._work = work

    def do(self) -> Result:
        return self._work(self._watch)

    def _watch(self, share: float) -> bool:
        self.progressed.emit(share)
        return not self.isInterruptionRequested()


class _Progress(QProgressDialog):
    """A bar with Cancel that comes up only if the work takes a while."""

    def __init__(self, title: str, parent: QWidget) -> None:
        super().__init__(title, "Cancel", 0, 100, parent)
        self.setWindowTitle(title)
        self.setWindowModality(Qt.WindowModality.WindowModal)
        self.setMinimumDuration(300)
        self.setAutoClose(False)
        self.setAutoReset(False)
        self.setValue(0)

    def show_share(self, share: float) -> None:
        """Move the bar."""
        if not self.wasCanceled():
            self.setValue(round(100 * share))


def run_with_progress(
    parent: QWidget, title: str, work: Callable[[Watch], Result]
) -> Result | None:
    """Do the work in another thread while the window stays alive; returns when it has ended.

    Args:
        parent: what the progress stands over, and what must not be edited meanwhile.
        title: what is being done.
        work: given a `Watch`; it asks now and then whether to go on.

    Raises:
        BaseException: whatever the work raised.
    """
    worker = _Worker(work, parent)
    progress = _Progress(title, parent)
    ended = QEventLoop(parent)
    worker.progressed.connect(progress.show_share)
    progress.canceled.connect(worker.requestInterruption)
    worker.finished.connect(ended.quit)
    worker.start()
    ended.exec()
    worker.wait()
    progress.close()
    progress.deleteLater()
    worker.deleteLater()
    ended.deleteLater()
    if worker.error is not None:
        raise worker.error
    return worker.result
