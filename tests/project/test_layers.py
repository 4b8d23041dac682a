"""Layers: the core works where there is no Qt, and reads nothing it must not."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

import cartlayout
from cartlayout.documents import qt

_BLOCK_QT = """
import importlib.abc, sys

class Block(importlib.abc.MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in ("PySide6", "shiboken6"):
            raise ImportError(f"{name} is blocked")

sys.meta_path.insert(0, Block())
"""


def run_without_qt(code: str, **settings: str) -> subprocess.CompletedProcess[str]:
    screens = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    bare = {key: value for key, value in os.environ.items() if key not in screens}
    return subprocess.run(
        [sys.executable, "-c", _BLOCK_QT + code],
        env={**bare, **settings},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_core_analyses_a_build_without_qt() -> None:
    done = run_without_qt(
        "from cartlayout.analysis import analyse\n"
        "from cartlayout.build.file import load\n"
        "from cartlayout.data import sample_builds\n"
        "paths = sorted(sample_builds().glob('*.cart'))\n"
        "print(sum(len(analyse(load(path)).findings) >= 0 for path in paths))\n"
    )
    assert done.returncode == 0, done.stderr
    assert int(done.stdout) >= 4


def test_checking_on_the_command_line_needs_no_qt() -> None:
    done = run_without_qt(
        "from cartlayout.cli import main\n"
        "from cartlayout.data import sample_builds\n"
        "sys.exit(main(['check', str(sample_builds() / 'market_cart.cart')]))\n"
    )
    assert done.returncode == 0, done.stderr
    assert "Findings:" in done.stdout


def test_a_machine_without_the_libraries_is_told_which() -> None:
    done = run_without_qt(
        "class Missing(importlib.abc.MetaPathFinder):\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name.startswith('PySide6'):\n"
        "            raise ImportError('libEGL.so.1: cannot open shared object file')\n"
        "sys.meta_path.insert(0, Missing())\n"
        "from cartlayout.cli import main\n"
        "sys.exit(main([]))\n",
        QT_QPA_PLATFORM="offscreen",
    )
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert "libegl1" in done.stderr
    assert "apt-get install" in done.stderr


def test_a_machine_without_a_screen_is_told_so() -> None:
    done = run_without_qt("from cartlayout.cli import main\nsys.exit(main([]))\n")
    assert done.returncode == 2
    assert "no screen" in done.stderr
    assert "cartlayout export" in done.stderr


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="packages of Linux systems")
def test_libraries_of_the_screen_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    monkeypatch.setenv("DISPLAY", ":99")
    monkeypatch.setattr(qt, "_loads", lambda library: library != "libxcb-icccm.so.4")
    message = qt.why_no_window()
    assert "apt-get install -y libxcb-icccm4 " in message
    assert "dnf install -y xcb-util-wm " in message


def test_documents_paint_without_widgets() -> None:
    """The import contracts cannot name a part of an outside package; this holds it instead."""
    folder = Path(cartlayout.__file__).parent / "documents"
    modules = sorted(folder.rglob("*.py"))
    assert modules
    for module in modules:
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom):
                assert node.module != "PySide6.QtWidgets", module
                names = [alias.name for alias in node.names] if node.module == "PySide6" else []
                assert "QtWidgets" not in names, module
            elif isinstance(node, ast.Import):
                assert all("QtWidgets" not in alias.name for alias in node.names), module
