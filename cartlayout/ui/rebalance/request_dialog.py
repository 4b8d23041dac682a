"""What to ask the venue for, as a list that can be copied into a letter."""

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from ...build import Build
from ...power.assign.request import Request, Wanted
from .. import widgets


def lines(build: Build, asked: Request) -> list[str]:
    """One line a circuit, in plain words."""
    names = {item.id: item.name for item in build.items}
    told = []
    for number, one in enumerate(asked.circuits, 1):
        told.append(f"{number}. {_circuit(one)}: {_and([names[item] for item in one.loads])}")
    return told


def _circuit(one: Wanted) -> str:
    alone = ", feeding nothing else" if one.alone else ""
    return (
        f"{one.volts:g} V, {one.amps:g} A, receptacle {one.receptacle}{alone} "
        f"({one.drawn_a:.1f} A drawn)"
    )


def _and(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


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
        self.list = widgets.wrapped(self.text)
        column.addWidget(self.list)
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
        self.setMinimumWidth(560)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text)
