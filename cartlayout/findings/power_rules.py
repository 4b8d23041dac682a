"""What to say about the power side."""

from collections.abc import Iterator

from ..build import Build
from ..network.results import Network
from ..power.results import PowerResult
from . import (
    power_circuits,
    power_equipment,
    power_leakage,
    power_plugs,
    power_pumps,
    power_transformer,
)
from .finding import Finding
from .power_words import PowerWords


def rules(build: Build, network: Network, power: PowerResult) -> Iterator[Finding]:
    """Everything there is to say about circuits, cords, plugs and volts."""
    words = PowerWords(build, power)
    yield from power_circuits.rules(words)
    yield from power_equipment.rules(words)
    yield from power_plugs.rules(words, network)
    yield from power_pumps.rules(words)
    yield from power_leakage.rules(words)
    yield from power_transformer.rules(words)
    if not power.converged:
        yield words.not_converged()
