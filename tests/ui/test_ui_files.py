"""Opening and saving: no change is lost by accident, and errors name the place."""

import json

import pytest
from building_many import hall
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QTimer, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QDialogButtonBox,
    QMessageBox,
    QProgressDialog,
    QPushButton,
)
from ui_samples import sample

from cartlayout.build import edits
from cartlayout.build.file import load, save
from cartlayout.ui import dialogs, export_dialog, settings
from cartlayout.ui.export_dialog import ExportDialog
from cartlayout.ui.new_cart import NewCartDialog, new_build


def change(window) -> None:
    session = window.session
    session.apply("Move Kettle", edits.move(session.build, ("kettle",), 0.05, 0.0))


@pytest.fixture
def answers(monkeypatch):
    """Answer the dialogs; what was shown as an error is kept."""
    shown: list[tuple[str, str]] = []

    def set_answers(unsaved="cancel", open_path=None, save_path=None):
        monkeypatch.setattr(dialogs, "ask_unsaved", lambda *_: unsaved)
        monkeypatch.setattr(dialogs, "ask_open", lambda *_: open_path)
        monkeypatch.setattr(dialogs, "ask_save", lambda *_: save_path)
        return shown

    monkeypatch.setattr(
        dialogs, "show_error", lambda _parent, title, text, *_: shown.append((title, text))
    )
    set_answers()
    return set_answers


def test_changes_are_guarded(window, answers, tmp_path):
    path = tmp_path / "other.cart"
    save(sample("station_kiosk_230v"), path)
    change(window)
    build = window.session.build
    answers(unsaved="cancel", open_path=path)
    assert not window.files.open()
    assert window.session.build is build
    assert not window.close()
    assert window.isVisible()
    answers(unsaved="discard", open_path=path)
    assert window.files.open()
    assert window.session.build == load(path)
    assert not window.session.dirty


def test_save_first_then_open(window, answers, tmp_path):
    mine, other = tmp_path / "mine.cart", tmp_path / "other.cart"
    save(sample("station_kiosk_230v"), other)
    change(window)
    build = window.session.build
    answers(unsaved="save", open_path=other, save_path=mine)
    assert window.files.open()
    assert load(mine) == build
    assert window.session.path == other


def test_save_as_then_save(window, answers, tmp_path):
    path = tmp_path / "cart.cart"
    answers(save_path=path)
    change(window)
    assert window.isWindowModified()
    assert window.files.save()
    assert not window.isWindowModified()
    assert window.windowTitle().startswith("cart[*]")
    change(window)
    answers(save_path=None)
    assert window.files.save()
    assert load(path) == window.session.build


def test_a_bad_file_changes_nothing_and_names_the_place(window, answers, tmp_path):
    path = tmp_path / "bad.cart"
    save(sample(), path)
    text = json.loads(path.read_text())
    text["build"]["items"][3]["specification"]["size"]["width"] = "12 inn"
    path.write_text(json.dumps(text))
    shown = answers(open_path=path)
    build = window.session.build
    assert not window.files.open()
    assert window.session.build is build
    ((title, words),) = shown
    assert "bad.cart" in title
    assert "items[3]" in words
    assert "try '12 in'" in words


def test_a_place_that_cannot_be_written(window, answers, tmp_path):
    shown = answers(save_path=tmp_path / "no folder" / "cart.cart")
    change(window)
    assert not window.files.save()
    assert window.session.dirty
    assert "not saved" in shown[0][0]


def test_recent_files_and_samples_in_the_menu(window, answers, tmp_path):
    path = tmp_path / "cart.cart"
    answers(save_path=path)
    window.files.save_as()
    recent, samples = window.menus.choices["file.recent"], window.menus.choices["file.samples"]
    recent.fill()
    assert [action.text() for action in recent.actions()] == ["cart.cart"]
    path.unlink()
    assert settings.recent_files() == ()
    samples.fill()
    texts = [action.text() for action in samples.actions()]
    assert len(texts) >= 4
    samples.actions()[0].trigger()
    assert window.session.path is None  # a copy: saving asks for a name
    assert not window.session.dirty


@pytest.fixture
def large_file(tmp_path):
    path = tmp_path / "hall.cart"
    save(hall(200), path)
    assert path.stat().st_size > 200_000
    return path


def test_a_large_file_opens_while_the_window_lives(window, answers, large_file):
    beats = []
    pulse = QTimer(window)
    pulse.timeout.connect(lambda: beats.append(1))
    pulse.start(1)
    analyses = window.session.analyses
    assert window.files.open_path(large_file)
    pulse.stop()
    assert len(beats) > 3
    assert window.session.build == load(large_file)
    assert window.session.analysis.build is window.session.build
    assert window.session.analyses == analyses  # what the thread worked out is taken as it is


