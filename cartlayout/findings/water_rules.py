"""What to say about the water: taps, the line that feeds them, and where it all goes."""

from collections.abc import Iterator

from ..build import Build
from ..network.results import Network
from ..water.results import WaterResult
from .finding import Finding
from .water_backflow import backflow_rules
from .water_drain_ends import drain_end_rules
from .water_drains import drain_rules
from .water_elements import element_rules
from .water_gauges import gauge_rules
from .water_heaters import heater_rules
from .water_line import line_rules
from .water_pump import pump_rules
from .water_regulators import regulator_rules
from .water_sources import source_rules
from .water_suction import suction_rules
from .water_surge import surge_rules
from .water_taps import tap_rules
from .water_tees import tee_rules
from .water_together import together_rules
from .water_waste import waste_rules
from .water_window import window_rules
from .water_words import Place


def rules(build: Build, network: Network, water: WaterResult) -> Iterator[Finding]:
    """Everything there is to say about the water side of a build."""
    place = Place(build, network, water)
    yield from tap_rules(place)
    yield from together_rules(place)
    yield from tee_rules(place)
    yield from window_rules(place)
    yield from line_rules(place)
    yield from element_rules(place)
    yield from regulator_rules(place)
    yield from heater_rules(place)
    yield from gauge_rules(place)
    yield from backflow_rules(place)
    yield from source_rules(place)
    yield from pump_rules(place)
    yield from suction_rules(place)
    yield from surge_rules(place)
    yield from drain_rules(place)
    yield from drain_end_rules(place)
    yield from waste_rules(place)
