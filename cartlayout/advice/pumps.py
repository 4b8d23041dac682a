"""Which pump does this cart need? Every pump of the stock is put in, and the water solved anew."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..build import Build
from ..units import Phrase


@dataclass(frozen=True, slots=True)
class Cushion:
    """The accumulator that goes with a pump."""

    key: str
    """In the stock; empty where the one in the build is kept."""
    name: str
    volume: float
    """Whole vessel [m3]."""
    pre_charge_pa: float
    useful_volume: float
    """Between the pump's cut-in and cut-out [m3]."""
    starts_per_hour: float
    """At the worst draw there could be."""
    bare_starts_per_hour: float
    """The same with no vessel but the tubes."""


@dataclass(frozen=True, slots=True)
class Margin:
    """How much is to spare, and where it is least."""

    share: float
    """Of what is needed or allowed; below zero where it falls short."""
    spare: float
    """The same in pascals or in m3/s."""
    name: str
    """Of the tap, or of the tube, where it is least."""
    case: str = ""


@dataclass(frozen=True, slots=True)
class PumpChoice:
    """A pump of the stock in the place of the supply, tried."""

    key: str
    """In the stock."""
    name: str
    fits: bool
    reason: Phrase | None
    """In a few words, why it does not; None where it does."""
    cut_in_pa: float
    cut_out_pa: float
    open_flow: float
    pressure: Margin | None
    """Flowing, over what the taps need at least."""
    flow: Margin | None
    """Over what the taps require."""
    static: Margin | None
    """At rest, under what taps and tubes may see at most."""
    cushion: Cushion | None
    """None where none is wanted or none of the stock will do."""
    build: Build
    """The copy in which it stands: to be taken over whole as one edit."""
    current: bool = False
    """It is the one that stands in the build now."""

    @property
    def worst_share(self) -> float:
        """The least of its margins: what the choices are sorted by."""
        margins = [one.share for one in (self.pressure, self.flow, self.static) if one is not None]
        return min(margins, default=0.0)


def choose_pumps(build: Build, supply_id: str) -> Iterator[PumpChoice]:
    """Try every pump of the stock in the place of one supply, one at a time.

    A generator, so that whoever asks may show how far it is and stop in between. Sort what comes
    with `best_first`.

    Args:
        build: as it is.
        supply_id: of the pump to be replaced.

    Raises:
        EditError: there is no such pump.
    """
    raise NotImplementedError(build, supply_id)
