"""Which number of the power side a finding is about, read from any analysis of the same cart."""

from ...analysis import Analysis
from ...findings import Finding
from ...power.results import Circuit, Limit
from ...units import Value
from .model import Probe, Reader

_OF_CIRCUIT = {
    "power.total": "total",
    "power.neutral": "neutral",
    "power.continuous": "continuous",
    "power.fastened": "fastened",
    "power.venue-limit": "venue limit",
    "power.two-circuits": "total",
}
"""Code to the name of the limit; those of starts are of a circuit or of a supply."""
_OF_EQUIPMENT = {
    "power.strip": "strip",
    "power.extension": "extension",
    "power.main": "main",
    "power.plug": "plug",
    "power.receptacle": "receptacle",
    "power.cord": "cord",
    "power.leg": "leg",
    "power.generator": "generator",
    "power.inverter": "inverter",
    "power.surge": "surge",
    "power.battery-energy": "battery energy",
    "power.discharge": "discharge",
    "power.wrong-voltage": "voltage",
    "power.voltage": "voltage",
    "power.drop": "drop",
}
_NONE_LEFT = ("continuous", "fastened", "neutral", "venue limit", "surge")
"""Limits that are only held where something asks for them: without it nothing is asked."""


def circuit_of(analysis: Analysis, finding: Finding) -> Circuit | None:
    """The circuit that a finding names by its letter, or the one that feeds its first load."""
    letter = dict(finding.title.values).get("letter")
    named = next((one for one in analysis.power.circuits if one.letter == letter), None)
    if named is not None or not finding.items:
        return named
    return next(
        (one for item in finding.items if (one := analysis.power.circuit_of(item)) is not None),
        None,
    )


def _value(limit: Limit) -> Value:
    return Value(limit.value, limit.dimension)


def _circuit_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    circuit, name = circuit_of(analysis, finding), _OF_CIRCUIT[finding.code]
    if circuit is None:
        return None
    key = circuit.key

    def read(of: Analysis) -> Value | None:
        there = of.power.circuit(key)
        if there is None:
            return None
        limit = next((one for one in there.limits if one.name == name), None)
        if limit is not None:
            return _value(limit)
        if name == "continuous":  # nothing on it runs for hours: amps count once
            return next((_value(one) for one in there.limits if one.name == "total"), None)
        return None if finding.value is None else Value(0.0, finding.value.dimension)

    return read


def _equipment_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    name = _OF_EQUIPMENT[finding.code]
    if finding.value is None:
        return None
    places = {*finding.items, *finding.runs}
    key = next(
        (
            key
            for key, one in analysis.power.limits
            if one.name == name
            and abs(one.value - finding.value.si) <= 1e-9 + 1e-9 * abs(one.value)
            and (key in places or places & set(one.items))
        ),
        None,
    )
    if key is None:
        return None

    def read(of: Analysis) -> Value | None:
        found = [one for at, one in of.power.limits if at == key and one.name == name]
        if found:  # of several receptacles of one item the fullest
            return _value(max(found, key=lambda one: one.value))
        gone = of.build.item(key) is None and of.build.run(key) is None
        if gone or name not in (*_NONE_LEFT, "strip", "extension", "main", "receptacle"):
            return None
        return None if finding.value is None else Value(0.0, finding.value.dimension)

    return read


def _leakage_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    key = finding.items[0] if finding.items else ""
    most = finding.code == "power.leakage-unknown"

    def read(of: Analysis) -> Value | None:
        found = next((one for one in of.power.leakages if one.key == key), None)
        if found is None:
            return Value(0.0, "leakage") if of.build.item(key) is not None else None
        return Value(found.most_a if most else found.known_a, "leakage")

    return read if any(one.key == key for one in analysis.power.leakages) else None


def _starts_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    circuit = circuit_of(analysis, finding)
    if circuit is None or "letter" not in dict(finding.title.values):
        return None
    key = circuit.key

    def read(of: Analysis) -> Value | None:
        there = of.power.circuit(key)
        limits = there.limits if there is not None else ()
        return next((_value(one) for one in limits if one.name == "starts together"), None)

    return read


READERS: dict[str, Reader] = {
    **dict.fromkeys(_OF_CIRCUIT, _circuit_reader),
    **dict.fromkeys(_OF_EQUIPMENT, _equipment_reader),
    "power.leakage": _leakage_reader,
    "power.leakage-unknown": _leakage_reader,
    "power.starts-together": _starts_reader,
}
