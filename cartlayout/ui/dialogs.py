"""Every question the program asks in a dialog, one function each, so that tests can answer them."""

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QDialog, QFileDialog, QMessageBox, QWidget

from .. import __version__
from ..units import counted
from .widgets import without_icons

Answer = Literal["save", "discard", "cancel"]

_FILTER = "Cart builds (*.cart);;All files (*)"


def answered(dialog: QDialog) -> bool:
    """Show a dialog and wait for its answer: whether it was accepted."""
    accepted = dialog.exec() == QDialog.DialogCode.Accepted
    dialog.deleteLater()
    return accepted


def ask_open(parent: QWidget, folder: str) -> Path | None:
    """Ask which file to open."""
    name, _ = QFileDialog.getOpenFileName(parent, "Open a cart build", folder, _FILTER)
    return Path(name) if name else None


def ask_save(parent: QWidget, suggested: str) -> Path | None:
    """Ask where to save; a name without an ending gets ".cart"."""
    name, _ = QFileDialog.getSaveFileName(parent, "Save the cart build", suggested, _FILTER)
    return with_ending(Path(name)) if name else None


def with_ending(path: Path) -> Path:
    """The path with ".cart" at its end."""
    return path if path.suffix.lower() == ".cart" else path.with_name(f"{path.name}.cart")


def ask_export(parent: QWidget, suggested: str, kind: str) -> Path | None:
    """Ask where an exported plan goes."""
    name, _ = QFileDialog.getSaveFileName(
        parent, "Export the plan", suggested, f"{kind.upper()} (*.{kind})"
    )
    if not name:
        return None
    path = Path(name)
    return path if path.suffix.lower() == f".{kind}" else path.with_name(f"{path.name}.{kind}")


def ask_folder(parent: QWidget, folder: str) -> Path | None:
    """Ask for a folder that files go into."""
    name = QFileDialog.getExistingDirectory(parent, "Folder for the files", folder)
    return Path(name) if name else None


_MOST_NAMES = 6


def replace_box(parent: QWidget, folder: Path, names: Sequence[str]) -> QMessageBox:
    """The question whether files that are there may go; the safe answer is the default."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Warning)
    box.setWindowTitle("Files are there already")
    box.setText(f"{folder} has {counted(len(names), 'file')} of these names already.")
    shown = "\n".join(names[:_MOST_NAMES])
    more = f"\nand {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
    box.setInformativeText(f"{shown}{more}\n\nReplace them? Nothing else there is touched.")
    box.addButton("Replace", QMessageBox.ButtonRole.AcceptRole)
    cancel = box.addButton(QMessageBox.StandardButton.Cancel)
    box.setDefaultButton(cancel)
    without_icons(box)
    return box


def ask_replace(parent: QWidget, folder: Path, names: Sequence[str]) -> bool:
    """Ask whether files that are there may be replaced."""
    box = replace_box(parent, folder, names)
    box.exec()
    pressed = box.clickedButton()
    replaces = pressed is not None and box.buttonRole(pressed) == QMessageBox.ButtonRole.AcceptRole
    box.deleteLater()
    return replaces


def written_box(parent: QWidget, text: str, folder: Path) -> QMessageBox:
    """Says what was written where, and offers to open the folder."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Information)
    box.setWindowTitle(text)
    box.setText(text)
    box.setInformativeText(str(folder))
    box.setTextInteractionFlags(
        Qt.TextInteractionFlag.TextSelectableByMouse
        | Qt.TextInteractionFlag.TextSelectableByKeyboard
    )
    opens = box.addButton("Open Folder", QMessageBox.ButtonRole.AcceptRole)
    opens.setToolTip("Show the files in the system's own window for files")
    close = box.addButton(QMessageBox.StandardButton.Close)
    box.setDefaultButton(close)
    box.setEscapeButton(close)
    without_icons(box)
    return box


def show_written(parent: QWidget, text: str, folder: Path) -> None:
    """Say what was written where; open the folder if that is wanted."""
    box = written_box(parent, text, folder)
    box.exec()
    pressed = box.clickedButton()
    opens = pressed is not None and box.buttonRole(pressed) == QMessageBox.ButtonRole.AcceptRole
    box.deleteLater()
    if opens and not QDesktopServices.openUrl(QUrl.fromLocalFile(str(folder))):
        show_error(parent, "The folder could not be opened", f"The files are in {folder}.")


def unsaved_box(parent: QWidget, name: str) -> QMessageBox:
    """The question what becomes of changes that are not saved."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Warning)
    box.setWindowTitle("Changes not saved")
    box.setText(f"'{name}' has changes that are not saved.")
    box.setInformativeText("Save them first?")
    box.setStandardButtons(
        QMessageBox.StandardButton.Save
        | QMessageBox.StandardButton.Discard
        | QMessageBox.StandardButton.Cancel
    )
    box.setDefaultButton(QMessageBox.StandardButton.Save)
    without_icons(box)
    return box


def ask_unsaved(parent: QWidget, name: str) -> Answer:
    """Ask what becomes of changes that are not saved."""
    box = unsaved_box(parent, name)
    pressed = box.exec()
    box.deleteLater()
    if pressed == QMessageBox.StandardButton.Save:
        return "save"
    return "discard" if pressed == QMessageBox.StandardButton.Discard else "cancel"


def show_error(parent: QWidget | None, title: str, text: str, details: str = "") -> None:
    """Show what went wrong; the text can be selected and copied."""
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Warning)
    box.setWindowTitle(title)
    box.setText(title)
    box.setInformativeText(text)
    box.setTextInteractionFlags(
        Qt.TextInteractionFlag.TextSelectableByMouse
        | Qt.TextInteractionFlag.TextSelectableByKeyboard
    )
    if details:
        box.setDetailedText(details)
    box.setStandardButtons(QMessageBox.StandardButton.Ok)
    without_icons(box)
    box.exec()
    box.deleteLater()


def show_about(parent: QWidget) -> None:
    """Say what the program is, and what it is not."""
    box = QMessageBox(parent)
    box.setWindowTitle("About cartlayout")
    box.setText(f"cartlayout {__version__}")
    box.setInformativeText(
        "Lays out a mobile beverage cart and works out, while you draw, what fits, "
        "what holds and what flows.\n\n"
        "It is a planning aid, not an approval. Electricity and water can hurt people. "
        "Check every figure against nameplates and makers' sheets. Have the work done and "
        "checked by a licensed electrician and a licensed plumber. Where the local code, the "
        "venue or an inspector says otherwise, they are right."
    )
    box.setStandardButtons(QMessageBox.StandardButton.Ok)
    without_icons(box)
    box.exec()
    box.deleteLater()
