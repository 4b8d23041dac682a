"""Tables for plan review: equipment, vessels, sinks, tubes, and what regulates or protects."""

from collections import defaultdict
from collections.abc import Iterator

from ....build import (
    VENUE,
    Accumulator,
    Appliance,
    CheckValve,
    Filter,
    Heater,
    Item,
    Load,
    Mains,
    Pump,
    Regulator,
    ShutOff,
    Tank,
    Tube,
)
from ....build.water import WaterRole
from ....units import Phrase, UnitSystem, Value
from ..content import Cell, Column, Job, Table

SINKS = ("hand sink", "wash sink", "dump sink")


def on_cart(job: Job) -> Iterator[Item]:
    """Everything that is not the venue's, in the order of the build."""
    return (item for item in job.build.items if item.level != VENUE)


def _length(title: str) -> Column:
    return Column(title, "length", "right", 0.6)


# --- equipment ----------------------------------------------------------------


def equipment_table(job: Job) -> Table:
    """Every piece on the cart: sizes, mass, power and water as entered, and on what they rest."""
    rows = tuple(_piece(job, item) for item in on_cart(job))
    return Table(
        "review-equipment",
        "Equipment on the cart",
        (
            Column("Name", share=1.6),
            Column("Kind", share=1.2),
            Column("Place", share=0.9),
            _length("Width"),
            _length("Depth"),
            _length("Height"),
            Column("Empty", "mass", "right", 0.6),
            Column("In use", "mass", "right", 0.6),
            Column("Power", share=1.2),
            Column("Water and drain", share=1.1),
            Column("Size from", share=0.9),
        ),
        rows,
        note="Size from: on what the measures rest. “Typical” ones are to be replaced by the "
        "maker's sheet before the drawing is handed in.",
        empty="No equipment is on the cart.",
    )


def _piece(job: Job, item: Item) -> tuple[Cell, ...]:
    made = item.specification
    solid = job.analysis.body.solids.get(item.id)
    full = solid.load.full_kg if solid is not None else made.mass.si
    return (
        item.name,
        made.kind,
        _place(item),
        Value(made.size.width.si, "length"),
        Value(made.size.depth.si, "length"),
        Value(made.size.height.si, "length"),
        _mass(made.mass.si),
        _mass(full),
        _power(item),
        _water(item),
        _basis(item),
    )


def _place(item: Item) -> str:
    how = {"standing": "", "hanging": ", hanging", "wall": ", on the panel"}
    return f"{item.level}{how[item.mount]}"


def _mass(mass_kg: float) -> Value:
    return Value(mass_kg, "mass", 1 if 0.0 < mass_kg < 1.0 else None)


def _power(item: Item) -> str | Phrase:
    role = item.specification.electrical
    if not isinstance(role, Load):
        return "" if role is None else "passes power on"
    rated = [Value(role.voltage.si, "voltage", 0)]
    words = "{volts}"
    values: dict[str, Value | str] = {"volts": rated[0]}
    if role.current is not None:
        words += ", {amps}"
        values["amps"] = Value(role.current.si, "current")
    if role.power is not None:
        words += ", {watts}"
        values["watts"] = Value(role.power.si, "power")
    if role.hardwired:
        words += ", wired in"
    return Phrase.of(words, **values)


def _water(item: Item) -> str:
    media = [port.medium for port in item.specification.ports]
    said = []
    if "water" in media:
        said.append("water")
    if "drain" in media:
        said.append("drain")
    return ", ".join(said)


def _basis(item: Item) -> str:
    return next((one.basis for one in item.specification.origins if "size" in one.of), "not stated")


# --- vessels and sinks ----------------------------------------------------------------


def vessels_table(job: Job) -> Table:
    """Tanks by what they hold."""
    build = job.build
    rows = []
    for item in build.items:
        role = item.specification.water
        if isinstance(role, Tank):
            size = item.specification.size
            rows.append(
                (
                    item.name,
                    "fresh water" if role.contents == "fresh" else "waste water",
                    item.level,
                    Value(role.volume.si, "volume"),
                    Value(size.width.si, "length"),
                    Value(size.depth.si, "length"),
                    Value(size.height.si, "length"),
                    _outlet_bore(item),
                )
            )
    rows.sort(key=lambda row: row[1])
    return Table(
        "review-tanks",
        "Tanks",
        (
            Column("Name", share=1.5),
            Column("Holds"),
            Column("Place"),
            Column("Volume", "volume", "right", 0.7),
            _length("Width"),
            _length("Depth"),
            _length("Height"),
            Column("Connections", share=1.4),
        ),
        tuple(rows),
        empty="No tank is on the plan.",
    )


def _outlet_bore(item: Item) -> str:
    found: dict[str, int] = {}
    for port in item.specification.ports:
        if port.medium in ("water", "drain"):
            found[port.connector] = found.get(port.connector, 0) + 1
    return ", ".join(f"{count} × {name}" if count > 1 else name for name, count in found.items())


def sinks_table(job: Job) -> Table:
    """Sinks with their taps: flow, and how warm the water comes."""
    rows = [row for item in on_cart(job) for row in _sink(job, item)]
    return Table(
        "review-sinks",
        "Sinks",
        (
            Column("Name", share=1.4),
            Column("Kind"),
            _length("Width"),
            _length("Depth"),
            Column("Tap", share=1.2),
            Column("Flow alone", "flow", "right", 0.7),
            Column("Water", "temperature", "right", 0.6),
            Column("Drain", share=0.9),
        ),
        tuple(rows),
        empty="No sink is on the cart.",
    )


