"""Parts poured on pages: broken between rows, heads set again, nothing clipped, nothing lost."""

from dataclasses import dataclass, replace

from ...units import UnitSystem
from ..plan.picture import Box
from ..sheet.drawing import PlanDrawing
from ..sheet.elements import BoxItem, Element, LineItem, MarkItem, SampleItem, TextItem
from .blocks import (
    blanks_strips,
    checks_strips,
    facts_strips,
    heading_strips,
    paragraph_strips,
    picture_strips,
)
from .content import Blanks, Checks, Facts, Heading, Labels, Paragraph, Part, Picture, Table
from .label_grid import label_strips
from .setting import Setting
from .strips import AnyStrip, PictureStrip, Strip
from .tables import table_strips


@dataclass(frozen=True, slots=True)
class Poured:
    """What stands on one page, in millimetres of the paper."""

    elements: tuple[Element, ...] = ()
    plans: tuple[PlanDrawing, ...] = ()
    scales: tuple[str, ...] = ()
    """Of its drawings; empty where one is drawn to none."""
    has_drawing: bool = False
    filled: float = 0.0
    """Share of the page's height that is taken."""


def strips_of(
    parts: tuple[Part, ...], setting: Setting, width: float, system: UnitSystem
) -> list[AnyStrip]:
    """All parts as strips, in their order."""
    strips: list[AnyStrip] = []
    for part in parts:
        strips += _part(part, setting, width, system)
    return strips


def _part(part: Part, setting: Setting, width: float, system: UnitSystem) -> tuple[AnyStrip, ...]:
    match part:
        case Heading():
            return heading_strips(part, setting, width)
        case Paragraph():
            return paragraph_strips(part, setting, width, system)
        case Facts():
            return facts_strips(part, setting, width, system)
        case Checks():
            return checks_strips(part, setting, width, system)
        case Blanks():
            return blanks_strips(part, setting, width)
        case Labels():
            return label_strips(part, setting, width, system)
        case Table():
            return table_strips(part, setting, width, system)
        case Picture():
            return picture_strips(part, setting, width)


def pour(strips: list[AnyStrip], area: Box) -> tuple[Poured, ...]:
    """Put strips on as many pages as they need; every page has the same area."""
    return _Pourer(area).done(strips)


