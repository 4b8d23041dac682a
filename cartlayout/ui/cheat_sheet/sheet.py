"""The cheat sheet in a window of its own, and as a page to print."""

from html import escape
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QMarginsF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter, QPdfWriter, QResizeEvent, QTextDocument
from PySide6.QtWidgets import QDialog, QFrame, QPushButton, QTextBrowser, QVBoxLayout

from ...documents.fonts import font
from ...documents.theme import LIGHT, TYPE, Theme
from .. import dialogs, widgets
from .content import Group, Row, columns, groups, key_words

if TYPE_CHECKING:
    from ..main_window import MainWindow

_COLUMN_PX = 310
_PAGE_COLUMNS = 3
_PAGE_PX = 1020.0


def html(groups_: tuple[Group, ...], count: int, theme: Theme) -> str:
    """The sheet as rich text in so many columns."""
    cells = "".join(
        f'<td width="{100 // count}%" style="padding-right:18px">'
        f"{''.join(_group(one, theme) for one in column)}</td>"
        for column in columns(groups_, count)
    )
    return f'<table width="100%" cellspacing="0" cellpadding="0"><tr>{cells}</tr></table>'


def _group(group: Group, theme: Theme) -> str:
    rows = "".join(
        f'<tr><td style="padding:2px 8px 2px 0; color:{theme.ink}">{escape(row.what)}</td>'
        f'<td align="right" style="padding:2px 0; color:{theme.ink_muted}">{_caps(row, theme)}</td>'
        "</tr>"
        for row in group.rows
    )
    return (
        f'<p style="font-size:{TYPE.strong}px; font-weight:600; color:{theme.ink}; '
        f'margin:10px 0 3px 0">{escape(group.title)}</p>'
        f'<table width="100%" cellspacing="0" cellpadding="0">{rows}</table>'
    )


def _caps(row: Row, theme: Theme) -> str:
    words = key_words(row)
    if not row.keys:
        return escape(words[0])
    return " ".join(
        f'<span style="background-color:{theme.track}; color:{theme.ink}; font-weight:500">'
        f"&nbsp;{escape(word)}&nbsp;</span>"
        for word in words
    )


class CheatSheet(QDialog):
    """Stays open beside the window while one works."""

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window = window
        self._count = 0
        self.setWindowTitle("Keys and mouse")
        self.text = QTextBrowser()
        self.text.setFrameShape(QFrame.Shape.NoFrame)
        self.text.setAccessibleName("Keys and mouse")
        self.text.document().setDefaultFont(font(TYPE.body))
        save = QPushButton("Save as PDF…")
        save.clicked.connect(self._ask_pdf)
        close = QPushButton("Close")
        close.setDefault(True)
        close.clicked.connect(self.close)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 8, 12, 12)
        column.addWidget(self.text, 1)
        column.addLayout(widgets.row(None, save, close))
        room = window.size()
        self.resize(min(1000, max(room.width() - 60, 320)), min(700, max(room.height() - 60, 200)))
        window.session.theme_changed.connect(self._fill)
        self._fill()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._columns() != self._count:
            self._fill()

    def _columns(self) -> int:
        return max(1, min(3, (self.text.width() or self.width()) // _COLUMN_PX))

    def _fill(self, *_: object) -> None:
        self._count = self._columns()
        sheet = groups(self._window.actions_)
        self.text.setHtml(html(sheet, self._count, self._window.session.theme))

    def _ask_pdf(self) -> None:
        path = dialogs.ask_export(self, str(Path.home() / "cartlayout keys.pdf"), "pdf")
        if path is None:
            return
        if write_pdf(path, groups(self._window.actions_)):
            self._window.session.tell(f"Saved {path.name}.")
        else:
            dialogs.show_error(self, "The sheet was not saved", f"{path} cannot be written.")


def write_pdf(path: Path, groups_: tuple[Group, ...]) -> bool:
    """Write the sheet on one A4 page, lying; False: the file cannot be written."""
    try:
        path.open("ab").close()
    except OSError:
        return False
    document = QTextDocument()
    document.setDefaultFont(font(TYPE.body))
    document.setHtml(html(groups_, _PAGE_COLUMNS, LIGHT))
    document.setTextWidth(_PAGE_PX)
    writer = QPdfWriter(str(path))
    writer.setTitle("Keys and mouse")
    writer.setPageLayout(
        QPageLayout(
            QPageSize(QPageSize.PageSizeId.A4),
            QPageLayout.Orientation.Landscape,
            QMarginsF(10, 10, 10, 10),
            QPageLayout.Unit.Millimeter,
        )
    )
    painter = QPainter()
    if not painter.begin(writer):
        return False
    size: QSizeF = document.size()
    scale = min(writer.width() / size.width(), writer.height() / size.height())
    painter.scale(scale, scale)
    document.drawContents(painter)
    return painter.end()
