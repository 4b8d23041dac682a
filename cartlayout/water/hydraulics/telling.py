"""Flows and pressures by number, told again by the keys of whoever listed the network."""

from collections.abc import ItemsView, Iterator, Mapping, Sequence
from typing import Any

from .sketch import Key
from .state import Mode, Start, State
from .system import Chain, Member, System, Valve

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
    flows: dict[Key, float] = {
        key: flow[at] if forward else -flow[at] for key, at, forward in system.carriers
    }
    imbalance = _imbalance(system, flow)
    return State(
        converged and imbalance < CONTINUITY_TOLERANCE,
        iterations,
        imbalance,
        energy_error_pa,
        flows,
        Pressures(system, flow, pressure),
        {valve.key: mode for valve, mode in zip(system.valves, modes, strict=True)},
        Start(tuple(flow), tuple(pressure[: system.free]), tuple(modes)),
    )


class Pressures(Mapping[Key, float]):
    """Gauge pressure [Pa] by node; nodes that are not fed are missing.

    What stands between the parts of a chain is worked out when somebody asks for it: a trial is
    mostly asked for one tap. Between equal builds the answers are equal to the last bit.
    """

    __slots__ = ("_flow", "_inside", "_pressure", "_system", "_whole")

    def __init__(self, system: System, flow: Sequence[float], pressure: Sequence[float]) -> None:
        """Take a solution.

        Args:
            system: The network.
            flow: By chain, then by limiter [m^3/s].
            pressure: By place [Pa], heights included.
        """
        self._system, self._flow, self._pressure = system, flow, pressure
        self._inside: dict[int, dict[Key, float]] = {}
        """By number of chain or limiter: total pressure [Pa] of the roots inside."""
        self._whole: dict[Key, float] | None = None

    def __getitem__(self, key: Key) -> float:
        """The pressure of one node."""
        root, head_pa = self._system.heads[key]
        number = self._system.number.get(root)
        if number is not None:
            return self._pressure[number] - head_pa
        return self._within(self._system.inside[root])[root] - head_pa

    def get(self, key: Key, default: Any = None) -> Any:
        """The pressure of one node, or something else where it is not fed."""
        return self[key] if key in self._system.heads else default

    def items(self) -> ItemsView[Key, float]:
        """All nodes that are fed, in the order of the sketch, with their pressures."""
        if self._whole is None:
            system = self._system
            by_root = dict(zip(system.places, self._pressure, strict=True))
            for at in set(system.inside.values()):
                by_root |= self._within(at)
            heads = system.heads.items()
            self._whole = {key: by_root[root] - head_pa for key, (root, head_pa) in heads}
        return self._whole.items()

    def __iter__(self) -> Iterator[Key]:
        """All nodes that are fed, in the order of the sketch."""
        return iter(self._system.heads)

    def __len__(self) -> int:
        """How many are fed."""
        return len(self._system.heads)

    def _within(self, at: int) -> dict[Key, float]:
        inside = self._inside.get(at)
        if inside is None:
            inside = self._inside[at] = self._along(at)
        return inside

    def _along(self, at: int) -> dict[Key, float]:
        system, flow, pressure = self._system, self._flow[at], self._pressure
        if at < len(system.chains):
            chain = system.chains[at]
            before_pa = pressure[chain.tail]
            losses = _losses(chain.members, flow, before_pa - pressure[chain.head])
            members = chain.members[:-1]
        else:
            valve = system.valves[at - len(system.chains)]
            before_pa, members = pressure[valve.tail], valve.ahead_members
            total_pa = valve.ahead.loss(flow)[0] if valve.ahead is not None else 0.0
            losses = _losses(members, flow, total_pa)
        inside: dict[Key, float] = {}
        for member, loss in zip(members, losses, strict=False):
            before_pa -= loss
            inside[member.end] = before_pa
        return inside


def _imbalance(system: System, flow: Sequence[float]) -> float:
    left = [0.0] * len(system.places)
    links: list[Chain | Valve] = [*system.chains, *system.valves]
    for one, link in zip(flow, links, strict=True):
        left[link.tail] -= one
        left[link.head] += one
    return max(map(abs, left[: system.free]), default=0.0)


def _losses(members: Sequence[Member], flow: float, total_pa: float) -> list[float]:
    """Share out the total of what a chain takes.

    Where a wall stands in the chain the losses of its members need not add up
    to the total: the wall takes what is left over.
    """
    if flow == 0.0:
        return [0.0] * len(members)
    if len(members) == 1:
        return [total_pa]
    losses = []
    wall = None
    for at, member in enumerate(members):
        part = member.characteristic
        losses.append(part.loss(flow)[0])
        cracks = abs(flow) < _TRICKLE and (part.cracking_pa or part.cracking_back_pa)
        if cracks or not part.least < flow < part.greatest:
            wall = at
    if wall is not None:
        losses[wall] += total_pa - sum(losses)
    return losses
