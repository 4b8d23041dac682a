"""Items and ports of a build looked up once, for everything in this package."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..build import Build, Cart, End, Item, Port
from ..build.geometry import XYZ, port_position
from .results import Node


@dataclass(frozen=True, slots=True)
class Places:
    """Where every item and every port of a build is."""

    cart: Cart
    items: dict[str, Item]
    ports: dict[Node, Port]
    positions: dict[Node, XYZ]

    @classmethod
    def of(cls, build: Build, previous: "Places | None" = None) -> "Places":
        """Look up every item and port; items that are the same object keep what was found."""
        if previous is not None and previous.same_parts(build):
            return previous._with_moved(build.items)
        items: dict[str, Item] = {}
        ports: dict[Node, Port] = {}
        positions: dict[Node, XYZ] = {}
        for item in build.items:
            items[item.id] = item
            for port in item.specification.ports:
                ports[item.id, port.id] = port
                positions[item.id, port.id] = port_position(build.cart, item, port)
        return cls(build.cart, items, ports, positions)

    def same_parts(self, build: Build) -> bool:
        """Whether a build has the same cart and the same things, perhaps in other places."""
        return (
            self.cart is build.cart
            and len(self.items) == len(build.items)
            and all(
                old is new or (old.id == new.id and old.specification is new.specification)
                for old, new in zip(self.items.values(), build.items, strict=True)
            )
        )

    def _with_moved(self, items: tuple[Item, ...]) -> "Places":
        moved = [item for item in items if self.items[item.id] is not item]
        if not moved:
            return self
        placed = dict(self.items)
        positions = dict(self.positions)
        for item in moved:
            placed[item.id] = item
            for port in item.specification.ports:
                positions[item.id, port.id] = port_position(self.cart, item, port)
        return Places(self.cart, placed, self.ports, positions)

    def as_high_as(self, other: "Places") -> bool:
        """Whether these are the ports of another lookup, each at its height."""
        if self.ports is not other.ports:
            return False
        return all(
            other.positions[item.id, port.id][2] == self.positions[item.id, port.id][2]
            for item in self.items.values()
            if item is not other.items[item.id]
            for port in item.specification.ports
        )

    def known(self, end: End | None) -> Node | None:
        """The node of an end, or None where it names no port of the build."""
        if end is None:
            return None
        node = (end.item, end.port)
        return node if node in self.ports else None

    def ports_of(self, item: Item) -> Iterator[tuple[Node, Port]]:
        """The ports of one item with their nodes."""
        for port in item.specification.ports:
            yield (item.id, port.id), port
