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


def test_window_shown_with_a_sample_from_a_cold_start(benchmark: Any, tmp_path: Path) -> None:
    where = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}

    def start() -> str:
        return subprocess.run(
            [sys.executable, "-c", _SHOW, str(tmp_path)],
            env=where,
            capture_output=True,
            text=True,
            check=True,
        ).stdout

    drawn = benchmark.pedantic(start, rounds=5, warmup_rounds=1)
    assert int(drawn) > 10
