"""Every sheet there is, in the order of the packet.

A sheet's module is imported when the sheet is made, so that a list of them costs nothing and
one that is broken does not stop the others.
"""

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import cast

from .content import Content, Job, Reader


@dataclass(frozen=True, slots=True)
class SheetEntry:
    """One sheet.

    "load-schedule" is made by `load_schedule(job) -> Content` in `sheets/load_schedule.py`.
    """

    key: str
    """Its file name, and what the command line calls it."""
    title: str
    reader: Reader
    says: str
    """What stands on it, for the dialog and the command line."""

    def make(self, job: Job) -> Content:
        """What it says of a build."""
        name = self.key.replace("-", "_")
        module = import_module(f"{__package__}.sheets.{name}")
        return cast(Callable[[Job], Content], getattr(module, name))(job)


_ENTRIES: tuple[SheetEntry, ...] = (
    SheetEntry(
        "plans",
        "Plan of each level",
        "builder",
        "What stands on every level, with its cords and tubes, to scale",
    ),
    SheetEntry(
        "elevations",
        "Elevations",
        "builder",
        "Front, rear and both ends to scale, with heights, upright cords and tubes",
    ),
    SheetEntry(
        "set-out",
        "Setting out",
        "builder",
        "Where everything stands, which holes to cut, where cords and tubes are joined",
    ),
    SheetEntry(
        "one-line-power",
        "One-line power diagram",
        "inspector",
        "Supply, breakers, receptacles, cords and appliances as a one-line diagram",
    ),
    SheetEntry(
        "load-schedule",
        "Load schedule",
        "inspector",
        "Every circuit with its loads, leg by leg, against its limits",
    ),
    SheetEntry(
        "one-line-water",
        "One-line water diagram",
        "inspector",
        "Supply and drains as one-line diagrams, with sizes, set points, heights and pressures",
    ),
    SheetEntry(
        "taps",
        "Taps",
        "inspector",
        "Every inlet: what its maker asks, what it gets in every case, who takes pressure from it",
    ),
    SheetEntry(
        "pump",
        "Pump and accumulator",
        "builder",
        "Duty in every case, switch pressures, pre-charge, starts, suction, curve",
    ),
    SheetEntry(
        "drains-tanks",
        "Drains and tanks",
        "inspector",
        "Fall and capacity of every drain; vessels against each other and over the day",
    ),
    SheetEntry(
        "parts",
        "Parts list and cut list",
        "builder",
        "Equipment, tube by size with what to cut and buy, fittings counted, cords",
    ),
    SheetEntry(
        "labels",
        "Labels",
        "builder",
        "For plugs, receptacles and both ends of every tube: print, cut, stick",
    ),
    SheetEntry(
        "venue-request",
        "What we ask of the venue",
        "venue",
        "Circuits, water, drain, floor and way in, on one page",
    ),
    SheetEntry(
        "plan-review",
        "Plan review",
        "inspector",
        "What plan reviews commonly ask for, equipment, tanks, tubes, and what is missing",
    ),
    SheetEntry(
        "unknowns",
        "To be checked before drilling",
        "builder",
        "Figures that nobody has checked and that would change a verdict, with room to write",
    ),
    SheetEntry(
        "workings",
        "Workings",
        "inspector",
        "How the numbers came about: formulas, numbers put in, limits and where they are from",
    ),
    SheetEntry(
        "checklist",
        "Set-up and shut-down",
        "operator",
        "Steps in order, what gauges and taps should show, everything that holds water",
    ),
)
SHEETS: dict[str, SheetEntry] = {one.key: one for one in _ENTRIES}
