"""What to ask the venue for, as a list that can be copied into a letter."""

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QGridLayout, QVBoxLayout, QWidget

from ...build import Build
from ...power.assign.request import Request, Wanted
from .. import widgets

_WIDTH = 560
_MOST_HIGH = 380
"""Of the list; more circuits are scrolled."""


def lines(build: Build, asked: Request) -> list[str]:
    """One line a circuit, in plain words."""
    names = {item.id: item.name for item in build.items}
    told = []
    for number, one in enumerate(asked.circuits, 1):
        told.append(f"{number}. {_circuit(one)}: {_and([names[item] for item in one.loads])}")
    return told


def _circuit(one: Wanted) -> str:
    return f"{_asked(one)} ({one.drawn_a:.1f} A drawn)"


def _asked(one: Wanted) -> str:
    alone = ", feeding nothing else" if one.alone else ""
    return f"{one.volts:g} V, {one.amps:g} A, receptacle {one.receptacle}{alone}"


def _and(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _rows(build: Build, asked: Request) -> QWidget:
    """What is asked for in strong letters, what it is for under it."""
    rows = QWidget()
    grid = QGridLayout(rows)
    grid.setContentsMargins(0, 0, 8, 0)
    grid.setHorizontalSpacing(8)
    grid.setVerticalSpacing(1)
    grid.setColumnStretch(1, 1)
    names = {item.id: item.name for item in build.items}
    for number, one in enumerate(asked.circuits):
        carried = _and([names[item] for item in one.loads])
        grid.addWidget(widgets.label(f"{number + 1}.", "strong"), 2 * number, 0)
        grid.addWidget(widgets.wrapped(_asked(one), "strong"), 2 * number, 1)
        grid.addWidget(
            widgets.wrapped(f"{one.drawn_a:.1f} A drawn by {carried}", "muted"), 2 * number + 1, 1
        )
    return rows


class RequestDialog(QDialog):
    """The fewest circuits that carry the cart."""

    def __init__(self, build: Build, asked: Request, own: Request | None, parent: QWidget | None):
        super().__init__(parent)
        self.setWindowTitle("What to ask the venue for")
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 12)
        column.setSpacing(10)
        count = len(asked.circuits)
        noun = "circuit" if count == 1 else "circuits"
        column.addWidget(widgets.label("What to ask the venue for", "heading"))
        proof = "" if asked.proven else ", the fewest that were found in time"
        column.addWidget(widgets.wrapped(f"{count} {noun} carry everything on at once{proof}."))
        self.text = "\n".join(lines(build, asked))
        self.area = widgets.ColumnArea(spacing=8)
        self.area.add(_rows(build, asked))
        high = self.area.column.totalHeightForWidth(_WIDTH - 60)
        self.area.setFixedHeight(min(high, _MOST_HIGH))
        column.addWidget(self.area)
        if own is not None and len(own.circuits) < count:
            fewer = len(own.circuits)
            column.addWidget(
                widgets.wrapped(
                    f"If never more is on than in your own operating cases, {fewer} would do: "
                    f"{'; '.join(lines(build, own))}."
                )
            )
        if asked.left_out:
            left = _and([item.name for item in build.items if item.id in asked.left_out])
            column.addWidget(
                widgets.wrapped(f"No usual circuit of the region takes {left}: ask for it by name.")
            )
        column.addStretch(1)
        column.addWidget(
            widgets.wrapped(
                "Planning aid only. A licensed electrician and the local code decide.", "muted"
            )
        )
        self.buttons = QDialogButtonBox()
        copy = self.buttons.addButton("Copy", QDialogButtonBox.ButtonRole.ActionRole)
        copy.setToolTip("Put the list on the clipboard, for a letter to the venue")
        copy.clicked.connect(self._copy)
        close = self.buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)
        close.setDefault(True)
        widgets.without_icons(self.buttons)
        self.buttons.rejected.connect(self.reject)
        column.addWidget(self.buttons)
        widgets.as_high_as_its_words(self, _WIDTH)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text)
