"""The circuits that a venue of a region can be asked for."""

from dataclasses import dataclass

from ...limits import Profile, power_connector

_LEAST_V = 50.0
"""Extra-low voltage comes from an adapter of the cart's own."""


@dataclass(frozen=True, slots=True)
class UsualCircuit:
    """A breaker and the receptacle behind it."""

    volts: float
    amps: float
    receptacle: str


def usual_circuits(rules: Profile) -> tuple[UsualCircuit, ...]:
    """What stands behind the region's usual receptacles, the smaller first."""
    found: dict[tuple[float, str], UsualCircuit] = {}
    for row in rules.default_connectors:
        connector = power_connector(row.receptacle)
        if connector is None or connector.kind != "receptacle" or row.volts < _LEAST_V:
            continue
        # Asked for, not assumed: the circuit may be as large as its receptacle.
        amps = connector.amps if connector.amps is not None else row.up_to_a
        found.setdefault((row.volts, row.receptacle), UsualCircuit(row.volts, amps, row.receptacle))
    return tuple(sorted(found.values(), key=lambda one: (one.volts, one.amps)))
