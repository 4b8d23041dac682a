"""Short ways to say a build in a test: items, wires and tubes with sensible rest.

Everything here takes quantities as texts, as they stand in a file. An end is
written "item.port"; "item" alone means the port that each helper names below.
"""

from collections.abc import Sequence
from typing import Any

from cartlayout.build import (
    Accumulator,
    Appliance,
    Basin,
    Battery,
    Box,
    Branch,
    Build,
    Cart,
    CheckValve,
    Cord,
    Drain,
    Drawn,
    ElectricalRole,
    End,
    Extension,
    Fill,
    Filter,
    Fitting,
    FlowPoint,
    Gauge,
    Generator,
    Inlet,
    Item,
    Level,
    Load,
    Mains,
    Opening,
    Outlet,
    PipeFitting,
    Port,
    Pump,
    PumpPoint,
    Regulator,
    ShutOff,
    Size,
    Specification,
    Strip,
    Tank,
    Tube,
    TubeRun,
    WaterRole,
    Wire,
)
from cartlayout.units import (
    ConductorSize,
    Current,
    Duration,
    Energy,
    Flow,
    Length,
    Mass,
    Power,
    Pressure,
    Temperature,
    Voltage,
    Volume,
)


def cart(width: str = "72 in", depth: str = "30 in", **more: Any) -> Cart:
    """A rectangular cart with a counter at 36 in, a shelf at 20 in and a base at 6 in."""
    return Cart(
        width=Length(width),
        depth=Length(depth),
        levels=(
            Level(name="counter", height=Length("36 in"), clear_height=Length("48 in")),
            Level(name="shelf", height=Length("20 in"), clear_height=Length("15 in")),
            Level(name="base", height=Length("6 in"), clear_height=Length("28 in")),
        ),
        **more,
    )


def build(*things: Item | Wire | TubeRun, **more: Any) -> Build:
    """A build of items and runs, in the order given."""
    return Build(
        name=more.pop("name", "Trial"),
        cart=more.pop("cart", None) or cart(),
        items=tuple(thing for thing in things if isinstance(thing, Item)),
        runs=tuple(thing for thing in things if not isinstance(thing, Item)),
        **more,
    )


def item(
    item_id: str,
    *,
    ports: Sequence[Port] = (),
    electrical: ElectricalRole | None = None,
    water: WaterRole | None = None,
    size: tuple[str, str, str] = ("10 in", "10 in", "10 in"),
    mass: str = "5 kg",
    level: str = "counter",
    at: tuple[str, str] = ("36 in", "15 in"),
    kind: str = "thing",
    spec: dict[str, Any] | None = None,
    **more: Any,
) -> Item:
    """An item of any sort; `spec` adds fields of its specification, `more` of the item."""
    return Item(
        id=item_id,
        specification=Specification(
            name=item_id,
            kind=kind,
            size=Size(width=Length(size[0]), depth=Length(size[1]), height=Length(size[2])),
            mass=Mass(mass),
            ports=tuple(ports),
            electrical=electrical,
            water=water,
            **(spec or {}),
        ),
        level=level,
        x=Length(at[0]),
        y=Length(at[1]),
        **more,
    )


def port(
    port_id: str,
    medium: str,
    direction: str,
    connector: str,
    z: str = "2 in",
    cord: Cord | None = None,
) -> Port:
    """A port in the middle of a 10 in body's plan, at a height above its underside."""
    return Port(
        id=port_id,
        medium=medium,
        direction=direction,
        connector=connector,
        x=Length("5 in"),
        y=Length("5 in"),
        z=Length(z),
        cord=cord,
    )


def cord(size: str = "14 AWG", length: str = "6 ft", loaded_conductors: int = 2) -> Cord:
    """A flexible cord."""
    return Cord(
        size=ConductorSize(size), length=Length(length), loaded_conductors=loaded_conductors
    )


# --- power -----------------------------------------------------------------------------------


def load(
    item_id: str,
    watts: float | None = None,
    amps: float | None = None,
    volts: float = 120,
    *,
    plug: str = "5-15P",
    cord: Cord | None = None,
    heater: bool = True,
    longest_run: str | None = "10 min",
    electrical: dict[str, Any] | None = None,
    **more: Any,
) -> Item:
    """An appliance with one plug, port "plug". A heater is all resistance."""
    return item(
        item_id,
        ports=more.pop("ports", ())
        or (port("plug", "power", "in", plug, cord=cord or globals()["cord"]()),),
        electrical=Load(
            voltage=Voltage(f"{volts:g} V"),
            power=None if watts is None else Power(f"{watts:g} W"),
            current=None if amps is None else Current(f"{amps:g} A"),
            resistive_share=1.0 if heater else 0.0,
            thermostat=heater,
            longest_run=None if longest_run is None else Duration(longest_run),
            **(electrical or {}),
        ),
        **more,
    )


