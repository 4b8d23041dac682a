"""Sparse elimination for a fixed pattern: what meets what is worked out once, then only numbers.

Networks of a cart have a handful of junctions in trees with few loops. Taking
junctions with the fewest neighbours first leaves a tree without any fill-in, and
plain Python is then faster than handing a small dense matrix to a library. No
pivoting is needed: the matrices are M-matrices, dominant by columns.
"""

from collections.abc import Iterable

_Step = tuple[int, list[tuple[int, int, int, list[tuple[int, int]]]], list[tuple[int, int]]]


class Elimination:
    """The order and the places for solving A x = b over junctions joined by given pairs.

    Args:
        size: Number of junctions.
        pairs: Pairs of junctions that some link joins.

    `place[i, j]` says where the off-diagonal A[i][j] stands in the list of
    off-diagonals handed to `solve`.
    """

    __slots__ = ("_steps", "place", "places", "size")

    def __init__(self, size: int, pairs: Iterable[tuple[int, int]]) -> None:
        self.size = size
        self.place: dict[tuple[int, int], int] = {}
        neighbours: list[set[int]] = [set() for _ in range(size)]
        for i, j in pairs:
            self._join(neighbours, i, j)
        left = set(range(size))
        self._steps: list[_Step] = []
        while left:
            k = min(left, key=lambda node: (len(neighbours[node]), node))
            left.remove(k)
            around = sorted(neighbours[k])
            for i in around:
                neighbours[i].discard(k)
            for at, i in enumerate(around):
                for j in around[at + 1 :]:
                    self._join(neighbours, i, j)
            self._steps.append(self._step(k, around))
        self.places = len(self.place)

    def _join(self, neighbours: list[set[int]], i: int, j: int) -> None:
        neighbours[i].add(j)
        neighbours[j].add(i)
        for pair in ((i, j), (j, i)):
            self.place.setdefault(pair, len(self.place))

    def _step(self, k: int, around: list[int]) -> _Step:
        place = self.place
        rows = [
            (i, place[i, k], place[k, i], [(place[k, j], place[i, j]) for j in around if j != i])
            for i in around
        ]
        return k, rows, [(j, place[k, j]) for j in around]

    def solve(self, diagonal: list[float], off: list[float], right: list[float]) -> list[float]:
        """Solve in place and return the unknowns; all three lists are used up.

        Raises:
            ZeroDivisionError: some junction hangs on nothing.
        """
        for k, rows, _ in self._steps:
            pivot = diagonal[k]
            right_k = right[k]
            for i, ik, ki, others in rows:
                factor = off[ik] / pivot
                if factor == 0.0:
                    continue
                right[i] -= factor * right_k
                diagonal[i] -= factor * off[ki]
                for kj, ij in others:
                    off[ij] -= factor * off[kj]
        for k, _, row in reversed(self._steps):
            value = right[k]
            for j, kj in row:
                value -= off[kj] * right[j]
            right[k] = value / diagonal[k]
        return right
