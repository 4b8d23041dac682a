"""Files put into a folder: all of them or none."""

import contextlib
import os
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path

from ..devices import ExportError


class FilesThereError(ExportError):
    """Files of these names stand in the folder already, and nobody said to replace them."""

    def __init__(self, folder: Path, names: tuple[str, ...]) -> None:
        self.folder = folder
        self.names = names
        few = ", ".join(names[:4])
        more = f" and {len(names) - 4} more" if len(names) > 4 else ""
        super().__init__(
            f"{folder} already has {few}{more}; nothing has been written. Choose another folder, "
            "or say that they are to be replaced."
        )


def there(folder: Path, names: Iterable[str]) -> tuple[str, ...]:
    """Which of these names are taken."""
    return tuple(name for name in names if os.path.lexists(folder / name))


def put(files: Mapping[str, bytes], folder: Path, replace: bool) -> list[Path]:
    """Write files into a folder, which is made if need be.

    Args:
        files: names, with "/" between where they stand in folders of the folder, and contents.
        folder: where to.
        replace: whether files of the same names may go; what else stands there is never touched.

    Returns:
        The paths, in order.

    Raises:
        FilesThereError: names are taken and `replace` is off.
        ExportError: something cannot be written. What stood there before then still does.
    """
    if not replace and (taken := there(folder, files)):
        raise FilesThereError(folder, taken)
    writing = _Writing(folder)
    try:
        for name, data in files.items():
            writing.prepare(name, data)
        writing.swap()
    except OSError as error:
        writing.undo()
        where = error.filename or folder
        raise ExportError(
            f"{where} could not be written: {error.strerror or error}. Nothing has been changed; "
            "choose a folder that can be written to, with room on its disk."
        ) from error
    except BaseException:
        writing.undo()
        raise
    writing.tidy()
    return [folder / name for name in files]


class _Writing:
    """All files are written beside their places first, then moved there one by one."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.made: list[Path] = []
        """Folders, the outermost first."""
        self.waiting: list[tuple[Path, Path]] = []
        """New contents, and where they belong."""
        self.kept: list[tuple[Path, Path]] = []
        """What stood there, and where it belongs."""
        self.done: list[Path] = []

    def prepare(self, name: str, data: bytes) -> None:
        path = self.folder / name
        self._folders(path.parent)
        if path.is_dir():
            raise IsADirectoryError(21, "a folder of that name stands there", str(path))
        try:
            handle, text = tempfile.mkstemp(prefix=".packet-", suffix=".part", dir=path.parent)
        except OSError as error:  # it would name a file that nobody asked for
            raise OSError(error.errno, error.strerror or str(error), str(path.parent)) from error
        self.waiting.append((Path(text), path))
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
        except OSError as error:
            raise OSError(error.errno, error.strerror or str(error), str(path)) from error
        # mkstemp makes a file for its owner only; others are made as the person's umask says.
        umask = os.umask(0)
        os.umask(umask)
        with contextlib.suppress(OSError):
            os.chmod(text, 0o666 & ~umask)

    def _folders(self, folder: Path) -> None:
        lacking = []
        while not folder.exists():
            lacking.append(folder)
            folder = folder.parent
        if not folder.is_dir():
            raise NotADirectoryError(20, "a file of that name stands there", str(folder))
        for one in reversed(lacking):
            one.mkdir()
            self.made.append(one)

    def swap(self) -> None:
        for new, path in self.waiting:
            if os.path.lexists(path):
                old = new.with_suffix(".old")
                os.replace(path, old)
                self.kept.append((old, path))
            os.replace(new, path)
            self.done.append(path)

    def undo(self) -> None:
        """As it was before."""
        for path in self.done:
            with contextlib.suppress(OSError):
                path.unlink()
        for old, path in self.kept:
            with contextlib.suppress(OSError):
                os.replace(old, path)
        for new, _ in self.waiting:
            with contextlib.suppress(OSError):
                new.unlink(missing_ok=True)
        for folder in reversed(self.made):
            with contextlib.suppress(OSError):
                folder.rmdir()

    def tidy(self) -> None:
        for old, _ in self.kept:
            with contextlib.suppress(OSError):
                old.unlink()
