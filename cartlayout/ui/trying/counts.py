"""How many findings there are, and how many there would be: a mark and a number for each kind."""

from collections.abc import Iterable

from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from ...documents.theme import Theme
from ...findings import Severity
from .. import widgets
from ..marks import mark_pixmap

ARROW = " → "


class CountsLine(QWidget):
    """Stops, cares and notes, before and after."""

    def __init__(
        self,
        counts: Iterable[tuple[Severity, int, int]],
        theme: Theme,
        tip: str = "{before} now, {after} with it",
    ) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 2, 0, 2)
        row.setSpacing(4)
        spoken = []
        for severity, before, after in counts:
            picture = QLabel()
            picture.setPixmap(mark_pixmap(theme.mark(severity), 13, self.devicePixelRatioF()))
            text = f"{before}{ARROW}{after}" if before != after else f"{after}"
            number = widgets.label(text, "strong")
            if after != before and severity != "note":
                widgets.set_state(number, "state", "stop" if after > before else "ok")
            words = tip.format(before=before, after=after)
            number.setToolTip(f"{theme.mark(severity).word}: {words}")
            row.addWidget(picture)
            row.addWidget(number)
            row.addSpacing(10)
            spoken.append(f"{severity} {text}")
        row.addStretch(1)
        self.setAccessibleName(", ".join(spoken))
