"""Which loads are on together."""

from ..build import Build
from .placed import PowerTree
from .results import EVERYTHING_ON
from .running import Runnings


def operating_cases(build: Build, tree: PowerTree, running: Runnings) -> dict[str, list[bool]]:
    """Case name to whether each of the tree's loads is on; the governing case first.

    A heater is on or off: with everything on, every thermostat calls at once.
    A pump is on in a case that opens a tap behind it, whether it is named there or not.
    """
    cases = {EVERYTHING_ON: [True] * len(tree.loads)}
    for case in build.cases:
        named = set(case.loads)
        named |= {item for item, motor in running.items() if motor.case(case.name) is not None}
        cases.setdefault(case.name, [placed.item.id in named for placed in tree.loads])
    return cases
