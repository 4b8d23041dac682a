"""Nameplates with nonsense on them: the water side answers, without an exception or a NaN."""

import math

from building import (
    accumulator,
    build,
    check_valve,
    drawn,
    fill,
    heater,
    load,
    mains,
    opening,
    point,
    pump,
    regulator,
    shut_off,
    tank,
    tap,
    tee,
    tube,
    water_filter,
)
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cartlayout.build import Bypass, Service, Venue
from cartlayout.findings.water_rules import rules
from cartlayout.network import make_network
from cartlayout.units import (
    Concentration,
    Duration,
    Flow,
    Pressure,
    Temperature,
    UnitSystem,
    Volume,
)
from cartlayout.water import solve_water

NUMBERS = st.sampled_from(["0", "1e-12", "0.01", "1", "3", "50", "1e6", "1e9", "-1", "-50"])
FLOWS = NUMBERS.map(lambda number: f"{number} L/min")
PRESSURES = NUMBERS.map(lambda number: f"{number} bar")
LENGTHS = NUMBERS.map(lambda number: f"{number} mm")
VOLUMES = NUMBERS.map(lambda number: f"{number} L")
HARDNESSES = NUMBERS.map(lambda number: f"{number} mg/L")
TEMPERATURES = st.sampled_from(["20 degC", "-400 degC", "60 degC", "500 degC"])
SHARES = [0.0, 1e-9, 0.3, 0.9999999, 1.0, -3.0, 7.0]
POINTS = st.builds(point, FLOWS, PRESSURES)


@st.composite
def carts(draw):
    tap_window = {"required_flow": FLOWS, "least": PRESSURES, "greatest": PRESSURES}

    def window():
        return {name: draw(kind) for name, kind in tap_window.items()}

    extras = {"creep": Pressure(draw(PRESSURES)), "wide_open": draw(POINTS), "droop": draw(POINTS)}
    used = {
        "used": draw(st.sampled_from([0.0, 1.0, 7.0, -3.0])),
        "capacity": draw(st.none() | VOLUMES.map(Volume)),
        "capacity_hardness": draw(st.none() | HARDNESSES.map(Concentration)),
        "softens": draw(st.booleans()),
        "purifies": draw(st.booleans()),
    }
    extras["rated_flow"] = draw(st.none() | FLOWS.map(Flow))
    bypass = draw(st.none() | st.tuples(PRESSURES, PRESSURES))
    warms = {
        "least_pressure": draw(st.none() | PRESSURES.map(Pressure)),
        "least_flow": draw(st.none() | FLOWS.map(Flow)),
        "greatest_pressure": draw(st.none() | PRESSURES.map(Pressure)),
    }
    items = (
        tank(
            "jug",
            fill=draw(st.sampled_from([0.0, 0.5, 1.0, -1.0, 7.0])),
            water={"foot_valve": draw(st.booleans())},
        ),
        mains("mains", draw(PRESSURES), connector="3/8 push-fit", residual=draw(POINTS)),
        pump(
            "pump",
            draw(st.lists(st.tuples(PRESSURES, FLOWS), max_size=4)),
            draw(PRESSURES),
            draw(PRESSURES),
            water={
                "bypass": bypass and Bypass(opens=Pressure(bypass[0]), full=Pressure(bypass[1]))
            },
        ),
        heater(
            "heater",
            draw(TEMPERATURES),
            draw(POINTS),
            warms,
            electrical=load(
                "x", draw(st.sampled_from([0.0, 1500.0, 1e12]))
            ).specification.electrical,
        ),
        water_filter("filter", draw(POINTS), draw(POINTS), rated_flow=draw(FLOWS), water=used),
        regulator("regulator", draw(PRESSURES), extras),
        check_valve(
            "check",
            draw(POINTS),
            draw(PRESSURES),
            water={name: draw(st.booleans()) for name in ("vented", "stuck_open")},
        ),
        shut_off("valve", draw(POINTS), closed_share=draw(st.sampled_from(SHARES))),
        accumulator("vessel", "1 L", draw(PRESSURES)),
        tee("tee", 5),
        tap("open", opening(draw(FLOWS), draw(PRESSURES), draw(FLOWS)), **window()),
        tap(
            "drawn",
            drawn(draw(FLOWS)),
            highest_temperature=draw(TEMPERATURES),
            water={"carbonates": draw(st.booleans()), "level_probe": draw(st.booleans())},
            **window(),
        ),
        tap("fill", fill(draw(FLOWS), draw(PRESSURES), draw(PRESSURES)), **window()),
    )
    ends = (
        (draw(st.sampled_from(["jug", "mains"])), "pump"),
        ("pump", "filter"),
        ("filter", "tee.a"),
        ("tee.b", "regulator"),
        ("regulator", "open"),
        ("tee.c", "check"),
        ("check", "heater"),
        ("heater", "drawn"),
        ("tee.d", "valve.a"),
        ("valve.b", "fill"),
        ("tee.e", "vessel.a"),
    )
    tubes = [
        tube(
            a,
            b,
            draw(st.one_of(st.none(), LENGTHS)),
            draw(st.one_of(st.just("6 mm"), LENGTHS)),
            roughness=draw(LENGTHS),
            fittings=[("elbow", draw(st.sampled_from([0.0, 1.0, -5.0, 1e9])), 2)],
        )
        for a, b in ends
    ]
    venue = Venue(
        altitude_m=draw(st.sampled_from([0.0, 3000.0, -500.0, 1e9])),
        water_temperature=Temperature(draw(TEMPERATURES)),
        hardness=draw(st.none() | HARDNESSES.map(Concentration)),
        dissolved=draw(st.none() | HARDNESSES.map(Concentration)),
    )
    service = Service(
        hours=Duration(draw(NUMBERS.map(lambda number: f"{number} h"))),
        drinks_per_hour=draw(st.sampled_from([0.0, 30.0, -5.0, 1e9])),
        water_per_drink=Volume(draw(VOLUMES)),
        rinse_per_drink=Volume(draw(VOLUMES)),
    )
    return build(*items, *tubes, venue=venue, service=service)


@settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))
@given(carts())
def test_nonsense_is_answered(made):
    network = make_network(made)
    result = solve_water(made, network)
    for case in result.cases.values():
        assert not case.converged or case.worst_imbalance < 1e-9
        assert all(map(math.isfinite, case.pressures_pa.values()))
        assert all(math.isfinite(run.velocity_m_s) for run in case.runs.values())
    for one in result.taps:
        for state in one.states.values():
            assert math.isfinite(state.pressure_pa)
            assert state.flow >= 0.0
    for finding in rules(made, network, result):
        assert finding.text(UnitSystem.US)
