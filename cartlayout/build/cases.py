"""What is on together, and what a day of service asks."""

from typing import Literal

from ..units import Concentration, Duration, Length, Mass, Temperature, Volume
from .base import Part


class OperatingCase(Part, frozen=True):
    """Loads on and taps open together, as the person names them."""

    name: str
    loads: tuple[str, ...] = ()
    """Ids of the items that draw power."""
    taps: tuple[str, ...] = ()
    """Ids of the items whose inlets are open."""


class Service(Part, frozen=True):
    """A day of service."""

    hours: Duration = Duration("4 h")
    drinks_per_hour: float = 30.0
    water_per_drink: Volume = Volume("0.35 L")
    rinse_per_drink: Volume = Volume("0.2 L")
    waste_besides_fresh: Volume = Volume("0 L")
    """Whatever else goes down the drain over the day, such as syrups and cleaning."""
    ice_per_drink: Mass = Mass("0 g")
    """Ice that melts and goes down the drain."""
    poured_away_per_drink: Volume = Volume("0 L")
    """Of the drink itself."""


class Passage(Part, frozen=True):
    """Something the cart has to get through or over on its way."""

    name: str
    kind: Literal["door", "lift", "ramp", "vehicle"]
    width: Length
    """Clear width: of a door, of a lift's door, of a ramp, of a vehicle's opening."""
    height: Length | None = None
    """Clear height."""
    length: Length | None = None
    """Depth of a lift's car, length of a ramp, of a vehicle's floor."""
    inner_width: Length | None = None
    """Width of a lift's car or a vehicle's hold where it is not that of the opening."""
    rise: Length | None = None
    """How far a ramp goes up."""
    load: Mass | None = None
    """What it may carry."""


class Venue(Part, frozen=True):
    """The place the build is planned for."""

    name: str = ""
    altitude_m: float = 0.0
    water_temperature: Temperature = Temperature("20 degC")
    ambient: Temperature = Temperature("22 degC")
    hardness: Concentration | None = None
    """Of its water, as calcium carbonate; None: not known."""
    dissolved: Concentration | None = None
    """Everything dissolved in its water; None: not known."""
    outdoors: bool = False
    passages: tuple[Passage, ...] = ()
    """On the way to the cart's place, in order."""
