"""Take the pictures that README shows, from the real window and the real export.

Run it after any change of the screen: python resources/make_screenshots.py
"""

import datetime
import os
import tempfile
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from msgspec.structs import replace
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QMenu, QPushButton

from cartlayout.analysis import analyse
from cartlayout.build import Reading
from cartlayout.build.edits import replace_item
from cartlayout.build.file import load
from cartlayout.data import resources, sample_builds
from cartlayout.documents.devices import png_bytes
from cartlayout.documents.export import export_plan
from cartlayout.documents.packet.content import Job
from cartlayout.documents.packet.pages import lay_out, numbered
from cartlayout.documents.packet.registry import SHEETS
from cartlayout.documents.theme import LIGHT
from cartlayout.network import insert_inline
from cartlayout.power.assign.request import request
from cartlayout.stock import entry
from cartlayout.ui.app import make_application
from cartlayout.ui.boards.findings import FindingCard
from cartlayout.ui.boards.room_menu import room_menu
from cartlayout.ui.choosing_pump import ChoosingPumpPanel
from cartlayout.ui.comparing import ComparePanel, of_file, open_compare
from cartlayout.ui.details.cord_sizes import CordSizes
from cartlayout.ui.main_window import MainWindow
from cartlayout.ui.new_cart import new_build
from cartlayout.ui.rebalance.dialog import RebalanceDialog
from cartlayout.ui.rebalance.plan import plan
from cartlayout.ui.rebalance.request_dialog import RequestDialog
from cartlayout.ui.selection import Selection
from cartlayout.ui.sensitivity import SensitivityPanel
from cartlayout.ui.session import OVERLAYS, USUAL_OVERLAYS, Session
from cartlayout.units import Pressure, UnitSystem

SIZE = (1280, 800)
_OPENED: list[MainWindow] = []
"""Kept to the end: one that is collected while others are open can still be asked by Qt."""


def open_window(application: QApplication, sample: str) -> MainWindow:
    """A window on a sample build, drawn."""
    window = MainWindow(Session(load(sample_builds() / f"{sample}.cart")))
    _OPENED.append(window)
    window.resize(*SIZE)
    window.show()
    settle(application)
    return window


def settle(application: QApplication) -> None:
    """Let everything that is due happen."""
    for _ in range(20):
        application.processEvents()


def close(application: QApplication, window: MainWindow) -> None:
    """Leave without being asked to save."""
    window.session.undo_stack.setClean()
    window.close()
    settle(application)


def drag_first_load(application: QApplication, window: MainWindow) -> None:
    """Hold the heaviest load of circuit A over the bar of circuit B, and do not let go."""
    first, second = window.circuits.bars[:2]
    start = first.segment_rect(first.row.segments[0]).center().toPoint()
    QTest.mousePress(first, Qt.MouseButton.LeftButton, pos=start)
    target = first.mapFromGlobal(second.mapToGlobal(second.rect().center()))
    for part in (0.1, 0.4, 0.8, 1.0):
        step = start + (target - start) * part
        QTest.mouseMove(first, QPoint(round(step.x()), round(step.y())))
        settle(application)


def picture_dialogs(application: QApplication, folder: Path) -> None:
    """The rebalance that is proposed for the first try, and what the hall bar asks a venue for."""
    window = open_window(application, "market_cart_first_try")
    session = window.session
    found = plan(session.settled, lambda _share: True)
    assert found is not None
    asked = request(session.build)
    for dialog, name in (
        (RebalanceDialog(found, session.theme, session.system, window), "rebalancing"),
        (RequestDialog(session.build, asked, None, window), "asking_the_venue"),
    ):
        dialog.show()
        settle(application)
        dialog.grab().save(str(folder / f"{name}.png"))
        dialog.close()
    close(application, window)


