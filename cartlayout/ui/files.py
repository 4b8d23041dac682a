"""Opening and saving, and the guard that no change is lost by accident."""

from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from ..analysis import Analysis, analyse
from ..build import Build
from ..build.file import CartFileError, load
from . import dialogs, settings
from .long_work import Watch, run_with_progress
from .session import Session

_LARGE = 200_000
"""Bytes from which opening takes long enough to be seen: some hundred items."""


class Files(QObject):
    """What the File menu does."""

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(window)
        self._session = session
        self._window = window

    @property
    def name(self) -> str:
        """Name of the document as the title bar shows it."""
        path = self._session.path
        return path.stem if path is not None else self._session.build.name or "Untitled"

    def may_leave(self) -> bool:
        """Offer to save changes; False when the person would rather stay."""
        if not self._session.dirty:
            return True
        answer = dialogs.ask_unsaved(self._window, self.name)
        if answer == "save":
            return self.save()
        return answer == "discard"

    def new(self, build: Build) -> bool:
        """Start another document."""
        if not self.may_leave():
            return False
        self._session.set_document(build, None)
        return True

    def open(self) -> bool:
        """Ask for a file and open it."""
        if not self.may_leave():
            return False
        path = dialogs.ask_open(self._window, self._folder())
        return path is not None and self._load(path)

    def ask_other(self) -> Path | None:
        """Ask for another file, to look at beside the one that is open."""
        return dialogs.ask_open(self._window, self._folder())

    def open_path(self, path: Path) -> bool:
        """Open a file."""
        return self.may_leave() and self._load(path)

    def open_sample(self, path: Path) -> bool:
        """Open a copy of a sample build; saving asks for a name."""
        if not self.may_leave():
            return False
        try:
            build = load(path)
        except CartFileError as error:
            dialogs.show_error(self._window, "This sample cannot be opened", str(error))
            return False
        self._session.set_document(build, None)
        return True

    def save(self) -> bool:
        """Save where the document came from, or ask where to."""
        path = self._session.path
        return self._write(path) if path is not None else self.save_as()

    def save_as(self) -> bool:
        """Ask where to save."""
        suggested = Path(self._folder()) / f"{_file_name(self.name)}.cart"
        path = dialogs.ask_save(self._window, str(suggested))
        return path is not None and self._write(path)

    def _load(self, path: Path) -> bool:
        try:
            if _is_large(path):
                made = run_with_progress(self._window, f"Opening {path.name}", partial(_read, path))
                if made is None:
                    self._session.tell(f"{path.name} was not opened.")
                    return False
                self._session.set_document(made[0], path, made[1])
            else:
                self._session.open(path)
        except CartFileError as error:
            dialogs.show_error(self._window, f"{path.name} cannot be opened", str(error))
            return False
        self._remember(path)
        return True

    def _write(self, path: Path) -> bool:
        try:
            self._session.save(path)
        except CartFileError as error:
            dialogs.show_error(self._window, f"{path.name} was not saved", str(error))
            return False
        self._remember(path)
        self._session.tell(f"Saved {path.name}.")
        return True

    def _folder(self) -> str:
        path = self._session.path
        if path is not None:
            return str(path.parent)
        return settings.text("folder", str(Path.home()))

    def _remember(self, path: Path) -> None:
        settings.add_recent(path)
        settings.remember("folder", str(path.resolve().parent))


def _is_large(path: Path) -> bool:
    try:
        return path.stat().st_size > _LARGE
    except OSError:
        return False  # opening it says what is the matter


def _read(path: Path, watch: Watch) -> tuple[Build, Analysis] | None:
    """Load and analyse; None: the person has changed their mind."""
    build = load(path)
    if not watch(0.3):
        return None
    analysis = analyse(build)
    return (build, analysis) if watch(1.0) else None


def _file_name(name: str) -> str:
    """A document's name as the name of a file."""
    kept = "".join(sign if sign.isalnum() or sign in " -_()" else "-" for sign in name)
    return "_".join(kept.split()) or "cart"
