"""Who robs whom: taps alone, in pairs, and all of them."""

import importlib

import pytest
from building import (
    build,
    drawn,
    item,
    mains,
    opening,
    pump,
    tank,
    tap,
    tee,
    tube,
)

from cartlayout.build import Build, OperatingCase
from cartlayout.build.edits import move
from cartlayout.findings import Finding
from cartlayout.findings.water_rules import rules
from cartlayout.limits import loss_coefficient
from cartlayout.network import make_network
from cartlayout.units import UnitSystem
from cartlayout.water import ALL_OPEN, WaterResult, alone, solve_water
from cartlayout.water.properties import water
from cartlayout.water.supply_results import pair

BAR = 1e5
L_MIN = 1.0 / 60_000.0
LINE = (3.0, 0.00635)
"""Length and bore [m] of the tube that two taps share."""
BRANCH = (1.0, 0.00635)


def judged(made: Build, before: WaterResult | None = None) -> tuple[WaterResult, list[Finding]]:
    network = make_network(made)
    result = solve_water(made, network, before)
    return result, list(rules(made, network, result))


def shared_line(**more: object) -> Build:
    """Mains that give 3 bar whatever is drawn, one tube for two taps at the height of the mains."""
    level = {"level": "base", "height": "2 in"}
    return build(
        mains("mains", "3 bar", connector="3/8 push-fit", level="base", height="2 in"),
        tee("tee"),
        tap("machine", drawn("2 L/min"), required_flow="2 L/min", least="2.3 bar", **level),
        tap(
            "rinser", opening("4 L/min", "1.5 bar"), required_flow="3 L/min", least="1 bar", **level
        ),
        tube("mains", "tee.a", f"{LINE[0]} m"),
        tube("tee.b", "machine", f"{BRANCH[0]} m"),
        tube("tee.c", "rinser", f"{BRANCH[0]} m"),
        **more,
    )


def by_epanet(opened: set[str]) -> dict[str, float]:
    """Pressure [Pa] at each tap of `shared_line`, by EPANET: 3 bar, a demand and an emitter.

    Tube ends lose what the tables say of them; both engines get the same.
    """
    pytest.importorskip("epanet", reason="owa-epanet has wheels for Linux below Python 3.13")
    reference = importlib.import_module("epanet_reference")
    fluid = water(293.15)
    with reference.Epanet(fluid) as net:
        net.fix("mains", 0.0, 3 * BAR)
        net.node("tee")
        net.node("machine", demand=2 * L_MIN if "machine" in opened else 0.0)
        net.node("rinser")
        if "rinser" in opened:
            net.emitter("rinser", 4 * L_MIN, 1.5 * BAR)
        minor = 2 * loss_coefficient("union, threaded")
        net.pipe("line", "mains", "tee", *LINE, minor=minor)
        net.pipe("to-machine", "tee", "machine", *BRANCH, minor=minor)
        net.pipe("to-rinser", "tee", "rinser", *BRANCH, minor=minor)
        pressures, _ = net.solve()
    return pressures


def test_a_pair_is_what_a_second_engine_says():
    """EPANET 2.3: the machine alone, and with the rinser open as well."""
    result, _ = judged(shared_line())
    (machine,) = [one for one in result.together if one.item == "machine"]
    assert machine.case == pair("machine", "rinser")
    assert [one.name for one in machine.by] == ["rinser"]
    assert machine.alone_pa == pytest.approx(by_epanet({"machine"})["machine"], rel=0.01)
    both = by_epanet({"machine", "rinser"})
    assert machine.pressure_pa == pytest.approx(both["machine"], rel=0.01)
    (rinser,) = [one for one in result.together if one.item == "rinser"]
    assert rinser.pressure_pa == pytest.approx(both["rinser"], rel=0.01)
    assert rinser.alone_pa == pytest.approx(by_epanet({"rinser"})["rinser"], rel=0.01)


def test_one_finding_names_who_robs_a_tap_that_has_enough_alone():
    result, findings = judged(shared_line())
    assert result.tap("machine").states[alone("machine")].pressure_ok
    (found,) = [one for one in findings if one.code == "water.together"]
    assert found.severity == "care"
    assert found.items[:2] == ("machine", "rinser")
    assert found.runs == ("tube mains tee.a",), "the tube that both share takes most"
    text = found.text(UnitSystem.METRIC)
    assert "while rinser is open" in text
    assert "needs 2.30 bar" in text
    assert "which they share" in text
    assert found.working, "what each step takes alone and together"


