"""All workings of the water side, by subject."""

from collections.abc import Callable, Iterator
from typing import Protocol

from ..analysis import Analysis
from . import (
    water_day,
    water_drains,
    water_elements,
    water_equipment,
    water_pumps,
    water_suction,
    water_surges,
    water_taps,
    water_tubes,
    water_windows,
)
from .model import Number, Working
from .subjects import Subject


class _Room(Protocol):
    """A module that knows several subjects."""

    def working(self, analysis: Analysis, number: Number) -> Working | None: ...

    def numbers(self, analysis: Analysis) -> Iterator[Number]: ...


def _several(room: _Room, *subjects: str) -> dict[str, Subject]:
    """A line for each subject of a module."""

    def of(subject: str) -> Callable[[Analysis], Iterator[Number]]:
        return lambda analysis: (one for one in room.numbers(analysis) if one.subject == subject)

    return {subject: Subject(room.working, of(subject)) for subject in subjects}


WATER: dict[str, Subject] = {
    "tap": Subject(water_taps.working, water_taps.numbers),
    "tube": Subject(water_tubes.working, water_tubes.numbers),
    "element": Subject(water_elements.working, water_elements.numbers),
    "pump": Subject(water_pumps.working, water_pumps.numbers),
    "suction": Subject(water_suction.working, water_suction.numbers),
    "surge": Subject(water_surges.working, water_surges.numbers),
    "supply": Subject(water_windows.working, water_windows.numbers),
    **_several(water_equipment, "heater", "filter", "regulator"),
    **_several(water_drains, "drain", "drain pump", "air gap"),
    **_several(water_day, "tank", "vessel"),
}
