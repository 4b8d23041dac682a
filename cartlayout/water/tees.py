"""What a tee takes, by the share of the water that goes through its branch.

Flow of Fluids Through Valves, Fittings, and Pipe (Technical Paper 410, 2009), the chapter on tees
and wyes: losses of branch and run as velocity heads of the leg in which all the water flows. For a
branch at right angles between two legs of one bore.

The solver does not use it: it counts a fixed loss at every port, as makers state it. Where water
comes together the formula's loss is less than nothing for a small branch (the stream draws it
along), and where it parts the run gains; with such losses the steady state is no longer the lowest
point of a convex function, and there may be more than one. So the formula stands beside the
solution: what it says more than was counted is held against what a tap has to spare
(`findings/water_tees.py`). It is for pipes that run full, so not for drains.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ..build import Fitting, Item, Port, TubeRun
from ..network.results import Network
from . import parts
from .results import RunState

TITLE = "Flow of Fluids Through Valves, Fittings, and Pipe, Technical Paper 410, tees and wyes"
_STILL = 1e-8
"""m3/s below which nothing flows."""


@dataclass(frozen=True, slots=True)
class TeeLoss:
    """Velocity heads of the leg with all the water in it; less than 0 where a way gains."""

    run: float
    branch: float


def converging(branch_share: float, branch_bore: float = 1.0) -> TeeLoss:
    """Two streams that come together.

    Args:
        branch_share: of the whole flow that comes by the branch [-], 0 to 1.
        branch_bore: as a share of the run's [-].
    """
    share, area = branch_share, branch_bore * branch_bore
    if area <= 0.35:
        factor = 1.0
    elif share <= 0.4:
        factor = 0.9 * (1.0 - share)
    else:
        factor = 0.55
    branch = factor * (1.0 + (share / area) ** 2 - 2.0 * (1.0 - share) ** 2)
    return TeeLoss(run=1.55 * share - share * share, branch=branch)


def diverging(branch_share: float, branch_bore: float = 1.0) -> TeeLoss:
    """A stream that parts.

    Args:
        branch_share: of the whole flow that leaves by the branch [-], 0 to 1.
        branch_bore: as a share of the run's [-].
    """
    share, area = branch_share, branch_bore * branch_bore
    turned = 1.0 if branch_bore <= 2.0 / 3.0 else 0.3
    factor = 1.0 if area <= 2.0 / 3.0 else 1.0 + 0.3 * share * share
    branch = factor * (1.0 + turned * (share / area) ** 2)
    if area <= 0.4:
        gain = 0.4
    elif share <= 0.5:
        gain = 2.0 * (2.0 * share - 1.0)
    else:
        gain = 0.3 * (2.0 * share - 1.0)
    return TeeLoss(run=gain * share * share, branch=branch)


@dataclass(frozen=True, slots=True)
class TeeWay:
    """Water from one port of a tee to another, in one case."""

    start: str
    end: str
    branch: bool
    """By the branch; else straight on."""
    share: float
    """Of the whole flow that goes by the branch."""
    counted_pa: float
    """What the solver took for it."""
    by_share_pa: float
    """What the formula says for this share."""

    @property
    def more_pa(self) -> float:
        """What the formula says beyond what was counted; nothing where that is enough."""
        return max(self.by_share_pa - self.counted_pa, 0.0)


def is_tee(item: Item) -> bool:
    """Whether something is a fitting of three ports that one can tell the branch of."""
    return _shape(item) is not None


def ways_in(
    item: Item, network: Network, states: Mapping[str, RunState], density_kg_m3: float
) -> tuple[TeeWay, ...]:
    """The ways that water takes through a tee in a case.

    Args:
        item: the tee.
        network: of its build.
        states: tube id to what happens there (`CaseState.runs`).
        density_kg_m3: of the water.
    """
    into: dict[str, float] = {}
    for port in item.specification.ports:
        for _, _, run in network.supply.edges((item.id, port.id), data="run"):
            state = states.get(run.id) if isinstance(run, TubeRun) else None
            if state is not None:
                ends_here = run.b is not None and (run.b.item, run.b.port) == (item.id, port.id)
                flow = state.flow if ends_here else -state.flow
                into[port.id] = into.get(port.id, 0.0) + flow
    return tee_ways(item, into, density_kg_m3)


def tee_ways(item: Item, into: Mapping[str, float], density_kg_m3: float) -> tuple[TeeWay, ...]:
    """The ways that water takes through a tee; none where the formula does not speak of it.

    That is where all the water comes or goes by the branch, or where nothing flows.

    Args:
        item: the tee.
        into: port to what flows in there [m^3/s].
        density_kg_m3: of the water.
    """
    shape = _shape(item)
    if shape is None:
        return ()
    one, other, branch = shape
    if abs(into.get(one.id, 0.0)) < abs(into.get(other.id, 0.0)):
        one, other = other, one
    whole, straight, side = (into.get(port.id, 0.0) for port in (one, other, branch))
    splits = whole > 0.0
    if abs(whole) < _STILL or whole * side > 0.0 or straight * whole > 0.0:
        return ()
    if abs(side) < _STILL and abs(straight) < _STILL:
        return ()
    share = min(abs(side / whole), 1.0)
    run_m, branch_m = parts.passage_m((one,)), parts.passage_m((branch,))
    loss = (diverging if splits else converging)(share, branch_m / run_m)
    velocity_m_s = 4.0 * whole / (math.pi * run_m * run_m)
    head_pa = 0.5 * density_kg_m3 * velocity_m_s * velocity_m_s
    found = []
    for leg, flow, heads in ((other, straight, loss.run), (branch, side, loss.branch)):
        if abs(flow) >= _STILL:
            counted_pa = _counted_pa(item, one.id, whole) + _counted_pa(item, leg.id, flow)
            start, end = (one.id, leg.id) if splits else (leg.id, one.id)
            found.append(TeeWay(start, end, leg is branch, share, counted_pa, heads * head_pa))
    return tuple(found)


def _counted_pa(item: Item, port_id: str, flow: float) -> float:
    role = item.specification.water
    losses = role.losses if isinstance(role, Fitting) else ()
    at = next((one.at for one in losses if one.port == port_id), None)
    return parts.port_loss(at).loss(abs(flow))[0] if at is not None else 0.0


def _shape(item: Item) -> tuple[Port, Port, Port] | None:
    """Both ends of the run, and the branch: the port that takes most, or the last of three.

    None where losses are stated and no one port takes most: a wye, or half a manifold.
    """
    role = item.specification.water
    if not isinstance(role, Fitting):
        return None
    ports = [port for port in item.specification.ports if port.medium == "water"]
    if len(ports) != 3:
        return None
    if not role.losses:
        return ports[0], ports[1], ports[2]
    heads = {port.id: _counted_pa(item, port.id, 1e-4) for port in ports}
    first, second, most = sorted(ports, key=lambda port: heads[port.id])
    return None if heads[most.id] <= heads[second.id] else (first, second, most)
