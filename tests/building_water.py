"""Short ways to say tanks, pumps and taps in a test; use them through `building`."""

from collections.abc import Sequence
from typing import Any

from building_base import item, port

from cartlayout.build import (
    Accumulator,
    Appliance,
    Basin,
    CheckValve,
    Drain,
    Drawn,
    ElectricalRole,
    Fill,
    Filter,
    Fitting,
    FlowPoint,
    Gauge,
    Heater,
    Inlet,
    Item,
    Mains,
    Opening,
    Pump,
    PumpPoint,
    Regulator,
    ShutOff,
    Tank,
    WaterRole,
)
from cartlayout.units import (
    Flow,
    Pressure,
    Temperature,
    Volume,
)


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
        water=Tank(contents=contents, volume=Volume(volume), **more.pop("water", {})),
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
            **more.pop("water", {}),
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
    role = CheckValve(
        wide_open=loss or point("2 gal/min", "1 psi"),
        cracking=Pressure(cracking),
        **more.pop("water", {}),
    )
    return _through(item_id, role, **more)


def heater(
    item_id: str,
    outlet: str = "60 degC",
    loss: FlowPoint | None = None,
    water: dict[str, Any] | None = None,
    **more: Any,
) -> Item:
    """A heater that water runs through, ports "inlet" and "outlet"."""
    role = Heater(
        outlet=Temperature(outlet), wide_open=loss or point("2 gal/min", "1 psi"), **(water or {})
    )
    return _through(item_id, role, **more)


def shut_off(
    item_id: str,
    loss: FlowPoint | None = None,
    is_open: bool = True,
    closed_share: float = 0.0,
    **more: Any,
) -> Item:
    """A valve turned by hand, ports "a" and "b"."""
    role = ShutOff(
        wide_open=loss or point("2 gal/min", "0.2 psi"),
        is_open=is_open,
        closed_share=closed_share,
    )
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
