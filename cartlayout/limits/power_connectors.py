"""Plugs and receptacles, and which goes into which."""

from functools import cache
from typing import Literal

from .rows import LimitsError, Row, Sourced
from .tables import by_key, read_table

_FILE = "connectors_power.json"
_SAME_SUPPLY = 1.3
"""Nominal voltages nearer than this share are one supply: 230, 240 and 250 V."""


class PowerConnector(Sourced, frozen=True):
    """A plug, a receptacle, or terminals inside a box ("hardwired")."""

    key: str
    """Standard designation; plugs end in P, receptacles in R."""
    kind: Literal["plug", "receptacle", "terminals"]
    family: str
    """Connectors of one family share their pin pattern's standard, voltage and poles."""
    volts: float | None
    """Nominal rating; None for terminals, which take what the equipment is rated for."""
    amps: float | None
    poles: tuple[str, ...]
    """Conductors in it: L or L1 L2 (L3) live, N neutral, G earth."""
    locking: bool = False
    regions: tuple[str, ...] = ()

    @property
    def earthed(self) -> bool:
        """Whether it has an earth contact."""
        return "G" in self.poles


class _Fit(Sourced, frozen=True):
    plug: str
    receptacles: tuple[str, ...]


class _Table(Row, frozen=True):
    connectors: tuple[PowerConnector, ...]
    fits: tuple[_Fit, ...]


@cache
def _connectors() -> dict[str, PowerConnector]:
    return by_key(f"{_FILE}: connectors", [(row.key, row) for row in _table().connectors])


@cache
def _table() -> _Table:
    return read_table(_FILE, _Table)


@cache
def _fits() -> dict[tuple[str, str], _Fit]:
    known = _connectors()
    fits: dict[tuple[str, str], _Fit] = {}
    for place, row in enumerate(_table().fits):
        for key in (row.plug, *row.receptacles):
            if key not in known:
                raise LimitsError(f"{_FILE}: fits[{place}]: there is no connector '{key}'")
        for receptacle in row.receptacles:
            fits[row.plug, receptacle] = row
    return fits


def power_connectors() -> tuple[PowerConnector, ...]:
    """Every plug, receptacle and terminal, in the order of the table."""
    return tuple(_connectors().values())


def power_connector(key: str) -> PowerConnector | None:
    """The connector of that key, or None."""
    return _connectors().get(key)


def plug_fits(plug: str, receptacle: str) -> bool:
    """Whether a plug goes into a receptacle as it is, without an adapter."""
    return (plug, receptacle) in _fits()


def plug_fit_reason(plug: str, receptacle: str) -> str:
    """Why a plug goes into a receptacle or not, in plain words."""
    fit = _fits().get((plug, receptacle))
    if fit is not None:
        return f"the {plug} plug goes into the {receptacle} receptacle"
    one, other = power_connector(plug), power_connector(receptacle)
    for key, found in ((plug, one), (receptacle, other)):
        if found is None:
            return f"'{key}' is no connector that the tables know"
    assert one is not None
    assert other is not None
    return _wrong_kind(one, other) or _misfit(one, other)


def _wrong_kind(plug: PowerConnector, receptacle: PowerConnector) -> str:
    if plug.kind == "terminals" or receptacle.kind == "terminals":
        other = receptacle if plug.kind == "terminals" else plug
        return f"hardwired equipment goes to terminals, not to a {other.kind}"
    if plug.kind != "plug":
        return f"{plug.key} is a {plug.kind}, not a plug"
    if receptacle.kind != "receptacle":
        return f"{receptacle.key} is a {receptacle.kind}, not a receptacle"
    return ""


def _other_voltage(plug: PowerConnector, receptacle: PowerConnector) -> bool:
    """Tell 120 from 230 V, not 230 from 250 V: standards name the same supply differently."""
    if plug.volts is None or receptacle.volts is None:
        return False
    low, high = sorted((plug.volts, receptacle.volts))
    return high > _SAME_SUPPLY * low


def _misfit(plug: PowerConnector, receptacle: PowerConnector) -> str:
    same_family = plug.family == receptacle.family
    if _other_voltage(plug, receptacle):
        return (
            f"a {plug.volts:g} V plug ({plug.key}) does not go into "
            f"a {receptacle.volts:g} V receptacle ({receptacle.key})"
        )
    if plug.locking != receptacle.locking:
        kinds = ("locking", "straight") if plug.locking else ("straight", "locking")
        return f"a {kinds[0]} plug does not go into a {kinds[1]} receptacle"
    if plug.amps is not None and receptacle.amps is not None and plug.amps != receptacle.amps:
        if same_family:
            return f"a {plug.amps:g} A plug does not go into a {receptacle.amps:g} A receptacle"
        more = f", and {plug.amps:g} A against {receptacle.amps:g} A"
        return _other_pins(plug, receptacle) + (more if plug.amps > receptacle.amps else "")
    if same_family and len(plug.poles) > len(receptacle.poles):
        return (
            f"a plug with {len(plug.poles)} pins does not go into "
            f"a receptacle for {len(receptacle.poles)}"
        )
    return _other_pins(plug, receptacle)


def _other_pins(plug: PowerConnector, receptacle: PowerConnector) -> str:
    return f"the {plug.key} plug does not go into the {receptacle.key} receptacle: other pins"
