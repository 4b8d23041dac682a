"""The window, or a session alone, on a sample build."""

import pytest
from PySide6.QtCore import Qt
from ui_samples import sample

from cartlayout.ui import dialogs
from cartlayout.ui.app import make_application
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.session import Session


@pytest.fixture(autouse=True)
def no_modal_dialog(monkeypatch) -> None:
    """A dialog nobody answers would hang the tests: those that expect one answer it themselves."""

    def unexpected(_parent, title, text, *_):
        raise AssertionError(f"{title}: {text}")

    monkeypatch.setattr(dialogs, "ask_unsaved", lambda *_: "discard")
    monkeypatch.setattr(dialogs, "show_error", unexpected)


@pytest.fixture(autouse=True)
def dressed(qapp) -> None:
    """The program's own font and style."""
    make_application([])


@pytest.fixture
def session(qtbot):
    """A session on a sample build, without a window."""
    return Session(sample())


@pytest.fixture
def open_window(qtbot):
    """Open the window on a sample, as large as asked for."""

    def open_(name: str = "market_cart", width: int = 1280, height: int = 800) -> MainWindow:
        window = MainWindow(Session(sample(name)))
        window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
        qtbot.addWidget(window, before_close_func=_forget_changes)
        window.resize(width, height)
        window.show()
        qtbot.waitExposed(window)
        return window

    return open_


def _forget_changes(window: MainWindow) -> None:
    window.session.undo_stack.setClean()


@pytest.fixture
def window(open_window) -> MainWindow:
    """The window on the market cart."""
    return open_window()
