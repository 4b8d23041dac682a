"""The dialog of the packet: sheets by reader, paper, units, kinds of file, folder."""

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QGridLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from ...documents.packet.content import Reader
from ...documents.packet.packet import KINDS
from ...documents.packet.registry import SHEETS
from .. import dialogs, widgets
from .choice import PAPERS, UNITS, Choice

_WIDTH = 640
_READERS: tuple[tuple[Reader, str], ...] = (
    ("builder", "For the builder"),
    ("inspector", "For plan review"),
    ("venue", "For the venue"),
    ("operator", "For the operator"),
)
_KIND_TIPS = {
    "pdf": "To print and to send: one of all sheets, and one a sheet",
    "png": "Every page as an image in pixels",
    "svg": "Every page as a drawing to work on",
    "dxf": "Plans and elevations at their real size, for the shop",
    "csv": "Every table as text, for a spreadsheet or a label printer",
    "xlsx": "All tables in one workbook",
}


class PacketDialog(QDialog):
    """Asks what is wanted; `choice` says it."""

    def __init__(self, choice: Choice, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Packet of sheets")
        self.sheets = {key: _box(entry.title, entry.says) for key, entry in SHEETS.items()}
        self.kinds = {kind: _box(kind.upper(), _KIND_TIPS[kind]) for kind in KINDS}
        self.paper = _combo(PAPERS, choice.paper, "Paper")
        self.units = _combo(UNITS, choice.units, "Units")
        self.folder = QLineEdit(choice.folder)
        self.folder.setAccessibleName("Folder")
        self.folder.setToolTip("Where the files go; it is made if it is not there")
        self.browse = QPushButton("Choose…")
        self.browse.setToolTip("Choose a folder")
        self.browse.setAutoDefault(False)
        self.why_not = widgets.label("", "muted")
        for key, box in self.sheets.items():
            box.setChecked(key in choice.sheets)
        for kind, box in self.kinds.items():
            box.setChecked(kind in choice.kinds)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.write = QPushButton("Write")
        self.write.setDefault(True)
        self.buttons.addButton(self.write, QDialogButtonBox.ButtonRole.AcceptRole)
        widgets.without_icons(self.buttons)
        self._arrange()
        self._connect()
        self._changed()
        next(iter(self.sheets.values())).setFocus()  # not the links, which tick or clear them all
        widgets.as_high_as_its_words(self, _WIDTH)

    def _arrange(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 12)
        column.setSpacing(12)
        all_, none = self._link("All", True), self._link("None", False)
        column.addLayout(widgets.row(widgets.label("Sheets", "heading"), None, all_, none))
        column.addLayout(self._readers())
        column.addWidget(widgets.rule())
        form = QFormLayout()
        form.setVerticalSpacing(8)
        form.setHorizontalSpacing(12)
        form.addRow("Files", widgets.row(*self.kinds.values(), None, spacing=14))
        form.addRow("Paper", self.paper)
        form.addRow("Units", self.units)
        form.addRow("Folder", widgets.row(self.folder, self.browse))
        column.addLayout(form)
        column.addWidget(
            widgets.wrapped(
                "Every sheet carries its date, revision, units and the line that it is no "
                "approval. Revision, designer and venue are entered in the Details of the cart.",
                "muted",
            )
        )
        column.addStretch(1)
        column.addLayout(widgets.row(self.why_not, None, self.buttons))

    def _readers(self) -> QGridLayout:
        """Two columns, each reader's sheets under a caption."""
        grid = QGridLayout()
        grid.setHorizontalSpacing(24)
        grid.setVerticalSpacing(12)
        for place, (reader, words) in enumerate(_READERS):
            boxes = [self.sheets[key] for key, one in SHEETS.items() if one.reader == reader]
            if not boxes:
                continue
            group = QVBoxLayout()
            group.setSpacing(4)
            group.addWidget(widgets.label(words, "strong"))
            for box in boxes:
                group.addWidget(box)
            group.addStretch(1)
            grid.addLayout(group, place // 2, place % 2)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        return grid

    def _link(self, text: str, ticked: bool) -> widgets.LinkButton:
        link = widgets.LinkButton(text)
        link.setToolTip("Tick every sheet" if ticked else "Tick no sheet")
        link.clicked.connect(self._tick_all if ticked else self._tick_none)
        return link

    def _connect(self) -> None:
        for box in (*self.sheets.values(), *self.kinds.values()):
            box.toggled.connect(self._changed)
        self.folder.textChanged.connect(self._changed)
        self.browse.clicked.connect(self._browse)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)

    @property
    def choice(self) -> Choice:
        """What is wanted as it stands."""
        return Choice(
            sheets=tuple(key for key, box in self.sheets.items() if box.isChecked()),
            kinds=tuple(kind for kind, box in self.kinds.items() if box.isChecked()),
            paper=str(self.paper.currentData()),
            units=str(self.units.currentData()),
            folder=self.folder.text().strip(),
        )

    def _changed(self) -> None:
        lacking = self.choice.lacking()
        self.write.setEnabled(not lacking)
        self.why_not.setText(lacking)

    def _tick_all(self) -> None:
        self._tick(True)

    def _tick_none(self) -> None:
        self._tick(False)

    def _tick(self, ticked: bool) -> None:
        for box in self.sheets.values():
            box.setChecked(ticked)

    def _browse(self) -> None:
        folder = dialogs.ask_folder(self, self.folder.text())
        if folder is not None:
            self.folder.setText(str(folder))


def _box(text: str, tip: str) -> QCheckBox:
    made = QCheckBox(text)
    made.setToolTip(tip)
    made.setAccessibleDescription(tip)
    return made


def _combo(offered: tuple[tuple[str, str], ...], chosen: str, name: str) -> QComboBox:
    made = QComboBox()
    made.setAccessibleName(name)
    for key, words in offered:
        made.addItem(words, key)
    made.setCurrentIndex(max(0, made.findData(chosen)))
    return made
