"""Plugs in nothing put into something."""

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis, analyse
from ...build import Build, End, Item, Load
from ...build.edits import EditError, replace_item
from ...findings import Finding
from ...limits import profile
from ...network import free_receptacles
from ...power.room import room_left
from ...units import Phrase
from .model import Candidate, Source
from .plugs import circuit_behind, plug_port, plugged_into
from .power_moves import move_loads, plug_in

_MOST = 6


def plug_in_loose(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """What is plugged into nothing: one by one where it is one, else all at once."""
    if len(finding.items) == 1:
        item = analysis.build.item(finding.items[0])
        if item is None or plug_port(item) is None:
            return
        yield from move_loads(analysis, finding)
        if not isinstance(item.specification.electrical, Load):
            for node in _free(analysis, analysis.build, item)[:_MOST]:
                yield plug_in(analysis, item.id, node)
        return
    yield Candidate(
        "plug in",
        Phrase.of(
            "Plug all {count} in, each where there is most room", count=str(len(finding.items))
        ),
        0,
        partial(_all_in, analysis, finding.items),
        finding.items,
        told=lambda _: Phrase("All of them are then counted"),
    )


def _free(analysis: Analysis, build: Build, item: Item) -> list[tuple[str, str]]:
    """Free receptacles for a plug, those on the circuit with most room first."""
    plug = plug_port(item)
    if plug is None:
        return []
    rules = profile(build.region)

    def left(end: End) -> float:
        circuit = circuit_behind(analysis, (end.item, end.port))
        return room_left(circuit, rules, analysis.power) if circuit is not None else -1.0

    ends = free_receptacles(build, End(item=item.id, port=plug.id))
    return [(end.item, end.port) for end in sorted(ends, key=lambda end: -left(end))]


def _all_in(analysis: Analysis, ids: tuple[str, ...]) -> Build:
    """Strips and boxes first, then the heaviest loads, each on what has most room by then."""
    build, now = analysis.build, analysis
    items = [item for one in ids if (item := build.item(one)) is not None]
    for item in sorted(items, key=_order):
        nodes = _free(now, build, item)
        if not nodes:
            raise EditError(f"nothing is free that takes the plug of {item.name}")
        build = plugged_into(build, item.id, nodes[0])
        now = analyse(build, now)
    return build


def _order(item: Item) -> tuple[bool, float, str]:
    role = item.specification.electrical
    if not isinstance(role, Load):
        return False, 0.0, item.id
    watts = role.power.si if role.power is not None else 0.0
    amps = role.current.si * role.voltage.si if role.current is not None else 0.0
    return True, -max(watts, amps), item.id


# --- fixed in a module -----------------------------------------------------------------------


def out_of_module(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """What is wired in stays with the cart when the module is lifted out."""
    for item_id in finding.items[:1]:
        item = analysis.build.item(item_id)
        if item is None or item.group is None:
            continue
        yield Candidate(
            "out of module",
            Phrase.of("Take {item} out of the module and mount it in the cart", item=item.name),
            3,
            partial(_alone, analysis.build, item),
            (item.id,),
            told=lambda _: Phrase("It then stays with the cart"),
        )


def _alone(build: Build, item: Item) -> Build:
    return replace_item(build, replace(item, group=None, travels=True))


SOURCES: dict[str, tuple[Source, ...]] = {
    "power.not-plugged-in": (plug_in_loose,),
    "module.wired-in": (out_of_module,),
}
