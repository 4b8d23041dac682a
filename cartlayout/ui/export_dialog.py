"""Export of the annotated plan: what kind of file, how large, what is drawn on it."""

from datetime import date
from pathlib import Path
from typing import Literal

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QVBoxLayout,
    QWidget,
)

from ..documents.export import ExportCancelledError, ExportError, export_plan
from . import dialogs, settings, widgets
from .long_work import Watch, run_with_progress
from .session import OVERLAYS, Session

Kind = Literal["pdf", "png", "svg"]
Sheet = Literal["auto", "letter", "A4", "tabloid", "A3"]
_KINDS: tuple[tuple[Kind, str], ...] = (
    ("pdf", "PDF: to print and to send"),
    ("png", "PNG: an image in pixels"),
    ("svg", "SVG: a drawing to work on"),
)
_SHEETS: tuple[tuple[Sheet, str], ...] = (
    ("auto", "As usual in the build's region"),
    ("letter", "Letter, 11 × 8.5 in"),
    ("A4", "A4, 297 × 210 mm"),
    ("tabloid", "Tabloid, 17 × 11 in"),
    ("A3", "A3, 420 × 297 mm"),
)
_DPI = (150, 200, 300, 600)


class ExportDialog(QDialog):
    """Asks how the plan is written."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Export the plan")
        self.setMinimumWidth(400)
        self.kinds = QComboBox()
        for _, words in _KINDS:
            self.kinds.addItem(words)
        self.sheets = QComboBox()
        for _, words in _SHEETS:
            self.sheets.addItem(words)
        self.dpi = QComboBox()
        for dpi in _DPI:
            self.dpi.addItem(f"{dpi} dots an inch", dpi)
        self.dpi.setCurrentIndex(_DPI.index(300))
        self.levels = QComboBox()
        for level in session.build.cart.levels:
            self.levels.addItem(level.name.capitalize(), level.name)
        self.levels.setCurrentIndex(max(0, self.levels.findData(session.level)))
        self.overlays = {name: QCheckBox(name.capitalize()) for name in OVERLAYS}
        for name, box in self.overlays.items():
            box.setChecked(name in session.overlays)
        form = QFormLayout()
        form.setVerticalSpacing(8)
        form.addRow("Kind of file", self.kinds)
        form.addRow("Sheet", self.sheets)
        form.addRow("Resolution", self.dpi)
        form.addRow("Level in full", self.levels)
        form.addRow("Drawn over it", widgets.row(*self.overlays.values(), None, spacing=14))
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel
        )
        widgets.without_icons(buttons)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(16, 16, 16, 16)
        whole.setSpacing(14)
        whole.addLayout(form)
        whole.addWidget(
            widgets.wrapped(
                "The sheet carries the plan to scale with its measures, circuits, taps and "
                "findings, and the line that it is no approval.",
                "muted",
            )
        )
        whole.addWidget(buttons)
        self.kinds.currentIndexChanged.connect(self._kind_changed)
        stored = settings.text("export kind", "pdf")
        names = [kind for kind, _ in _KINDS]
        self.kinds.setCurrentIndex(next((at for at, one in enumerate(names) if one == stored), 0))
        self._kind_changed(self.kinds.currentIndex())

    @property
    def kind(self) -> Kind:
        """Ending of the file."""
        return _KINDS[self.kinds.currentIndex()][0]

    @property
    def sheet(self) -> Sheet:
        """Size of the sheet."""
        return _SHEETS[self.sheets.currentIndex()][0]

    def chosen_overlays(self) -> tuple[str, ...]:
        """What is drawn over the plan."""
        return tuple(name for name, box in self.overlays.items() if box.isChecked())

    def _kind_changed(self, _index: int) -> None:
        self.dpi.setEnabled(self.kind == "png")


def ask_export(parent: QWidget, session: Session, name: str) -> Path | None:
    """Ask how and where to, and write the plan. Returns where it stands."""
    dialog = ExportDialog(session, parent)
    accepted = dialog.exec() == QDialog.DialogCode.Accepted
    dialog.deleteLater()
    if not accepted:
        return None
    settings.remember("export kind", dialog.kind)
    folder = Path(settings.text("export folder", str(Path.home())))
    file_name = "_".join(name.split()) or "plan"
    path = dialogs.ask_export(parent, str(folder / f"{file_name}_plan.{dialog.kind}"), dialog.kind)
    if path is None:
        return None
    settings.remember("export folder", str(path.parent))
    return write(parent, session, dialog, path)


def write(parent: QWidget, session: Session, dialog: ExportDialog, path: Path) -> Path | None:
    """Write the plan as the dialog says; what goes wrong is shown."""
    build, analysis = session.build, session.try_out(session.build)
    kind, sheet = dialog.kind, dialog.sheet
    dpi, level = int(dialog.dpi.currentData()), dialog.levels.currentData()
    overlays, system = dialog.chosen_overlays(), session.system
    file = session.path.name if session.path is not None else ""

    def export(watch: Watch) -> Path:
        return export_plan(
            build,
            analysis,
            path,
            format=kind,
            dpi=dpi,
            sheet=sheet,
            overlays=overlays,
            system=system,
            date=date.today(),
            level=level,
            file=file,
            watch=watch,
        )

    try:
        run_with_progress(parent, "Exporting the plan", export)
    except ExportCancelledError:
        session.tell("The export was cancelled.")
        return None
    except ExportError as error:
        dialogs.show_error(parent, "The plan was not exported", str(error))
        return None
    session.tell(f"Exported {path.name}.")
    return path
