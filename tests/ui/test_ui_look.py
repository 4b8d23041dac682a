"""The window on every sample, at several sizes and in both themes: nothing is cut off.

Measured, not looked at: the room a text has against the room its letters take, in the font
they are painted with. Contrast is measured in tests/documents/test_documents_theme.py.
"""

import itertools

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QToolButton, QWidget

from cartlayout.data import sample_builds
from cartlayout.documents.theme import DARK, LIGHT
from cartlayout.ui.boards import circuit_bar, taps
from cartlayout.ui.selection import Selection

SAMPLES = sorted(path.stem for path in sample_builds().glob("*.cart"))
VIEWS = ((1280, 800, LIGHT), (1280, 800, DARK), (1920, 1200, DARK), (1440, 900, LIGHT))
_SPARE_PX = 1.0
"""Rounding of a font's widths."""


def ids(view) -> str:
    width, height, theme = view
    return f"{width}x{height}-{theme.name}"


def settle() -> None:
    """Let layouts that wait for each other come to rest."""
    for _ in range(4):
        QApplication.processEvents()


def seen(widget: QWidget) -> QRect:
    """The part of a widget that its parents let through."""
    return widget.visibleRegion().boundingRect()


def too_narrow(widget: QWidget) -> str:
    """What of a widget's text has no room, or nothing."""
    if isinstance(widget, QLabel):
        if not widget.text() or not widget.pixmap().isNull():
            return ""
        inside = widget.contentsRect()
        if widget.wordWrap():
            short = widget.heightForWidth(widget.width()) - widget.height()
            return f"{short} px too low" if short > _SPARE_PX else ""
        if "<" in widget.text():
            return ""
        lines = widget.text().split("\n")
        wide = max(widget.fontMetrics().horizontalAdvance(line) for line in lines)
        return f"{wide} px in {inside.width()}" if wide > inside.width() + _SPARE_PX else ""
    bare = Qt.ToolButtonStyle.ToolButtonIconOnly
    if isinstance(widget, QToolButton) and widget.toolButtonStyle() == bare:
        return ""
    if isinstance(widget, QAbstractButton) and widget.text():
        wide = widget.sizeHint().width()
        return f"{wide} px in {widget.width()}" if wide > widget.width() + _SPARE_PX else ""
    if isinstance(widget, QComboBox):
        # A long choice ends in an ellipsis and is whole in its tip; a word of it is there.
        first = widget.currentText().split(" ")[0]
        wide = widget.fontMetrics().horizontalAdvance(first) + 30
        return f"{wide} px in {widget.width()}" if wide > widget.width() + _SPARE_PX else ""
    return ""


def cut_off(whole: QWidget) -> list[tuple[str, str, str]]:
    """Every widget under this one whose text has not the room it needs."""
    found = []
    for widget in whole.findChildren(QWidget):
        if not widget.isVisible() or seen(widget).isEmpty():
            continue
        said = too_narrow(widget)
        if said:
            found.append((type(widget).__name__, widget.accessibleName() or text_of(widget), said))
        elif text_of(widget) and seen(widget).width() < widget.width() - 1:
            found.append((type(widget).__name__, text_of(widget), "cut at its side"))
    return found


def text_of(widget: QWidget) -> str:
    text = getattr(widget, "text", None)
    return str(text()) if callable(text) else ""


class Measuring(QFontMetricsF):
    """Notes down what is painted shorter than it is."""

    cut: list[str] = []  # noqa: RUF012 (one list for all)

    def elidedText(self, text, mode, width, flags=0):  # noqa: N802 (Qt's name)
        shown = super().elidedText(text, mode, width, flags)
        if shown != text:
            Measuring.cut.append(text)
        return shown


def lying_together(window) -> list[tuple[str, str]]:
    """Labels of the plan that share room, and those that are out of sight."""
    arranged, frame = window.plan.plan.arranged, window.plan.plan.frame
    boxes = [(f"name {key}", name.box) for key, name in arranged.names.items()]
    boxes += [(placed.note.key, placed.box) for placed in arranged.notes]
    found = []
    for (a, one), (b, other) in itertools.combinations(boxes, 2):
        wide = min(one.right, other.right) - max(one.x, other.x)
        high = min(one.bottom, other.bottom) - max(one.y, other.y)
        if wide > 0.01 and high > 0.01:
            found.append((a, b))
    found += [(key, "the frame") for key, box in boxes if frame and not frame.holds(box)]
    return found


@pytest.mark.parametrize("view", VIEWS, ids=ids)
@pytest.mark.parametrize("sample", SAMPLES)
def test_nothing_is_cut_off_and_no_two_labels_lie_together(
    sample, view, open_window, qtbot, monkeypatch
):
    """Names of loads in a bar may be cut, they have tips; titles, numbers and verdicts may not."""
    width, height, theme = view
    monkeypatch.setattr(circuit_bar, "QFontMetricsF", Measuring)
    monkeypatch.setattr(taps, "QFontMetricsF", Measuring)
    window = open_window(sample, width, height)
    window.session.set_theme(theme)
    qtbot.waitUntil(lambda: window.width() == width)
    settle()
    Measuring.cut = []
    image = window.grab().toImage()
    names = {segment.name for bar in window.circuits.bars for segment in bar.row.segments}
    assert cut_off(window) == []
    assert [text for text in Measuring.cut if text not in names] == []
    assert lying_together(window) == []
    corner = window.plan.mapTo(window, window.plan.rect().topLeft())
    spots = [image.pixelColor(corner.x() + 8 + step, corner.y() + 8 + step) for step in range(60)]
    assert theme.paper in {spot.name() for spot in spots}, "the plan's ground is the theme's paper"


@pytest.mark.parametrize("sample", SAMPLES)
def test_details_of_everything_are_whole(sample, open_window):
    """Every item and every run of a sample, one after the other, at the least of usual sizes."""
    window = open_window(sample, 1280, 800)
    build = window.session.build
    chosen = [Selection(items=(item.id,)) for item in build.items]
    chosen += [Selection(runs=(run.id,)) for run in build.runs[:4]]
    found = []
    for one in chosen:
        window.session.select(one)
        settle()
        found += [(one, *said) for said in cut_off(window.details)]
    assert found == []


def test_the_measure_itself(qtbot):
    """A label half as wide as its letters is found, one with room is not."""
    column = QWidget()
    qtbot.addWidget(column)
    label = QLabel("Outlet 1", column)
    wide = label.fontMetrics().horizontalAdvance("Outlet 1")
    column.resize(300, 100)
    column.show()
    label.setFixedWidth(wide // 2)
    assert [name for name, *_ in cut_off(column)] == ["QLabel"]
    label.setFixedWidth(wide + 8)
    assert cut_off(column) == []
