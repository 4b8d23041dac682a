"""One tap in one solved case, held against what its maker asks."""

from dataclasses import dataclass

from .cases import Solved
from .hydraulics import State
from .model import TapPlace
from .results import TapState

SLACK_PA = 20.0
"""Of a window's ends: less than any gauge shows, more than the solver's tolerance."""
SLACK_FLOW = 1e-3
"""Share of a required flow that is no shortfall."""


@dataclass(frozen=True, slots=True)
class Left:
    """What is left for an open tap where the sources push least."""

    lowest_pa: float
    flow: float
    enough: bool
    """Of pressure."""
    flow_ok: bool

    @property
    def suffices(self) -> bool:
        """Whether there is enough of both."""
        return self.enough and self.flow_ok


def left(place: TapPlace, low: State) -> Left:
    """What an open tap gets in a state; nothing where that did not converge.

    Args:
        place: a tap that is fed.
        low: where the sources push least.
    """
    if not low.converged:
        return Left(0.0, 0.0, False, False)
    inlet = place.inlet
    low_pa = low.pressures_pa[place.node]
    flow = max(low.flows.get(place.node, 0.0), 0.0)
    if flow <= 0.0:
        # The line hangs below the tap: air comes in, and no suction can be measured.
        low_pa = max(low_pa, place.outlet_pa)
    return Left(
        low_pa,
        flow,
        low_pa >= inlet.least_pressure.si - SLACK_PA,
        flow >= inlet.required_flow.si * (1.0 - SLACK_FLOW),
    )


def is_fed(place: TapPlace, at_rest: Solved) -> bool:
    """Whether water gets to a tap with everything shut, and would come out."""
    static_pa = at_rest.high.pressures_pa.get(place.node)
    return static_pa is not None and static_pa > place.outlet_pa


def tap_state(place: TapPlace, solved: Solved, fed: bool) -> TapState:
    """A tap at the end of the range that is worse for it."""
    inlet = place.inlet
    is_open = place.node in solved.case.open_taps
    if not fed or not (solved.high.converged and solved.low.converged):
        return TapState(is_open, 0.0, 0.0, not is_open and not fed, not is_open)
    high_pa = solved.high.pressures_pa[place.node]
    not_over = high_pa <= inlet.greatest_pressure.si + SLACK_PA
    if not is_open:
        return TapState(False, max(high_pa, 0.0), 0.0, not_over, True, high_pa, high_pa)
    least = left(place, solved.low)
    return TapState(
        True,
        least.lowest_pa if not_over else high_pa,
        least.flow,
        least.enough and not_over,
        least.flow_ok,
        least.lowest_pa,
        high_pa,
    )
