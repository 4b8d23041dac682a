"""The graph that ways are searched in: crossing lines of interest on one or two heights.

A node is a crossing on one of the heights, and the axis that the run keeps to
there; a bend is an edge between the two nodes of a crossing, a climb an edge
between the heights. The graph of so many lines is made once and kept: a search
only puts other weights on it.
"""

import bisect
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt
import rustworkx as rx

from .bodies import Floats
from .ground import NEAR_M

_STEP = 4
"""Numbers of lines are rounded up to it, so that few graphs serve all searches."""


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of both axes, in metres, sorted; the last may be repeated."""

    xs: Floats
    ys: Floats

    @classmethod
    def of(
        cls,
        exact: tuple[Iterable[float], Iterable[float]],
        wished: tuple[Iterable[float], Iterable[float]],
    ) -> "Lines":
        """Gather lines: all of the exact ones, and of the wished those that are not there yet."""
        return cls(_gathered(exact[0], wished[0]), _gathered(exact[1], wished[1]))

    def at(self, x: float, y: float) -> tuple[int, int]:
        """Indices of the crossing at a place that is on two exact lines."""
        return int(self.xs.searchsorted(x)), int(self.ys.searchsorted(y))


def _gathered(exact: Iterable[float], wished: Iterable[float]) -> Floats:
    kept = sorted(set(exact))
    for place in wished:
        at = bisect.bisect(kept, place)
        if (at == 0 or place - kept[at - 1] >= NEAR_M) and (
            at == len(kept) or kept[at] - place >= NEAR_M
        ):
            kept.insert(at, place)
    kept += [kept[-1]] * (-len(kept) % _STEP)
    return np.array(kept)


@dataclass(frozen=True, slots=True)
class Weights:
    """What every edge costs, in metres of run."""

    along_x: list[Floats]
    """For each height: rows of y, columns of the pieces between neighbouring x."""
    along_y: list[Floats]
    turn: list[Floats]
    """For each height: rows of y, columns of x."""
    climb: Floats | None
    """The same, between the two heights."""

    def flat(self) -> list[float]:
        """In the order of the graph's edges."""
        parts: list[Floats] = []
        for along_x, along_y, turn in zip(self.along_x, self.along_y, self.turn, strict=True):
            parts += [along_x.ravel(), along_y.ravel(), turn.ravel()]
        if self.climb is not None:
            parts += [self.climb.ravel(), self.climb.ravel()]
        flat: list[float] = np.concatenate(parts).tolist()
        return flat


def cheapest(
    lines: Lines,
    weights: Weights,
    start: tuple[int, int, int, int],
    stop: tuple[int, int, int, int],
) -> list[tuple[int, int, int]]:
    """The cheapest way from node to node: (column, row, height) of every crossing on it.

    Args:
        lines: columns and rows.
        weights: of the edges.
        start: column, row, height, axis.
        stop: the same of the end.
    """
    columns, rows, heights = len(lines.xs), len(lines.ys), len(weights.turn)
    source, target = (
        ((height * 2 + axis) * rows + row) * columns + column
        for column, row, height, axis in (start, stop)
    )
    paths = rx.dijkstra_shortest_paths(
        _graph(columns, rows, heights), source, target=target, weight_fn=weights.flat().__getitem__
    )
    way = []
    for node in paths[target] if target != source else [source]:
        rest, column = divmod(node, columns)
        rest, row = divmod(rest, rows)
        way.append((column, row, rest // 2))
    return way


@lru_cache(maxsize=128)
def _graph(columns: int, rows: int, heights: int) -> "rx.PyGraph[None, int]":
    """The graph of so many lines; an edge's payload is its place in the list of weights."""
    nodes = np.arange(heights * 2 * rows * columns).reshape(heights, 2, rows, columns)
    pairs: list[tuple[npt.NDArray[Any], npt.NDArray[Any]]] = []
    for height in range(heights):
        level, across = nodes[height]
        pairs.append((level[:, :-1], level[:, 1:]))
        pairs.append((across[:-1, :], across[1:, :]))
        pairs.append((level, across))
    if heights == 2:
        pairs += [(nodes[0, axis], nodes[1, axis]) for axis in (0, 1)]
    tails = np.concatenate([one.ravel() for one, _ in pairs]).tolist()
    heads = np.concatenate([other.ravel() for _, other in pairs]).tolist()
    graph: rx.PyGraph[None, int] = rx.PyGraph(multigraph=True)
    graph.add_nodes_from([None] * nodes.size)
    graph.add_edges_from(list(zip(tails, heads, range(len(tails)), strict=True)))
    return graph
