"""Builds with faults in them: samples that somebody has spoiled at random.

Every harm is what happens to carts: a plug in the wrong outlet, a thin tube, a long cord, a tank
too small, something put down in the wrong place, a number entered wrongly.
"""

import random
from collections.abc import Callable, Sequence
from pathlib import Path

from msgspec.structs import replace

from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Build, Cord, End, Item, Load, Outlet, Pump, Tank, TubeRun, Wire
from cartlayout.build.edits import move, replace_item, replace_run, rotate, set_level, with_
from cartlayout.build.file import load
from cartlayout.limits import tubes_between
from cartlayout.network.connect import tube_from
from cartlayout.units import ConductorSize, Current, Length, Mass, Power, Pressure, Volume

SAMPLES = Path(__file__).parents[3] / "sample_builds"
Harm = Callable[[random.Random, Build], Build]


def samples() -> list[Build]:
    """The sample builds, the same order every time."""
    return [load(path) for path in sorted(SAMPLES.glob("*.cart"))]


def faulty(seed: int, builds: Sequence[Build]) -> Analysis:
    """One of the builds with one to four harms done to it."""
    chance = random.Random(seed)
    build = chance.choice(builds)
    for _ in range(chance.randint(1, 4)):
        build = chance.choice(_HARMS)(chance, build)
    return analyse(build)


def _items(build: Build) -> list[Item]:
    return [item for item in build.items if item.level != "venue"]


def _replaced(build: Build, item: Item, **fields: object) -> Build:
    return replace_item(build, replace(item, specification=replace(item.specification, **fields)))


def _moved(chance: random.Random, build: Build) -> Build:
    item = chance.choice(_items(build))
    return move(build, (item.id,), chance.uniform(-0.5, 0.5), chance.uniform(-0.3, 0.3))


def _turned(chance: random.Random, build: Build) -> Build:
    return rotate(build, (chance.choice(_items(build)).id,), chance.choice([90.0, 180.0, 37.0]))


def _on_another_level(chance: random.Random, build: Build) -> Build:
    item = chance.choice(_items(build))
    return set_level(build, (item.id,), chance.choice(build.cart.levels).name)


def _lost_level(chance: random.Random, build: Build) -> Build:
    item = chance.choice(_items(build))
    return replace_item(build, replace(item, level="mezzanine"))


def _receptacles(build: Build) -> list[End]:
    return [
        End(item=item.id, port=port.id)
        for item in build.items
        for port in item.specification.ports
        if port.medium == "power" and port.direction == "out"
    ]


def _replugged(chance: random.Random, build: Build) -> Build:
    """A plug into any receptacle, whether it is taken or even fits."""
    if not build.wires:
        return build
    wire = chance.choice(build.wires)
    return replace_run(build, replace(wire, b=chance.choice(_receptacles(build)), waypoints=()))


def _unplugged(chance: random.Random, build: Build) -> Build:
    if not build.wires:
        return build
    gone = chance.choice(build.wires).id
    return with_(build, runs=tuple(run for run in build.runs if run.id != gone))


def _corded(chance: random.Random, build: Build) -> Build:
    wires = list(build.wires)
    if not wires:
        return build
    us = build.units == "US"
    size = ConductorSize(chance.choice(["18 AWG", "16 AWG"] if us else ["0.75 mm2", "1 mm2"]))
    length = Length(f"{chance.choice([0.5, 2, 30, 60])} m")
    wire = chance.choice(wires)
    return replace_run(build, replace(wire, cord=Cord(size=size, length=length)))


def _heavier_load(chance: random.Random, build: Build) -> Build:
    loads = [item for item in build.items if isinstance(item.specification.electrical, Load)]
    item = chance.choice(loads)
    role = item.specification.electrical
    assert isinstance(role, Load)
    more: dict[str, object] = {}
    factor = chance.choice([1.5, 2.5])
    if role.power is not None:
        more["power"] = Power(f"{role.power.si * factor:.0f} W")
    if role.current is not None:
        more["current"] = Current(f"{role.current.si * factor:.2f} A")
    if chance.random() < 0.3:
        more["needs_own_circuit"] = True
    return _replaced(build, item, electrical=replace(role, **more))


def _poorer_outlet(chance: random.Random, build: Build) -> Build:
    outlets = [item for item in build.items if isinstance(item.specification.electrical, Outlet)]
    if not outlets:
        return build
    item = chance.choice(outlets)
    role = item.specification.electrical
    assert isinstance(role, Outlet)
    fields = chance.choice(
        [
            {"breaker": Current("10 A")},
            {"gfci": False},
            {"gfci": None},
            {"circuit": None, "breaker": None},
            {"limit": Power("1200 W")},
            {"shared": True},
        ]
    )
    return _replaced(build, item, electrical=replace(role, **fields))


