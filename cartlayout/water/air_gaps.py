"""Air gaps: what keeps waste from being sucked back into what pours into it."""

from collections.abc import Iterator

from ..build import Appliance, Build, Drain, Inlet, Item, Opening
from ..limits import profile, water_connector
from ..network.results import Network, Node
from .drain_results import AirGap


def air_gaps(build: Build, network: Network) -> Iterator[AirGap]:
    """Every air gap that is asked for, or stated.

    Asked for: where all of an appliance's water runs into a basin of its own, and
    where a drain tube ends at the venue's drain.
    """
    for item in build.items:
        role = item.specification.water
        if isinstance(role, Appliance):
            if role.air_gap is not None or _pours(item, role):
                bore_m, run = _widest_supply(network, item, role.inlets)
                given = role.air_gap
                yield _gap(build, item, bore_m, run, given.si if given is not None else None)
        elif isinstance(role, Drain):
            bore_m, run = _widest_drain(network, item)
            if run:
                given = role.air_gap
                yield _gap(build, item, bore_m, run, given.si if given is not None else None)


def _pours(item: Item, role: Appliance) -> bool:
    drains = any(port.medium == "drain" for port in item.specification.ports)
    opens = any(isinstance(inlet.behaviour, Opening) for inlet in role.inlets)
    return drains and opens and role.drained_share >= 1.0


def _gap(build: Build, item: Item, bore_m: float, run: str, given_m: float | None) -> AirGap:
    rules = profile(build.region)
    by_bore_m = rules.air_gap_bores.value * bore_m
    least_m = rules.least_air_gap_m.value
    rule = rules.air_gap_bores if by_bore_m > least_m else rules.least_air_gap_m
    return AirGap(item.id, run, bore_m, max(by_bore_m, least_m), given_m, rule.citation)


def _widest_supply(network: Network, item: Item, inlets: tuple[Inlet, ...]) -> tuple[float, str]:
    """Bore of the widest tube at an appliance's inlets; of its connector where there is none."""
    found: list[tuple[float, str]] = []
    bare: list[tuple[float, str]] = []
    for inlet in inlets:
        node: Node = (item.id, inlet.port)
        if node in network.supply:
            found += [
                (max(run.tube.bore.si, 0.0), run.id)
                for _, _, run in network.supply.edges(node, data="run")
                if run is not None
            ]
        port = item.specification.port(inlet.port)
        row = water_connector(port.connector) if port is not None else None
        bare.append(((row.bore_m or 0.0) if row is not None else 0.0, ""))
    return max(found or bare, default=(0.0, ""))


def _widest_drain(network: Network, item: Item) -> tuple[float, str]:
    found = [
        (max(run.tube.bore.si, 0.0), run.id)
        for port in item.specification.ports
        if (item.id, port.id) in network.drain
        for _, _, run in network.drain.in_edges((item.id, port.id), data="run")
        if run is not None
    ]
    return max(found, default=(0.0, ""))
