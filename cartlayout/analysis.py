"""The one call the outside makes: a Build in, everything that follows from it out."""

from dataclasses import dataclass

from .body.results import BodyResult
from .build import Build
from .findings.finding import Finding
from .network.results import Network
from .power.results import PowerResult
from .water.results import WaterResult


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

    @property
    def cases(self) -> tuple[str, ...]:
        """Names of all operating cases, the governing ones first."""
        return tuple(dict.fromkeys((*self.power.cases, *self.water.cases)))
