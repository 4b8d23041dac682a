"""Items and ports of a build looked up once, for everything in this package."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..build import Build, End, Item, Port
from ..build.geometry import XYZ, port_position
from .results import Node


@dataclass(frozen=True, slots=True)
class Places:
    """Where every item and every port of a build is."""

    items: dict[str, Item]
    ports: dict[Node, Port]
    positions: dict[Node, XYZ]

    @classmethod
    def of(cls, build: Build) -> "Places":
        """Look up every item and port."""
        items = {item.id: item for item in build.items}
        ports = {
            (item.id, port.id): port for item in build.items for port in item.specification.ports
        }
        positions = {
            node: port_position(build.cart, items[node[0]], port) for node, port in ports.items()
        }
        return cls(items, ports, positions)

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
