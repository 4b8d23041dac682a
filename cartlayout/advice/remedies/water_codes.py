"""Which candidates there are for which finding of water, and why there may be none."""

from collections.abc import Iterator
from dataclasses import replace

from ...analysis import Analysis
from ...findings import Finding
from . import water_by_hand as by_hand
from . import water_settings as settings
from . import water_tubes as tubes
from .model import Candidate, Source
from .water_outcome import READERS, told

_SOURCES: dict[str, tuple[Source, ...]] = {
    "water.flow": (
        by_hand.open_valves,
        settings.regulator_higher,
        by_hand.new_cartridge,
        tubes.wider_way,
        tubes.shorter_way,
    ),
    "water.static": (settings.regulator_lower, settings.switch_lower),
    "water.velocity": (tubes.wider_named,),
    "water.pre-charge": (settings.pre_charge,),
    "water.pre-charge-low": (settings.pre_charge,),
}


def _with_words(source: Source) -> Source:
    """The same candidates, told in words where the finding has no number."""

    def sourced(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
        for one in source(analysis, finding):
            yield one if one.told is not None else replace(one, told=told(finding))

    return sourced


SOURCES: dict[str, tuple[Source, ...]] = {
    code: tuple(_with_words(one) for one in sources) for code, sources in _SOURCES.items()
}

REASONS: dict[str, str] = {}

__all__ = ["READERS", "REASONS", "SOURCES"]
