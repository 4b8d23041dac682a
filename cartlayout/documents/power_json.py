"""The power side as JSON. Keys carry their unit; numbers without end are null.

circuits: `key`, `letter`, `name`, `items`, `rating_a`, `rating_assumed`,
`voltage_v`, `legs`, `amps_by_case`, `amps_by_case_and_conductor`, `loads`
(`item`, `amps`, `continuous`, `assumed_continuous`), `limits` (`name`,
`value`, `limit`, `dimension`, `holds`, `rule`, `source`, `assumed`), `parent`, `trip`
(`multiple`, `never_sooner_s`, `at_latest_s`, null where nothing says that it ends; or null where
there is no breaker), `room` (`amps`, `watts`, `binding`, `by_limit` name to amps).

power: `appliances` (`item`, `case`, `fed`, `amps`, `volts`, `watts`, `drop_share`), `limits`
(`id` of an item or a run, and what a circuit's limits have), `supplies` (`item`, `name`, `kind`,
`running_w`, `share_left_here`, `amps_by_case_and_conductor`, `lasts_s`), `leakages` (`item`,
`circuit`, `protected`, `stated_a`, `at_most_a`, `budget_a`, `hold_a`, `trip_a`, `leaks`).
"""

from typing import Any

from ..analysis import Analysis
from ..build import Battery, Generator
from ..limits import profile
from ..power import rooms
from ..power.leakage_results import Leakage
from ..power.results import Circuit, Limit
from ..power.supplies import derated_share
from ..power.trip import TripBound
from .json_numbers import finite


def circuits_json(analysis: Analysis) -> list[dict[str, Any]]:
    """Every circuit with its limits, when its breaker trips and what it has left."""
    return [_circuit(analysis, circuit) for circuit in analysis.power.circuits]


def power_json(analysis: Analysis) -> dict[str, Any]:
    """Everything but the circuits."""
    power = analysis.power
    return {
        "appliances": [
            {
                "item": item,
                "case": case,
                "fed": state.fed,
                "amps": state.amps,
                "volts": state.volts,
                "watts": state.watts,
                "drop_share": state.drop_share,
            }
            for item, states in power.appliances.items()
            for case, state in states.items()
        ],
        "limits": [{"id": key, **_limit(one)} for key, one in power.limits],
        "supplies": list(_supplies(analysis)),
        "leakages": [_leakage(one) for one in power.leakages],
    }


def _circuit(analysis: Analysis, circuit: Circuit) -> dict[str, Any]:
    left = rooms(circuit, profile(analysis.build.region), analysis.power)
    least = min(left, key=lambda one: one.amps)
    return {
        "key": circuit.key,
        "letter": circuit.letter,
        "name": circuit.name,
        "items": list(circuit.items),
        "rating_a": circuit.rating_a,
        "rating_assumed": circuit.rating_assumed,
        "voltage_v": circuit.voltage_v,
        "legs": list(circuit.legs),
        "amps_by_case": circuit.amps,
        "amps_by_case_and_conductor": circuit.leg_amps,
        "loads": [
            {
                "item": load.item,
                "amps": load.amps,
                "continuous": load.continuous,
                "assumed_continuous": load.assumed_continuous,
            }
            for load in circuit.loads
        ],
        "limits": [_limit(limit) for limit in circuit.limits],
        "parent": circuit.parent,
        "trip": _trip(circuit.trip),
        "room": {
            "amps": least.amps,
            "watts": least.amps * circuit.voltage_v,
            "binding": least.binding,
            "by_limit": {one.binding: one.amps for one in left},
        },
    }


def _limit(limit: Limit) -> dict[str, Any]:
    return {
        "name": limit.name,
        "value": finite(limit.value),
        "limit": finite(limit.limit),
        "dimension": limit.dimension,
        "holds": limit.holds,
        "rule": limit.rule,
        "source": limit.source,
        "assumed": limit.assumed,
    }


def _trip(bound: TripBound | None) -> dict[str, Any] | None:
    if bound is None:
        return None
    return {
        "multiple": finite(bound.multiple),
        "never_sooner_s": finite(bound.never_sooner_s),
        "at_latest_s": finite(bound.at_latest_s),
    }


def _supplies(analysis: Analysis) -> list[dict[str, Any]]:
    power, found = analysis.power, []
    for item in analysis.build.items:
        role = item.specification.electrical
        if not isinstance(role, (Generator, Battery)):
            continue
        share, hours = 1.0, power.battery_hours.get(item.id)
        if isinstance(role, Generator):
            share = derated_share(role, analysis.build.venue)[0]
            hours = power.fuel_hours.get(item.id)
        found.append(
            {
                "item": item.id,
                "name": item.name,
                "kind": "generator" if isinstance(role, Generator) else "battery",
                "running_w": role.running.si,
                "share_left_here": share,
                "amps_by_case_and_conductor": power.conductor_amps.get(item.id, {}),
                "lasts_s": finite(hours * 3600.0) if hours is not None else None,
            }
        )
    return found


def _leakage(one: Leakage) -> dict[str, Any]:
    return {
        "item": one.key,
        "circuit": one.circuit,
        "protected": one.protected,
        "stated_a": one.known_a,
        "at_most_a": one.most_a,
        "budget_a": one.budget_a,
        "hold_a": one.hold_a,
        "trip_a": one.trip_a,
        "leaks": [
            {"item": leak.item, "amps": leak.amps, "stated": leak.known} for leak in one.leaks
        ],
    }
