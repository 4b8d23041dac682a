"""Random builds with all sorts of supplies, boxes, strips, thin cords, heaters and motors."""

import building as b
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Build, Item, OperatingCase
from cartlayout.build.electrical import Generator
from cartlayout.units import Current, Duration, Flow, Length, Power, Temperature, Volume

_SIZES = st.sampled_from(["18 AWG", "16 AWG", "12 AWG", "1.5 mm2", "2.5 mm2"])
_LENGTHS = st.sampled_from(["0 ft", "4 ft", "25 ft", "200 ft"])
_BRANCHES = (
    b.branch("1", 15, "L1", "1", "2"),
    b.branch("2", 20, "L2", "3"),
    b.branch("3", 30, "L1 L2", "4"),
    b.branch("4", 32, "L1 L2 L3", "5"),
)


@st.composite
def powered_builds(draw: st.DrawFn) -> Build:
    """One or two supplies, what passes power on, and loads of every sort plugged in anywhere."""
    things: list[Item] = []
    free: list[str] = []
    for number in range(draw(st.integers(1, 2))):
        things.append(draw(_supplies(f"s{number}")))
        free += _receptacles(things[-1])
    wires = []
    for number in range(draw(st.integers(0, 3))):
        passing = draw(_passing(f"p{number}"))
        things.append(passing)
        wires.append(b.wire(f"{passing.id}.plug", draw(st.sampled_from(free))))
        free += _receptacles(passing)
    for number in range(draw(st.integers(1, 7))):
        load = draw(_loads(f"l{number}"))
        things.append(load)
        if free:
            wires.append(b.wire(f"{load.id}.plug", draw(st.sampled_from(free))))
    named = [one.id for one in things if one.id.startswith("l")]
    made = b.build(*things, *wires, region=draw(st.sampled_from(["US", "UK", "EU", "AU"])))
    venue = replace(
        made.venue,
        altitude_m=draw(st.sampled_from([0.0, 1800.0])),
        ambient=Temperature(draw(st.sampled_from(["20 degC", "41 degC"]))),
    )
    case = OperatingCase(
        name="Some", loads=tuple(draw(st.lists(st.sampled_from(named), unique=True)))
    )
    return replace(made, venue=venue, cases=(case,))


def _receptacles(item: Item) -> list[str]:
    return [f"{item.id}.{port.id}" for port in item.specification.ports if port.direction == "out"]


@st.composite
def _supplies(draw: st.DrawFn, name: str) -> Item:
    kind = draw(st.sampled_from(["outlet", "outlet", "generator", "battery"]))
    if kind == "battery":
        more = {"idle": Power("12 W"), "greatest_discharge": Power("1500 W")}
        return b.battery(name, volts=draw(st.sampled_from([120, 230])), electrical=more)
    system, volts = draw(_SYSTEMS)
    if kind == "generator":
        legs = draw(st.sampled_from([None, 12.5]))
        receptacles = dict.fromkeys("12345", draw(_PATTERNS))
        made = b.generator(
            name, _BRANCHES, volts, leg_amps=legs, system=system, receptacles=receptacles
        )
        return _with_fuel(draw, made)
    electrical = {"system": system, "gfci": draw(st.sampled_from([True, False, None]))}
    if draw(st.booleans()):
        electrical["limit"] = Power("1000 W")
    if draw(st.booleans()):
        electrical["run_length"] = Length(draw(st.sampled_from(["30 ft", "120 ft"])))
        electrical["run_size"] = draw(st.sampled_from([None, *_RUN_SIZES]))
    return b.outlet(
        name,
        volts,
        draw(st.sampled_from([None, 15, 16, 20, 50])),
        circuit=draw(st.sampled_from([None, "panel"])),
        receptacle=draw(_PATTERNS),
        ways=draw(st.integers(1, 3)),
        electrical=electrical,
    )


def _with_fuel(draw: st.DrawFn, made: Item) -> Item:
    role = made.specification.electrical
    assert isinstance(role, Generator)
    half = draw(st.sampled_from([None, Flow("0.9 L/hour")]))
    role = replace(
        role,
        fuel=draw(st.sampled_from([None, Volume("8 L")])),
        burn_full=Flow("1.6 L/hour"),
        burn_half=half,
        full_power=draw(st.sampled_from([None, True])),
    )
    return replace(made, specification=replace(made.specification, electrical=role))


_SYSTEMS = st.sampled_from(
    [
        ("single-phase", 120),
        ("single-phase", 230),
        ("split-phase", 240),
        ("split-phase", 208),
        ("three-phase", 208),
        ("three-phase", 400),
    ]
)
_PATTERNS = st.sampled_from(
    ["5-15R", "5-20R", "6-20R", "14-50R", "L21-30R", "CEE 7/3 R", "IEC 60309 16 A red R"]
)
_RUN_SIZES = [b.cord(size).size for size in ("12 AWG", "2.5 mm2")]


@st.composite
def _passing(draw: st.DrawFn, name: str) -> Item:
    kind = draw(st.sampled_from(["strip", "extension", "box"]))
    size, length = draw(_SIZES), draw(_LENGTHS)
    if kind == "strip":
        return b.strip(name, cord=b.cord(size, length))
    if kind == "extension":
        return b.extension(name, size, length, ways=3)
    plug = draw(st.sampled_from(["14-50P", "L21-30P", "IEC 60309 16 A red P", "5-15P"]))
    receptacles = dict.fromkeys("12345", draw(_PATTERNS))
    return b.box(
        name,
        _BRANCHES,
        draw(st.sampled_from([None, 50])),
        plug=plug,
        receptacles=receptacles,
        cord=b.cord("6 AWG", length, 3),
    )


@st.composite
def _loads(draw: st.DrawFn, name: str) -> Item:
    phases = draw(st.sampled_from([1, 1, 1, 3]))
    volts = draw(st.sampled_from([208, 400])) if phases == 3 else draw(_VOLTS)
    electrical = {
        "phases": phases,
        "power_factor": draw(st.sampled_from([1.0, 0.85, 0.6])),
        "start_multiple": draw(st.sampled_from([1.0, 3.0])),
        "fastened": draw(st.booleans()),
        "needs_own_circuit": draw(st.booleans()),
        "leakage": draw(st.sampled_from([None, Current("0.5 mA")])),
    }
    made = b.load(
        name,
        draw(st.sampled_from([None, 60, 1500, 3000])),
        draw(st.sampled_from([None, None, 0.5, 12])),
        volts,
        plug=draw(st.sampled_from(["5-15P", "6-20P", "14-50P", "IEC 60309 16 A red P", "?"])),
        cord=b.cord(draw(_SIZES), draw(_LENGTHS)),
        longest_run=None,
        electrical=electrical,
    )
    role = replace(
        made.specification.electrical,
        resistive_share=draw(st.sampled_from([1.0, 0.9, 0.0])),
        longest_run=draw(st.sampled_from([None, Duration("10 min"), Duration("4 h")])),
    )
    return replace(made, specification=replace(made.specification, electrical=role))


_VOLTS = st.sampled_from([100, 115, 120, 208, 230, 240])
