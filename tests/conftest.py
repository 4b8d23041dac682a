"""What every test that touches Qt has in common: no display, own settings, nothing left over."""

import gc
import itertools
import os
import sys

os.environ["QT_QPA_PLATFORM"] = os.environ.get("CARTLAYOUT_TEST_PLATFORM", "offscreen")

import pytest

# As in the program (ui/collector.py): never in a thread that makes pictures.
gc.disable()
_FULL_EVERY = 40

_QT_FOLDERS = {"bench", "cli", "documents", "ui"}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark tests that need a window, and run them after the others."""
    for item in items:
        if "qtbot" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.gui)
    items.sort(key=lambda item: item.get_closest_marker("gui") is not None)


_torn_down = itertools.count(1)


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_runtest_logfinish(nodeid: str, location: tuple[str, int | None, str]):
    """Collect between tests, in the thread of the windows."""
    gc.collect(2 if next(_torn_down) % _FULL_EVERY == 0 else 0)
    return (yield)


@pytest.fixture(autouse=True)
def one_application(request: pytest.FixtureRequest) -> None:
    """One QApplication for all tests: an export that came first would make a lesser one."""
    if _QT_FOLDERS & set(request.path.parts) or "qtbot" in request.fixturenames:
        request.getfixturevalue("qapp")


@pytest.fixture(autouse=True)
def own_settings(request: pytest.FixtureRequest, tmp_path_factory) -> None:
    """Settings of a test are its own, never the user's."""
    if "qtbot" not in request.fixturenames:
        return
    from PySide6.QtCore import QSettings

    folder = str(tmp_path_factory.mktemp("settings"))
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, folder)


def send_deferred_deletes() -> None:
    """Delete what deleteLater has put off; processEvents alone does not do it."""
    from PySide6.QtCore import QCoreApplication, QEvent

    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    QCoreApplication.processEvents()


@pytest.fixture
def delete_now():
    """Delete what deleteLater has put off."""
    return send_deferred_deletes


def _all(kind: type) -> list:
    """Every Qt object of a kind that Python has a hand on.

    Asked of the bindings, which know a few thousand; looking through all objects that there are
    took longer than most tests.
    """
    from shiboken6 import getAllValidWrappers

    return [one for one in getAllValidWrappers() if isinstance(one, kind)]


@pytest.hookimpl(wrapper=True, trylast=True)
def pytest_runtest_teardown(item: pytest.Item):
    """Fail a window test that leaves a timer running."""
    result = yield
    if item.get_closest_marker("gui") is not None:
        from PySide6.QtCore import QTimer
        from shiboken6 import isValid

        analyser = sys.modules.get("cartlayout.ui.analyser")
        for one in _all(analyser.Analyser) if analyser is not None else ():
            if isValid(one):
                one.end()  # as the window does when it closes: a thread must not outlive its owner
        send_deferred_deletes()
        running = [one for one in _all(QTimer) if isValid(one) and one.isActive()]
        for one in running:
            one.stop()
        if running:
            pytest.fail(f"timers still run: {[one.parent() for one in running]}")
    return result
