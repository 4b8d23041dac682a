"""A hydraulic network as somebody lists it: nodes with heights, and what lies between them."""

from collections.abc import Hashable, Iterator

from ..properties import Fluid
from .characteristic import Characteristic
from .limiter import Limiter

Key = Hashable


class Sketch:
    """Collects nodes and links; `System` makes something solvable of it.

    Keys are anything hashable. Heights in metres above one common level,
    pressures in pascals (gauge).
    """

    def __init__(self, fluid: Fluid) -> None:
        self.fluid = fluid
        self.heights_m: dict[Key, float] = {}
        self.fixed_pa: dict[Key, float] = {}
        self.lines: dict[Key, tuple[Key, Key, Characteristic]] = {}
        self.limiters: dict[Key, tuple[Key, Key, Limiter]] = {}
        self.taps: dict[Key, tuple[Key, Characteristic, float]] = {}
        self._joined: dict[Key, Key] = {}

    def copy(self) -> "Sketch":
        """Another that may be changed; what it lists is shared, the lists are not."""
        other = Sketch(self.fluid)
        other.heights_m = dict(self.heights_m)
        other.fixed_pa = dict(self.fixed_pa)
        other.lines = dict(self.lines)
        other.limiters = dict(self.limiters)
        other.taps = dict(self.taps)
        other._joined = dict(self._joined)
        return other

    def node(self, key: Key, height_m: float = 0.0) -> None:
        """Add a place where pressure is unknown."""
        self.heights_m[key] = height_m

    def fix(self, key: Key, height_m: float = 0.0, pressure_pa: float = 0.0) -> None:
        """Add a place of known pressure: a water surface, a mains tap."""
        self.heights_m[key] = height_m
        self.fixed_pa[key] = pressure_pa

    def join(self, a: Key, b: Key) -> None:
        """Make two nodes one but for their heights: nothing is lost between them."""
        root, other = self.root(a), self.root(b)
        if root != other:
            if other in self.fixed_pa:
                root, other = other, root
            self._joined[other] = root

    def root(self, key: Key) -> Key:
        """The node that stands for all that are joined with this one."""
        while key in self._joined:
            key = self._joined[key]
        return key

    def line(self, key: Key, a: Key, b: Key, characteristic: Characteristic) -> None:
        """Add something between two nodes; flow counts from a to b."""
        self.lines[key] = (a, b, characteristic)

    def limiter(self, key: Key, inlet: Key, outlet: Key, limiter: Limiter) -> None:
        """Add a regulator or a pump."""
        self.limiters[key] = (inlet, outlet, limiter)

    def links(self) -> Iterator[tuple[Key, Key, Key]]:
        """Everything between two nodes, lines first: its key and its ends, by their own names."""
        for listed in (self.lines, self.limiters):
            for key, (a, b, _) in listed.items():
                yield key, a, b

    def tap(
        self, key: Key, node: Key, characteristic: Characteristic, outlet_pa: float = 0.0
    ) -> None:
        """Add a way out at a node's height; it is open only in cases that say so.

        Args:
            key: Of the tap.
            node: Where it hangs.
            characteristic: From the node to the outlet.
            outlet_pa: Pressure there, gauge: 0 for the air.
        """
        self.taps[key] = (node, characteristic, outlet_pa)
