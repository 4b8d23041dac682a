"""What the program remembers between two starts: sizes, recent files, light or dark."""

from pathlib import Path

from PySide6.QtCore import QSettings

_RECENT = 8


def settings() -> QSettings:
    """The settings of this user, as a file in the user's folder for settings."""
    return QSettings(
        QSettings.Format.IniFormat, QSettings.Scope.UserScope, "cartlayout", "cartlayout"
    )


def text(key: str, default: str = "") -> str:
    """A remembered text."""
    value = settings().value(key, default)
    return value if isinstance(value, str) else default


def remember(key: str, value: object) -> None:
    """Remember a value."""
    settings().setValue(key, value)


def recent_files() -> tuple[Path, ...]:
    """Files opened or saved lately, the latest first, as far as they still exist."""
    listed = text("recent").split("\n")
    return tuple(Path(one) for one in listed if one and Path(one).is_file())


def add_recent(path: Path) -> None:
    """Put a file at the head of the recent ones."""
    path = path.resolve()
    others = [one for one in recent_files() if one != path]
    remember("recent", "\n".join(str(one) for one in (path, *others)[:_RECENT]))
