"""What somebody else has to give: another circuit, protection, a larger generator."""

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import VENUE, Build, Item, Load, Outlet, Port, Specification
from ...build.cart_geometry import extent
from ...build.edits import EditError, place, replace_item, with_
from ...build.electrical import System
from ...build.geometry import bounds
from ...findings import Finding
from ...limits import plug_fits, power_connector, profile
from ...power.assign.usual import UsualCircuit, usual_circuits
from ...power.limits_check import is_continuous_load
from ...power.loads import line_amps, load_model
from ...stock import stock
from ...stock.labels import short_label
from ...units import Current, Length, Phrase, Voltage
from .model import Candidate, Source
from .plugs import plug_port, plugged_into
from .power_moves import loads_meant
from .power_words import carries

_ASK = "The venue says whether it has one; a licensed electrician decides about its wiring."
_PROTECT = "A licensed electrician decides which protection, and where."
_ROUNDING = 1.005
_BESIDE_M = 0.45
_LOADS = 4


# --- a circuit of its own --------------------------------------------------------------------


def ask_for_circuit(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """One more circuit for one of the loads that are meant, or for everything on a strip."""
    meant = loads_meant(analysis, finding)
    for item_id in meant[:_LOADS]:
        item = analysis.build.item(item_id)
        if item is None or item.locked or analysis.build.item(item_id) is None:
            continue
        kind = circuit_for(analysis.build, item)
        if kind is not None:
            yield _asked(analysis, item, kind)


def circuit_for(build: Build, item: Item) -> UsualCircuit | None:
    """The smallest usual circuit of the region that carries a load by itself; None: there is none.

    Circuits of the load's own voltage come before those that are only in its range.

    Args:
        build: for its region and its hours.
        item: an appliance with a plug.
    """
    role, plug = item.specification.electrical, plug_port(item)
    if not isinstance(role, Load) or plug is None or role.hardwired:
        return None
    rules = profile(build.region)
    low = role.lowest_voltage.si if role.lowest_voltage else 0.9 * role.voltage.si
    high = role.highest_voltage.si if role.highest_voltage else 1.1 * role.voltage.si
    factor = rules.continuous_factor.value if rules.continuous_factor is not None else 1.0
    times = factor if is_continuous_load(build, role, rules) else 1.0
    near = sorted(usual_circuits(rules), key=lambda one: (_apart(one, role), one.amps))
    for kind in near:
        if not plug_fits(plug.connector, kind.receptacle) or not low <= kind.volts <= high:
            continue
        if times * line_amps(role, load_model(role), kind.volts) <= kind.amps * _ROUNDING:
            return kind
    return None


def _apart(kind: UsualCircuit, role: Load) -> bool:
    """More than a twentieth from the voltage that a load is made for."""
    return abs(kind.volts - role.voltage.si) > 0.05 * role.voltage.si


def _asked(analysis: Analysis, item: Item, kind: UsualCircuit) -> Candidate:
    return Candidate(
        "ask for a circuit",
        Phrase.of(
            "Ask the venue for a circuit of {amps} A, {volts} V ({receptacle}, protected) for "
            "{item} alone",
            amps=f"{kind.amps:g}",
            volts=f"{kind.volts:g}",
            receptacle=kind.receptacle,
            item=item.name,
        ),
        5,
        partial(on_new_circuit, analysis.build, item.id, kind),
        (item.id,),
        (_ASK,),
        told=partial(_told, item.id),
    )


def _told(item_id: str, after: Analysis) -> Phrase:
    circuit = after.power.circuit_of(item_id)
    return carries(circuit) if circuit is not None else Phrase("It is then fed by nothing")


def on_new_circuit(build: Build, item_id: str, kind: UsualCircuit) -> Build:
    """The build with one more outlet of the venue, on a circuit of its own, and an item on it.

    Raises:
        EditError: nothing of that kind is in the stock, or the plug does not go in.
    """
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    after, outlet = new_outlet(build, kind, near=item)
    port = next(
        port
        for port in _item(after, outlet).specification.ports
        if port.medium == "power" and port.connector == kind.receptacle
    )
    return plugged_into(after, item_id, (outlet, port.id))


def new_outlet(build: Build, kind: UsualCircuit, near: Item) -> tuple[Build, str]:
    """The build with an outlet on a circuit that is asked for, and the outlet's id.

    Args:
        build: what it is added to.
        kind: breaker and receptacle.
        near: what is plugged in; the outlet is put beside the one that feeds it now.

    Raises:
        EditError: the stock has no such outlet.
    """
    found = _specification(build, kind)
    x_m, y_m, raised = _spot(build, near)
    label = short_label(build, found.name)
    after, outlet_id = place(build, found, VENUE, x_m, y_m, label)
    outlet = _item(after, outlet_id)
    role = found.electrical
    assert isinstance(role, Outlet)
    named = replace(role, circuit=f"asked for {outlet_id}")
    after = replace_item(
        after,
        replace(outlet, raised=raised, specification=replace(found, electrical=named)),
    )
    return after, outlet_id


def _specification(build: Build, kind: UsualCircuit) -> Specification:
    """An outlet of the stock as the circuit wants it; of another sort where there is none of its.

    Raises:
        EditError: the stock has no outlet for the region at all.
    """
    outlets = [
        spec
        for one in stock()
        if (spec := one.specification) is not None
        and isinstance(spec.electrical, Outlet)
        and (not one.regions or build.region in one.regions)
    ]
    for spec in outlets:
        ports = [port for port in spec.ports if port.connector == kind.receptacle]
        role = spec.electrical
        assert isinstance(role, Outlet)
        if ports and abs(role.voltage.si - kind.volts) <= 0.1 * kind.volts:
            return _given(spec, role, kind, ports[0])
    if not outlets:
        raise EditError(f"the stock has no outlet for {build.region}")
    spec = outlets[0]
    role = spec.electrical
    assert isinstance(role, Outlet)
    port = replace(spec.ports[0], connector=kind.receptacle)
    name = f"Outlet, {kind.amps:g} A, {kind.volts:g} V"
    return _given(replace(spec, name=name, stock=""), role, kind, port)


def _given(spec: Specification, role: Outlet, kind: UsualCircuit, port: Port) -> Specification:
    """One receptacle on a protected circuit of its own: then one appliance may fill it."""
    connector = power_connector(kind.receptacle)
    legs = sum(pole.startswith("L") for pole in connector.poles) if connector is not None else 1
    systems: dict[int, System] = {1: "single-phase", 2: "split-phase", 3: "three-phase"}
    changed = replace(
        role,
        voltage=Voltage(f"{kind.volts:g} V"),
        system=systems.get(legs, "single-phase"),
        breaker=Current(f"{kind.amps:g} A"),
        limit=None,
        gfci=True,
        shared=False,
    )
    return replace(spec, electrical=changed, ports=(port,))


def _spot(build: Build, near: Item) -> tuple[float, float, Length]:
    """Beside the venue's outlet that is nearest to an item; else behind the cart."""
    outlets = [
        one
        for one in build.items
        if one.level == VENUE and isinstance(one.specification.electrical, Outlet)
    ]
    if not outlets:
        whole = extent(build.cart)
        raised = Length("18 in" if build.units == "US" else "450 mm")
        return near.x.si, whole.rear - _BESIDE_M, raised
    nearest = min(
        outlets, key=lambda one: (one.x.si - near.x.si) ** 2 + (one.y.si - near.y.si) ** 2
    )
    taken = [bounds(one) for one in build.items if one.level == VENUE]
    y_m = nearest.y.si
    for step in range(1, 12):
        for way in (1, -1):
            x_m = nearest.x.si + way * step * _BESIDE_M
            if not any(a[0] <= x_m <= a[2] and a[1] <= y_m <= a[3] for a in taken):
                return x_m, y_m, nearest.raised
    return nearest.x.si, y_m, nearest.raised


def _item(build: Build, item_id: str) -> Item:
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    return item


# --- protection ------------------------------------------------------------------------------


def ask_for_protection(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The venue protects the outlet that is there."""
    for item_id in finding.items[:1]:
        item = analysis.build.item(item_id)
        if item is None or not isinstance(item.specification.electrical, Outlet):
            continue
        known = item.specification.electrical.gfci is False
        title = (
            "Have the venue protect {outlet} against earth leakage"
            if known
            else "Ask the venue whether {outlet} is protected, and to protect it if not"
        )
        yield Candidate(
            "protect outlet",
            Phrase.of(title, outlet=item.name),
            5,
            partial(_protected, analysis.build, item.id),
            (item.id,),
            (_PROTECT,),
            told=partial(_told_protected, item.name),
        )


def _told_protected(name: str, _: Analysis) -> Phrase:
    return Phrase.of("{outlet} is then protected", outlet=name)


def _protected(build: Build, item_id: str) -> Build:
    """Every outlet of the same circuit: the device stands before all of them."""
    first = _item(build, item_id).specification.electrical
    circuit = first.circuit if isinstance(first, Outlet) else None
    for item in build.items:
        role = item.specification.electrical
        if not isinstance(role, Outlet) or role.gfci is True:
            continue
        if item.id == item_id or (circuit is not None and role.circuit == circuit):
            changed = replace(item.specification, electrical=replace(role, gfci=True))
            build = replace_item(build, replace(item, specification=changed))
    return build


# --- no supply at all ------------------------------------------------------------------------


def ask_for_all(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The fewest usual circuits that carry everything that is not plugged in."""
    from ...power.assign.request import request

    build = analysis.build
    ids = {one for one in finding.items if _is_load(build, one)}
    if not ids:
        return
    others = tuple(item for item in build.items if item.id in ids)
    found = request(with_(build, items=others, runs=()), most_s=0.3)
    wanted = found.circuits
    if not wanted:
        return
    count = len(wanted)
    noun = "circuit" if count == 1 else "circuits"
    kinds = ", ".join(f"{one.amps:g} A {one.receptacle}" for one in wanted)
    steps = [(UsualCircuit(one.volts, one.amps, one.receptacle), one.loads) for one in wanted]
    yield Candidate(
        "ask for a circuit",
        Phrase.of(
            "Ask the venue for {count} {noun} ({kinds}), protected, and plug everything in",
            count=str(count),
            noun=noun,
            kinds=kinds,
        ),
        5,
        partial(_all_on_new, build, steps),
        tuple(one for _, loads in steps for one in loads),
        (_ASK,),
        told=_told_fullest,
    )


def _is_load(build: Build, item_id: str) -> bool:
    item = build.item(item_id)
    return item is not None and isinstance(item.specification.electrical, Load)


def _all_on_new(build: Build, steps: list[tuple[UsualCircuit, tuple[str, ...]]]) -> Build:
    for kind, loads in steps:
        build, outlet = new_outlet(build, kind, near=_item(build, loads[0]))
        build = _with_ways(build, outlet, len(loads))
        ports = _item(build, outlet).specification.ports
        for load, port in zip(loads, ports, strict=True):
            build = plugged_into(build, load, (outlet, port.id))
    return build


def _with_ways(build: Build, outlet_id: str, ways: int) -> Build:
    """An outlet with as many receptacles as are needed."""
    outlet = _item(build, outlet_id)
    port = outlet.specification.ports[0]
    ports = tuple(replace(port, id=str(number)) for number in range(1, ways + 1))
    changed = replace(outlet.specification, ports=ports)
    return replace_item(build, replace(outlet, specification=changed))


def _told_fullest(after: Analysis) -> Phrase:
    fullest = max(after.power.circuits, key=lambda one: one.share, default=None)
    return carries(fullest) if fullest is not None else Phrase("Nothing is then fed")


_ASKED: tuple[Source, ...] = (ask_for_circuit,)
SOURCES: dict[str, tuple[Source, ...]] = {
    **dict.fromkeys(
        (
            "power.total",
            "power.neutral",
            "power.continuous",
            "power.one-appliance",
            "power.fastened",
            "power.own-circuit",
            "power.venue-limit",
            "power.two-circuits",
            "power.shared",
            "power.strip",
            "power.extension",
            "power.main",
            "power.plug",
            "power.receptacle",
            "power.cord",
            "power.leg",
            "power.generator",
            "power.inverter",
            "power.surge",
            "power.battery-energy",
            "power.discharge",
            "power.wrong-voltage",
            "power.no-voltage",
            "power.voltage",
            "power.drop",
            "power.cord-short",
            "power.leakage",
            "power.chained-strips",
            "power.starts-together",
            "network.power.misfit",
        ),
        _ASKED,
    ),
    "power.no-leakage-protection": (ask_for_protection, ask_for_circuit),
    "power.leakage-protection-unknown": (ask_for_protection, ask_for_circuit),
    "power.no-supply": (ask_for_all,),
    "power.not-plugged-in": (ask_for_circuit,),
}
