"""Which loads are on together."""

from ..build import Build
from .results import EVERYTHING_ON
from .tree import PowerTree


def operating_cases(build: Build, tree: PowerTree) -> dict[str, list[bool]]:
    """Case name to whether each of the tree's loads is on; the governing case first.

    A heater is on or off: with everything on, every thermostat calls at once.
    """
    cases = {EVERYTHING_ON: [True] * len(tree.loads)}
    for case in build.cases:
        named = set(case.loads)
        cases.setdefault(case.name, [placed.item.id in named for placed in tree.loads])
    return cases