def _sink(job: Job, item: Item) -> Iterator[tuple[Cell, ...]]:
    made = item.specification
    if made.kind not in SINKS:
        return
    drains = ", ".join(port.connector for port in made.ports if port.medium == "drain")
    size = Value(made.size.width.si, "length"), Value(made.size.depth.si, "length")
    taps = [tap for tap in job.analysis.water.taps if tap.item == item.id]
    if not taps:
        yield (item.name, made.kind, *size, "no tap of its own", None, None, drains)
    for tap in taps:
        state = tap.states.get(f"{tap.name} alone")
        flow = Value(state.flow, "flow") if state is not None and tap.fed else None
        warm = Value(tap.temperature_k, "temperature") if tap.fed else None
        yield (item.name, made.kind, *size, tap.name if tap.fed else "not fed", flow, warm, drains)


# --- tubes ----------------------------------------------------------------


def tubes_table(job: Job) -> Table:
    """Sizes and materials, with how much of each is on the cart."""
    network = job.analysis.network
    groups: dict[tuple[str, Tube], list[float]] = defaultdict(list)
    for run in job.build.tubes:
        medium = "drain" if _is_drain(job, run.a.item, run.a.port) else "supply"
        route = network.routes.get(run.id)
        length = run.length.si if run.length is not None else route.length_m if route else 0.0
        groups[medium, run.tube].append(length)
    decimals = 3 if job.system is UnitSystem.US else 1  # 3/8 in is 0.375 in
    rows = [
        (
            tube.name,
            medium,
            tube.material,
            Value(tube.outer.si, "length", decimals),
            Value(tube.bore.si, "length", decimals),
            "yes" if tube.potable else "no",
            Value(tube.rating.si, "pressure") if tube.rating is not None else None,
            Value(tube.rating_at.si, "temperature") if tube.rating_at is not None else None,
            Value(float(len(lengths)), "count"),
            Value(sum(lengths), "distance"),
        )
        for (medium, tube), lengths in sorted(
            groups.items(), key=lambda one: (one[0][0] != "supply", one[0][1].name)
        )
    ]
    return Table(
        "review-tubes",
        "Tubes: sizes and materials",
        (
            Column("Tube", share=1.5),
            Column("For"),
            Column("Material", share=1.3),
            Column("Outer", "length", "right", 0.6),
            Column("Bore", "length", "right", 0.6),
            Column("Drinking water", share=0.7),
            Column("Rated", "pressure", "right", 0.7),
            Column("Rated at", "temperature", "right", 0.7),
            Column("Runs", "count", "right", 0.5),
            Column("Length", "distance", "right", 0.7),
        ),
        tuple(rows),
        note="Drinking water: whether the tube is entered as made for it. Lengths are those of the "
        "routes, or as entered, without what is to spare.",
        empty="No tube is on the plan.",
    )


def _is_drain(job: Job, item_id: str, port_id: str) -> bool:
    item = job.build.item(item_id)
    port = item.specification.port(port_id) if item is not None else None
    return port is not None and port.medium == "drain"


# --- what pushes, heats, regulates and protects ---------------------------------------------


def line_table(job: Job) -> Table:
    """Pumps with switch pressures, vessels, heaters, regulators, filters, check valves, mains."""
    rows = [
        (item.name, item.specification.kind, item.level, settings)
        for item in job.build.items
        if (settings := _settings(item.specification.water)) is not None
    ]
    return Table(
        "review-water-line",
        "Pumps, heaters, regulators, filters, valves",
        (
            Column("Name", share=1.2),
            Column("Kind"),
            Column("Place", share=0.8),
            Column("Settings and ratings", share=3.0),
        ),
        tuple(rows),
        empty="Nothing pumps, heats, regulates or filters water on this plan.",
    )


def _pressure(value_pa: float) -> Value:
    return Value(value_pa, "pressure")


def _settings(role: WaterRole | None) -> Phrase | str | None:
    """What is set or rated; None for what stands in another table."""
    match role:
        case Pump():
            return Phrase.of(
                "starts at {low}, stops at {high}",
                low=_pressure(role.cut_in.si),
                high=_pressure(role.cut_out.si),
            )
        case Accumulator():
            return Phrase.of(
                "{volume}, pre-charge {pressure}",
                volume=Value(role.volume.si, "volume"),
                pressure=_pressure(role.pre_charge.si),
            )
        case Regulator():
            return Phrase.of("set to {pressure}", pressure=_pressure(role.set_point.si))
        case Mains():
            return _mains(role)
        case Heater():
            return _heater(role)
        case Filter():
            what = "softens; " if role.softens else "purifies; " if role.purifies else ""
            return Phrase.of(
                what + "rated {flow}, {used} of its life used",
                flow=Value(role.rated_flow.si, "flow"),
                used=Value(role.used, "share"),
            )
        case CheckValve():
            return "two checks with a vent between" if role.vented else "lets water one way only"
        case ShutOff():
            return "open as drawn" if role.is_open else "shut as drawn"
        case Appliance(carbonates=True):
            return "carbonates water: a vented double check belongs before it"
        case _:
            return None


def _mains(role: Mains) -> Phrase:
    words = "usually {usual}"
    values: dict[str, Value | str] = {"usual": _pressure(role.usual.si)}
    for name, given in (("least", role.least), ("greatest", role.greatest)):
        words += f", {name} {{{name}}}"
        values[name] = _pressure(given.si) if given is not None else "not stated"
    return Phrase.of(words, **values)


def _heater(role: Heater) -> Phrase:
    words = "{outlet} behind it"
    values: dict[str, Value | str] = {"outlet": Value(role.outlet.si, "temperature")}
    if role.greatest_pressure is not None:
        words += ", at most {most}"
        values["most"] = _pressure(role.greatest_pressure.si)
    return Phrase.of(words, **values)
