"""The keyboard's way from one part of the window to the next."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


def walk(parts: Sequence[QWidget], now: QWidget | None, way: int) -> bool:
    """Give the keyboard to the next part that is seen, or the one before; False: there is none."""
    seen = [part for part in parts if part.isVisible()]
    at = next((at for at, part in enumerate(seen) if _holds(part, now)), None)
    for step in range(len(seen)):
        index = step if at is None else (at + way * (step + 1)) % len(seen)
        first = _first(seen[index])
        if first is not None:
            first.setFocus(Qt.FocusReason.ShortcutFocusReason)
            return True
    return False


def _holds(part: QWidget, focused: QWidget | None) -> bool:
    return focused is not None and (part is focused or part.isAncestorOf(focused))


def _first(part: QWidget) -> QWidget | None:
    """The first widget of a part that takes the keyboard by Tab."""
    for one in (part, *part.findChildren(QWidget)):
        takes = one.focusPolicy() & Qt.FocusPolicy.TabFocus
        if takes and one.isVisible() and one.isEnabled():
            return one
    return None
