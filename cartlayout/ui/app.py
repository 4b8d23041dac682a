"""Starting the window."""

import logging
import sys
import traceback
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QCoreApplication, QEvent, QTimer, Signal
from PySide6.QtGui import QFileOpenEvent
from PySide6.QtWidgets import QApplication, QStyleFactory

from .. import __version__
from ..build import Build
from ..build.file import CartFileError, load
from ..documents.fonts import font, load_fonts
from . import dialogs, settings
from .collector import Collector
from .icons import add_icon_folder, program_icon
from .main_window import MainWindow
from .new_cart import new_build
from .session import Session

log = logging.getLogger("cartlayout")


class Application(QApplication):
    """Hands on what the desktop wants opened, such as a double-clicked file on some platforms."""

    file_wanted = Signal(object)
    """Path."""

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QFileOpenEvent):
            self.file_wanted.emit(Path(event.file()))
            return True
        return super().event(event)


def run(path: Path | None = None, is_sample: bool = False) -> int:
    """Open the window and stay until it is closed. Returns the exit code of the process.

    Args:
        path: a .cart file to open; None shows the start page.
        is_sample: open it as a copy, so that saving asks for a name.
    """
    application = make_application(sys.argv)
    sys.excepthook = show_exception
    build, problem = _first_build(path)
    own = None if is_sample or problem else path
    collector = Collector(application)
    window = MainWindow(Session(build, path=own))
    if own is not None:
        settings.add_recent(own)
    if path is None:
        window.show_start()
    if isinstance(application, Application):
        application.file_wanted.connect(window.files.open_path)
    window.show()
    if path is not None and problem:
        message = (window, f"{path.name} cannot be opened", problem)
        QTimer.singleShot(0, window, lambda: dialogs.show_error(*message))
    code = application.exec()
    close_down(window)
    collector.stop()
    sys.excepthook = sys.__excepthook__
    return code


def close_down(window: MainWindow) -> None:
    """Delete a window while all that listens to it is whole.

    Left to the end of the process, its parts lose what they know before Qt is done with them.
    """
    window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def make_application(arguments: list[str]) -> QApplication:
    """The application object with the program's own font, style and icon."""
    existing = QApplication.instance()
    application = existing if isinstance(existing, QApplication) else Application(arguments)
    application.setApplicationName("cartlayout")
    application.setApplicationVersion(__version__)
    application.setDesktopFileName("cartlayout")
    style = QStyleFactory.create("Fusion")
    if style is not None:
        application.setStyle(style)
    load_fonts()
    add_icon_folder()
    application.setFont(font())
    application.setWindowIcon(program_icon())
    return application


def _first_build(path: Path | None) -> tuple[Build, str]:
    if path is None:
        return new_build(), ""
    try:
        return load(path), ""
    except CartFileError as error:
        return new_build(), str(error)


def show_exception(
    kind: type[BaseException], value: BaseException, trace: TracebackType | None
) -> None:
    """Log an exception that nobody caught, and show it with the text to copy.

    What is drawn is kept: the window stays open, so that it can be saved.
    """
    if issubclass(kind, KeyboardInterrupt):
        QApplication.quit()
        return
    text = "".join(traceback.format_exception(kind, value, trace))
    log.error("not caught: %s", text)
    print(text, file=sys.stderr)
    if QApplication.instance() is not None and not _showing:
        _showing.append(True)
        try:
            dialogs.show_error(
                QApplication.activeWindow(),
                "Something went wrong inside the program",
                "Your build is still open; save it under another name to be safe. "
                "The details below help whoever looks into it.",
                text,
            )
        finally:
            _showing.clear()


_showing: list[bool] = []
"""Not empty while an exception is shown, so that one in a paint does not open a second dialog."""
