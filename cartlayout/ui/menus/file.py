"""Files: new, open, save, export."""

from pathlib import Path
from typing import TYPE_CHECKING

from ...data import sample_builds
from ...units import capitalised
from .. import settings
from ..entries import Choice, Choices, Entry, Listed
from ..new_cart import ask_new

if TYPE_CHECKING:
    from ..main_window import MainWindow


def new(window: "MainWindow") -> None:
    """Ask for a new cart."""
    if window.files.may_leave():
        build = ask_new(window)
        if build is not None:
            window.session.set_document(build, None)


def open_(window: "MainWindow") -> None:
    """Ask for a file and open it."""
    window.files.open()


def save(window: "MainWindow") -> None:
    """Save where it came from."""
    window.files.save()


def save_as(window: "MainWindow") -> None:
    """Ask where to save."""
    window.files.save_as()


def export(window: "MainWindow") -> None:
    """Ask for a format and a place, and write the plan."""
    from ..export_dialog import ask_export  # late: the window opens without it

    path = ask_export(window, window.session, window.files.name)
    if path is not None:
        window.exported.emit(path)


def compare(window: "MainWindow") -> None:
    """Ask for another build and hold this one against it."""
    from ..comparing import of_file, open_compare  # late, as above

    path = window.files.ask_other()
    if path is not None:
        open_compare(window.session, window, of_file(path))


def earlier_states(window: "MainWindow") -> tuple[Choice, ...]:
    """As it was saved, and before each of the latest steps."""
    from ..comparing import earlier

    return tuple(Choice(capitalised(one.name), one, one.tip) for one in earlier(window.session))


def _compare_state(window: "MainWindow", state: object) -> None:
    from ..comparing import State, open_compare

    if isinstance(state, State):
        open_compare(window.session, window, state)


def packet(window: "MainWindow") -> None:
    """Ask which sheets and how, and write them."""
    from ..packet.command import packet as write_packet  # late: the window opens without it

    write_packet(window)


def start_page(window: "MainWindow") -> None:
    """Show samples and recent files with their pictures."""
    window.show_start()


def quit_(window: "MainWindow") -> None:
    """Close the window."""
    window.close()


def recent(_window: "MainWindow") -> tuple[Choice, ...]:
    """The files opened or saved lately."""
    return tuple(Choice(path.name, path, str(path)) for path in settings.recent_files())


def samples(_window: "MainWindow") -> tuple[Choice, ...]:
    """The builds that come with the program."""
    return tuple(Choice(sample_name(path), path) for path in sorted(sample_builds().glob("*.cart")))


def sample_name(path: Path) -> str:
    """The name of a sample's file as words: "Market cart"."""
    return path.stem.replace("_", " ").capitalize()


def _open_recent(window: "MainWindow", path: object) -> None:
    window.files.open_path(Path(str(path)))


def _open_sample(window: "MainWindow", path: object) -> None:
    window.files.open_sample(Path(str(path)))


ENTRIES: tuple[Listed, ...] = (
    Entry(
        "file.new",
        "&New…",
        new,
        "File",
        0,
        ("Ctrl+N",),
        "Start a new cart",
        "create empty fresh",
        "new",
        at_start=True,
    ),
    Entry(
        "file.open",
        "&Open…",
        open_,
        "File",
        0,
        ("Ctrl+O",),
        "Open a cart build",
        "load file",
        "open",
        at_start=True,
    ),
    Entry(
        "file.start",
        "S&tart Page",
        start_page,
        "File",
        0,
        ("Alt+Home",),
        "Show the start page: new cart, recent files and samples with pictures",
        "home welcome samples recent",
        looks_only=True,
    ),
    Choices(
        "file.recent",
        "Open &Recent",
        recent,
        _open_recent,
        "File",
        0,
        "Files opened or saved lately",
        "Open recent",
        "No file yet",
        at_start=True,
    ),
    Choices(
        "file.samples",
        "Open Sa&mple",
        samples,
        _open_sample,
        "File",
        0,
        "Builds that come with the program",
        "Open sample",
        at_start=True,
    ),
    Entry(
        "file.save",
        "&Save",
        save,
        "File",
        1,
        ("Ctrl+S",),
        "Save the build",
        "write keep",
        "save",
    ),
    Entry(
        "file.save-as",
        "Save &As…",
        save_as,
        "File",
        1,
        ("Ctrl+Shift+S",),
        "Save the build under another name",
        "copy name",
    ),
    Entry(
        "file.export",
        "&Export Plan…",
        export,
        "File",
        2,
        ("Ctrl+E",),
        "Write the annotated plan as an image",
        "pdf png svg picture print image",
        "export",
    ),
    Entry(
        "file.compare",
        "Compare &With…",
        compare,
        "File",
        3,
        ("Ctrl+Shift+O",),
        "Hold this build against another file: what moved, what changed, how verdicts changed",
        "difference diff versions against other file",
    ),
    Choices(
        "file.compare-state",
        "Compare With Ear&lier",
        earlier_states,
        _compare_state,
        "File",
        3,
        "Hold this build against what it was: as it was saved, or before a step",
        "Compare with",
        "Nothing has been changed yet",
    ),
    Entry(
        "file.packet",
        "&Packet of Sheets…",
        packet,
        "File",
        2,
        ("Ctrl+Shift+E",),
        "Write the sheets that builder, venue, inspector and operator ask for",
        "pdf dxf csv xlsx tables schedule one-line elevations checklist labels review print export",
        "export",
    ),
    Entry(
        "file.quit",
        "&Quit",
        quit_,
        "File",
        9,
        ("Ctrl+Q",),
        "Close the window",
        "exit leave",
        at_start=True,
    ),
)
