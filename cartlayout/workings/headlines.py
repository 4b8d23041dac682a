"""Numbers by what they belong to, and those that a build is judged by first."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..findings.body_numbers import MOVED_TILT, balance_number, push_number, tilt_number
from ..power.results import EVERYTHING_ON
from .find import SUBJECTS
from .model import Number
from .power_circuit import total_number

_MOST = 60


def headlines(analysis: Analysis, power_case: str, water_case: str) -> tuple[Number, ...]:
    """What a build is judged by: circuits, taps, supplies, tanks, balance, push.

    Args:
        analysis: of the build.
        power_case: operating case whose amps are looked at.
        water_case: operating case whose pressures and flows are looked at.
    """
    return tuple(_headlines(analysis, power_case, water_case))[:_MOST]


def _headlines(analysis: Analysis, power_case: str, water_case: str) -> Iterator[Number]:
    for circuit in analysis.power.circuits:
        yield total_number(circuit, power_case)
    for number in SUBJECTS["power supply"].numbers(analysis):
        yield number
    for number in SUBJECTS["tap"].numbers(analysis):
        if number.case in ("", water_case):
            yield number
    for subject in ("supply", "tank", "vessel"):
        yield from SUBJECTS[subject].numbers(analysis)
    body = analysis.body
    yield balance_number("mass", "full")
    yield balance_number("z", "full")
    if body.tilts:
        yield tilt_number(body, body.tilts[0])
        yield MOVED_TILT
    for what in ("force to start", "force to keep going"):
        yield push_number("level", what)


def numbers_of(analysis: Analysis, one: str, cases: tuple[str, ...] = ()) -> tuple[Number, ...]:
    """Numbers of an item or of a run that have a working, in an order worth reading.

    Args:
        analysis: of the build.
        one: id of the item or run.
        cases: of the operating cases those that are looked at; without a case always.
    """
    found = []
    wanted = ("", EVERYTHING_ON, *cases)
    for subject in SUBJECTS.values():
        for number in subject.numbers(analysis):
            owner = number.of
            if (owner == one or owner.startswith((f"{one}.", f"{one}/"))) and (
                number.case in wanted or number.subject in ("leakage", "clearance", "vessel")
            ):
                found.append(number)
    return tuple(found)