def picture_power(application: QApplication, folder: Path) -> None:
    """Cords tried in the place of a long lead; what can still be added to a circuit."""
    window = open_window(application, "station_kiosk_230v")
    window.session.select(Selection(runs=("lead-wire",)))
    settle(application)
    section = window.details.page.sections["Cords that fit"]
    section.head.click()
    view = section.editor
    assert isinstance(view, CordSizes)
    while view.trials.works:
        QTest.qWait(20)
    window.details.area.bring_up(section)
    view.rows["1.5 mm2"].setFocus(Qt.FocusReason.TabFocusReason)
    while window.session.analysis.build is not window.session.shown:
        QTest.qWait(20)
    settle(application)
    window.grab().save(str(folder / "cords.png"))
    QTest.keyClick(view.rows["1.5 mm2"], Qt.Key.Key_Escape)
    close(application, window)
    window = open_window(application, "market_cart")
    circuit = window.session.settled.power.circuits[0]
    menu = room_menu(window, window.session, circuit)
    more = menu.findChildren(QMenu)[0]
    bar = window.circuits.bars[0]
    at = window.mapFromGlobal(bar.mapToGlobal(QPoint(bar.width() // 3, 0)))
    whole = window.grab()
    painter = QPainter(whole)
    for one, beside in ((menu, 0), (more, menu.sizeHint().width())):
        one.ensurePolished()
        one.adjustSize()
        corner = QPoint(at.x() + beside, at.y() - one.sizeHint().height())
        painter.drawPixmap(corner, one.grab())
    painter.end()
    whole.save(str(folder / "room_on_a_circuit.png"))
    close(application, window)


def picture_start(application: QApplication, target: Path) -> None:
    """The start page, when the pictures of the samples have come."""
    window = MainWindow(Session(new_build()))
    _OPENED.append(window)
    window.show_start()
    window.resize(*SIZE)
    window.show()
    QTest.qWait(3000)
    window.grab().save(str(target))
    close(application, window)


def picture_ways_to_work(application: QApplication, folder: Path) -> None:
    """Weight and clearances, a bigger machine tried out, and the cart itself edited."""
    window = open_window(application, "folding_cart_modules")
    for overlay in ("clearance", "weight"):
        window.session.set_overlay(overlay, True)
    for overlay in ("power", "water", "drain"):
        window.session.set_overlay(overlay, False)
    settle(application)
    window.grab().save(str(folder / "weight_and_clearances.png"))
    for overlay in OVERLAYS:  # the next window remembers them
        window.session.set_overlay(overlay, overlay in USUAL_OVERLAYS)
    close(application, window)
    window = open_window(application, "market_cart")
    window.plan.choose(frozenset({"kettle"}), frozenset())
    window.actions_["equipment.replace"].trigger()
    QTest.qWait(1500)
    window.grab().save(str(folder / "replacing.png"))
    QTest.keyClick(window.focusWidget(), Qt.Key.Key_Escape)
    settle(application)
    window.actions_["cart.edit"].trigger()
    settle(application)
    window.grab().save(str(folder / "editing_the_cart.png"))
    close(application, window)


def picture_water(application: QApplication, folder: Path) -> None:
    """Which pump, when all have been tried; and the details of the pump that is there."""
    window = open_window(application, "market_cart")
    window.actions_["water.which-pump"].trigger()
    panel = window.findChild(ChoosingPumpPanel)
    while panel.trials.works:
        QTest.qWait(50)
    settle(application)
    window.grab().save(str(folder / "which_pump.png"))
    QTest.keyClick(panel.list, Qt.Key.Key_Escape)
    window.resize(SIZE[0], 2 * SIZE[1])  # so that the charts under the facts are seen
    settle(application)
    window.plan.choose(frozenset({"pump"}), frozenset())
    settle(application)
    window.details.grab().save(str(folder / "water_details.png"))
    close(application, window)


def picture_gauges(application: QApplication, folder: Path) -> None:
    """A gauge that shows less than it should, and what explains it."""
    window = open_window(application, "market_cart")
    build, gauge = insert_inline(
        window.session.build, "filtered-line", entry("gauge").specification, 1.0, 0.3
    )
    read = (
        Reading(case="All shut", pressure=Pressure("59 psi")),
        Reading(case="Everything open", pressure=Pressure("33 psi")),
    )
    build = replace_item(build, replace(build.item(gauge), readings=read))
    window.resize(SIZE[0], round(1.7 * SIZE[1]))
    window.session.apply("Read a gauge", build)
    window.plan.choose(frozenset({gauge}), frozenset())
    settle(application)
    ask = next(
        one for one in window.details.findChildren(QPushButton) if one.text() == "What explains it?"
    )
    QTest.mouseClick(ask, Qt.MouseButton.LeftButton)
    settle(application)
    window.details.grab().save(str(folder / "gauges.png"))
    close(application, window)


def finding_card(window: MainWindow, words: str) -> FindingCard:
    """The card of a finding, opened by a click."""
    cards = window.findings.findChildren(FindingCard)
    card = next(one for one in cards if words in one.title.text() and one.isVisible())
    QTest.mouseClick(card, Qt.MouseButton.LeftButton)
    return card


def link(card: FindingCard, words: str) -> QAbstractButton:
    """A link on a card, by what it says."""
    links = card.findChildren(QAbstractButton)
    return next(one for one in links if words in one.text() and one.isVisible())


def picture_findings(application: QApplication, folder: Path) -> None:
    """Remedies of a finding, the working of its number, and what should be checked first."""
    window = open_window(application, "market_cart_first_try")
    card = finding_card(window, "rinser gets")
    QTest.qWait(4000)  # until its remedies have been tried
    QTest.mouseClick(link(card, "remed"), Qt.MouseButton.LeftButton)
    QTest.qWait(1500)
    window.grab().save(str(folder / "remedies.png"))
    close(application, window)
    window = open_window(application, "market_cart_first_try")
    card = finding_card(window, "rinser gets")
    settle(application)
    QTest.mouseClick(link(card, "orking"), Qt.MouseButton.LeftButton)
    QTest.qWait(500)
    window.grab().save(str(folder / "working.png"))
    close(application, window)
    window = open_window(application, "market_cart_first_try")
    window.actions_["cart.what-to-check"].trigger()
    panel = window.findChild(SensitivityPanel)
    while panel.works:
        QTest.qWait(50)
    settle(application)
    window.grab().save(str(folder / "what_to_check.png"))
    QTest.keyClick(panel.list, Qt.Key.Key_Escape)
    close(application, window)
    window = open_window(application, "market_cart")
    open_compare(window.session, window, of_file(sample_builds() / "market_cart_first_try.cart"))
    compared = window.findChild(ComparePanel)
    while not any(compared.list.keyed()):
        QTest.qWait(50)
    row = next(row for _, row in compared.list.keyed() if "Knock" in str(row.text()))
    compared.list.setCurrentItem(row)
    QTest.qWait(1000)
    window.grab().save(str(folder / "comparing.png"))
    close(application, window)


def picture_packet(target: Path) -> None:
    """Four sheets of a packet beside each other."""
    build = load(sample_builds() / "market_cart.cart")
    day = datetime.date(2026, 11, 30)
    system = UnitSystem(build.units)
    job = Job(build, analyse(build), system, "letter", day, "market_cart.cart")
    laid = [
        lay_out(SHEETS[key].make(job), job)
        for key in ("elevations", "one-line-water", "load-schedule", "parts")
    ]
    pages = [pages[0] for _, pages in numbered(laid)]
    pictures = [QImage.fromData(png_bytes(page.canvas(), 62)) for page in pages]
    wide, high, gap = pictures[0].width(), pictures[0].height(), 12
    whole = QImage(2 * wide + 3 * gap, 2 * high + 3 * gap, QImage.Format.Format_RGB32)
    whole.fill(QColor(LIGHT.line_strong))
    painter = QPainter(whole)
    for number, one in enumerate(pictures):
        row, column = divmod(number, 2)
        painter.drawImage(gap + column * (wide + gap), gap + row * (high + gap), one)
    painter.end()
    whole.save(str(target))


def main() -> None:
    """Write all pictures to resources/screenshots."""
    folder = resources() / "screenshots"
    folder.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as settings:
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, settings)
        application = make_application([])
        window = open_window(application, "market_cart_first_try")
        window.grab().save(str(folder / "first_try.png"))
        drag_first_load(application, window)
        window.grab().save(str(folder / "moving_a_load.png"))
        QTest.keyClick(window.circuits.bars[0], Qt.Key.Key_Escape)
        close(application, window)
        window = open_window(application, "conference_hall_bar")
        window.actions_["view.dark"].trigger()
        settle(application)
        window.grab().save(str(folder / "hall_bar_dark.png"))
        window.actions_["view.light"].trigger()
        close(application, window)
        picture_dialogs(application, folder)
        picture_power(application, folder)
        picture_start(application, folder / "start_page.png")
        picture_ways_to_work(application, folder)
        picture_water(application, folder)
        picture_gauges(application, folder)
        picture_findings(application, folder)
        picture_packet(folder / "packet.png")
    build = load(sample_builds() / "market_cart.cart")
    sheet: Path = folder / "plan_sheet.png"
    export_plan(build, analyse(build), sheet, dpi=110, sheet="letter", file="market_cart.cart")


if __name__ == "__main__":
    main()
