"""Finds texts that have less room than they need, by measuring every widget that is seen."""

from PySide6.QtCore import QPoint, QRect
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLabel, QWidget

from cartlayout.ui.widgets import ElidedLabel


def shown(window: QWidget, kind: type) -> list:
    return [one for one in window.findChildren(kind) if one.isVisible()]


def clipped_texts(window: QWidget) -> list[tuple[str, int]]:
    """Texts of labels, buttons and choosers that are cut off, with the room they have."""
    found: list[tuple[str, int]] = []
    for label in shown(window, QLabel):
        if isinstance(label, ElidedLabel) or not label.text():
            continue
        if label.wordWrap():
            if label.heightForWidth(label.width()) > label.height():
                found.append((label.text(), label.height()))
        elif label.fontMetrics().horizontalAdvance(label.text()) > label.width():
            found.append((label.text(), label.width()))
    for button in shown(window, QAbstractButton):
        if button.text() and button.minimumSizeHint().width() > button.width():
            found.append((button.text(), button.width()))
    for combo in shown(window, QComboBox):
        text_width = combo.fontMetrics().horizontalAdvance(combo.currentText())
        if text_width > combo.width() - 20:
            found.append((combo.currentText(), combo.width()))
    return found


def outside(window: QWidget, parts: list[QWidget]) -> list[QRect]:
    """Parts that are not whole inside the window."""
    found = []
    for part in parts:
        if part.isVisible():
            box = QRect(part.mapTo(window, QPoint(0, 0)), part.size())
            if not window.rect().contains(box):
                found.append(box)
    return found
