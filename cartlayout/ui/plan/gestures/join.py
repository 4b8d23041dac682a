"""Dragging from a port to another runs a wire or a tube; dragging a plug puts it elsewhere."""

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from ....build import Build, End
from ....build.edits import EditError
from ....build.geometry import corners, end_position
from ....network import connect, fits, fitting_ends, free_receptacles, plug_end, replug
from ....network.fit import Fitter
from ..handles import inside
from .base import NOTHING, XY, Cursor, Gesture, Trace

if TYPE_CHECKING:
    from ..view import PlanView

REACH_PX = 14.0
PAST_EDGE_PX = 4.0


class JoinGesture(Gesture):
    """A rubber line from a port; the answer is previewed over every port that fits."""

    cursor = Cursor.CrossCursor

    def __init__(self, view: "PlanView", start: XY) -> None:
        super().__init__(view)
        self.start = start
        self.before: Build = self.session.build
        self.at = start
        self.target: End | None = None
        self.previewed: End | None = None
        self.made: Build | None = None
        self.fitting: frozenset[End] = frozenset()
        self.places: dict[End, XY] = {}

    def light(self, fitting: tuple[End, ...]) -> None:
        """Take these ports as the ones that fit, and light them up."""
        self.fitting = frozenset(fitting)
        for item in self.before.items:
            for port in item.specification.ports:
                end = End(item=item.id, port=port.id)
                place = self.place_of(end)
                if place is not None:
                    self.places[end] = place
        self._draw(None, None)

    def place_of(self, end: End) -> XY | None:
        """Where a port is on the plan."""
        place = end_position(self.before, end)
        return place[:2] if place is not None else None

    def make(self, target: End) -> Build:
        """The build with the run made; raises EditError."""
        raise NotImplementedError

    def why_not(self, target: End) -> str:
        """Why nothing can be joined there."""
        raise NotImplementedError

    def label(self) -> str:
        """For the Edit menu."""
        raise NotImplementedError

    def moved(self, at: XY, modifiers: Qt.KeyboardModifier) -> None:
        """Preview the run to what is under the mouse, or say why not."""
        self.at = at
        near = self._nearest(at, self.places)
        item_id = self._body_under(at)
        target = near if near in self.fitting else None
        if target is None and item_id is not None:
            own = {end: place for end, place in self.places.items() if end.item == item_id}
            target = min(
                (end for end in own if end in self.fitting),
                key=lambda end: math.dist(own[end], at),
                default=None,
            )
            near = near or self._first_of_kind(item_id)
        self.target = target
        if target is not None:
            self.view.say("")
            self._preview(target)
            return
        if self.previewed is not None:
            self.previewed = self.made = None
            self.session.cancel_preview()
        if near is not None and near.item != self.origin_item():
            self.view.say(self.why_not(near))
            self._draw(False, None)
        else:
            self.view.say("")
            self._draw(None, None)

    def origin_item(self) -> str:
        """The item that the drag started from."""
        raise NotImplementedError

    def finished(self) -> None:
        """One undo step, if something fits here."""
        self.view.trace(NOTHING)
        self.view.say("")
        if self.made is None:
            self.session.cancel_preview()
            return
        known = {run.id for run in self.before.runs}
        self.session.apply(self.label(), self.made)
        added = frozenset(run.id for run in self.made.runs if run.id not in known)
        if added:
            self.view.choose(frozenset(), added)

    def cancelled(self) -> None:
        """Nothing has happened."""
        self.view.trace(NOTHING)
        self.view.say("")
        self.session.cancel_preview()

    def _preview(self, target: End) -> None:
        self._draw(True, target)
        if target == self.previewed:
            return
        self.previewed = target
        try:
            self.made = self.make(target)
        except EditError as error:
            self.made = None
            self.session.cancel_preview()
            self.view.say(str(error))
            self._draw(False, None)
            return
        self.session.preview(self.made)

    def _draw(self, ok: bool | None, target: End | None) -> None:
        spot = self.places[target] if target is not None else None
        lit = tuple(dict.fromkeys(self.places[end] for end in self.places if end in self.fitting))
        self.view.trace(
            Trace(rubber=(self.start, spot or self.at), rubber_ok=ok, lit=lit, target=spot)
        )

    def _nearest(self, at: XY, places: dict[End, XY]) -> End | None:
        """The port within reach; one that fits goes first where several are on one spot."""
        reach = REACH_PX / self.view.pixels_per_m
        found = [
            (end not in self.fitting, math.dist(place, at), place)
            for end, place in places.items()
            if math.dist(place, at) <= reach and end.item != self.origin_item()
        ]
        if not found:
            return None
        best = min(found)
        return next(
            end
            for end, place in places.items()
            if place == best[2] and (end not in self.fitting) == best[0]
        )

    def _body_under(self, at: XY) -> str | None:
        """The body under the mouse; those with something that fits go first."""
        slack = PAST_EDGE_PX / self.view.pixels_per_m
        offering = {end.item for end in self.fitting}
        found = [
            (item.id not in offering, not self.view.is_solid(item), item.id)
            for item in self.before.items
            if item.id != self.origin_item() and inside(at, corners(item), slack)
        ]
        return min(found)[2] if found else None

    def _first_of_kind(self, item_id: str) -> End | None:
        """The port of an item to explain: one of the dragged medium if there is one."""
        ends = [end for end in self.places if end.item == item_id]
        item = self.before.item(item_id)
        medium = self.medium()
        if item is not None:
            for end in ends:
                port = item.specification.port(end.port)
                if port is not None and port.medium == medium:
                    return end
        return ends[0] if ends else None

    def medium(self) -> str:
        """What is dragged: power, water or drain."""
        raise NotImplementedError


