"""A curve with its axes, points and levels as elements of a sheet."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ..plan.picture import Box
from ..sheet.elements import SMALL, Element, LineItem, PathItem, RoundItem, TextItem

_LEFT, _BOTTOM, _TOP, _RIGHT = 14.0, 11.0, 4.0, 44.0
"""Room around the field for numbers and titles; on the right for the names of the levels."""
_TICKS = 6
_CAP = 0.727 * SMALL


@dataclass(frozen=True, slots=True)
class Spot:
    """A working point."""

    x: float
    y: float
    number: str
    """Written in it; what it stands for is said elsewhere."""


@dataclass(frozen=True, slots=True)
class Graph:
    """All numbers in the units that are written at the axes."""

    x_title: str
    y_title: str
    line: tuple[tuple[float, float], ...]
    levels: tuple[tuple[str, float], ...] = ()
    """Name and height of lines across."""
    spots: tuple[Spot, ...] = ()


def steps(greatest: float) -> tuple[float, ...]:
    """Round numbers from 0 to no less than the greatest: 1, 2 or 5 times a power of ten apart."""
    if greatest <= 0.0:
        return 0.0, 1.0
    rough = greatest / _TICKS
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * one for one in (1.0, 2.0, 5.0, 10.0) if power * one >= rough * 0.999)
    return tuple(step * at for at in range(math.ceil(greatest / step - 1e-9) + 1))


def graph_elements(graph: Graph, box: Box) -> tuple[Element, ...]:
    """The graph in a box of millimetres."""
    return tuple(_Drawing(graph, box).elements())


class _Drawing:
    def __init__(self, graph: Graph, box: Box) -> None:
        self.graph = graph
        xs = [x for x, _ in graph.line] + [one.x for one in graph.spots]
        ys = [y for _, y in graph.line] + [one.y for one in graph.spots]
        ys += [y for _, y in graph.levels]
        self.x_steps = steps(max(xs, default=0.0))
        self.y_steps = steps(max(ys, default=0.0))
        self.field = Box(
            box.x + _LEFT, box.y + _TOP, box.width - _LEFT - _RIGHT, box.height - _TOP - _BOTTOM
        )

    def at(self, x: float, y: float) -> tuple[float, float]:
        field = self.field
        return (
            field.x + field.width * x / self.x_steps[-1],
            field.bottom - field.height * y / self.y_steps[-1],
        )

    def elements(self) -> Iterator[Element]:
        yield from self._axes()
        yield from self._levels()
        if len(self.graph.line) > 1:
            points = tuple(self.at(*one) for one in self.graph.line)
            yield PathItem(points, edge="water", width_pt=1.6)
        yield from self._spots()

    def _axes(self) -> Iterator[Element]:
        field, graph = self.field, self.graph
        for step in self.x_steps:
            x, _ = self.at(step, 0.0)
            yield LineItem(x, field.y, x, field.bottom, 0.35, "line")
            yield TextItem(x, field.bottom + 1.2 + _CAP, f"{step:g}", align=0.5)
        for step in self.y_steps:
            _, y = self.at(0.0, step)
            yield LineItem(field.x, y, field.right, y, 0.35, "line")
            yield TextItem(field.x - 1.4, y + _CAP / 2, f"{step:g}", align=1.0)
        yield LineItem(field.x, field.y, field.x, field.bottom, 0.7, "ink")
        yield LineItem(field.x, field.bottom, field.right, field.bottom, 0.7, "ink")
        yield TextItem(
            field.centre[0], field.bottom + 5.6 + _CAP, graph.x_title, weight=600, align=0.5
        )
        yield TextItem(
            field.x - 9.6, field.centre[1], graph.y_title, weight=600, align=0.5, turn=-90.0
        )

    def _levels(self) -> Iterator[Element]:
        field = self.field
        baseline = math.inf
        for name, value in sorted(self.graph.levels, key=lambda one: one[1]):
            _, y = self.at(0.0, value)
            yield LineItem(field.x, y, field.right, y, 0.8, "ink_muted", (4.0, 2.0))
            baseline = min(y + _CAP / 2, baseline - SMALL * 1.25)
            yield TextItem(field.right + 1.6, baseline, name)

    def _spots(self) -> Iterator[Element]:
        """Points that lie on each other share one number: "1, 3"."""
        groups: list[tuple[float, float, list[str]]] = []
        for spot in self.graph.spots:
            x, y = self.at(spot.x, spot.y)
            near = next((one for one in groups if math.hypot(one[0] - x, one[1] - y) < 3.0), None)
            if near is None:
                groups.append((x, y, [spot.number]))
            elif spot.number not in near[2]:
                near[2].append(spot.number)
        for x, y, numbers in groups:
            yield RoundItem(x, y, 0.9, 0.9, fill="ink", edge="ink", width_pt=0.4)
            yield TextItem(x + 1.5, y - 1.3, ", ".join(numbers), weight=600)
