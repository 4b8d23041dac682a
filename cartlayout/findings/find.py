"""All rules, run over the results of one build."""

from ..body.results import BodyResult
from ..build import Build
from ..network.results import Network
from ..power.results import PowerResult
from ..water.results import WaterResult
from . import body_rules, network_rules, power_rules, water_rules
from .finding import Finding


def find(
    build: Build, network: Network, power: PowerResult, water: WaterResult, body: BodyResult
) -> tuple[Finding, ...]:
    """Everything there is to say about a build, stops first."""
    found = (
        *network_rules.rules(build, network),
        *power_rules.rules(build, network, power),
        *water_rules.rules(build, network, water),
        *body_rules.rules(build, body),
    )
    return tuple(sorted(found, key=Finding.sort_key))