class ConnectGesture(JoinGesture):
    """From a port to another."""

    kind = "connect"

    def __init__(self, view: "PlanView", start: XY, origin: End) -> None:
        super().__init__(view, start)
        self.origin = origin
        self.light(fitting_ends(self.before, origin))

    def make(self, target: End) -> Build:
        """Run a wire or a tube."""
        return connect(self.before, self.origin, target)[0]

    def why_not(self, target: End) -> str:
        """The network's own reason."""
        return sentence(fits(self.before, self.origin, target).reason)

    def origin_item(self) -> str:
        """The item with the port."""
        return self.origin.item

    def medium(self) -> str:
        """That of the port."""
        item = self.before.item(self.origin.item)
        port = item.specification.port(self.origin.port) if item is not None else None
        return port.medium if port is not None else ""

    def label(self) -> str:
        """Such as "Run a tube from Pump to Filter"."""
        first = self.before.item(self.origin.item)
        second = self.before.item(self.target.item) if self.target is not None else None
        names = (first.name if first else "?", second.name if second else "?")
        words = {"power": "Plug {} into {}", "water": "Run a tube from {} to {}"}
        return words.get(self.medium(), "Run a drain from {} to {}").format(
            *self._plug_first(names)
        )

    def _plug_first(self, names: tuple[str, str]) -> tuple[str, str]:
        if self.medium() != "power":
            return names
        item = self.before.item(self.origin.item)
        port = item.specification.port(self.origin.port) if item is not None else None
        return names if port is not None and port.direction == "in" else (names[1], names[0])


class ReplugGesture(JoinGesture):
    """The plug of a wire to another receptacle."""

    kind = "replug"
    cursor = Cursor.ClosedHandCursor

    def __init__(self, view: "PlanView", start: XY, wire_id: str) -> None:
        super().__init__(view, start)
        self.wire_id = wire_id
        wire = next((one for one in self.before.wires if one.id == wire_id), None)
        self.plug = plug_end(Fitter(self.before), wire) if wire is not None else None
        if self.plug is not None:
            self.start = self.place_of(self.plug) or start
            self.light(free_receptacles(self.before, self.plug))

    def make(self, target: End) -> Build:
        """Put the plug there."""
        return replug(self.before, self.wire_id, target)

    def why_not(self, target: End) -> str:
        """The network's own reason."""
        if self.plug is None:
            return "This wire has no plug."
        return sentence(Fitter(self.before).fits(self.plug, target, moving=self.wire_id).reason)

    def origin_item(self) -> str:
        """The item whose plug it is."""
        return self.plug.item if self.plug is not None else ""

    def medium(self) -> str:
        """Power."""
        return "power"

    def label(self) -> str:
        """Such as "Plug Kettle into Outlet 1"."""
        load = self.before.item(self.origin_item())
        outlet = self.before.item(self.target.item) if self.target is not None else None
        return f"Plug {load.name if load else '?'} into {outlet.name if outlet else '?'}"


def sentence(reason: str) -> str:
    """The network's reason, made a sentence."""
    return f"{reason[:1].upper()}{reason[1:].rstrip('.')}." if reason else ""