def outlet(
    item_id: str,
    volts: float = 120,
    breaker: float | None = 20,
    *,
    circuit: str | None = "",
    receptacle: str = "5-20R",
    ways: int = 2,
    electrical: dict[str, Any] | None = None,
    **more: Any,
) -> Item:
    """A venue's outlet, ports "1", "2", ... Its circuit is its id unless said; None: unknown."""
    return item(
        item_id,
        ports=[port(str(n), "power", "out", receptacle, "0 in") for n in range(1, ways + 1)],
        electrical=Outlet(
            voltage=Voltage(f"{volts:g} V"),
            breaker=None if breaker is None else Current(f"{breaker:g} A"),
            circuit=item_id if circuit == "" else circuit,
            **(electrical or {}),
        ),
        level="venue",
        at=more.pop("at", ("36 in", "-18 in")),
        raised=Length("18 in"),
        **more,
    )


def strip(
    item_id: str,
    rating: float = 15,
    ways: int = 6,
    *,
    plug: str = "5-15P",
    receptacle: str = "5-15R",
    cord: Cord | None = None,
    **more: Any,
) -> Item:
    """A power strip, ports "plug" and "1", "2", ..."""
    feed = port("plug", "power", "in", plug, cord=cord or globals()["cord"]())
    return item(
        item_id,
        ports=(feed, *(port(str(n), "power", "out", receptacle) for n in range(1, ways + 1))),
        electrical=Strip(rating=Current(f"{rating:g} A")),
        **more,
    )


def extension(
    item_id: str,
    size: str = "12 AWG",
    length: str = "25 ft",
    rating: float = 15,
    *,
    plug: str = "5-15P",
    receptacle: str = "5-15R",
    ways: int = 1,
    loaded_conductors: int = 2,
    **more: Any,
) -> Item:
    """An extension cord, ports "plug" and "1", ..."""
    feed = port("plug", "power", "in", plug, cord=cord(size, length, loaded_conductors))
    return item(
        item_id,
        ports=(feed, *(port(str(n), "power", "out", receptacle) for n in range(1, ways + 1))),
        electrical=Extension(rating=Current(f"{rating:g} A")),
        **more,
    )


def branch(name: str, breaker: float, legs: str, *ports: str) -> Branch:
    """One breaker; legs "L", "L1", "L2" or "L1 L2"."""
    return Branch(
        name=name, breaker=Current(f"{breaker:g} A"), legs=tuple(legs.split()), ports=ports
    )


def box(
    item_id: str,
    branches: Sequence[Branch],
    main: float | None = 50,
    *,
    system: str = "split-phase",
    plug: str = "14-50P",
    receptacles: dict[str, str] | None = None,
    cord: Cord | None = None,
    **more: Any,
) -> Item:
    """A distribution box, port "plug" and those its branches name ("5-20R" unless said)."""
    feed = port("plug", "power", "in", plug, cord=cord or globals()["cord"]("6 AWG", "25 ft"))
    known = receptacles or {}
    return item(
        item_id,
        ports=(
            feed,
            *(
                port(name, "power", "out", known.get(name, "5-20R"))
                for one in branches
                for name in one.ports
            ),
        ),
        electrical=Box(
            main=None if main is None else Current(f"{main:g} A"),
            branches=tuple(branches),
            system=system,
        ),
        **more,
    )


def generator(
    item_id: str,
    branches: Sequence[Branch],
    volts: float = 120,
    running: float = 3000,
    surge: float = 3500,
    *,
    leg_amps: float | None = None,
    system: str = "single-phase",
    receptacles: dict[str, str] | None = None,
    **more: Any,
) -> Item:
    """A generator with the receptacles its branches name ("5-20R" unless said)."""
    known = receptacles or {}
    return item(
        item_id,
        ports=[
            port(name, "power", "out", known.get(name, "5-20R"))
            for one in branches
            for name in one.ports
        ],
        electrical=Generator(
            voltage=Voltage(f"{volts:g} V"),
            branches=tuple(branches),
            running=Power(f"{running:g} W"),
            surge=Power(f"{surge:g} W"),
            system=system,
            leg_current=None if leg_amps is None else Current(f"{leg_amps:g} A"),
        ),
        level=more.pop("level", "venue"),
        **more,
    )


def battery(
    item_id: str,
    energy_wh: float = 1200,
    running: float = 1500,
    surge: float = 3000,
    volts: float = 120,
    *,
    ways: int = 2,
    receptacle: str = "5-15R",
    electrical: dict[str, Any] | None = None,
    **more: Any,
) -> Item:
    """A battery with inverter, ports "1", "2", ..."""
    return item(
        item_id,
        ports=[port(str(n), "power", "out", receptacle) for n in range(1, ways + 1)],
        electrical=Battery(
            voltage=Voltage(f"{volts:g} V"),
            energy=Energy(f"{energy_wh:g} Wh"),
            running=Power(f"{running:g} W"),
            surge=Power(f"{surge:g} W"),
            **(electrical or {}),
        ),
        **more,
    )


