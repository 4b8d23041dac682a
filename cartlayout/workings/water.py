"""All workings of the water side, by subject."""

from . import water_elements, water_taps, water_tubes
from .subjects import Subject

WATER: dict[str, Subject] = {
    "tap": Subject(water_taps.working, water_taps.numbers),
    "tube": Subject(water_tubes.working, water_tubes.numbers),
    "element": Subject(water_elements.working, water_elements.numbers),
}
