"""Lines between two columns, their joints, arrows and words."""

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING

from ..sheet.elements import SMALL, Element, LineItem, PathItem, RoundItem, TextItem
from .layers import Step
from .model import LINE, Link, link_words
from .shapes import Shape
from .tracks import Net

if TYPE_CHECKING:
    from .places import Column

TRACK = 2.4
_CAP = 0.727 * SMALL
_OVER = 0.8
"""Between a line and its words."""
_ARROW = 2.2
BESIDE = 1.2
"""From where a line may have words to the words."""
JOINED = 1.0
"""Besides, behind a part whose own words may end there."""
_BAR_PT = 2.6


def lines(
    net: Net,
    column: "Column",
    after: "Column",
    middles: Mapping[str, tuple[float, float]],
    shapes: Mapping[str, Shape],
    merges: Callable[[Step], bool],
) -> Iterator[Element]:
    """All of one net.

    Args:
        net: with its track.
        column: on its left.
        after: on its right.
        middles: of the parts; of stand-ins there are none.
        shapes: of the parts.
        merges: whether a step joins others.
    """
    x = column.tracks + net.track * TRACK
    one = net.steps[0].link
    alike = all(step.link.colour == one.colour for step in net.steps)
    trunk = one.colour if alike else "ink"
    for step, left, right in zip(net.steps, net.left, net.right, strict=True):
        joins = merges(step)
        link = step.link
        start = _right_edge(step.a, column, middles, shapes)
        end = _left_edge(step.b, after, middles, shapes)
        middle = middles.get(step.b, (0.0, right))[1]
        if abs(right - middle) > 1e-6 and not shapes[step.b].is_boxed:
            # Lines that come in apart meet at a symbol's own line.
            yield LineItem(after.left, right, after.left, middle, link.width_pt, link.colour)
            yield from _level(link, after.left, end, middle, link.colour)
            end = after.left
        shared = len(net.steps) > 1
        yield from _level(link, start, x, left, trunk if shared and not joins else link.colour)
        yield from _level(link, x, end, right, trunk if shared and joins else link.colour)
        yield from _arrow(step, after.left, column.right, left, right)
        if joins and step.is_first:
            yield from _words(link, column.right + BESIDE + JOINED + arrow_room(step), left)
        elif not joins and step.is_last:
            yield from _words(link, column.words + BESIDE, right)
    if not net.is_straight:
        bar = _is_bar(net, shapes, merges)
        yield LineItem(x, net.top, x, net.bottom, _BAR_PT if bar else one.width_pt,
                       "ink" if bar else trunk, () if bar else one.dash)  # fmt: skip
        if not bar and not _is_tee(net, shapes):
            yield from _joints(net, x, trunk)


def _is_tee(net: Net, shapes: Mapping[str, Shape]) -> bool:
    """Whether a tee, which is a dot itself, stands just before or behind."""
    ends = {step.a for step in net.steps}, {step.b for step in net.steps}
    return any(
        len(keys) == 1 and all(key in shapes and shapes[key].part.symbol == "tee" for key in keys)
        for keys in ends
    )


def _is_bar(net: Net, shapes: Mapping[str, Shape], merges: Callable[[Step], bool]) -> bool:
    """Whether its upright part is the bar of a panel, a strip or a manifold."""
    if len(net.steps) < 2:
        return False
    step = net.steps[0]
    key = step.b if merges(step) else step.a
    return key in shapes and shapes[key].part.bar


def _level(link: Link, start: float, end: float, y: float, colour: str) -> Iterator[Element]:
    if abs(end - start) > 1e-6:
        yield LineItem(start, y, end, y, link.width_pt, colour, link.dash)


def _right_edge(
    key: str,
    column: "Column",
    middles: Mapping[str, tuple[float, float]],
    shapes: Mapping[str, Shape],
) -> float:
    """Where a line leaves a part; a stand-in is passed from the left."""
    if key not in middles:
        return column.left
    return middles[key][0] + shapes[key].body[0] / 2


def _left_edge(
    key: str,
    column: "Column",
    middles: Mapping[str, tuple[float, float]],
    shapes: Mapping[str, Shape],
) -> float:
    if key not in middles:
        return column.left
    return middles[key][0] - shapes[key].body[0] / 2


def _arrow(
    step: Step, right: float, left: float, y_left: float, y_right: float
) -> Iterator[Element]:
    """Which way it flows, at the end that it flows to."""
    link = step.link
    if not link.flow:
        return
    to_right = (link.flow > 0) != step.reversed
    if to_right and step.is_last:
        x, y, way = right, y_right, 1.0
    elif not to_right and step.is_first:
        x, y, way = left, y_left, -1.0
    else:
        return
    back = x - way * _ARROW
    yield PathItem(
        ((x, y), (back, y - 0.85), (back, y + 0.85)), True, link.colour, link.colour, 0.3
    )


def _joints(net: Net, x: float, colour: str) -> Iterator[Element]:
    """A dot wherever a level line meets the upright one and does not merely turn there."""
    levels: dict[float, int] = {}
    for y in {round(one, 4) for one in net.left}:
        levels[y] = levels.get(y, 0) + 1
    for y in {round(one, 4) for one in net.right}:
        levels[y] = levels.get(y, 0) + 1
    for y, count in levels.items():
        inner = net.top + 1e-3 < y < net.bottom - 1e-3
        if inner or count > 1:
            yield RoundItem(x, y, 0.65, 0.65, fill=colour, edge=colour, width_pt=0.3)


def arrow_room(step: Step) -> float:
    """What an arrow takes at the left end of a link, before its words."""
    points_left = step.link.flow != 0 and (step.link.flow > 0) == step.reversed
    return _ARROW if points_left else 0.0


def _words(link: Link, x: float, y: float) -> Iterator[Element]:
    above, below = link_words(link)
    for at, line in enumerate(reversed(above)):
        baseline = y - _OVER - at * LINE - 0.25
        yield TextItem(x, baseline, line.text, SMALL, line.weight, line.colour)
    for at, line in enumerate(below):
        baseline = y + _OVER + _CAP + at * LINE + 0.25
        yield TextItem(x, baseline, line.text, SMALL, line.weight, line.colour)
