"""The packet from the window: what is ticked is written, and nothing without being told."""

from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMessageBox, QProgressDialog, QPushButton

from cartlayout.documents.packet.packet import KINDS
from cartlayout.documents.packet.registry import SHEETS
from cartlayout.ui import dialogs
from cartlayout.ui.packet.choice import Choice, remember, remembered
from cartlayout.ui.packet.command import packet, write
from cartlayout.ui.packet.dialog import PacketDialog

LEFT = Qt.MouseButton.LeftButton
FEW = ("load-schedule", "checklist")


@pytest.fixture
def told(monkeypatch) -> list[tuple]:
    """What is said at the end, and errors."""
    said: list[tuple] = []
    monkeypatch.setattr(
        dialogs, "show_written", lambda _, text, folder: said.append((text, folder))
    )
    monkeypatch.setattr(dialogs, "show_error", lambda _, *texts: said.append(texts))
    return said


@pytest.fixture
def dialog(window, tmp_path) -> PacketDialog:
    made = PacketDialog(Choice(folder=str(tmp_path / "out")), window)
    made.show()
    yield made
    made.deleteLater()


def words_of(path: Path) -> str:
    """The first page's text, blanks made single."""
    return " ".join(PdfReader(path).pages[0].extract_text().split())


def click(box) -> None:
    QTest.mouseClick(box, LEFT, pos=QPoint(8, box.height() // 2))


def test_every_sheet_and_kind_can_be_ticked_and_says_what_it_is(dialog):
    assert set(dialog.sheets) == set(SHEETS)
    assert set(dialog.kinds) == set(KINDS)
    for box in (*dialog.sheets.values(), *dialog.kinds.values()):
        assert box.toolTip()
        assert box.accessibleDescription()
        before = box.isChecked()
        click(box)
        assert box.isChecked() != before


def test_nothing_to_write_says_why(dialog):
    links = {one.whole: one for one in dialog.findChildren(type(dialog._link("x", True)))}
    QTest.mouseClick(links["None"], LEFT)
    assert not dialog.write.isEnabled()
    assert dialog.why_not.text() == "Tick at least one sheet."
    QTest.mouseClick(links["All"], LEFT)
    assert dialog.write.isEnabled()
    for box in dialog.kinds.values():
        box.setChecked(False)
    assert dialog.why_not.text() == "Tick at least one kind of file."
    click(dialog.kinds["pdf"])
    dialog.folder.clear()
    assert dialog.why_not.text() == "Choose a folder."
    QTest.keyClicks(dialog.folder, "somewhere")
    assert dialog.why_not.text() == "Give the whole path of the folder."
    dialog.folder.setText("~nobody-of-that-name/x")
    assert not dialog.write.isEnabled()
    dialog.folder.clear()
    QTest.keyClicks(dialog.folder, "/tmp/somewhere")
    assert dialog.write.isEnabled()
    assert dialog.choice.folder == "/tmp/somewhere"


def test_the_folder_can_be_chosen(dialog, monkeypatch, tmp_path):
    monkeypatch.setattr(dialogs, "ask_folder", lambda *_: tmp_path)
    QTest.mouseClick(dialog.browse, LEFT)
    assert dialog.folder.text() == str(tmp_path)
    monkeypatch.setattr(dialogs, "ask_folder", lambda *_: None)
    QTest.mouseClick(dialog.browse, LEFT)
    assert dialog.folder.text() == str(tmp_path)


def test_the_keyboard_reaches_everything(dialog, qtbot):
    dialog.activateWindow()
    seen = set()
    first = dialog.focusWidget()
    for _ in range(60):
        seen.add(dialog.focusWidget())
        QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
        if dialog.focusWidget() is first:
            break
    wanted = {*dialog.sheets.values(), *dialog.kinds.values(), dialog.paper, dialog.units}
    assert wanted | {dialog.folder, dialog.browse, dialog.write} <= seen


def test_ctrl_shift_e_asks_and_writes(window, monkeypatch, tmp_path, told):
    folder = tmp_path / "packet"
    shown = []

    def answer(dialog: PacketDialog) -> bool:
        shown.append(dialog)
        for key, box in dialog.sheets.items():
            box.setChecked(key in FEW)
        dialog.kinds["xlsx"].setChecked(False)
        dialog.folder.setText(str(folder))
        return True

    monkeypatch.setattr(dialogs, "answered", answer)
    QTest.keyClick(
        window,
        Qt.Key.Key_E,
        Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier,
    )
    assert len(shown) == 1
    names = {path.name for path in folder.iterdir()}
    assert {"packet.pdf", "load-schedule.pdf", "checklist.pdf", "tables"} == names
    assert told[-1][1] == folder
    assert "files written" in told[-1][0]
    text = words_of(folder / "load-schedule.pdf")
    for circuit in window.session.analysis.power.circuits:
        assert circuit.name in text
    assert not window.session.dirty
    shown[0].deleteLater()


def test_choices_are_remembered_and_a_folder_is_offered_for_each_build(window, tmp_path):
    chosen = Choice(FEW, ("svg",), "A3", "metric", str(tmp_path / "mine"))
    remember(chosen, "market cart")
    assert remembered("market cart") == chosen
    assert remembered("other cart").folder == str(tmp_path / "other_cart_packet")


def test_a_packet_is_in_the_units_and_on_the_paper_asked_for(window, tmp_path, told):
    write(window, Choice(("checklist",), ("pdf",), "A3", "metric", str(tmp_path)))
    page = PdfReader(tmp_path / "checklist.pdf").pages[0]
    sides = sorted(float(side) * 25.4 / 72 for side in page.mediabox[2:])
    assert sides == pytest.approx([297, 420], abs=0.5)  # ISO 216, A3
    assert "mm, kg, bar, L/min, L, °C" in words_of(tmp_path / "checklist.pdf")


def test_files_that_are_there_go_only_when_told(window, tmp_path, told, monkeypatch):
    (tmp_path / "checklist.pdf").write_text("mine")
    asked = []
    choice = Choice(("checklist",), ("pdf",), folder=str(tmp_path))
    monkeypatch.setattr(dialogs, "ask_replace", lambda *args: asked.append(args[1:]) or False)
    assert write(window, choice) == []
    assert asked == [(tmp_path, ("checklist.pdf",))]
    assert (tmp_path / "checklist.pdf").read_text() == "mine"
    monkeypatch.setattr(dialogs, "ask_replace", lambda *_: True)
    assert write(window, choice) == [tmp_path / "checklist.pdf"]
    assert (tmp_path / "checklist.pdf").read_bytes().startswith(b"%PDF")


def test_it_can_be_cancelled_and_leaves_nothing(window, tmp_path, told):
    folder = tmp_path / "out"

    def cancel():
        for progress in window.findChildren(QProgressDialog):
            progress.findChild(QPushButton).click()

    QTimer.singleShot(0, window, cancel)
    assert write(window, Choice(folder=str(folder))) == []
    assert not folder.exists()
    assert told == []


def test_the_window_lives_while_it_writes_and_says_what_it_does(window, tmp_path, told):
    words = set()

    def look():
        words.update(one.labelText() for one in window.findChildren(QProgressDialog))

    pulse = QTimer(window)
    pulse.timeout.connect(look)
    pulse.start(1)
    assert write(window, Choice(FEW, ("pdf",), folder=str(tmp_path)))
    pulse.stop()
    assert len(words) > 2
    assert any(one.startswith(("Making: ", "Laying out: ", "Writing ")) for one in words)


def test_what_cannot_be_written_is_said_with_the_place(window, tmp_path, told):
    (tmp_path / "file").write_text("")
    assert write(window, Choice(FEW, ("pdf",), folder=str(tmp_path / "file" / "deep"))) == []
    title, text = told[-1]
    assert title == "The packet was not written"
    assert "could not be written" in text
    assert "choose a folder" in text


@pytest.mark.parametrize(("button", "replaces"), [("Replace", True), ("Cancel", False)])
def test_the_question_names_the_files_and_the_safe_answer_is_the_default(
    window, button: str, replaces: bool
):
    names = [f"sheet-{at}.pdf" for at in range(9)]

    def press():
        (box,) = window.findChildren(QMessageBox)
        assert "sheet-5.pdf" in box.informativeText()
        assert "and 3 more" in box.informativeText()
        assert box.defaultButton().text().replace("&", "") == "Cancel"
        (wanted,) = [one for one in box.buttons() if one.text().replace("&", "") == button]
        QTest.mouseClick(wanted, LEFT)

    QTimer.singleShot(0, window, press)
    assert dialogs.ask_replace(window, Path("/tmp/x"), names) == replaces


@pytest.mark.parametrize("opens", [True, False])
def test_the_folder_can_be_opened_when_it_is_done(window, monkeypatch, tmp_path, opens: bool):
    opened = []
    monkeypatch.setattr(
        dialogs.QDesktopServices, "openUrl", lambda url: opened.append(url.toLocalFile()) or True
    )

    def press():
        (box,) = window.findChildren(QMessageBox)
        wanted = "Open Folder" if opens else "Close"
        (button,) = [one for one in box.buttons() if one.text().replace("&", "") == wanted]
        QTest.mouseClick(button, LEFT)

    QTimer.singleShot(0, window, press)
    dialogs.show_written(window, "2 files written", tmp_path)
    assert [Path(one) for one in opened] == ([tmp_path] if opens else [])


def test_nobody_asked_nothing_written(window, monkeypatch, told, tmp_path):
    monkeypatch.setattr(dialogs, "answered", lambda made: made.deleteLater())
    packet(window)
    assert told == []
    QApplication.processEvents()
