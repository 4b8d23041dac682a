"""Where lines run up and down between two columns: one track for all that hangs together."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import networkx as nx

from .layers import Step

_NEAR = 1.2
"""Lines of two nets may not run this near along each other, millimetres."""


@dataclass(slots=True)
class Net:
    """Lines between two columns that meet: all from one part, or all into one."""

    key: str
    steps: list[Step] = field(default_factory=list)
    left: list[float] = field(default_factory=list)
    """Heights at which its lines come from the left column."""
    right: list[float] = field(default_factory=list)
    track: int = 0

    @property
    def top(self) -> float:
        """Least height."""
        return min(self.left + self.right)

    @property
    def bottom(self) -> float:
        """Greatest height."""
        return max(self.left + self.right)

    @property
    def is_straight(self) -> bool:
        """Whether it needs no track."""
        return self.bottom - self.top < 1e-6


def merges(step: Step, leaving: Mapping[str, int], entering: Mapping[str, int]) -> bool:
    """Whether a link joins others on its way into a part, instead of leaving with others.

    Args:
        step: of the link.
        leaving: part to its count of links towards the right.
        entering: part to its count of links from the left.
    """
    a, b = ends(step)
    return leaving[a] == 1 and entering[b] > 1


def ends(step: Step) -> tuple[str, str]:
    """The left and the right part of a step's link."""
    return (step.link.b, step.link.a) if step.reversed else (step.link.a, step.link.b)


def net_key(step: Step, leaving: Mapping[str, int], entering: Mapping[str, int]) -> str:
    """Which net a step belongs to."""
    if merges(step, leaving, entering):
        return f"in {step.b}" if step.is_last else f"by {step.a} {step.b}"
    return f"out {step.a}" if step.is_first else f"by {step.a} {step.b}"


def lay_tracks(nets: Sequence[Net]) -> int:
    """Give each net its track, counted from the left; return how many there are.

    Where a net leaves to the right at the height at which another comes from the left, the other
    has to turn off first.
    """
    turning = [net for net in nets if not net.is_straight]
    order = nx.DiGraph()
    order.add_nodes_from(range(len(turning)))
    for at, one in enumerate(turning):
        for place, other in enumerate(turning):
            if at != place and _meet(one.left, other.right):
                order.add_edge(at, place)
    while (ring := _ring(order)) is not None:
        order.remove_edge(*ring[-1])
    count = 0
    taken: list[list[Net]] = []
    for at in _from_the_top(order, turning):
        net = turning[at]
        least = max((turning[one].track + 1 for one in order.predecessors(at)), default=0)
        track = least
        while track < len(taken) and any(_share(net, other) for other in taken[track]):
            track += 1
        while len(taken) <= track:
            taken.append([])
        taken[track].append(net)
        net.track = track
        count = max(count, track + 1)
    return count


def _ring(order: "nx.DiGraph[int]") -> list[tuple[int, int]] | None:
    try:
        return [(a, b) for a, b, *_ in nx.find_cycle(order)]
    except nx.NetworkXNoCycle:
        return None


def _from_the_top(order: "nx.DiGraph[int]", nets: Sequence[Net]) -> list[int]:
    return list(nx.lexicographical_topological_sort(order, key=lambda at: (nets[at].top, at)))


def _meet(some: Sequence[float], others: Sequence[float]) -> bool:
    return any(abs(one - other) < _NEAR for one in some for other in others)


def _share(one: Net, other: Net) -> bool:
    """Whether the upright parts of two nets come too near on one track."""
    return one.top < other.bottom + _NEAR and other.top < one.bottom + _NEAR
