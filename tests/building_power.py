"""Short ways to say loads and supplies in a test; use them through `building`."""

from collections.abc import Sequence
from typing import Any

from building_base import cord, item, port

from cartlayout.build import (
    Battery,
    Box,
    Branch,
    Cord,
    Extension,
    Generator,
    Item,
    Load,
    Outlet,
    Strip,
)
from cartlayout.units import (
    Current,
    Duration,
    Energy,
    Length,
    Power,
    Voltage,
)

_cord = cord


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
        ports=more.pop("ports", ()) or (port("plug", "power", "in", plug, cord=cord or _cord()),),
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
    feed = port("plug", "power", "in", plug, cord=cord or _cord())
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
    feed = port("plug", "power", "in", plug, cord=cord or _cord("6 AWG", "25 ft"))
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