def test_pairs_are_kept_apart_from_the_cases_that_are_shown():
    result, _ = judged(shared_line())
    assert set(result.pairs) == {pair("machine", "rinser")}
    assert not set(result.pairs) & set(result.cases)


def test_a_case_of_the_persons_is_told_of_the_tap_itself():
    """What one named is no surprise to be warned of once more."""
    case = OperatingCase(name="Rush", taps=("machine", "rinser"))
    _, findings = judged(shared_line(cases=(case,)))
    assert not [one for one in findings if one.code == "water.together"]
    (found,) = [one for one in findings if one.code == "water.pressure"]
    assert found.severity == "stop"
    assert "in the case 'Rush', while rinser draws as well" in found.text(UnitSystem.METRIC)


def test_taps_of_lines_that_no_tube_joins_do_not_meet():
    result, _ = judged(
        build(
            mains("one", "3 bar", connector="3/8 push-fit"),
            mains("two", "3 bar", connector="3/8 push-fit"),
            tap("sink"),
            tap("rinser"),
            tube("one", "sink"),
            tube("two", "rinser"),
        )
    )
    assert result.pairs == {}
    assert result.together == ()


def three_on_a_line(least: str) -> Build:
    level = {"level": "base", "height": "2 in"}
    return build(
        mains("mains", "3 bar", connector="3/8 push-fit", level="base", height="2 in"),
        tee("tee", 5),
        tap("machine", drawn("1 L/min"), required_flow="1 L/min", least=least, **level),
        tap("a", drawn("2 L/min"), required_flow="2 L/min", least="0.1 bar", **level),
        tap("b", drawn("2 L/min"), required_flow="2 L/min", least="0.1 bar", **level),
        tap("small", drawn("0.2 L/min"), required_flow="0.2 L/min", least="0.1 bar", **level),
        tube("mains", "tee.a", "6 m"),
        tube("tee.b", "machine"),
        tube("tee.c", "a"),
        tube("tee.d", "b"),
        tube("tee.e", "small"),
    )


def test_where_no_single_tap_starves_another_the_fewest_that_do_are_named():
    """The small one is open with everything too, but is not to blame."""
    free, _ = judged(three_on_a_line("0.1 bar"))
    tap_states = free.tap("machine").states
    with_one = min(one.pressure_pa for one in free.robbed("machine") if len(one.by) == 1)
    with_all = tap_states[ALL_OPEN].lowest_pa
    between = 0.5 * (with_one + with_all) / BAR
    result, findings = judged(three_on_a_line(f"{between:.4f} bar"))
    everyone = next(one for one in free.robbed("machine") if len(one.by) == 3)
    assert everyone.by[-1].name == "small", "whoever draws most is named first"
    worst = result.robbed("machine")[0]
    assert worst.fails
    assert {one.name for one in worst.by} == {"a", "b"}
    (found,) = [one for one in findings if one.code == "water.together"]
    assert set(found.items[:3]) == {"machine", "a", "b"}
    assert "small" not in found.text(UnitSystem.METRIC)


def test_a_pump_that_runs_on_its_curve_can_leave_more_than_one_that_goes_on_and_off():
    """Two at a time are tried although everything open does no harm.

    Demand pumps restart at cut-in: what flows meanwhile flows at that pressure (a motor-home
    dealer's page on accumulators, and common practice). With everything open the pump does not
    stop, and stands higher.
    """
    made = build(
        tank("jug"),
        pump("pump", [("0 bar", "12 L/min"), ("4 bar", "6 L/min")], "1 bar", "4 bar"),
        tee("tee", 4),
        *(
            tap(name, drawn(f"{flow} L/min"), required_flow=f"{flow} L/min", least="0.1 bar")
            for name, flow in (("a", 2), ("b", 2), ("c", 4))
        ),
        tube("jug", "pump", "0.3 m", "9.5 mm"),
        tube("pump", "tee.a", "1 m", "9.5 mm"),
        *(tube(f"tee.{port}", name) for port, name in (("b", "a"), ("c", "b"), ("d", "c"))),
    )
    result, _ = judged(made)
    states = result.tap("a").states
    assert states[ALL_OPEN].lowest_pa > states[alone("a")].lowest_pa
    assert pair("a", "b") in result.pairs


def test_what_no_tube_touches_leaves_the_pairs_as_they_are():
    first = build(*shared_line().items, item("till"), *shared_line().runs)
    before, _ = judged(first)
    after, _ = judged(move(first, ("till",), 0.1, 0.0), before)
    assert after is before
