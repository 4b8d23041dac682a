"""Two sources that nothing keeps apart: both are named, and the tubes between them.

Food Code 5-203.14: backflow is prevented at each point of use, by an air gap or a device; that
communicating vessels come to stand alike is hydrostatics (any text on fluid mechanics).
"""

import pytest
from building import build, check_valve, mains, pump, regulator, shut_off, tank, tap, tee, tube
from msgspec.structs import replace

from cartlayout.findings.water_rules import rules
from cartlayout.network import make_network
from cartlayout.units import Length, UnitSystem
from cartlayout.water import solve_water

CODE = "water.sources-joined"


def joined(*things):
    made = build(*things)
    network = make_network(made)
    found = list(rules(made, network, solve_water(made, network)))
    return [one for one in found if one.code == CODE]


def venue(name="mains", usual="60 psi"):
    return mains(name, usual, connector="3/8 push-fit", level="base")


def with_tap(*things):
    """Whatever ends at the tee's a and b feeds one tap."""
    return joined(*things, tee("tee"), tap("tap"), tube("tee.c", "tap"))


def test_mains_and_a_tank_at_one_tee():
    (found,) = with_tap(venue(), tank("jug"), tube("mains", "tee.a"), tube("jug", "tee.b"))
    assert found.severity == "stop"
    assert set(found.items) == {"mains", "jug"}
    assert set(found.runs) == {"tube mains tee.a", "tube jug tee.b"}
    words = found.text(UnitSystem.METRIC)
    assert "overflows" in words  # one way
    assert "others drink" in words  # and the other
    assert len(found.working) == 2


def test_a_check_valve_behind_each_keeps_them_apart():
    assert not with_tap(
        venue(),
        tank("jug"),
        check_valve("one"),
        check_valve("other"),
        tube("mains", "one.inlet"),
        tube("one.outlet", "tee.a"),
        tube("jug", "other.inlet"),
        tube("other.outlet", "tee.b"),
    )


def test_a_check_valve_behind_one_of_them_only_is_told_which_way_is_left():
    (found,) = with_tap(
        venue(),
        tank("jug"),
        check_valve("one"),
        tube("mains", "one.inlet"),
        tube("one.outlet", "tee.a"),
        tube("jug", "tee.b"),
    )
    words = found.text(UnitSystem.METRIC)
    assert "overflows" in words
    assert "others drink" not in words
    assert "tube jug tee.b" in found.runs


@pytest.mark.parametrize(("inlet", "outlet"), [("inlet", "outlet"), ("outlet", "inlet")])
def test_a_check_valve_whose_ports_say_nothing_begins_at_the_first(inlet, outlet):
    plain = check_valve("one")
    ports = tuple(replace(port, direction="through") for port in plain.specification.ports)
    plain = replace(plain, specification=replace(plain.specification, ports=ports))
    found = with_tap(
        venue(),
        tank("jug", water={"foot_valve": True}),
        plain,
        tube("jug", "tee.b"),
        tube("mains", f"one.{inlet}"),
        tube(f"one.{outlet}", "tee.a"),
    )
    assert bool(found) == (inlet == "outlet")


def test_a_foot_valve_keeps_the_main_out_of_the_tank():
    (found,) = with_tap(
        venue(),
        tank("jug", water={"foot_valve": True}),
        tube("mains", "tee.a"),
        tube("jug", "tee.b"),
    )
    words = found.text(UnitSystem.METRIC)
    assert "overflows" not in words
    assert "others drink" in words


def test_a_pump_and_the_mains_on_one_line():
    """A regulator is no device against backflow; the pump's own valves hold the main back."""
    (found,) = with_tap(
        venue(),
        tank("jug"),
        pump("pump"),
        regulator("regulator", "30 psi"),
        tube("jug", "pump.inlet"),
        tube("pump.outlet", "tee.b"),
        tube("mains", "regulator.inlet"),
        tube("regulator.outlet", "tee.a"),
    )
    assert found.severity == "stop"
    words = found.text(UnitSystem.METRIC)
    assert "others drink" in words
    assert "overflows" not in words


@pytest.mark.parametrize("is_open", [True, False])
def test_a_shut_valve_keeps_them_apart(is_open):
    found = with_tap(
        venue(),
        tank("jug"),
        shut_off("valve", is_open=is_open),
        tube("mains", "valve.a"),
        tube("valve.b", "tee.a"),
        tube("jug", "tee.b"),
    )
    assert bool(found) == is_open


def test_two_mains():
    (found,) = with_tap(venue("one"), venue("two"), tube("one", "tee.a"), tube("two", "tee.b"))
    assert found.severity == "stop"
    assert set(found.runs) == {"tube one tee.a", "tube two tee.b"}


def test_mains_tube_straight_into_a_tank():
    (found,) = joined(venue(), tank("jug"), tube("mains", "jug.outlet"))
    assert found.runs == ("tube mains jug.outlet",)


def test_a_tank_filled_from_above_is_not_joined():
    """Water that falls into an inlet at the top has no way back."""
    filled = tank("jug")
    inlet = replace(filled.specification.ports[0], id="fill", direction="in", z=Length("10 in"))
    ports = (*filled.specification.ports, inlet)
    filled = replace(filled, specification=replace(filled.specification, ports=ports))
    assert not joined(venue(), filled, tube("mains", "jug.fill"))


@pytest.mark.parametrize(
    ("one", "other", "severity", "end"),
    [
        # Two alike side by side hold what one twice as wide would.
        ({"fill": 1.0}, {"fill": 1.0}, None, ""),
        # One full and one half full come to stand at three quarters.
        ({"fill": 1.0}, {"fill": 0.5}, "care", "alike"),
        # One on the counter empties itself over the brim of one on the floor.
        ({"fill": 1.0, "level": "counter"}, {"fill": 0.5}, "stop", "overflows"),
        # An empty one gives nothing.
        ({"fill": 0.0, "level": "counter"}, {"fill": 0.5}, None, ""),
    ],
)
def test_two_tanks_at_one_tee(one, other, severity, end):
    found = with_tap(
        tank("one", **one), tank("two", **other), tube("one", "tee.a"), tube("two", "tee.b")
    )
    assert [each.severity for each in found] == ([severity] if severity else [])
    assert all(end in each.text(UnitSystem.METRIC) for each in found)


def test_a_pump_that_fills_the_other_tank():
    (found,) = with_tap(
        tank("one"),
        tank("two"),
        pump("pump"),
        tube("one", "pump.inlet"),
        tube("pump.outlet", "tee.a"),
        tube("two", "tee.b"),
    )
    assert found.severity == "stop"
    assert "pump" in found.text(UnitSystem.METRIC)


def test_sources_that_nothing_joins():
    assert not joined(
        venue(), tank("jug"), tap("one"), tap("two"), tube("mains", "one"), tube("jug", "two")
    )
