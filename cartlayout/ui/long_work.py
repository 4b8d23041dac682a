"""Work that takes longer than a frame: off the GUI thread, with progress, and a way to stop it."""

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QEventLoop, Qt, Signal
from PySide6.QtWidgets import QProgressDialog, QWidget

from .work import Result, Work


class Watch(Protocol):
    """Told the share that is done, and what is being done now; says whether to go on."""

    def __call__(self, share: float, words: str = "", /) -> bool:
        """Tell, and ask."""


class _Worker(Work[Result]):
    """Runs one piece of work and keeps what came of it."""

    progressed = Signal(float, str)

    def __init__(self, work: Callable[[Watch], Result], parent: QWidget) -> None:
        super().__init__(parent)
        self._work = work

    def do(self) -> Result:
        return self._work(self._watch)

    def _watch(self, share: float, words: str = "", /) -> bool:
        self.progressed.emit(share, words)
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

    def show_share(self, share: float, words: str) -> None:
        """Move the bar, and say what is being done."""
        if self.wasCanceled():
            return
        self.setValue(round(100 * share))
        if words and words != self.labelText():
            self.setLabelText(words)


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
