"""Parts of the window: resized, hidden, brought back, remembered, and never too large for it."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from clipping import clipped_texts, outside
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QToolButton
from ui_samples import sample

from cartlayout.ui import settings
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.panels import PANELS
from cartlayout.ui.panels.fitting import fitting
from cartlayout.ui.session import Session
from cartlayout.units import UnitSystem

LEFT = Qt.MouseButton.LeftButton
KEYS = {"stock": "Ctrl+1", "details": "Ctrl+2", "circuits": "Ctrl+3", "taps": "Ctrl+4",
        "findings": "Ctrl+5", "boards": "Ctrl+6"}  # fmt: skip


def again(qtbot) -> MainWindow:
    """The next start of the program."""
    window = MainWindow(Session(sample()))
    qtbot.addWidget(window)
    window.show()
    qtbot.waitExposed(window)
    return window


def wide(window: MainWindow) -> MainWindow:
    """The screen of the tests is small: a window that nothing is remembered of is as well."""
    window.resize(1280, 800)
    return window


def test_everything_is_open_in_the_usual_window(window):
    assert all(window.panel_shown(name) for name in PANELS)


@pytest.mark.parametrize("name", PANELS)
def test_its_key_hides_a_part_and_its_edge_brings_it_back(window, name):
    window.activateWindow()
    assert QTest.qWaitForWindowActive(window)
    fold = window.arrangement.folds[name]
    before = fold.extent()
    QTest.keySequence(window, QKeySequence(KEYS[name]))
    assert not window.panel_shown(name)
    assert not fold.content.isVisible()
    assert fold.extent() <= 24
    assert not window.actions_[f"view.{name}"].isChecked()
    QTest.mouseClick(fold.edge, LEFT)
    assert window.panel_shown(name)
    assert fold.extent() == pytest.approx(before, abs=4)
    assert window.actions_[f"view.{name}"].isChecked()


@pytest.mark.parametrize("name", [name for name in PANELS if name != "boards"])
def test_the_small_button_hides_and_the_keyboard_stays_near(window, name):
    fold = window.arrangement.folds[name]
    (button,) = [
        one
        for one in fold.content.findChildren(QToolButton)
        if one.accessibleName() == f"Hide {fold.title}"
    ]
    button.setFocus()
    QTest.keyClick(button, Qt.Key.Key_Space)
    assert not window.panel_shown(name)
    assert window.focusWidget() is fold.edge
    QTest.keyClick(fold.edge, Qt.Key.Key_Space)
    assert window.panel_shown(name)


@pytest.mark.parametrize(
    ("splitter", "number", "name"),
    [
        ("middle", 1, "stock"),
        ("middle", 2, "details"),
        ("boards", 1, "circuits"),
        ("boards", 2, "findings"),
        ("whole", 1, "boards"),
    ],
)
def test_two_clicks_on_a_divider(window, splitter, number, name):
    divider = getattr(window.arrangement, splitter).handle(number)
    QTest.mouseDClick(divider, LEFT)
    assert not window.panel_shown(name)
    QTest.mouseDClick(divider, LEFT)
    assert window.panel_shown(name)


def test_a_divider_is_dragged_and_the_size_comes_back(window):
    divider = window.arrangement.middle.handle(1)
    middle = divider.rect().center()
    QTest.mousePress(divider, LEFT, pos=middle)
    QTest.mouseMove(divider, middle + QPoint(70, 0))
    QTest.mouseRelease(divider, LEFT, pos=middle + QPoint(70, 0))
    wide = window.left.width()
    assert wide > 260
    window.arrangement.toggle("stock")
    window.arrangement.toggle("stock")
    assert window.left.width() == pytest.approx(wide, abs=4)


def test_the_last_board_takes_the_row_along(window):
    for name in ("circuits", "taps", "findings"):
        window.show_panel(name, on=False)
    assert not window.panel_shown("boards")
    window.show_panel("taps")
    assert [name for name in PANELS if window.panel_shown(name)] == [
        "stock", "details", "taps", "boards",
    ]  # fmt: skip
    window.show_panel("taps", on=False)
    window.show_panel("boards")
    assert all(window.panel_shown(name) for name in PANELS)


def test_the_plan_alone_and_back(window):
    window.show_panel("taps", on=False)
    QTest.keySequence(window, QKeySequence("F9"))
    assert not any(window.panel_shown(name) for name in PANELS)
    assert window.actions_["view.plan-alone"].isChecked()
    QTest.keySequence(window, QKeySequence("F9"))
    assert [name for name in PANELS if not window.panel_shown(name)] == ["taps"]


def test_f6_goes_from_part_to_part(window):
    window.activateWindow()
    assert QTest.qWaitForWindowActive(window)
    window.plan.setFocus()
    met = []
    for _ in range(7):
        QTest.keySequence(window, QKeySequence("F6"))
        now = window.focusWidget()
        folds = window.arrangement.folds.items()
        name = next(
            (name for name, fold in folds if name != "boards" and fold.isAncestorOf(now)), "plan"
        )
        met.append(name)
    assert met[:3] == ["details", "circuits", "taps"]
    assert {"stock", "plan"} <= set(met)
    QTest.keySequence(window, QKeySequence("Shift+F6"))
    assert window.focusWidget() is not None


def test_the_usual_arrangement(window):
    sizes = window.arrangement.middle.sizes()
    window.show_panel("stock", on=False)
    window.show_panel("boards", on=False)
    window.arrangement.middle.setSizes([100, 500, 600])
    window.actions_["view.usual"].trigger()
    assert all(window.panel_shown(name) for name in PANELS)
    assert window.arrangement.middle.sizes() == pytest.approx(sizes, abs=4)


def test_the_next_start_is_as_the_last(open_window, qtbot):
    first = open_window(width=1300, height=820)
    first.show_panel("taps", on=False)
    first.show_panel("stock", on=False)
    first.session.set_overlay("water", False)
    first.session.set_isolated(True)
    QTest.mouseClick(first.tools.units, LEFT)
    first.close()
    second = again(qtbot)
    assert [name for name in PANELS if not second.panel_shown(name)] == ["stock", "taps"]
    assert "water" not in second.session.overlays
    assert "power" in second.session.overlays
    assert second.session.isolated
    assert second.session.system is UnitSystem.METRIC
    second.session.set_document(sample("market_cart_first_try"), None)
    assert second.session.system is UnitSystem.METRIC  # what was chosen holds for every build
    second.actions_["view.build-units"].trigger()
    assert second.session.system is UnitSystem.US
    second.close()


def test_a_window_that_filled_the_screen_does_so_again(open_window, qtbot):
    first = open_window()
    first.showMaximized()
    first.close()
    second = again(qtbot)
    assert second.isMaximized()
    second.close()


def test_sizes_of_a_large_screen_leave_room_on_a_small_one(open_window, qtbot):
    first = open_window(width=1900, height=1180)
    first.arrangement.whole.setSizes([400, 700])
    first.arrangement.middle.setSizes([600, 700, 600])
    first.close()
    settings.remember("geometry", None)
    second = wide(again(qtbot))
    assert second.plan.width() >= 500
    assert second.plan.height() >= 340
    second.close()


@pytest.mark.parametrize("stored", ["", "no json", "[]", '{"version": 2}', '{"version": 1}'])
def test_what_cannot_be_read_is_left_alone(qtbot, stored):
    settings.remember("panels", stored)
    window = wide(again(qtbot))
    assert all(window.panel_shown(name) for name in PANELS)
    window.close()


def test_who_has_room():
    least = {"a": 200, "b": 260}
    assert fitting(("a", "b"), least, 24, 460) == {"a", "b"}
    assert fitting(("a", "b"), least, 24, 459) == {"a"}
    assert fitting(("b", "a"), least, 24, 459) == {"b"}  # what is wanted most comes first
    assert fitting(("a", "b"), least, 24, 100) == set()
    assert fitting(("a", "b"), least, 24, 100, forced="b") == {"b"}


def test_what_is_wrong_is_said_where_the_findings_are_hidden(open_window):
    window = open_window("market_cart_first_try")
    stops = sum(one.severity == "stop" for one in window.session.analysis.findings)
    assert stops > 1
    window.show_panel("boards", on=False)
    edge = window.arrangement.folds["boards"].edge
    assert f"{stops} to stop for" in edge.accessibleDescription()
    assert "Ctrl+6" in edge.toolTip()
    window.session.set_document(sample("market_cart"), None)
    assert "to stop for" not in edge.accessibleDescription()


def test_a_small_window_folds_parts_and_a_large_one_brings_them_back(window, qtbot):
    window.resize(430, 270)
    qtbot.wait(1)
    assert (window.width(), window.height()) == (430, 270)
    assert not window.panel_shown("stock")
    assert not window.panel_shown("boards")
    assert window.plan.height() >= 70
    QTest.mouseClick(window.arrangement.folds["details"].edge, LEFT)
    assert window.panel_shown("details")  # asked for: the plan gives way
    window.show_panel("findings")
    assert window.findings.isVisible()
    # What the row under the menus has no room for is in the menus all the same.
    assert window.actions_["file.open"].isVisible()
    assert window.actions_["file.open"].isEnabled()
    window.resize(1280, 800)
    qtbot.wait(1)
    assert all(window.panel_shown(name) for name in PANELS)


@pytest.mark.parametrize("size", [(430, 270), (640, 400), (860, 600), (1000, 700), (1920, 1200)])
def test_no_text_is_clipped_at_any_size(open_window, qtbot, size):
    window = open_window("market_cart_first_try", *size)
    qtbot.wait(1)
    assert clipped_texts(window) == []
    folds = list(window.arrangement.folds.values())
    assert outside(window, [window.plan, window.tools, window.status, *folds]) == []


_SCALED = """
import sys
from PySide6.QtCore import QSettings
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.ui.app import make_application
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.session import Session
from clipping import clipped_texts, outside

QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, sys.argv[1])
factor, wide, high = (float(one) for one in sys.argv[2:5])
application = make_application([])
window = MainWindow(Session(load(sample_builds() / "market_cart_first_try.cart")))
window.resize(round(wide / factor), round(high / factor))
window.show()
for _ in range(4):
    application.processEvents()
ratio = window.devicePixelRatioF()
assert ratio == factor, ratio
assert window.width() * ratio <= wide + factor, window.width()
assert window.height() * ratio <= high + factor, window.height()
window.show_start()
application.processEvents()
assert clipped_texts(window) == [], clipped_texts(window)
window.leave_start()
window.guide.start()
application.processEvents()
assert window.rect().contains(window.guide.card.geometry())
window.guide.leave()
folds = list(window.arrangement.folds.values())
for name in ("", "details", "findings", "stock"):
    if name:
        window.show_panel(name)
        application.processEvents()
    assert clipped_texts(window) == [], (name, clipped_texts(window))
    lost = outside(window, [window.plan, window.tools, window.status, *folds])
    assert lost == [], (name, lost, window.rect())
print("fits", flush=True)
import os
os._exit(0)
"""


@pytest.mark.parametrize("factor", [1, 1.5, 2, 3])
def test_no_text_is_clipped_at_any_scale(factor, tmp_path):
    """A screen of 1280 by 800 pixels; at 300 % that is as little as 426 by 266."""
    done = subprocess.run(
        [sys.executable, "-c", _SCALED, str(tmp_path), str(factor), "1280", "800"],
        env={
            **os.environ,
            "QT_QPA_PLATFORM": "offscreen",
            "QT_SCALE_FACTOR": str(factor),
            "PYTHONPATH": os.pathsep.join(
                [str(Path(__file__).parent), os.environ.get("PYTHONPATH", "")]
            ),
        },
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.stdout.strip() == "fits", done.stderr
