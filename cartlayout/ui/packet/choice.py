"""What the person wants of a packet, kept from one time to the next."""

from dataclasses import dataclass, field
from pathlib import Path

from ...documents.packet.packet import KINDS, USUAL_KINDS
from ...documents.packet.registry import SHEETS
from .. import settings

PAPERS: tuple[tuple[str, str], ...] = (
    ("auto", "As usual in the build's region"),
    ("letter", "Letter, 11 × 8.5 in"),
    ("A4", "A4, 297 × 210 mm"),
    ("tabloid", "Tabloid, 17 × 11 in"),
    ("A3", "A3, 420 × 297 mm"),
)
UNITS: tuple[tuple[str, str], ...] = (
    ("", "As on the screen now"),
    ("US", "US: in, lb, psi, gal"),
    ("metric", "Metric: mm, kg, bar, L"),
)


@dataclass(frozen=True, slots=True)
class Choice:
    """Sheets, kinds of file, paper, units, folder."""

    sheets: tuple[str, ...] = field(default_factory=lambda: tuple(SHEETS))
    kinds: tuple[str, ...] = USUAL_KINDS
    paper: str = "auto"
    units: str = ""
    """Empty: those of the screen."""
    folder: str = ""

    def lacking(self) -> str:
        """Why nothing can be written yet; empty where it can."""
        if not self.sheets:
            return "Tick at least one sheet."
        if not self.kinds:
            return "Tick at least one kind of file."
        if not self.folder.strip():
            return "Choose a folder."
        if not self.path.is_absolute():
            return "Give the whole path of the folder."
        return ""

    @property
    def path(self) -> Path:
        """The folder; a tilde in front stands for the person's own."""
        folder = Path(self.folder.strip())
        try:
            return folder.expanduser()
        except RuntimeError:  # there is no such person
            return folder


def remembered(name: str) -> Choice:
    """As it was the last time; a sheet that has come since is ticked.

    Args:
        name: of the build's file; the folder of another build is not offered, only one beside it.
    """
    left_out = set(settings.text("packet sheets left out").split("\n"))
    stored = settings.text("packet kinds", "\n".join(USUAL_KINDS)).split("\n")
    return Choice(
        sheets=tuple(key for key in SHEETS if key not in left_out),
        kinds=tuple(kind for kind in KINDS if kind in stored),
        paper=_known(settings.text("packet paper"), PAPERS),
        units=_known(settings.text("packet units"), UNITS),
        folder=str(_folder(name)),
    )


def _folder(name: str) -> Path:
    stored = settings.text("packet folder")
    if stored and settings.text("packet folder of") == name:
        return Path(stored)
    beside = Path(stored).parent if stored else Path.home()
    return beside / f"{'_'.join(name.split()) or 'cart'}_packet"


def remember(choice: Choice, name: str) -> None:
    """Keep it for the next time."""
    left_out = [key for key in SHEETS if key not in choice.sheets]
    settings.remember("packet sheets left out", "\n".join(left_out))
    settings.remember("packet kinds", "\n".join(choice.kinds))
    settings.remember("packet paper", choice.paper)
    settings.remember("packet units", choice.units)
    settings.remember("packet folder", choice.folder)
    settings.remember("packet folder of", name)


def _known(stored: str, offered: tuple[tuple[str, str], ...]) -> str:
    keys = [key for key, _ in offered]
    return stored if stored in keys else keys[0]
