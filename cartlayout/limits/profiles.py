"""Rules of a region: what it asks for, each with its source."""

from functools import cache
from typing import Generic, Literal, TypeVar

from ..units import ConductorSize
from .power_connectors import power_connector
from .rows import LimitsError, Row, Sourced
from .tables import read_table

T = TypeVar("T")

RegionKey = Literal["US", "UK", "EU", "AU"]
REGIONS: tuple[RegionKey, ...] = ("US", "UK", "EU", "AU")


class Setting(Sourced, Generic[T], frozen=True):
    """One value and the rule it comes from."""

    value: T
    rule: str
    """In plain words."""


class UnknownBreaker(Sourced, frozen=True):
    """What to assume behind a receptacle that nobody knows anything about."""

    receptacle: str
    amps: float
    rule: str


class ReceptacleLoad(Sourced, frozen=True):
    """The most that one plug-in appliance may draw on a circuit with several outlets."""

    circuit_a: float
    receptacle_a: float
    greatest_load_a: float


class ReceptacleForCircuit(Sourced, frozen=True):
    """Receptacle ratings that a circuit with several outlets may have."""

    circuit_a: float
    receptacles_a: tuple[float, ...]


class BranchConductor(Sourced, frozen=True):
    """The thinnest fixed copper wire that a circuit of a rating may have."""

    circuit_a: float
    size: ConductorSize


class DefaultConnector(Sourced, frozen=True):
    """What a new outlet or appliance of a voltage gets."""

    volts: float
    up_to_a: float
    plug: str
    receptacle: str


class StricterRatio(Sourced, frozen=True):
    """A place that asks for a larger waste tank than the region does."""

    place: str
    ratio: float


class DrainSlope(Sourced, frozen=True):
    """The least fall of a drain that lies along the floor, by its bore."""

    up_to_bore_m: float | None
    """None: any wider bore."""
    slope: float
    """Fall for each metre."""
    rule: str


