"""The analysis as JSON. Keys carry their unit; all numbers are SI or plain amperes and volts.

Top level: `format` ("cartlayout check"), `version` (1), `build`, `verdict`
("stop" or "clear"), `circuits`, `taps`, `water`, `body`, `findings`, `caution`.

circuits: `key`, `letter`, `name`, `items`, `rating_a`, `rating_assumed`,
`voltage_v`, `legs`, `amps_by_case`, `amps_by_case_and_conductor`, `loads`
(`item`, `amps`, `continuous`, `assumed_continuous`), `limits` (`name`,
`value`, `limit`, `dimension`, `holds`, `rule`, `source`, `assumed`), `parent`.

taps, water: see `water_json`.

body: `full`, `empty`, `worst` and each of `path` (`mass_kg`, `x_m`, `y_m`, `z_m`,
`tilt_deg`, `edge`; null without mass), `tilts` (`edge`, `full_deg`, `empty_deg`, `worst_deg`),
`feet` (`loads`, `casters`, `thirds_kg`, `one_less_kg`, or null), `pushes`, `travel`,
`passages` (`name`, `kind`, `way`, `passes`, `checks`), `reaches` (`item`, `depth_m`), `drips`
(`wet`, `live`, `shield`), `levels` (areas, volumes and shares), `lifts`, `leaves`, `counter_m`.

findings: `severity`, `code`, `title`, `detail`, `items`, `runs`, `value` and
`limit` (SI number and dimension, or null), `source`.
"""

from typing import Any

from ..analysis import Analysis
from ..findings import Finding
from ..power.results import Circuit
from ..units import UnitSystem, Value
from .body_json import body_json
from .caution import CAUTION
from .water_json import taps_json, water_json


def json_report(analysis: Analysis, system: UnitSystem) -> dict[str, Any]:
    """Return what `cartlayout check --json` prints, ready for json.dumps."""
    return {
        "format": "cartlayout check",
        "version": 1,
        "build": analysis.build.name,
        "verdict": "stop" if analysis.count("stop") else "clear",
        "circuits": [_circuit(circuit) for circuit in analysis.power.circuits],
        "taps": taps_json(analysis.water),
        "water": water_json(analysis.water),
        "body": body_json(analysis.body),
        "findings": [_finding(finding, system) for finding in analysis.findings],
        "caution": CAUTION,
    }


def _circuit(circuit: Circuit) -> dict[str, Any]:
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
        "limits": [
            {
                "name": limit.name,
                "value": limit.value,
                "limit": limit.limit,
                "dimension": limit.dimension,
                "holds": limit.holds,
                "rule": limit.rule,
                "source": limit.source,
                "assumed": limit.assumed,
            }
            for limit in circuit.limits
        ],
        "parent": circuit.parent,
    }


def _finding(finding: Finding, system: UnitSystem) -> dict[str, Any]:
    return {
        "severity": finding.severity,
        "code": finding.code,
        "title": finding.title.shown(system),
        "detail": finding.detail.shown(system),
        "items": list(finding.items),
        "runs": list(finding.runs),
        "value": _value(finding.value),
        "limit": _value(finding.limit),
        "source": finding.source,
    }


def _value(value: Value | None) -> dict[str, Any] | None:
    return None if value is None else {"si": value.si, "dimension": value.dimension}