# --- water -----------------------------------------------------------------------------------


def point(flow: str, pressure: str) -> FlowPoint:
    """A flow and the pressure that goes with it."""
    return FlowPoint(flow=Flow(flow), pressure=Pressure(pressure))


def tank(
    item_id: str,
    volume: str = "5 gal",
    contents: str = "fresh",
    *,
    connector: str = "3/8 push-fit",
    outlet_height: str = "0 in",
    fill: float = 1.0,
    **more: Any,
) -> Item:
    """A vented tank or jug, port "outlet" (fresh) or "inlet" (waste)."""
    fresh = contents == "fresh"
    end = (
        port("outlet", "water", "out", connector, outlet_height)
        if fresh
        else port("inlet", "drain", "in", more.pop("drain_connector", "drain 1 in"), "10 in")
    )
    return item(
        item_id,
        ports=(end,),
        water=Tank(contents=contents, volume=Volume(volume)),
        level=more.pop("level", "base"),
        fill=fill,
        **more,
    )


def mains(
    item_id: str,
    usual: str = "60 psi",
    *,
    connector: str = "3/4 GHT",
    residual: FlowPoint | None = None,
    height: str = "0 in",
    water: dict[str, Any] | None = None,
    **more: Any,
) -> Item:
    """A venue's tap, port "outlet"."""
    return item(
        item_id,
        ports=(port("outlet", "water", "out", connector, height),),
        water=Mains(usual=Pressure(usual), residual=residual, **(water or {})),
        level=more.pop("level", "venue"),
        **more,
    )


def pump(
    item_id: str,
    curve: Sequence[tuple[str, str]] = (("0 psi", "1.9 gal/min"), ("60 psi", "0 gal/min")),
    cut_in: str = "45 psi",
    cut_out: str = "60 psi",
    *,
    connector: str = "3/8 push-fit",
    height: str = "2 in",
    electrical: ElectricalRole | None = None,
    **more: Any,
) -> Item:
    """A demand pump, ports "inlet" and "outlet"; its curve as (pressure, flow) rows."""
    return item(
        item_id,
        ports=(
            port("inlet", "water", "in", connector, height),
            port("outlet", "water", "out", connector, height),
        ),
        water=Pump(
            curve=tuple(PumpPoint(pressure=Pressure(p), flow=Flow(q)) for p, q in curve),
            cut_in=Pressure(cut_in),
            cut_out=Pressure(cut_out),
            rating=more.pop("rating", ""),
        ),
        electrical=electrical,
        level=more.pop("level", "base"),
        **more,
    )


def accumulator(item_id: str, volume: str = "1 L", pre_charge: str = "28 psi", **more: Any) -> Item:
    """An accumulator, ports "a" and "b", both through."""
    return _through(
        item_id,
        Accumulator(volume=Volume(volume), pre_charge=Pressure(pre_charge)),
        ("a", "b"),
        **more,
    )


def water_filter(
    item_id: str, *loss: FlowPoint, rated_flow: str = "1.5 gal/min", **more: Any
) -> Item:
    """A filter, ports "inlet" and "outlet"."""
    role = Filter(
        loss=loss or (point("1.5 gal/min", "8 psi"),),
        rated_flow=Flow(rated_flow),
        **more.pop("water", {}),
    )
    return _through(item_id, role, **more)


def regulator(
    item_id: str, set_point: str = "40 psi", water: dict[str, Any] | None = None, **more: Any
) -> Item:
    """A regulator, ports "inlet" and "outlet"."""
    return _through(item_id, Regulator(set_point=Pressure(set_point), **(water or {})), **more)


def check_valve(
    item_id: str, loss: FlowPoint | None = None, cracking: str = "0 psi", **more: Any
) -> Item:
    """A check valve, ports "inlet" and "outlet"."""
    role = CheckValve(wide_open=loss or point("2 gal/min", "1 psi"), cracking=Pressure(cracking))
    return _through(item_id, role, **more)


def shut_off(
    item_id: str, loss: FlowPoint | None = None, is_open: bool = True, **more: Any
) -> Item:
    """A valve turned by hand, ports "a" and "b"."""
    role = ShutOff(wide_open=loss or point("2 gal/min", "0.2 psi"), is_open=is_open)
    return _through(item_id, role, ("a", "b"), **more)


def tee(item_id: str, ways: int = 3, **more: Any) -> Item:
    """A tee or manifold, ports "a", "b", "c", ..., all through."""
    return _through(item_id, Fitting(), tuple("abcdefghijklmnop"[:ways]), **more)


