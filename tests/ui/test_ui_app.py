"""Starting: the font, exceptions that nobody caught, and missing system libraries."""

import os
import subprocess
import sys

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtGui import QFontInfo, QFontMetricsF
from PySide6.QtWidgets import QApplication

from cartlayout.data import sample_builds
from cartlayout.documents.fonts import font
from cartlayout.documents.qt import missing_libraries
from cartlayout.ui import app, dialogs


def test_the_programs_own_font_is_used(qapp):
    assert QFontInfo(QApplication.font()).family() == "Inter"
    assert QFontInfo(font(20, 600)).weight() == 600
    # Advance of n in the shipped file: 1210 of 2048 an em, its hmtx table read with fontTools.
    assert QFontMetricsF(font(100)).horizontalAdvance("nnnn") == pytest.approx(
        4 * 100 * 1210 / 2048, rel=0.02
    )


def test_digits_of_one_width_line_up(qapp):
    metrics = QFontMetricsF(font(20, tabular=True))
    assert metrics.horizontalAdvance("1111") == pytest.approx(metrics.horizontalAdvance("8888"))


def test_an_exception_is_shown_with_its_text(monkeypatch, qapp, capsys):
    shown = []
    monkeypatch.setattr(dialogs, "show_error", lambda *words: shown.append(words))
    try:
        raise ValueError("the kettle boiled over")
    except ValueError as error:
        app.show_exception(type(error), error, error.__traceback__)
    assert "the kettle boiled over" in shown[0][3]
    assert "still open" in shown[0][2]
    assert "the kettle boiled over" in capsys.readouterr().err


def test_one_dialog_at_a_time(monkeypatch, qapp, capsys):
    shown = []

    def show_and_fail_again(*words):
        shown.append(words)
        app.show_exception(RuntimeError, RuntimeError("again"), None)

    monkeypatch.setattr(dialogs, "show_error", show_and_fail_again)
    app.show_exception(RuntimeError, RuntimeError("first"), None)
    assert len(shown) == 1
    assert "again" in capsys.readouterr().err


def test_an_exception_in_a_slot_reaches_the_hook(qtbot):
    class SlotError(Exception):
        pass

    def slot():
        raise SlotError("deliberate")

    with qtbot.captureExceptions() as caught:
        QTimer.singleShot(0, slot)
        qtbot.waitUntil(lambda: bool(caught), timeout=2000)
    assert caught[0][0] is SlotError


def test_missing_libraries_name_the_packages():
    words = missing_libraries(ImportError("libEGL.so.1: cannot open shared object file"))
    assert "libegl1" in words
    assert "apt-get" in words
    assert "dnf" in words


def test_the_process_opens_a_file_and_ends(tmp_path):
    """The whole way in: a process of its own shows the window and is closed by a timer."""
    code = (
        "import sys\n"
        "from pathlib import Path\n"
        "from PySide6.QtCore import QSettings, QTimer\n"
        "QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, sys.argv[2])\n"
        "from cartlayout.ui import app\n"
        "made = app.make_application(sys.argv[:1])\n"
        "def close():\n"
        "    (window,) = [w for w in made.topLevelWidgets() if w.isVisible()]\n"
        "    print(window.windowTitle(), len(window.session.build.items))\n"
        "    window.close()\n"
        "QTimer.singleShot(0, close)\n"
        "sys.exit(app.run(Path(sys.argv[1]), True))\n"
    )
    from cartlayout.data import sample_builds

    path = sample_builds() / "market_cart.cart"
    done = subprocess.run(
        [sys.executable, "-c", code, str(path), str(tmp_path)],
        capture_output=True,
        text=True,
        timeout=60,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "Saturday market cart" in done.stdout


def test_the_process_without_a_file_shows_the_start_page(tmp_path):
    code = (
        "import sys\n"
        "from PySide6.QtCore import QSettings, QTimer\n"
        "QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, sys.argv[1])\n"
        "from cartlayout.ui import app\n"
        "made = app.make_application(sys.argv[:1])\n"
        "def close():\n"
        "    (window,) = [w for w in made.topLevelWidgets() if w.isVisible()]\n"
        "    print(window.at_start, len(window.start.samples.tiles))\n"
        "    window.close()\n"  # while pictures are being drawn
        "QTimer.singleShot(50, close)\n"
        "sys.exit(app.run(None))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)],
        capture_output=True,
        text=True,
        timeout=60,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("True ")
    assert "Traceback" not in done.stderr


def test_a_file_that_the_desktop_hands_over_is_opened_and_nothing_is_said_at_the_end(tmp_path):
    path = sample_builds() / "market_cart.cart"
    code = (
        "import sys\n"
        "from PySide6.QtCore import QCoreApplication, QSettings, QTimer\n"
        "from PySide6.QtGui import QFileOpenEvent\n"
        "QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, sys.argv[2])\n"
        "from cartlayout.ui import app\n"
        "made = app.make_application(sys.argv[:1])\n"
        "def hand_over():\n"
        "    QCoreApplication.sendEvent(made, QFileOpenEvent(sys.argv[1]))\n"
        "    (window,) = [w for w in made.topLevelWidgets() if w.isVisible()]\n"
        "    print(window.session.build.name)\n"
        "    window.close()\n"
        "QTimer.singleShot(50, hand_over)\n"
        "sys.exit(app.run(None))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(path), str(tmp_path)],
        capture_output=True,
        text=True,
        timeout=60,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == "Saturday market cart"
    assert done.stderr == ""
