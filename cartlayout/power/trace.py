"""What the solver had in its hands when it came to a result, for whoever wants to see the working.

These are the solver's own values, kept and not copied; nobody changes them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..limits import Profile
from .placed import PlacedLoad, PowerTree
from .running import Runnings
from .sweep import Flow
from .totals import Totals


@dataclass(frozen=True, slots=True)
class PowerTrace:
    """The tree of a build, and what flows in it case by case."""

    tree: PowerTree
    rules: Profile
    running: Runnings
    on: Mapping[str, Sequence[bool]]
    """Case name to which of the tree's loads draw."""
    loads: Mapping[str, Sequence[PlacedLoad]]
    """Case name to the tree's loads with what they draw in it."""
    flows: Mapping[str, Flow]
    totals: Mapping[str, Totals]