def _one_circuit(chance: random.Random, build: Build) -> Build:
    """Every outlet of the venue is on one circuit after all."""
    for item in build.items:
        role = item.specification.electrical
        if isinstance(role, Outlet):
            build = _replaced(build, item, electrical=replace(role, circuit="one"))
    return build


def _other_tube(chance: random.Random, build: Build) -> Build:
    """The thinnest that fits, or one that does not fit at all."""
    tubes = [tube for tube in build.tubes if tube.b is not None]
    if not tubes:
        return build
    tube = chance.choice(tubes)
    rows = sorted(_rows(build, tube), key=lambda row: row.bore.si)
    if not rows:
        return build
    return replace_run(build, replace(tube, tube=tube_from(rows[0])))


def _rows(build: Build, tube: TubeRun):
    ports = []
    for end in (tube.a, tube.b):
        item = build.item(end.item) if end is not None else None
        port = item.specification.port(end.port) if item is not None and end is not None else None
        if port is None:
            return []
        ports.append(port)
    return tubes_between(ports[0].connector, ports[1].connector, ports[0].medium)


def _lost_tube(chance: random.Random, build: Build) -> Build:
    if not build.tubes:
        return build
    gone = chance.choice(build.tubes)
    if chance.random() < 0.5:
        return replace_run(build, replace(gone, b=None))
    return with_(build, runs=tuple(run for run in build.runs if run.id != gone.id))


def _swapped_ends(chance: random.Random, build: Build) -> Build:
    """The ends of two runs of a sort are mixed up."""
    kind = chance.choice([Wire, TubeRun])
    runs = [run for run in build.runs if isinstance(run, kind) and run.b is not None]
    if len(runs) < 2:
        return build
    one, other = chance.sample(runs, 2)
    build = replace_run(build, replace(one, b=other.b))
    return replace_run(build, replace(other, b=one.b))


def _other_tank(chance: random.Random, build: Build) -> Build:
    tanks = [item for item in build.items if isinstance(item.specification.water, Tank)]
    if not tanks:
        return build
    item = chance.choice(tanks)
    role = item.specification.water
    assert isinstance(role, Tank)
    volume = Volume(f"{role.volume.si * 1000.0 * chance.choice([0.4, 0.8, 2.0]):.1f} L")
    return _replaced(build, item, water=replace(role, volume=volume))


def _weaker_pump(chance: random.Random, build: Build) -> Build:
    pumps = [item for item in build.items if isinstance(item.specification.water, Pump)]
    if not pumps:
        return build
    item = chance.choice(pumps)
    role = item.specification.water
    assert isinstance(role, Pump)
    share = chance.choice([0.5, 1.4])
    return _replaced(
        build,
        item,
        water=replace(
            role,
            cut_in=Pressure(f"{role.cut_in.si * share:.0f} Pa"),
            cut_out=Pressure(f"{role.cut_out.si * share:.0f} Pa"),
        ),
    )


def _lower_boards(chance: random.Random, build: Build) -> Build:
    levels = list(build.cart.levels)
    at = chance.randrange(len(levels))
    levels[at] = replace(levels[at], clear_height=Length("7 in"))
    return with_(build, cart=replace(build.cart, levels=tuple(levels)))


def _weaker_casters(chance: random.Random, build: Build) -> Build:
    casters = tuple(replace(one, rating=Mass("40 kg")) for one in build.cart.casters)
    return with_(build, cart=replace(build.cart, casters=casters))


def _wheels_inward(chance: random.Random, build: Build) -> Build:
    middle = build.cart.depth.si / 2
    casters = tuple(
        replace(one, y=Length(f"{middle + 0.35 * (one.y.si - middle):.4f} m"))
        for one in build.cart.casters
    )
    return with_(build, cart=replace(build.cart, casters=casters))


_HARMS: tuple[Harm, ...] = (
    _moved,
    _moved,
    _turned,
    _on_another_level,
    _lost_level,
    _replugged,
    _replugged,
    _unplugged,
    _corded,
    _heavier_load,
    _poorer_outlet,
    _one_circuit,
    _other_tube,
    _lost_tube,
    _swapped_ends,
    _other_tank,
    _weaker_pump,
    _lower_boards,
    _weaker_casters,
    _wheels_inward,
)
