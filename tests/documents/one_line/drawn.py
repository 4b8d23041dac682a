"""What is looked for on a drawn diagram: things that lie on each other."""

from collections.abc import Iterator, Sequence

from cartlayout.documents.one_line.places import Laid
from cartlayout.documents.plan.picture import Box
from cartlayout.documents.sheet.elements import (
    BoxItem,
    Element,
    LineItem,
    MarkItem,
    PathItem,
    RoundItem,
    TextItem,
)

_HAIR = 0.05


def overlaps(elements: Sequence[Element]) -> list[str]:
    """Every two things that share room and must not, in words."""
    return [*_texts_on_texts(elements), *_things_on_texts(elements), *_boxes(elements)]


def _texts(elements: Sequence[Element]) -> list[TextItem]:
    return [one for one in elements if isinstance(one, TextItem)]


def _texts_on_texts(elements: Sequence[Element]) -> Iterator[str]:
    texts = _texts(elements)
    for at, one in enumerate(texts):
        for other in texts[at + 1 :]:
            if one.box.grown(-_HAIR).meets(other.box):
                yield f"'{one.text}' on '{other.text}'"


def _things_on_texts(elements: Sequence[Element]) -> Iterator[str]:
    for one in elements:
        if isinstance(one, TextItem):
            continue
        box = extent(one)
        for text in _texts(elements):
            if text.text.isdigit() and isinstance(one, PathItem):
                continue  # a reference has its number inside
            if isinstance(one, BoxItem) and box.holds(text.box):
                continue  # words in their own box
            if box.meets(text.box.grown(-_HAIR)):
                yield f"{type(one).__name__} {box} on '{text.text}' {text.box}"


def _boxes(elements: Sequence[Element]) -> Iterator[str]:
    boxes = [one.box for one in elements if isinstance(one, BoxItem)]
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            if one.grown(-_HAIR).meets(other):
                yield f"box {one} on box {other}"
        for line in elements:
            if isinstance(line, LineItem) and extent(line).meets(one.grown(-0.1)):
                yield f"line {extent(line)} through box {one}"


def extent(one: Element) -> Box:
    """The upright rectangle that an element takes, hairlines a hair wide."""
    match one:
        case TextItem() | BoxItem():
            return one.box
        case LineItem():
            box = Box.around([(one.ax, one.ay), (one.bx, one.by)])
        case MarkItem():
            half = one.size / 2
            return Box(one.x - half, one.y - half, one.size, one.size)
        case PathItem():
            box = Box.around(list(one.points))
        case RoundItem():
            box = Box(
                one.x - one.radius_x, one.y - one.radius_y, 2 * one.radius_x, 2 * one.radius_y
            )
        case _:
            raise TypeError(type(one).__name__)
    return Box(box.x, box.y, max(box.width, 0.01), max(box.height, 0.01))


def lines_along_each_other(laid: Laid) -> list[str]:
    """Lines of two nets that run one on the other, which would read as one line."""
    found = []
    spans: list[tuple[str, bool, float, float, float]] = []
    for at, nets in enumerate(laid.nets):
        for net in nets:
            x = laid.columns[at].tracks + net.track * 2.4
            after = laid.columns[at + 1].left if at + 1 < len(laid.columns) else x
            if not net.is_straight:
                spans.append((f"{at} {net.key}", True, x, net.top, net.bottom))
            for y in net.left:
                spans.append((f"{at} {net.key}", False, y, laid.columns[at].right, x))
            for y in net.right:
                spans.append((f"{at} {net.key}", False, y, x, after))
    for at, (net, upright, place, start, end) in enumerate(spans):
        for other, also, there, begin, stop in spans[at + 1 :]:
            if net == other or upright != also or abs(place - there) > 0.5:
                continue
            if min(end, stop) - max(start, begin) > 0.2:
                found.append(f"{net} along {other}")
    return found
