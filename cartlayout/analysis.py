"""The one call the outside makes: a Build in, everything that follows from it out."""

import time
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from .body import BodyResult, solve_body
from .build import Build, Pump
from .findings import Finding, Said, Severity, find_again, in_order
from .network import Network, make_network
from .power import PowerResult, Running, solve_power
from .water import WaterResult, solve_water


@dataclass(frozen=True, slots=True)
class Analysis:
    """Everything computed for one Build."""

    build: Build
    network: Network
    power: PowerResult
    water: WaterResult
    body: BodyResult
    findings: tuple[Finding, ...]
    seconds: float
    """Time it took."""
    said: Mapping[str, Said] = field(default_factory=dict, compare=False, repr=False)
    """The findings by subject, lent to the next analysis."""
    whole: bool = True
    """False: only the network is of this build, the rest of an earlier one (see `follow`)."""

    @property
    def cases(self) -> tuple[str, ...]:
        """Names of all operating cases, the governing ones first."""
        return tuple(dict.fromkeys((*self.power.cases, *self.water.cases)))

    def count(self, severity: Severity) -> int:
        """How many findings there are of a severity."""
        return sum(1 for finding in self.findings if finding.severity == severity)


def analyse(build: Build, previous: Analysis | None = None) -> Analysis:
    """Compute everything that follows from a build. Never raises on a build that loads.

    Args:
        build: the build as drawn, however unfinished.
        previous: an earlier analysis; what still holds is taken over from it, and the
            answer is the same with it as without.
    """
    started = time.perf_counter()
    network = make_network(build, previous.network if previous else None)
    water = solve_water(build, network, previous.water if previous else None)
    power = solve_power(
        build, network, previous.power if previous else None, pumps_running(build, water)
    )
    body = solve_body(build, previous.body if previous else None)
    lent = previous.said if previous else {}
    said = find_again(build, network, power, water, body, lent)
    findings = in_order(said)
    seconds = time.perf_counter() - started
    return Analysis(build, network, power, water, body, findings, seconds, said)


_AMPS = 0.05
"""Currents of pumps are handed on in steps, so that a millimetre of tube leaves the power side
as it is."""


def pumps_running(build: Build, water: WaterResult) -> dict[str, Running]:
    """What every pump whose maker states currents takes where it works.

    Args:
        build: any build.
        water: its water side.
    """
    own = list(
        zip(build.cases, list(water.cases)[len(water.cases) - len(build.cases) :], strict=False)
    )
    found = {}
    for duty in water.duties:
        item = build.item(duty.item)
        role = item.specification.water if item is not None else None
        rows = (
            [row.current.si for row in role.curve if row.current] if isinstance(role, Pump) else []
        )
        if not isinstance(role, Pump) or not rows:
            continue
        by_case: dict[str, float] = {}
        for case, name in own:
            point = duty.point(name)
            if point is not None and point.current_a is not None:
                by_case.setdefault(case.name, _in_steps(point.current_a))
        found[duty.item] = Running(
            voltage_v=role.voltage.si if role.voltage is not None else None,
            table_a=max(rows),
            greatest_a=_in_steps(duty.current_a or 0.0),
            by_case=tuple(by_case.items()),
        )
    return found


def _in_steps(current_a: float) -> float:
    return round(current_a / _AMPS) * _AMPS


def follow(build: Build, previous: Analysis) -> Analysis:
    """What is seen to move while something is dragged: bodies in their places, runs on their ways.

    What flows, what holds and what is said stay those of `previous`, until `analyse` has
    worked them out; it takes over the network from here.

    Args:
        build: with the same items and runs, elsewhere.
        previous: of the step before.
    """
    network = make_network(build, previous.network)
    return replace(previous, build=build, network=network, whole=False)
