"""Plugs, receptacles and what they are called: what the sources of the power side share."""

from collections.abc import Iterator

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Build, End, Item, Port, Wire
from ...build.edits import EditError, replace_run
from ...network import connect, replug
from ...network.fit import is_plug
from ...network.results import Network, Node
from ...power.assign import Problem, make_problem
from ...power.results import Circuit

_KEPT: list[tuple[Build, Network, Problem]] = []
"""The last problem that was made: every finding of one build asks for the same."""


def problem_of(analysis: Analysis) -> Problem:
    """Where every load of a build could go, made once for a build."""
    build, network = analysis.build, analysis.network
    for at_build, at_network, problem in list(_KEPT):
        if at_build is build and at_network is network:
            return problem
    made = make_problem(build, network)
    _KEPT[:] = [(build, network, made)]
    return made


def plug_port(item: Item) -> Port | None:
    """The plug that an item is fed by, or None."""
    return next(
        (
            port
            for port in item.specification.ports
            if port.medium == "power" and port.direction == "in"
        ),
        None,
    )


def wire_of(build: Build, item: Item) -> Wire | None:
    """The wire that an item's plug is on, or None."""
    plug = plug_port(item)
    if plug is None:
        return None
    end = End(item=item.id, port=plug.id)
    return next((one for one in build.wires if end in (one.a, one.b)), None)


def plugged_into(build: Build, item_id: str, node: Node) -> Build:
    """The build with an item's plug in a receptacle; the wire is moved where there is one.

    Raises:
        EditError: there is no such item, it has no plug, or the plug does not go in.
    """
    item = build.item(item_id)
    plug = plug_port(item) if item is not None else None
    if item is None or plug is None:
        raise EditError(f"there is no plug on '{item_id}'")
    receptacle = End(item=node[0], port=node[1])
    wire = wire_of(build, item)
    if wire is not None:
        return replug(build, wire.id, receptacle)
    return connect(build, End(item=item_id, port=plug.id), receptacle)[0]


def taken_nodes(build: Build) -> set[Node]:
    """Ports that some wire ends at."""
    return {(end.item, end.port) for wire in build.wires for end in (wire.a, wire.b) if end}


def socket_name(build: Build, node: Node) -> str:
    """What to call a receptacle: by its item, and by its port where that has several."""
    item = build.item(node[0])
    if item is None:
        return node[0]
    ways = [p for p in item.specification.ports if p.medium == "power" and not is_plug(p)]
    return f"{item.name}, {node[1]}" if len(ways) > 1 else item.name


def circuit_behind(analysis: Analysis, node: Node) -> Circuit | None:
    """The circuit that feeds a receptacle."""
    item = analysis.build.item(node[0])
    branches = getattr(item.specification.electrical, "branches", None) if item else None
    for circuit in analysis.power.circuits:
        if node[0] not in circuit.items:
            continue
        if branches is None or any(
            node[1] in one.ports and circuit.key == f"{node[0]}/{one.name}" for one in branches
        ):
            return circuit
    return analysis.power.circuit_of(node[0])


def behind(analysis: Analysis, host: str) -> Iterator[str]:
    """Ids of all that is plugged into an item, however far on."""
    ahead, seen = [host], {host}
    while ahead:
        at = ahead.pop(0)
        for item, on in analysis.power.fed_from.items():
            if on == at and item not in seen:
                seen.add(item)
                ahead.append(item)
                yield item


def straight(build: Build, run_id: str) -> Build:
    """A run without the bends that it was given by hand.

    Raises:
        EditError: there is no such run, or it has none.
    """
    run = build.run(run_id)
    if run is None or not run.waypoints:
        raise EditError("this run has no bends of its own")
    return replace_run(build, replace(run, waypoints=()))
