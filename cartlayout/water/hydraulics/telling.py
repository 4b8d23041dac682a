"""Flows and pressures by number, told again by the keys of whoever listed the network."""

from collections.abc import Sequence

from .sketch import Key
from .state import Mode, Start, State
from .system import Chain, System, Valve

_TRICKLE = 1e-9
"""m3/s that leak through a wall."""
CONTINUITY_TOLERANCE = 1e-9
"""m3/s; only sizes that no cart has ever come near it."""


def tell(
    system: System,
    flow: Sequence[float],
    pressure: Sequence[float],
    modes: Sequence[Mode],
    converged: bool,
    iterations: int,
    energy_error_pa: float,
) -> State:
    """The state of every node and link.

    Args:
        system: The network.
        flow: By chain, then by limiter [m^3/s].
        pressure: By place [Pa], heights included.
        modes: By limiter.
        converged: Whether the energy along every link agrees.
        iterations: Linear systems solved.
        energy_error_pa: Largest pressure left over along a link.
    """
    flows: dict[Key, float] = {}
    by_root = dict(zip(system.places, pressure, strict=True))
    for at, chain in enumerate(system.chains):
        before_pa = pressure[chain.tail]
        losses = _along(chain, flow[at], before_pa - pressure[chain.head], flows)
        for member, loss in zip(chain.members[:-1], losses, strict=False):
            before_pa -= loss
            by_root[member.end] = before_pa
    for at, valve in enumerate(system.valves, len(system.chains)):
        flows[valve.key] = flow[at]
    pressures = {
        key: by_root[root] - head_pa for key, root, head_pa in system.heads if root in by_root
    }
    imbalance = _imbalance(system, flow)
    return State(
        converged and imbalance < CONTINUITY_TOLERANCE,
        iterations,
        imbalance,
        energy_error_pa,
        flows,
        pressures,
        {valve.key: mode for valve, mode in zip(system.valves, modes, strict=True)},
        Start(tuple(flow), tuple(pressure[: system.free]), tuple(modes)),
    )


def _imbalance(system: System, flow: Sequence[float]) -> float:
    left = [0.0] * len(system.places)
    links: list[Chain | Valve] = [*system.chains, *system.valves]
    for one, link in zip(flow, links, strict=True):
        left[link.tail] -= one
        left[link.head] += one
    return max(map(abs, left[: system.free]), default=0.0)


def _along(chain: Chain, flow: float, total_pa: float, flows: dict[Key, float]) -> list[float]:
    """Note the flow of everything along a chain, and share out the total of what it takes.

    Where a wall stands in the chain the losses of its members need not add up
    to the total: the wall takes what is left over.
    """
    for member in chain.members:
        flows[member.key] = flow if member.forward else -flow
    if flow == 0.0 or len(chain.members) == 1:
        return [0.0] * len(chain.members)
    losses = []
    wall = None
    for at, member in enumerate(chain.members):
        part = member.characteristic
        losses.append(part.loss(flow)[0])
        cracks = abs(flow) < _TRICKLE and (part.cracking_pa or part.cracking_back_pa)
        if cracks or not part.least < flow < part.greatest:
            wall = at
    if wall is not None:
        losses[wall] += total_pa - sum(losses)
    return losses
