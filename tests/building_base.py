"""Short ways to say carts, items, ports and runs in a test; use them through `building`."""

from collections.abc import Sequence
from typing import Any

from cartlayout.build import (
    Build,
    Cart,
    Cord,
    ElectricalRole,
    End,
    Item,
    Level,
    PipeFitting,
    Port,
    Size,
    Specification,
    Tube,
    TubeRun,
    WaterRole,
    Wire,
)
from cartlayout.units import (
    ConductorSize,
    Length,
    Mass,
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
