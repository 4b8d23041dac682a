"""Pumps, vessels, tubes and valves with nonsense on their labels: an answer, and no exception."""

import math

import msgspec
from building import accumulator, build, drawn, load, outlet, pump, tank, tap, tube, wire
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cartlayout.analysis import analyse
from cartlayout.build import OperatingCase, PumpPoint, Service
from cartlayout.units import (
    Current,
    Duration,
    Flow,
    Length,
    Pressure,
    UnitSystem,
    Voltage,
    Volume,
)

NUMBERS = st.sampled_from(["0", "1e-12", "0.01", "1", "3", "50", "1e6", "1e9", "-1", "-50"])
PRESSURES = NUMBERS.map(lambda number: Pressure(f"{number} bar"))
FLOWS = NUMBERS.map(lambda number: Flow(f"{number} L/min"))
CURRENTS = NUMBERS.map(lambda number: Current(f"{number} A"))
LENGTHS = NUMBERS.map(lambda number: Length(f"{number} cm"))
TIMES = NUMBERS.map(lambda number: Duration(f"{number} s"))
VOLUMES = NUMBERS.map(lambda number: Volume(f"{number} L"))
FLOATS = NUMBERS.map(float)


def changed(item, role: str, **fields):
    """An item with fields of its water or electrical side changed."""
    specification = item.specification
    made = msgspec.structs.replace(getattr(specification, role), **fields)
    return msgspec.structs.replace(
        item, specification=msgspec.structs.replace(specification, **{role: made})
    )


@st.composite
def carts(draw):
    maybe = st.none()
    motor = load("pump", draw(st.sampled_from([0, 60, 1e9])), level="base")
    made = pump("pump")
    specification = msgspec.structs.replace(
        made.specification,
        electrical=motor.specification.electrical,
        ports=(*made.specification.ports, *motor.specification.ports),
    )
    made = changed(
        msgspec.structs.replace(made, specification=specification),
        "water",
        curve=tuple(
            draw(
                st.lists(
                    st.builds(PumpPoint, pressure=PRESSURES, flow=FLOWS, current=maybe | CURRENTS),
                    max_size=3,
                )
            )
        ),
        cut_in=draw(PRESSURES),
        cut_out=draw(PRESSURES),
        greatest_lift=draw(LENGTHS),
        net_suction_head=draw(maybe | LENGTHS),
        starts_per_hour=draw(maybe | FLOATS),
        voltage=draw(maybe | NUMBERS.map(lambda number: Voltage(f"{number} V"))),
    )
    vessel = changed(
        accumulator("vessel"), "water", volume=draw(VOLUMES), pre_charge=draw(PRESSURES)
    )
    jug = changed(
        tank("jug", fill=draw(st.sampled_from([0.0, 0.5, 1.0, 7.0]))),
        "water",
        volume=draw(VOLUMES),
        pick_up=draw(LENGTHS),
    )
    machine = tap("machine", drawn("1 L/min"), least="0 bar")
    inlet = msgspec.structs.replace(
        machine.specification.water.inlets[0], closing_time=draw(maybe | TIMES)
    )
    machine = changed(machine, "water", inlets=(inlet,), per_drink=draw(maybe | VOLUMES))

    def soft(run):
        kind = msgspec.structs.replace(
            run.tube,
            elastic_modulus=draw(maybe | PRESSURES),
            rating=draw(maybe | PRESSURES),
            bore=draw(LENGTHS),
        )
        return msgspec.structs.replace(run, tube=kind)

    service = Service(
        hours=draw(TIMES), drinks_per_hour=draw(FLOATS), water_per_drink=draw(VOLUMES)
    )
    return build(
        outlet("outlet"),
        jug,
        made,
        vessel,
        machine,
        wire("pump", "outlet.1"),
        soft(tube("jug", "pump")),
        soft(tube("pump", "vessel.a")),
        soft(tube("vessel.b", "machine")),
        service=service,
        cases=(OperatingCase(name="Brewing", taps=("machine",)),),
    )


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(carts())
def test_nonsense_is_answered(made):
    analysis = analyse(made)
    for finding in analysis.findings:
        for phrase in (finding.title, finding.detail, *finding.working):
            assert "nan" not in phrase.shown(UnitSystem.METRIC).lower().split()
    for duty in analysis.water.duties:
        assert not math.isnan(duty.most_starts_per_hour)
        assert duty.most_starts_per_hour >= 0.0
        for point in duty.points:
            assert 0.0 <= point.share_on <= 1.0
    for knock in analysis.water.surges:
        assert knock.rise_pa <= knock.bound_pa
    assert analyse(made, analysis).water == analysis.water
