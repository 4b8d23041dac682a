"""Which port can be joined to which, and why not."""

from dataclasses import dataclass

from ..build import Build, End, Port
from ..build.electrical import Battery, Box, Extension, Generator, Outlet, Strip
from ..limits import plug_fit_reason, plug_fits, power_connector, tubes_between
from .places import Places
from .results import Node

_PASSES_POWER_ON = (Box, Extension, Strip, Outlet, Generator, Battery)


@dataclass(frozen=True, slots=True)
class Fit:
    """Whether two ports can be joined; the reason is a sentence for people, empty if they can."""

    ok: bool
    reason: str = ""


_YES = Fit(True)


def is_plug(port: Port) -> bool:
    """Tell a plug from a receptacle."""
    connector = power_connector(port.connector)
    if connector is not None and connector.kind in ("plug", "receptacle"):
        return bool(connector.kind == "plug")
    return port.direction == "in"


class Fitter:
    """Answers for one build; make it once and ask for many pairs."""

    def __init__(self, build: Build) -> None:
        self.build = build
        self.places = Places.of(build)
        self._taken: dict[Node, list[str]] = {}
        for run in build.runs:
            for end in (run.a, run.b):
                node = self.places.known(end)
                if node is not None:
                    self._taken.setdefault(node, []).append(run.id)

    def taken(self, node: Node, but_for: str | None = None) -> bool:
        """Tell whether a run other than `but_for` ends at a port."""
        return any(run != but_for for run in self._taken.get(node, ()))

    def fits(self, a: End, b: End, moving: str | None = None) -> Fit:
        """Tell whether a run could join two ports.

        Args:
            a: a port.
            b: another port; the order does not matter.
            moving: id of the run whose end is being moved, which does not count as in the way.
        """
        first, second = self.places.known(a), self.places.known(b)
        if first is None or second is None:
            return Fit(False, "one of the ports is not there any more")
        if a.item == b.item:
            return Fit(False, "both ports are on the same item")
        one, other = self.places.ports[first], self.places.ports[second]
        if one.medium != other.medium:
            return Fit(False, f"{_MEDIA[one.medium]} does not join {_MEDIA[other.medium]}")
        if one.medium == "power":
            return self._power(first, second, moving)
        return self._tube(first, second, moving)

    def _power(self, first: Node, second: Node, moving: str | None) -> Fit:
        one, other = self.places.ports[first], self.places.ports[second]
        if is_plug(one) == is_plug(other):
            return Fit(False, "two plugs" if is_plug(one) else "two receptacles")
        plug, receptacle = (first, second) if is_plug(one) else (second, first)
        plug_key = self.places.ports[plug].connector
        receptacle_key = self.places.ports[receptacle].connector
        if not plug_fits(plug_key, receptacle_key):
            return Fit(False, plug_fit_reason(plug_key, receptacle_key))
        own = moving or self._wire_of(plug)
        if self.taken(receptacle, own):
            return Fit(False, "there is a plug in it already")
        if self._feeds(plug[0], receptacle[0]):
            return Fit(False, "it would feed itself")
        return _YES

    def _wire_of(self, plug: Node) -> str | None:
        """The wire a plug is on now: plugging it elsewhere moves that wire."""
        runs = self._taken.get(plug, ())
        return runs[0] if runs else None

    def _feeds(self, upstream: str, item_id: str) -> bool:
        """Tell whether `item_id` gets its power through `upstream`."""
        seen: set[str] = set()
        at: str | None = item_id
        while at is not None and at not in seen:
            if at == upstream:
                return True
            seen.add(at)
            at = self._fed_by(at)
        return False

    def _fed_by(self, item_id: str) -> str | None:
        item = self.places.items[item_id]
        if not isinstance(item.specification.electrical, _PASSES_POWER_ON):
            return None
        for wire in self.build.wires:
            for near, far in ((wire.a, wire.b), (wire.b, wire.a)):
                if near is None or far is None or near.item != item_id:
                    continue
                node = self.places.known(near)
                if node is not None and is_plug(self.places.ports[node]):
                    return far.item if far.item in self.places.items else None
        return None

    def _tube(self, first: Node, second: Node, moving: str | None) -> Fit:
        one, other = self.places.ports[first], self.places.ports[second]
        if one.direction == other.direction and one.direction != "through":
            words = {"in": "two inlets", "out": "two outlets"}
            return Fit(False, words[one.direction])
        if self.taken(first, moving) or self.taken(second, moving):
            return Fit(False, "there is a tube on it already")
        if not tubes_between(one.connector, other.connector, one.medium):
            return Fit(False, f"no tube fits both {one.connector} and {other.connector}")
        return _YES


_MEDIA = {"power": "power", "water": "supply water", "drain": "a drain"}


def fits(build: Build, a: End, b: End) -> Fit:
    """Tell whether a run could join two ports, and why not."""
    return Fitter(build).fits(a, b)


def fitting_ends(build: Build, end: End) -> tuple[End, ...]:
    """Every port that could be joined to this one, in the order of the build."""
    fitter = Fitter(build)
    found = (End(item=item, port=port) for item, port in fitter.places.ports)
    return tuple(other for other in found if fitter.fits(end, other).ok)