def gauge(item_id: str, full_scale: str = "100 psi", **more: Any) -> Item:
    """A gauge on one port, "a"."""
    return _through(item_id, Gauge(full_scale=Pressure(full_scale)), ("a",), **more)


def _through(
    item_id: str,
    role: WaterRole,
    names: tuple[str, ...] = ("inlet", "outlet"),
    *,
    connector: str = "3/8 push-fit",
    height: str = "2 in",
    **more: Any,
) -> Item:
    directions = {"inlet": "in", "outlet": "out"}
    return item(
        item_id,
        ports=[
            port(name, "water", directions.get(name, "through"), connector, height)
            for name in names
        ],
        water=role,
        level=more.pop("level", "base"),
        **more,
    )


def tap(
    item_id: str,
    behaviour: Opening | Drawn | Fill | None = None,
    *,
    required_flow: str = "1 gal/min",
    least: str = "20 psi",
    greatest: str = "80 psi",
    connector: str = "3/8 push-fit",
    height: str = "2 in",
    drain: str | None = None,
    water: dict[str, Any] | None = None,
    highest_temperature: str | None = None,
    **more: Any,
) -> Item:
    """An appliance that takes water, ports "inlet" and, where asked for, "drain"."""
    ports = [port("inlet", "water", "in", connector, height)]
    if drain is not None:
        ports.append(port("drain", "drain", "out", drain, "0 in"))
    return item(
        item_id,
        ports=[*ports, *more.pop("ports", ())],
        water=Appliance(
            inlets=(
                Inlet(
                    port="inlet",
                    behaviour=behaviour or Opening(rated=point(required_flow, least)),
                    required_flow=Flow(required_flow),
                    least_pressure=Pressure(least),
                    greatest_pressure=Pressure(greatest),
                    highest_temperature=(
                        None if highest_temperature is None else Temperature(highest_temperature)
                    ),
                ),
            ),
            **(water or {}),
        ),
        **more,
    )


def opening(flow: str, pressure: str, cap: str | None = None, assumed: bool = False) -> Opening:
    """An opening with a rating."""
    return Opening(
        rated=point(flow, pressure), cap=None if cap is None else Flow(cap), assumed=assumed
    )


def drawn(flow: str) -> Drawn:
    """An internal pump's flow."""
    return Drawn(flow=Flow(flow))


def fill(flow: str, pressure: str, back_pressure: str = "0 bar") -> Fill:
    """A fill valve with a rating."""
    return Fill(rated=point(flow, pressure), back_pressure=Pressure(back_pressure))


def basin(item_id: str, connector: str = "drain 1 in", **more: Any) -> Item:
    """A dump sink, port "drain"."""
    return item(
        item_id, ports=(port("drain", "drain", "out", connector, "0 in"),), water=Basin(), **more
    )


def floor_drain(item_id: str, connector: str = "drain 1 in", **more: Any) -> Item:
    """A venue's drain, port "inlet"."""
    return item(
        item_id,
        ports=(port("inlet", "drain", "in", connector, "0 in"),),
        water=Drain(),
        level=more.pop("level", "venue"),
        **more,
    )


# --- runs ------------------------------------------------------------------------------------


def end(text: str, default: str = "") -> End:
    """An end from "item.port"."""
    item_id, _, port_id = text.partition(".")
    return End(item=item_id, port=port_id or default)


def wire(plug: str, receptacle: str | None, cord: Cord | None = None, run_id: str = "") -> Wire:
    """A plug ("kettle" means "kettle.plug") in a receptacle ("outlet.1")."""
    return Wire(
        id=run_id or f"wire {plug}",
        a=end(plug, "plug"),
        b=None if receptacle is None else end(receptacle, "1"),
        cord=cord,
    )


def tube(
    a: str,
    b: str | None,
    length: str | None = "1 m",
    bore: str = "6.35 mm",
    *,
    run_id: str = "",
    roughness: str = "0.0015 mm",
    fittings: Sequence[tuple[str, float, int]] = (),
    outer: str = "",
    **more: Any,
) -> TubeRun:
    """A tube from "item.port" to "item.port"; alone: "outlet" of a and "inlet" of b."""
    return TubeRun(
        id=run_id or f"tube {a} {b}",
        a=end(a, "outlet"),
        b=None if b is None else end(b, "inlet"),
        length=None if length is None else Length(length),
        tube=Tube(
            name=f"{bore} bore",
            outer=Length(outer or "9.525 mm"),
            bore=Length(bore),
            material="polyethylene",
            roughness=Length(roughness),
        ),
        fittings=tuple(
            PipeFitting(name=name, loss_coefficient=k, count=count) for name, k, count in fittings
        ),
        **more,
    )
