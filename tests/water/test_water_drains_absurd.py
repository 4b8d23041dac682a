"""Drains that make no sense: answered without an exception or a NaN, the same from step to step."""

import math
from dataclasses import fields, is_dataclass
from typing import Any

from building import basin, build, drawn, floor_drain, item, mains, port, tank, tap, tube
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Build, Drain, DrainPump, Service, Venue, WayPoint
from cartlayout.build.edits import move
from cartlayout.findings.water_rules import rules
from cartlayout.network import make_network
from cartlayout.units import Duration, Flow, Length, Mass, Temperature, UnitSystem, Volume
from cartlayout.water import solve_water

NUMBERS = st.sampled_from(["0", "1e-12", "0.01", "1", "30", "1e6", "1e9", "-1", "-50"])
LENGTHS = NUMBERS.map(lambda number: Length(f"{number} mm"))
FLOWS = NUMBERS.map(lambda number: Flow(f"{number} L/min"))
VOLUMES = NUMBERS.map(lambda number: Volume(f"{number} L"))
MASSES = NUMBERS.map(lambda number: Mass(f"{number} g"))
SHARES = st.sampled_from([0.0, 0.3, 1.0, 7.0, -3.0])
WAYS = st.builds(
    WayPoint,
    x=st.integers(-9, 90).map(lambda at: Length(f"{at} in")),
    y=st.integers(-9, 40).map(lambda at: Length(f"{at} in")),
    height=st.none() | LENGTHS,
)


@st.composite
def carts(draw: st.DrawFn) -> Build:
    lifter = item(
        "lifter",
        ports=(
            port("inlet", "drain", "in", "drain 1 in", "8 in"),
            port("outlet", "drain", "out", "drain 1 in", "2 in"),
        ),
        water=DrainPump(sump=draw(VOLUMES), flow=draw(FLOWS), lift=draw(LENGTHS)),
        level="base",
        at=("45 in", "15 in"),
    )
    gather = item(
        "gather",
        ports=(
            port("inlet", "drain", "in", "drain 1 in", "3 in"),
            port("outlet", "drain", "out", "drain 1 in", "1 in"),
        ),
        water=basin("x").specification.water,
        level="base",
    )
    floor = floor_drain("floor", at=("90 in", "15 in"))
    role = Drain(capacity=draw(st.none() | FLOWS), air_gap=draw(st.none() | LENGTHS))
    floor = replace(floor, specification=replace(floor.specification, water=role))
    waste = tank(
        "waste",
        "6 gal",
        "waste",
        at=("60 in", "15 in"),
        level=draw(st.sampled_from(["base", "counter"])),
    )
    spec = waste.specification
    spec = replace(
        spec,
        water=replace(spec.water, volume=draw(VOLUMES), overflow=draw(st.none() | LENGTHS)),
        ports=(*spec.ports, port("outlet", "drain", "out", "drain 1/2 in", "1 in")),
    )
    waste = replace(waste, specification=spec)
    appliance = {
        "drained_share": draw(SHARES),
        "per_drink": draw(st.none() | VOLUMES),
        "air_gap": draw(st.none() | LENGTHS),
        "reservoir": draw(st.none() | VOLUMES),
        "feed": draw(st.sampled_from(["own reservoir", "line pressure"])),
    }
    things = (
        mains("mains", "3 bar", connector="3/8 push-fit"),
        tap("rinser", drawn("2 L/min"), drain="drain 1 in", water=appliance, at=("20 in", "15 in")),
        basin("sink", at=("9 in", "20 in")),
        tank("fresh", draw(VOLUMES).text),
        lifter,
        gather,
        floor,
        waste,
    )
    outs = ["rinser.drain", "sink.drain", "lifter.outlet", "gather.outlet", "waste.outlet"]
    ins = ["lifter.inlet", "gather.inlet", "floor.inlet", "waste.inlet", "gather.outlet"]
    runs = [
        replace(
            tube(a, b, None, run_id=f"r{at}", outer="1.3 in"),
            waypoints=tuple(draw(st.lists(WAYS, max_size=2))),
            length=draw(st.none() | LENGTHS),
        )
        for at, (a, b) in enumerate(
            draw(st.lists(st.tuples(st.sampled_from(outs), st.sampled_from(ins)), max_size=6))
        )
    ]
    runs = [
        replace(run, tube=replace(run.tube, bore=draw(LENGTHS), roughness=draw(LENGTHS)))
        for run in runs
    ]
    return build(
        *things,
        tube("mains", "rinser", "1 m", "8 mm"),
        *runs,
        service=Service(
            hours=Duration(f"{draw(st.sampled_from(['0', '4', '1e6', '-3']))} h"),
            drinks_per_hour=draw(st.sampled_from([0.0, 30.0, 1e9, -5.0])),
            water_per_drink=draw(VOLUMES),
            rinse_per_drink=draw(VOLUMES),
            waste_besides_fresh=draw(VOLUMES),
            ice_per_drink=draw(MASSES),
            poured_away_per_drink=draw(VOLUMES),
        ),
        venue=Venue(water_temperature=Temperature(draw(st.sampled_from(["20 degC", "500 degC"])))),
    )


def numbers(value: Any) -> list[float]:
    """Every number in a result, however deep."""
    if isinstance(value, float):
        return [value]
    if isinstance(value, dict):
        return [number for inner in value.values() for number in numbers(inner)]
    if isinstance(value, tuple):
        return [number for inner in value for number in numbers(inner)]
    if is_dataclass(value):
        return [
            number
            for one in fields(value)
            if one.name != "reads"
            for number in numbers(getattr(value, one.name))
        ]
    return []


@settings(deadline=None, max_examples=80, suppress_health_check=list(HealthCheck))
@given(carts(), st.sampled_from(["rinser", "waste", "lifter", "gather"]))
def test_answered_whatever_stands_there(made: Build, moved: str) -> None:
    network = make_network(made)
    result = solve_water(made, network)
    told = (result.drains, result.drain_pumps, result.air_gaps, result.balance)
    assert not [number for number in numbers(told) if math.isnan(number)]
    for one in rules(made, network, result):
        assert one.text(UnitSystem.US)
        assert "nan" not in one.text(UnitSystem.METRIC).split()
    after = move(made, (moved,), 0.05, 0.02)
    following = make_network(after, network)
    again, anew = solve_water(after, following, result), solve_water(after, following)
    assert again.drains == anew.drains
    assert again.drain_pumps == anew.drain_pumps
    assert again.air_gaps == anew.air_gaps
    assert again.balance == anew.balance
