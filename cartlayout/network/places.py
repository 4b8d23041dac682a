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
        items: dict[str, Item] = {}
        ports: dict[Node, Port] = {}
        positions: dict[Node, XYZ] = {}
        keep = previous is not None and previous.cart is build.cart
        for item in build.items:
            items[item.id] = item
            same = keep and previous is not None and previous.items.get(item.id) is item
            for port in item.specification.ports:
                node = (item.id, port.id)
                ports[node] = port
                positions[node] = (
                    previous.positions[node]
                    if same and previous is not None
                    else port_position(build.cart, item, port)
                )
        return cls(build.cart, items, ports, positions)

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