class _Pourer:
    """Fills one page after the other."""

    def __init__(self, area: Box) -> None:
        self.area = area
        self.pages: list[Poured] = []
        self.elements: list[Element] = []
        self.plans: list[PlanDrawing] = []
        self.scales: list[str] = []
        self.has_drawing = False
        self.y = area.y
        self.is_empty = True
        """Whether the page has nothing on it yet but heads that were set again."""

    def done(self, strips: list[AnyStrip]) -> tuple[Poured, ...]:
        waiting = list(strips)
        while waiting:
            together = self._chain(waiting)
            del waiting[: len(together)]
            self._place(together)
        if not self.is_empty or not self.pages:
            self._turn()
        return tuple(self.pages)

    @staticmethod
    def _chain(waiting: list[AnyStrip]) -> list[AnyStrip]:
        """The first strips that must not be parted."""
        chain: list[AnyStrip] = []
        for strip in waiting:
            chain.append(strip)
            if isinstance(strip, PictureStrip) or not strip.holds_next:
                break
        return chain

    def _place(self, chain: list[AnyStrip]) -> None:
        high = sum(self._height(one) + (one.gap if at else 0.0) for at, one in enumerate(chain))
        if not self.is_empty and self.y + chain[0].gap + high > self.area.bottom + 1e-6:
            self._turn()
        for strip in chain:
            if isinstance(strip, PictureStrip):
                self._picture(strip)
            else:
                self._strip(strip)

    @staticmethod
    def _height(strip: AnyStrip) -> float:
        if isinstance(strip, PictureStrip):
            above = sum(one.height + one.gap for one in strip.above)
            return above + max(strip.least_height, strip.height or 0.0)
        return strip.height

    def _turn(self) -> None:
        scales = tuple(self.scales)
        self.pages.append(Poured(tuple(self.elements), tuple(self.plans), scales, self.has_drawing))
        self.elements, self.plans, self.scales, self.has_drawing = [], [], [], False
        self.y = self.area.y
        self.is_empty = True

    def _strip(self, strip: Strip) -> None:
        gap = 0.0 if self.is_empty else strip.gap
        if not self.is_empty and self.y + gap + strip.height > self.area.bottom + 1e-6:
            self._turn()
            gap = 0.0
        if self.is_empty and self.pages:
            for one in strip.repeated:
                self._set(one, self.y if one is strip.repeated[0] else self.y + one.gap)
        room = self.area.bottom - self.y - gap
        if strip.height > room + 1e-6:
            self._divided(strip, gap)
            return
        self._set(strip, self.y + gap)

    def _divided(self, strip: Strip, gap: float) -> None:
        """A strip that is higher than a page goes on over several."""
        rest: Strip | None = strip
        while rest is not None:
            first, rest = divided(rest, self.area.bottom - self.y - gap)
            self._set(first, self.y + gap)
            gap = 0.0
            if rest is not None:
                self._turn()
                for one in strip.repeated:
                    self._set(one, self.y)

    def _set(self, strip: Strip, y: float) -> None:
        self.elements += [one.moved(self.area.x, y) for one in strip.elements]
        self.y = y + strip.height
        self.is_empty = False

    def _picture(self, strip: PictureStrip) -> None:
        for one in strip.above:
            self._strip(one)
        y = self.y + (0.0 if self.is_empty else strip.gap)
        room = self.area.bottom - y
        height = min(strip.height, room) if strip.height is not None else room
        drawn = strip.draw(Box(self.area.x, y, self.area.width, height))
        if drawn.scale and drawn.scale not in self.scales:
            self.scales.append(drawn.scale)
        self.elements += drawn.elements
        self.plans += drawn.plans
        self.has_drawing = True
        self.y = y + height
        self.is_empty = False


_LEAST_PIECE = 6.0
"""So much is placed even where there is less room: the work has to go on."""


def divided(strip: Strip, room: float) -> tuple[Strip, Strip | None]:
    """What of a strip fits a height, and the rest, cut between lines of text."""
    if strip.height <= room:
        return strip, None
    cut = max(room, _LEAST_PIECE)
    first = tuple(one for one in strip.elements if _bottom(one) <= cut)
    later = tuple(one for one in strip.elements if _bottom(one) > cut)
    if not first or not later:
        return strip, None
    top = min(_top(one) for one in later) - 0.6
    rest = tuple(one.moved(0.0, -top) for one in later)
    height = max(_bottom(one) for one in first)
    return (
        replace(strip, height=min(height, cut), elements=first),
        replace(strip, height=strip.height - top, elements=rest, gap=0.0),
    )


def _top(element: Element) -> float:
    match element:
        case TextItem() | BoxItem():
            return element.box.y
        case LineItem():
            return min(element.ay, element.by)
        case MarkItem():
            return element.y - element.size / 2
        case SampleItem():
            return element.y - 1.4
        case _:
            return _extent(element)[0]


def _bottom(element: Element) -> float:
    match element:
        case TextItem() | BoxItem():
            return element.box.bottom
        case LineItem():
            return max(element.ay, element.by)
        case MarkItem():
            return element.y + element.size / 2
        case SampleItem():
            return element.y + 1.4
        case _:
            return _extent(element)[1]


def _extent(element: Element) -> tuple[float, float]:
    """Highest and lowest y of a path or a round."""
    points = getattr(element, "points", None)
    if points is not None:
        return min(y for _, y in points), max(y for _, y in points)
    y, radius = getattr(element, "y", 0.0), getattr(element, "radius_y", 0.0)
    return y - radius, y + radius