class Profile(Row, frozen=True):
    """The rules of one region. A rule that the region does not have is None."""

    region: RegionKey
    name: str
    edition: str
    caution: str
    usual_voltages_v: Setting[tuple[float, ...]]
    frequency_hz: Setting[float]
    breaker_sizes_a: Setting[tuple[float, ...]]
    unknown_breakers: tuple[UnknownBreaker, ...]
    continuous_factor: Setting[float] | None
    """Times the continuous amps, plus the rest, against the breaker."""
    continuous_hours: Setting[float] | None
    """A run of this long, it included, counts as continuous."""
    one_appliance_share: Setting[float] | None
    """Of the circuit's rating, for one plug-in appliance where there are several outlets."""
    receptacle_loads: tuple[ReceptacleLoad, ...]
    receptacles_for_circuits: tuple[ReceptacleForCircuit, ...]
    branch_conductors: tuple[BranchConductor, ...]
    fastened_share: Setting[float] | None
    """Of the circuit's rating, for all equipment fastened in place where there are outlets too."""
    drop_branch_share: Setting[float]
    """Voltage drop advised for the branch alone."""
    drop_total_share: Setting[float]
    """Voltage drop advised for feeder and branch together."""
    voltage_tolerance_share: Setting[tuple[float, float]]
    """Supply voltage below and above nominal that the region's standard allows."""
    wet_distance_m: Setting[float] | None
    """Receptacles this near to a sink need earth-leakage protection, along the cord's path."""
    outdoor_protection: Setting[bool] | None
    """Receptacles outdoors need earth-leakage protection."""
    leakage_protection_up_to_a: Setting[float] | None
    """Socket outlets up to this rating need earth-leakage protection wherever they are."""
    leakage_trip_a: Setting[float]
    """The usual device trips at this for certain."""
    leakage_hold_a: Setting[float]
    """The usual device does not trip below this."""
    standing_leakage_a: Setting[float]
    """Most that all equipment on one device may leak in ordinary use."""
    waste_ratio: Setting[float]
    """Waste tank against fresh tank."""
    stricter_waste_ratios: tuple[StricterRatio, ...]
    air_gap_bores: Setting[float]
    """Air gap against the bore of the inlet above it."""
    least_air_gap_m: Setting[float]
    waste_drain_bore_m: Setting[float]
    """Least bore of the waste tank's own drain."""
    drain_slopes: tuple[DrainSlope, ...]
    """From the narrowest up; the last is for any wider bore."""
    tilt_degrees: Setting[float]
    """Incline at which the cart must still stand."""
    default_connectors: tuple[DefaultConnector, ...]
    single_receptacle: Setting[bool] | None = None
    """A receptacle that is alone on its circuit is rated no less than the circuit."""
    wet_appliances_from_kg: Setting[float] | None = None
    """Plug-in appliances that are fastened, or heavier than this, need earth-leakage protection
    as near to a sink as `wet_distance_m`."""

    def unknown_breaker(self, receptacle: str) -> UnknownBreaker:
        """The breaker to assume behind a receptacle of a circuit that nobody knows.

        Raises:
            LimitsError: no connector has that key; terminals have no rating of their own.
        """
        for row in self.unknown_breakers:
            if row.receptacle == receptacle:
                return row
        connector = power_connector(receptacle)
        if connector is None or connector.amps is None:
            raise LimitsError(f"nothing says what breaker stands behind '{receptacle}'")
        return UnknownBreaker(
            receptacle=receptacle,
            amps=connector.amps,
            rule="taken to be what the receptacle is rated for",
            source=connector.source,
            edition=connector.edition,
            status="common practice",
        )

    def receptacle_load(self, circuit_a: float, receptacle_a: float) -> ReceptacleLoad | None:
        """The row for one plug-in appliance, or None where the table has none."""
        for row in self.receptacle_loads:
            if row.circuit_a == circuit_a and row.receptacle_a == receptacle_a:
                return row
        return None

    def branch_conductor(self, circuit_a: float) -> BranchConductor | None:
        """The thinnest fixed wire for a circuit, or None where the table ends before it."""
        return next((row for row in self.branch_conductors if row.circuit_a >= circuit_a), None)

    @property
    def strictest_waste_ratio(self) -> StricterRatio | None:
        """Of the places that ask for more than the region does, the one that asks for most."""
        return max(
            (row for row in self.stricter_waste_ratios if row.ratio > self.waste_ratio.value),
            key=lambda row: row.ratio,
            default=None,
        )

    def drain_slope(self, bore_m: float) -> DrainSlope:
        """The least fall of a drain of some bore."""
        for row in self.drain_slopes:
            if row.up_to_bore_m is None or bore_m <= row.up_to_bore_m:
                return row
        return self.drain_slopes[-1]

    def next_breaker_a(self, amps: float) -> float | None:
        """Smallest standard breaker that is not less than so many amps."""
        return next((size for size in self.breaker_sizes_a.value if size >= amps - 1e-9), None)

    def default_connector(self, volts: float, amps: float = 0.0) -> DefaultConnector | None:
        """What a new outlet of about that voltage gets, large enough for so many amps."""
        for row in self.default_connectors:
            if abs(row.volts - volts) <= 0.15 * row.volts and amps <= row.up_to_a:
                return row
        return None


@cache
def profile(region: str) -> Profile:
    """Return the rules of a region.

    Args:
        region: "US", "UK", "EU" or "AU".

    Raises:
        LimitsError: there is no such region, or its table cannot be used.
    """
    key = region.upper()
    if key not in REGIONS:
        raise LimitsError(f"there is no region '{region}'; there are {', '.join(REGIONS)}")
    name = f"regions/{key.lower()}.json"
    found = read_table(name, Profile)
    _check(found, key, name)
    return found


def profiles() -> tuple[Profile, ...]:
    """The rules of every region."""
    return tuple(profile(region) for region in REGIONS)


def _check(found: Profile, key: str, name: str) -> None:
    if found.region != key:
        raise LimitsError(f"{name}: region: is '{found.region}', not '{key}'")
    sizes = found.breaker_sizes_a.value
    if list(sizes) != sorted(set(sizes)):
        raise LimitsError(f"{name}: breaker_sizes_a: must rise")
    bores = [row.up_to_bore_m for row in found.drain_slopes]
    if not bores or bores[-1] is not None or None in bores[:-1]:
        raise LimitsError(f"{name}: drain_slopes: the last one, and no other, is for any bore")
    named = [("unknown_breakers", row.receptacle) for row in found.unknown_breakers]
    for row in found.default_connectors:
        named += [("default_connectors", row.plug), ("default_connectors", row.receptacle)]
    for field, connector in named:
        if power_connector(connector) is None:
            raise LimitsError(f"{name}: {field}: there is no connector '{connector}'")
