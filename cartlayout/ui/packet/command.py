"""The command: ask, make the files in another thread, put them into the folder, say so."""

from pathlib import Path
from typing import TYPE_CHECKING

from ...documents.devices import ExportCancelledError, ExportError
from ...documents.packet.packet import asked, make_job, packet_files
from ...documents.packet.placing import put, there
from ...units import UnitSystem, counted
from .. import dialogs
from ..long_work import Watch, run_with_progress
from .choice import Choice, remember, remembered
from .dialog import PacketDialog

if TYPE_CHECKING:
    from ..main_window import MainWindow


def packet(window: "MainWindow") -> None:
    """Ask which sheets and how, and write them."""
    name = window.files.name
    dialog = PacketDialog(remembered(name), window)
    accepted = dialogs.answered(dialog)
    if not accepted:
        return
    choice = dialog.choice
    remember(choice, name)
    write(window, choice)


def write(window: "MainWindow", choice: Choice) -> list[Path]:
    """Write what was chosen; what goes wrong is shown, and then nothing is written."""
    session = window.session
    folder = choice.path
    try:
        files = _made(window, choice)
        if files is None:
            return []
        taken = there(folder, files)
        if taken and not dialogs.ask_replace(window, folder, taken):
            session.tell("Nothing was written.")
            return []
        written = run_with_progress(
            window, "Putting the files into the folder", lambda _: put(files, folder, replace=True)
        )
    except ExportCancelledError:
        session.tell("The packet was cancelled.")
        return []
    except ExportError as error:
        dialogs.show_error(window, "The packet was not written", str(error))
        return []
    session.tell(f"Wrote {counted(len(files), 'file')} into {folder}.")
    dialogs.show_written(window, f"{counted(len(files), 'file')} written", folder)
    return written or []


def _made(window: "MainWindow", choice: Choice) -> dict[str, bytes] | None:
    session = window.session
    what = asked(choice.sheets, choice.kinds)
    job = make_job(
        session.try_out(session.build),
        system=UnitSystem(choice.units) if choice.units else session.system,
        paper=choice.paper,
        file=session.path.name if session.path is not None else "",
    )

    def make(watch: Watch) -> dict[str, bytes]:
        return packet_files(job, what, watch)

    return run_with_progress(window, "Making the packet", make)
