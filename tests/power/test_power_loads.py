"""What a nameplate says an appliance draws, as the voltage and the connection change."""

import math

import pytest
from building import build, load, outlet, wire

from cartlayout.build import Load
from cartlayout.network import make_network
from cartlayout.power import solve_power
from cartlayout.power.loads import a_third, load_model
from cartlayout.units import Current, Voltage


@pytest.mark.parametrize("share", [1.0, 0.9, 0.8, 0.71])
def test_what_holds_its_power_holds_it_down_to_70_percent(share):
    """Load-flow practice, from memory: constant power becomes an impedance below 0.7 of rated."""
    model = load_model(Load(voltage=Voltage("120 V"), current=Current("5 A"), resistive_share=0.0))
    assert model.watts(complex(120.0 * share)) == pytest.approx(600.0)


def test_below_70_percent_it_is_an_impedance():
    """Ohm's law: at half of rated volts, (0.5 / 0.7) squared of 600 W are 306.1 W."""
    model = load_model(Load(voltage=Voltage("120 V"), current=Current("5 A"), resistive_share=0.0))
    assert model.watts(60 + 0j) == pytest.approx(306.1, abs=0.1)


@pytest.mark.parametrize(
    ("supply_v", "amps"),
    # NEC 2023 220.14: an appliance counts by its rating. 10 A at 115 V; on 120 V a motor that holds
    # its power would take 9.58 A and is counted with 10, on 110 V it takes 115 x 10 / 110.
    [(120, 10.0), (115, 10.0), (110, 10.45)],
)
def test_a_motor_never_counts_for_less_than_its_nameplate(supply_v, amps):
    made = build(
        outlet("wall", supply_v, 20),
        load("motor", amps=10, volts=115, heater=False),
        wire("motor", "wall.1"),
    )
    power = solve_power(made, make_network(made))
    assert power.circuits[0].loads[0].amps == pytest.approx(amps, abs=0.005)


@pytest.mark.parametrize(("to_neutral", "volts", "amps"), [(True, 120.1, 10), (False, 208, 5.774)])
def test_a_third_of_a_star_and_of_a_delta(to_neutral, volts, amps):
    """Text-books on three-phase circuits: a star's phase has the line's amps and its volts over
    sqrt 3, a delta's the line's volts and its amps over sqrt 3. 208 V, 10 A in each line.
    """
    whole = Load(voltage=Voltage("208 V"), current=Current("10 A"), phases=3)
    third = a_third(whole, to_neutral=to_neutral)
    assert third.voltage.si == pytest.approx(volts, abs=0.05)
    assert third.current is not None
    assert third.current.si == pytest.approx(amps, abs=0.001)
    # Three of them take sqrt 3 x 208 V x 10 A = 3603 VA.
    assert 3 * third.voltage.si * third.current.si == pytest.approx(math.sqrt(3) * 2080, rel=1e-9)
