"""Parts of Details that belong to the water role of one item."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt

from ...build import Item, Mains, Pump, Regulator
from ...build.feeding import feed_modes
from ..choosing_pump import open_choosing_pump
from ..session import Session
from .editors import small_button
from .feed_view import FeedView
from .fields import Editor
from .pump_pictures import pump_chart, vessel_of
from .pump_views import CurveView, VesselView
from .set_point import SetPointView
from .set_point_value import set_point_of
from .views import Section

if TYPE_CHECKING:
    from .pages import Page


@dataclass(frozen=True, slots=True)
class WaterPart:
    """One part that folds."""

    title: str
    value: Callable[[Session, Item], object]
    """What it shows now; None: nothing, and the part is hidden."""
    make: Callable[[Session, Item, object], Editor]


def _feed(session: Session, item: Item) -> object:
    return item if len(feed_modes(item)) > 1 else None


def _set_point(session: Session, item: Item) -> object:
    if not isinstance(item.specification.water, Regulator):
        return None
    return set_point_of(session.analysis, item, session.system)


def _curve(session: Session, item: Item) -> object:
    return pump_chart(session.analysis, item, session.water_case, session.system)


def _vessel(session: Session, item: Item) -> object:
    return vessel_of(session.analysis, item, session.system)


PARTS: tuple[WaterPart, ...] = (
    WaterPart("How it is fed", _feed, lambda session, item, _: FeedView(session, item)),
    WaterPart(
        "Pressure it is set to", _set_point, lambda session, item, _: SetPointView(session, item.id)
    ),
    WaterPart("Curve", _curve, lambda session, _, value: CurveView(session, value)),
    WaterPart("Vessel", _vessel, lambda session, _, value: VesselView(session, value)),
)
OPEN_AT_FIRST = ("How it is fed", "Pressure it is set to", "Curve", "Vessel")


class WaterParts(QObject):
    """The parts of one item's page; those that have nothing to show are hidden."""

    def __init__(self, page: "Page", item: Item) -> None:
        super().__init__(page)
        self._page = page
        self._session = page.session
        self.sections: dict[str, Section] = {}
        if isinstance(item.specification.water, (Pump, Mains)):
            self.ask = small_button(
                "Which pump?", "What it has to give to all taps, and which pumps of the stock do it"
            )
            self.ask.clicked.connect(self._ask)
            page.column.insertWidget(1, self.ask, 0, Qt.AlignmentFlag.AlignLeft)
        for part in PARTS:
            value = part.value(self._session, item)
            if value is not None:
                make = partial(part.make, self._session, item)
                page.add_section(part.title, value, make, _nothing)
                self.sections[part.title] = page.sections[part.title]
        self._item_id = item.id

    def refresh(self, item: Item) -> None:
        """Show what the session has now."""
        for part in PARTS:
            section = self.sections.get(part.title)
            if section is not None:
                value = part.value(self._session, item)
                section.setVisible(value is not None)
                if value is not None:
                    section.show_value(value)

    def _ask(self) -> None:
        open_choosing_pump(self._session, self._page.window())


def _nothing(_value: object, _words: object) -> None:
    """These parts make their edits themselves."""
