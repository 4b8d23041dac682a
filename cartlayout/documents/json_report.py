"""The analysis as JSON. Keys carry their unit; all numbers are SI or plain amperes and volts.

Top level: `format` ("cartlayout check"), `version` (1), `build`, `verdict`
("stop" or "clear"), `circuits`, `power`, `taps`, `water`, `body`, `findings`, `caution`.

circuits, power: see `power_json`.

taps, water: see `water_json`.

body: `full`, `empty`, `worst` and each of `path` (`mass_kg`, `x_m`, `y_m`, `z_m`,
`tilt_deg`, `edge`; null without mass), `tilts` (`edge`, `full_deg`, `empty_deg`, `worst_deg`),
`feet` (`loads`, `casters`, `thirds_kg`, `one_less_kg`, or null), `pushes`, `travel`,
`passages` (`name`, `kind`, `way`, `passes`, `checks`), `reaches` (`item`, `depth_m`), `drips`
(`wet`, `live`, `shield`), `levels` (areas, volumes and shares), `lifts`, `leaves`, `counter_m`.

findings: `severity`, `code`, `title`, `detail`, `items`, `runs`, `value` and
`limit` (SI number and dimension, or null), `source`, `working` (see `working_lines`, or null);
with --remedies also `remedies` (see
`remedy_lines`) and `none` (why there are none, or null).
"""

from typing import Any

from ..analysis import Analysis
from ..findings import Finding
from ..units import UnitSystem, Value
from .body_json import body_json
from .caution import CAUTION
from .power_json import circuits_json, power_json
from .remedy_lines import Found, remedies_json
from .water_json import taps_json, water_json
from .working_lines import working_json, working_of


def json_report(
    analysis: Analysis, system: UnitSystem, found: Found | None = None
) -> dict[str, Any]:
    """Return what `cartlayout check --json` prints, ready for json.dumps.

    Args:
        analysis: of the build.
        system: units of the texts.
        found: remedies by finding, where they are asked for.
    """
    findings = [_finding(analysis, finding, system) for finding in analysis.findings]
    if found is not None:
        for row, more in zip(findings, remedies_json(analysis, found, system), strict=True):
            row.update(more)
    return {
        "format": "cartlayout check",
        "version": 1,
        "build": analysis.build.name,
        "verdict": "stop" if analysis.count("stop") else "clear",
        "circuits": circuits_json(analysis),
        "power": power_json(analysis),
        "taps": taps_json(analysis.water),
        "water": water_json(analysis.water),
        "body": body_json(analysis.body),
        "findings": findings,
        "caution": CAUTION,
    }


def _finding(analysis: Analysis, finding: Finding, system: UnitSystem) -> dict[str, Any]:
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
        "working": working_json(working_of(analysis, finding), system),
    }


def _value(value: Value | None) -> dict[str, Any] | None:
    return None if value is None else {"si": value.si, "dimension": value.dimension}
