"""From a cold start of the process to the window drawn with a sample in it."""

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

_SHOW = """
import sys
from PySide6.QtCore import QSettings
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.ui.app import make_application
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.session import Session

QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, sys.argv[1])
application = make_application([])
window = MainWindow(Session(load(sample_builds() / "market_cart.cart")))
window.show()
while not window.plan.plan.bodies or not window.windowHandle().isExposed():
    application.processEvents()
application.processEvents()
print(len(window.plan.plan.bodies), flush=True)
import os
os._exit(0)
"""


_START_PAGE = """
import sys
from PySide6.QtCore import QSettings
from cartlayout.ui.app import make_application
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.new_cart import new_build
from cartlayout.ui.session import Session

QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, sys.argv[1])
application = make_application([])
window = MainWindow(Session(new_build()))
window.show_start()
window.resize(1280, 800)
window.show()
while not window.windowHandle().isExposed():
    application.processEvents()
window.start.repaint()
print(len(window.start.samples.tiles), flush=True)
import os
os._exit(0)
"""


def test_start_page_shown_from_a_cold_start(benchmark: Any, tmp_path: Path) -> None:
    """Its pictures follow by and by, drawn beside the window."""
    drawn = benchmark.pedantic(_process, (_START_PAGE, tmp_path), rounds=5, warmup_rounds=1)
    assert int(drawn) >= 4


def _process(code: str, folder: Path) -> str:
    return subprocess.run(
        [sys.executable, "-c", code, str(folder)],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=True,
    ).stdout


def test_window_shown_with_a_sample_from_a_cold_start(benchmark: Any, tmp_path: Path) -> None:
    drawn = benchmark.pedantic(_process, (_SHOW, tmp_path), rounds=5, warmup_rounds=1)
    assert int(drawn) > 10
