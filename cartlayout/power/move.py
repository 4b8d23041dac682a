"""Moving a load to another circuit, by its plug."""

from collections.abc import Iterator

from ..build import Build, End, Item, Load, Outlet
from ..build.edits import EditError
from ..build.geometry import port_position
from ..limits import plug_fits
from ..network import Network, connect, replug
from .circuits import receptacles_of
from .results import Circuit, PowerResult


def move_to_circuit(
    build: Build, network: Network, power: PowerResult, item_id: str, circuit_key: str
) -> Build:
    """Plug an item into a free receptacle of another circuit, the nearest that fits.

    The circuit's own receptacles come first, then those of strips and
    extension cords that hang on it.

    Raises:
        EditError: it cannot be done; the message says why.
    """
    item = build.item(item_id)
    circuit = power.circuit(circuit_key)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    if circuit is None:
        raise EditError(f"there is no circuit '{circuit_key}' any more")
    plugs = [
        port
        for port in item.specification.ports
        if port.medium == "power" and port.direction == "in"
    ]
    if not plugs:
        raise EditError(f"{item.name} has no plug to move")
    plug = plugs[0]
    if power.item_circuit.get(item_id) == circuit_key:
        raise EditError(f"{item.name} is on circuit {circuit.letter} already")
    taken = {(end.item, end.port) for wire in build.wires for end in (wire.a, wire.b) if end}
    behind = _behind(power, item_id)
    free: list[tuple[bool, float, End]] = []
    any_free = False
    here = port_position(build.cart, item, plug)
    for host, port_id, own in _offered(build, power, circuit):
        port = host.specification.port(port_id)
        if port is None or (host.id, port_id) in taken or host.id in behind:
            continue
        any_free = True
        if not plug_fits(plug.connector, port.connector):
            continue
        there = port_position(build.cart, host, port)
        away = sum(abs(a - b) for a, b in zip(here, there, strict=True))
        free.append((not own, away, End(item=host.id, port=port_id)))
    if not free:
        raise EditError(_why_not(item, circuit, plug.connector, any_free))
    best = min(free, key=lambda one: one[:2])[2]
    end = End(item=item_id, port=plug.id)
    wire = next((one for one in build.wires if end in (one.a, one.b)), None)
    if wire is None:
        return connect(build, end, best)[0]
    return replug(build, wire.id, best)


def _why_not(item: Item, circuit: Circuit, connector: str, any_free: bool) -> str:
    if not any_free:
        return f"every receptacle on circuit {circuit.letter} is taken"
    role = item.specification.electrical
    asks = f" (it is made for {role.voltage.text})" if isinstance(role, Load) else ""
    return f"no free receptacle on circuit {circuit.letter} takes its {connector} plug{asks}"


def _offered(
    build: Build, power: PowerResult, circuit: Circuit
) -> Iterator[tuple[Item, str, bool]]:
    """(item, port id, whether it is the circuit's own receptacle) for all that it feeds."""
    for item in build.items:
        role = item.specification.electrical
        if item.id in circuit.items:
            ports = _own_ports(item, circuit) if not isinstance(role, Outlet) else None
            for _, port_id in receptacles_of(item):
                if ports is None or port_id in ports:
                    yield item, port_id, True
        elif power.item_circuit.get(item.id) == circuit.key and not hasattr(role, "branches"):
            for _, port_id in receptacles_of(item):
                yield item, port_id, False


def _own_ports(item: Item, circuit: Circuit) -> frozenset[str] | None:
    """Ports of a box or generator behind this circuit's breaker; None for all of them."""
    branches = getattr(item.specification.electrical, "branches", None)
    if branches is None:
        return None
    return frozenset(
        port
        for branch in branches
        if circuit.key == f"{item.id}/{branch.name}"
        for port in branch.ports
    )


def _behind(power: PowerResult, item_id: str) -> set[str]:
    """The item itself and everything that is plugged into it, however far on."""
    found = {item_id}
    grown = True
    while grown:
        more = {item for item, host in power.fed_from.items() if host in found} - found
        found |= more
        grown = bool(more)
    return found
