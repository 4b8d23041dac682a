"""Columns and order: which part stands in which column, and which above which.

Layers as Sugiyama, Tagawa and Toda (1981) laid out hierarchical systems: rings are opened, every
part stands right of all that feed it, long lines get stand-ins in the columns that they pass, and
the order in a column follows the mean place of the neighbours, as long as that saves crossings.
"""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import networkx as nx

from .model import Diagram, Link

_SWEEPS = 8


@dataclass(frozen=True, slots=True)
class Step:
    """A link, or a piece of one, from a column to the next."""

    link: Link
    a: str
    b: str
    reversed: bool
    """The link runs against the direction of the columns."""
    is_first: bool
    is_last: bool


@dataclass(frozen=True, slots=True)
class Layers:
    """Keys of parts and stand-ins, column by column from the left, each from the top."""

    columns: tuple[tuple[str, ...], ...]
    steps: tuple[Step, ...]


def layered(diagram: Diagram) -> Layers:
    """Columns of a diagram whose parts all hang together.

    Args:
        diagram: no part or link in it twice; links from a part to itself are left out.
    """
    links = [link for link in diagram.links if link.a != link.b]
    graph = nx.DiGraph()
    fed = {link.b for link in links}
    graph.add_nodes_from(one.key for one in diagram.parts if one.key not in fed)
    graph.add_nodes_from(one.key for one in diagram.parts)
    graph.add_edges_from((link.a, link.b) for link in links)
    forward = {key: at for at, key in enumerate(_against_rings(graph))}
    ranks = _ranks(graph, forward)
    columns: list[list[str]] = [[] for _ in range(max(ranks.values(), default=0) + 1)]
    steps: list[Step] = []
    for key in sorted(ranks, key=lambda one: forward[one]):
        columns[ranks[key]].append(key)
    for link in links:
        steps += _steps(link, ranks, columns)
    return Layers(_ordered(columns, steps), tuple(steps))


def _against_rings(graph: "nx.DiGraph[str]") -> list[str]:
    """An order in which only links that close a ring lead back."""
    return list(reversed(list(nx.dfs_postorder_nodes(graph))))


def _ranks(graph: "nx.DiGraph[str]", forward: dict[str, int]) -> dict[str, int]:
    """Column of every part: right of all that feed it, sources next to what they feed."""
    straight = nx.DiGraph()
    straight.add_nodes_from(graph)
    for a, b in graph.edges:
        straight.add_edge(*((a, b) if forward[a] < forward[b] else (b, a)))
    ranks = {
        key: rank for rank, keys in enumerate(nx.topological_generations(straight)) for key in keys
    }
    for key in straight:
        after = [ranks[other] for other in straight.successors(key)]
        if straight.in_degree(key) == 0 and after:
            ranks[key] = max(min(after) - 1, 0)
    return ranks


def _steps(link: Link, ranks: dict[str, int], columns: list[list[str]]) -> list[Step]:
    """The link cut into steps of one column; stand-ins are put into the columns on its way."""
    backward = ranks[link.a] > ranks[link.b]
    a, b = (link.b, link.a) if backward else (link.a, link.b)
    keys = [a]
    for rank in range(ranks[a] + 1, ranks[b]):
        keys.append(f"{link.key}~{rank}")
        columns[rank].append(keys[-1])
    keys.append(b)
    last = len(keys) - 2
    return [
        Step(link, one, other, backward, at == 0, at == last)
        for at, (one, other) in enumerate(itertools.pairwise(keys))
    ]


# --- order ----------------------------------------------------------------------------------------


def _ordered(columns: list[list[str]], steps: list[Step]) -> tuple[tuple[str, ...], ...]:
    after: dict[str, list[str]] = {}
    before: dict[str, list[str]] = {}
    for step in steps:
        after.setdefault(step.a, []).append(step.b)
        before.setdefault(step.b, []).append(step.a)
    current = _from_the_left(columns, after)
    best, fewest = current, crossings(current, after)
    for sweep in range(_SWEEPS):
        if fewest == 0:
            break
        near, order = (before, 1) if sweep % 2 == 0 else (after, -1)
        current = _swept(current, near, order)
        count = crossings(current, after)
        if count < fewest:
            best, fewest = current, count
    return tuple(tuple(column) for column in best)


def _from_the_left(columns: list[list[str]], after: dict[str, list[str]]) -> list[list[str]]:
    """A first order without crossings where all is a tree: children in the order of parents."""
    rank = {key: at for at, column in enumerate(columns) for key in column}
    made: list[list[str]] = [[] for _ in columns]
    seen: set[str] = set()
    stack = [key for column in reversed(columns) for key in reversed(column)]
    while stack:
        key = stack.pop()
        if key in seen:
            continue
        seen.add(key)
        made[rank[key]].append(key)
        stack += [one for one in reversed(after.get(key, [])) if one not in seen]
    return made


def _swept(columns: list[list[str]], near: dict[str, list[str]], order: int) -> list[list[str]]:
    """Every column sorted by the mean place of its neighbours in the one before."""
    made = [list(column) for column in columns]
    places: dict[str, float] = {key: at for column in made for at, key in enumerate(column)}
    for at in range(len(made))[::order]:
        means = {}
        for key in made[at]:
            others = [places[one] for one in near.get(key, ())]
            means[key] = sum(others) / len(others) if others else places[key]
        made[at].sort(key=lambda key: means[key])
        places |= {key: place for place, key in enumerate(made[at])}
    return made


def crossings(columns: Sequence[Sequence[str]], after: dict[str, list[str]]) -> int:
    """How many pairs of lines cross between columns."""
    count = 0
    places = {key: at for column in columns for at, key in enumerate(column)}
    for column in columns:
        pairs = sorted((places[a], places[b]) for a in column for b in after.get(a, ()))
        for at, (a, b) in enumerate(pairs):
            count += sum(1 for c, d in pairs[at + 1 :] if c > a and d < b)
    return count
