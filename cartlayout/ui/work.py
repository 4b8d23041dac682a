"""One piece of work in another thread."""

import time
from typing import Generic, TypeVar

from PySide6.QtCore import QObject, QThread

Result = TypeVar("Result")


class Work(QThread, Generic[Result]):
    """Does its work once it is started, and keeps what came of it until it has finished."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.result: Result | None = None
        self.error: BaseException | None = None
        """For the thread of the window, which raises it again."""
        self.seconds = 0.0
        """How long it took."""

    def do(self) -> Result:
        """The work itself; it runs in the other thread."""
        raise NotImplementedError

    def run(self) -> None:
        started = time.perf_counter()
        try:
            self.result = self.do()
        except BaseException as error:  # nobody could catch it here
            self.error = error
        self.seconds = time.perf_counter() - started
