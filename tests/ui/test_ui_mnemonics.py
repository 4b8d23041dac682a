"""Every line of a menu can be chosen by a letter of its own."""

from collections import Counter

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QMenu


def letter(text: str) -> str:
    """The letter after a single ampersand, or nothing."""
    return QKeySequence.mnemonic(text).toString().removeprefix("Alt+")


def test_no_two_lines_of_a_menu_share_a_letter(window):
    menus: list[QMenu] = list(window.menuBar().findChildren(QMenu))
    assert len(menus) > 6
    shared = {
        menu.title(): [one for one, count in letters.items() if one and count > 1]
        for menu in menus
        if (letters := Counter(letter(action.text()) for action in menu.actions()))
    }
    assert {title: found for title, found in shared.items() if found} == {}
    bar = Counter(letter(action.text()) for action in window.menuBar().actions())
    assert all(one and count == 1 for one, count in bar.items())
