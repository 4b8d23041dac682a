"""What the network stage hands to the solvers: graphs, routes, and what does not join up."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import networkx as nx

if TYPE_CHECKING:
    from .places import Places
    from .routes import Trails

Node = tuple[str, str]
"""(item id, port id); internal nodes of a fitting use the port id "*"."""


@dataclass(frozen=True, slots=True)
class Route:
    """The way a run takes: corners as (x, y, z) in metres, z above the floor."""

    points: tuple[tuple[float, float, float], ...]
    length_m: float
    bends: int = 0
    """Quarter turns, those into and out of upright parts among them."""
    vertical_m: float = 0.0
    """Up and down, part of the length."""
    bend_room_m: tuple[float, ...] = ()
    """For every bend the largest radius it has room for."""
    levels: tuple[str, ...] = ()
    """The level it keeps to; two where it changes from one to another."""
    climb: int | None = None
    """Index of the point at which it leaves the first of two levels."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Something in the connections that cannot be right.

    `code` is a stable key such as "power.loop", `detail` completes the
    sentence for people, the ids name every item, run and port end involved.
    """

    code: str
    items: tuple[str, ...]
    runs: tuple[str, ...] = ()
    ends: tuple[Node, ...] = ()
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Network:
    """One networkx graph a medium.

    `power` and `supply` are `MultiGraph`s, `drain` a `MultiDiGraph` in the
    direction the water runs. Nodes are `Node`s. An edge's data has either
    "run" (a `Wire` or `TubeRun`) or "item" (an `Item`, for its internals);
    its key is the run's id, or the item's id with what it stands for.
    """

    power: "nx.MultiGraph[Node]" = field(default_factory=nx.MultiGraph)
    supply: "nx.MultiGraph[Node]" = field(default_factory=nx.MultiGraph)
    drain: "nx.MultiDiGraph[Node]" = field(default_factory=nx.MultiDiGraph)
    routes: dict[str, Route] = field(default_factory=dict)
    """Run id to its route; a run with a free end has none."""
    heights_m: dict[Node, float] = field(default_factory=dict)
    """Height of every port above the floor."""
    problems: tuple[Problem, ...] = ()
    places: "Places | None" = None
    """Every port looked up, lent to the next network."""
    trails: "Trails | None" = None
    """What the search of the routes read, lent to the next network."""
    reads: tuple[Any, ...] = ()
    """The parts of the Build this was made from, compared by identity for re-use."""