def test_opening_can_be_cancelled(window, answers, large_file):
    build = window.session.build

    def cancel():
        (progress,) = window.findChildren(QProgressDialog)
        progress.findChild(QPushButton).click()

    QTimer.singleShot(0, window, cancel)
    assert not window.files.open_path(large_file)
    assert window.session.build is build
    assert large_file not in settings.recent_files()
    window.status.untell()


def test_a_large_file_that_is_bad_names_the_place(window, answers, large_file):
    shown = answers()
    text = json.loads(large_file.read_text())
    text["build"]["items"][3]["specification"]["size"]["width"] = "12 inn"
    large_file.write_text(json.dumps(text))
    build = window.session.build
    assert not window.files.open_path(large_file)
    assert window.session.build is build
    assert "items[3]" in shown[0][1]


def test_a_file_dropped_on_the_window_opens(window, tmp_path):
    path = tmp_path / "dropped.cart"
    save(sample("folding_cart_modules"), path)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    copy, target = Qt.DropAction.CopyAction, window.plan.viewport()
    enter = QDragEnterEvent(QPoint(20, 20), copy, data, left, none)
    QApplication.sendEvent(target, enter)
    assert enter.isAccepted()
    QApplication.sendEvent(target, QDropEvent(QPointF(20, 20), copy, data, left, none))
    assert window.session.path == path


def test_the_question_itself(window, qtbot):
    box = dialogs.unsaved_box(window, "Market cart")
    assert "Market cart" in box.text()
    assert box.defaultButton() is box.button(QMessageBox.StandardButton.Save)
    box.show()
    QTest.keyClick(box, Qt.Key.Key_Escape)
    assert box.result() == QMessageBox.StandardButton.Cancel
    box.deleteLater()


def test_a_new_cart(qtbot):
    dialog = NewCartDialog()
    qtbot.addWidget(dialog)
    dialog.show()
    form = dialog.form
    form.name.setText("Park bar")
    form.region.setCurrentIndex(2)
    assert form.width_field.text() == "1800 mm"
    form.width_field.setText("2 furlongs of it")
    ok = dialog.buttons.button(QDialogButtonBox.StandardButton.Ok)
    QTest.mouseClick(ok, Qt.MouseButton.LeftButton)
    assert dialog.isVisible()
    assert "try" in form.error_of(form.width_field)
    form.width_field.setText("1.5 m")
    QTest.mouseClick(ok, Qt.MouseButton.LeftButton)
    made = dialog.made
    assert made is not None
    assert (made.name, made.region, made.units) == ("Park bar", "EU", "metric")
    assert made.cart.width.si == pytest.approx(1.5)


@pytest.mark.parametrize("region", ["US", "UK", "EU", "AU"])
def test_an_empty_cart_has_nothing_to_stop_for(region):
    from cartlayout.analysis import analyse

    found = analyse(new_build(region=region)).findings
    assert [one.code for one in found if one.severity == "stop"] == []


@pytest.mark.parametrize("kind", ["pdf", "png", "svg"])
def test_export_writes_what_the_dialog_says(window, qtbot, tmp_path, kind):
    dialog = ExportDialog(window.session, window)
    dialog.kinds.setCurrentIndex([name for name, _ in export_dialog._KINDS].index(kind))
    assert dialog.dpi.isEnabled() == (kind == "png")
    dialog.dpi.setCurrentIndex(0)
    path = tmp_path / f"plan.{kind}"
    assert export_dialog.write(window, window.session, dialog, path) == path
    # First bytes of the formats: PDF 1.7 (ISO 32000) 7.5.2, PNG (ISO/IEC 15948) 5.2, SVG is XML.
    magic = {"pdf": b"%PDF-", "png": b"\x89PNG\r\n\x1a\n", "svg": b"<?xml"}[kind]
    assert path.read_bytes().startswith(magic)
    assert not window.session.dirty
    dialog.deleteLater()


def test_export_to_nowhere_is_said(window, answers, tmp_path):
    shown = answers()
    dialog = ExportDialog(window.session, window)
    path = tmp_path / "no folder" / "plan.pdf"
    assert export_dialog.write(window, window.session, dialog, path) is None
    assert "not exported" in shown[0][0]
    dialog.deleteLater()


def test_an_export_can_be_cancelled(window, tmp_path, qtbot):
    dialog = ExportDialog(window.session, window)
    path = tmp_path / "plan.pdf"

    def cancel():
        (progress,) = window.findChildren(QProgressDialog)
        progress.findChild(QPushButton).click()

    QTimer.singleShot(0, window, cancel)
    assert export_dialog.write(window, window.session, dialog, path) is None
    assert list(tmp_path.iterdir()) == []
    dialog.deleteLater()


def test_the_window_lives_while_it_exports(window, tmp_path):
    dialog = ExportDialog(window.session, window)
    beats = []
    pulse = QTimer(window)
    pulse.timeout.connect(lambda: beats.append(1))
    pulse.start(1)
    path = tmp_path / "plan.png"
    assert export_dialog.write(window, window.session, dialog, path) == path
    pulse.stop()
    assert len(beats) > 3
    dialog.deleteLater()
