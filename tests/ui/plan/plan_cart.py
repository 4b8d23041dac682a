"""A small cart for the tests of the plan: appliances, two outlets, water and waste.

Counter: machine, grinder, kettle, rinser from left to right. Base: jug, pump,
waste tank. Venue: two outlets of two receptacles each. The machine is on
outlet 1, the grinder on outlet 2; jug to pump is joined, the rest is free.
"""

import building as b
from msgspec.structs import replace

from cartlayout.build import Build, End, Item, Opening, Port
from cartlayout.network import connect
from cartlayout.units import Length


def _port(name: str, medium: str, direction: str, connector: str, x: str, y: str) -> Port:
    cord = b.cord("12 AWG", "10 ft") if connector.endswith("P") else None
    return Port(
        id=name,
        medium=medium,
        direction=direction,
        connector=connector,
        x=Length(x),
        y=Length(y),
        z=Length("3 in"),
        cord=cord,
    )


def _named(item: Item, name: str, symbol: str) -> Item:
    return replace(item, specification=replace(item.specification, name=name, symbol=symbol))


def _load(item_id: str, name: str, symbol: str, amps: float, at, size, *more: Port, **rest) -> Item:
    width = float(size[0].split()[0])
    plug = _port("plug", "power", "in", "5-15P", f"{width / 2} in", "0 in")
    made = b.load(item_id, None, amps, ports=(plug, *more), at=at, size=size, **rest)
    return _named(made, name, symbol)


def items() -> tuple[Item, ...]:
    """Everything that stands on the cart or belongs to the venue."""
    wall = {"size": ("5 in", "3 in", "2 in"), "ways": 2}
    outlets = [
        _named(b.outlet(f"outlet-{n}", at=(x, "-16 in"), **wall), f"Outlet {n}", "outlet")
        for n, x in ((1, "14 in"), (2, "44 in"))
    ]
    outlets = [
        replace(
            outlet,
            specification=replace(
                outlet.specification,
                ports=tuple(
                    replace(port, x=Length(x), y=Length("3 in"))
                    for port, x in zip(outlet.specification.ports, ("1 in", "4 in"), strict=True)
                ),
            ),
        )
        for outlet in outlets
    ]
    machine_inlet = _port("inlet", "water", "in", "3/8 push-fit", "12 in", "18 in")
    machine_role = b.tap("x", Opening(rated=b.point("0.5 gal/min", "29 psi"))).specification.water
    rinser = b.tap(
        "rinser",
        required_flow="1.5 gal/min",
        at=("60 in", "16 in"),
        size=("8 in", "8 in", "4 in"),
    )
    rinser = replace(
        rinser,
        specification=replace(
            rinser.specification,
            ports=(
                _port("inlet", "water", "in", "3/8 push-fit", "2 in", "8 in"),
                _port("drain", "drain", "out", "drain 1 in", "6 in", "8 in"),
            ),
        ),
    )
    pump = b.pump("pump", at=("28 in", "24 in"), size=("8 in", "6 in", "5 in"))
    pump = replace(
        pump,
        specification=replace(
            pump.specification,
            ports=(
                _port("inlet", "water", "in", "3/8 push-fit", "0 in", "3 in"),
                _port("outlet", "water", "out", "3/8 push-fit", "8 in", "3 in"),
            ),
        ),
    )
    return (
        *outlets,
        _load(
            "machine",
            "Machine",
            "machine",
            13.8,
            ("12 in", "11 in"),
            ("16 in", "18 in", "16 in"),
            machine_inlet,
            water=machine_role,
        ),
        _load("grinder", "Grinder", "grinder", 3.4, ("30 in", "10 in"), ("8 in", "13 in", "16 in")),
        _load("kettle", "Kettle", "kettle", 12.5, ("44 in", "9 in"), ("9 in", "9 in", "10 in")),
        _named(rinser, "Rinser", "rinser"),
        _named(b.tank("jug", at=("12 in", "24 in"), size=("10 in", "9 in", "12 in")), "Jug", "jug"),
        _named(pump, "Pump", "pump"),
        _named(
            b.tank(
                "waste", "6 gal", "waste", at=("60 in", "25 in"), size=("11 in", "8 in", "14 in")
            ),
            "Waste tank",
            "waste-tank",
        ),
    )


def small_cart() -> Build:
    """The cart described above."""
    build = b.build(*items(), name="Small cart")
    for a, c in (
        (("machine", "plug"), ("outlet-1", "1")),
        (("grinder", "plug"), ("outlet-2", "1")),
        (("jug", "outlet"), ("pump", "inlet")),
    ):
        build, _ = connect(build, End(item=a[0], port=a[1]), End(item=c[0], port=c[1]))
    return build


def bare_cart() -> Build:
    """A cart with nothing on it."""
    return b.build(name="Bare cart")
