"""Says which number of an analysis is meant, without saying what it is."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Number:
    """Name of one number, stable while a build is edited; its working is asked for by it."""

    subject: str
    """"circuit", "tap", "tube", "wire", "pump", "tank" ...: what knows its working."""
    of: str
    """Id of an item or run, key of a circuit; "item.port" for a port; empty: the whole cart."""
    what: str
    """"total", "continuous", "pressure", "flow", "drop" ..."""
    case: str = ""
    """Name of an operating case or of a state, where the number has one."""
