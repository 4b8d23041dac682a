"""What is said of a figure that nobody has checked is so: the build is analysed again, without any
help of an earlier analysis, a little before and a little beyond each threshold that is told."""

import math

import building as b
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from msgspec.structs import replace
from random_water import lines

from cartlayout.advice.sensitivity import (
    Found,
    Progress,
    Search,
    Threshold,
    Unknown,
    all_found,
    ranked,
    unknowns,
)
from cartlayout.advice.sensitivity.words import quiet, sentence
from cartlayout.analysis import Analysis, analyse
from cartlayout.build import Build, Origin
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.units import UnitSystem
from cartlayout.units.display import dimension_factor

SAMPLES = sorted(sample_builds().glob("*.cart"))
UNSHRUNK = (Phase.explicit, Phase.reuse, Phase.generate)
"""A build is long; to make a failing one shorter takes many minutes."""


def said(analysis: Analysis) -> dict[tuple[str, str], str]:
    """Stops and cares by what they are about."""
    found: dict[tuple[str, str], str] = {}
    for finding in analysis.findings:
        if finding.severity != "note":
            found.setdefault((finding.code, (finding.items or ("",))[0]), finding.severity)
    return found


def about(threshold: Threshold) -> set[tuple[str, str]]:
    return {(one.code, (one.items or ("",))[0]) for one in (*threshold.come, *threshold.gone)}


def check(build: Build, threshold: Threshold) -> None:
    """Beyond it the verdict is really other, before it is not."""
    now = said(analyse(build))
    unknown = threshold.unknown
    keys = about(threshold)
    assert keys
    if threshold.choice is not None:
        then = said(analyse(threshold.choice.put()))
        assert all(then.get(key) != now.get(key) for key in keys)
        return
    assert threshold.turns is not None
    assert threshold.holds is not None
    beyond = said(analyse(unknown.put(threshold.turns)))
    before = said(analyse(unknown.put(threshold.holds)))
    assert all(beyond.get(key) != now.get(key) for key in keys), unknown.key
    assert all(before.get(key) == now.get(key) for key in keys), unknown.key
    for one in threshold.come:
        assert beyond[one.code, (one.items or ("",))[0]] == one.severity
    assert unknown.least <= threshold.turns <= unknown.greatest
    assert (threshold.turns > threshold.holds) == (threshold.side == "above")
    reads_alike(unknown, threshold.turns, threshold.holds)


def reads_alike(unknown: Unknown, a: float, b: float) -> None:
    """They are nearer to each other than a fifth of the last digit that is shown."""
    for system in UnitSystem:
        plain = unknown.value(a).shown(system).split(" ")[0].rstrip("°")
        places = len(plain.partition(".")[2])
        factor = dimension_factor(unknown.dimension, system)[0]
        assert abs(a - b) / factor <= 0.2 * 10.0**-places * (1 + 1e-9)


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def sample(request: pytest.FixtureRequest) -> Analysis:
    return analyse(load(request.param))


def test_each_threshold_of_each_sample_is_so(sample):
    thresholds = ranked(all_found(sample))
    assert thresholds
    for one in thresholds:
        check(sample.build, one)


def test_nothing_turns_at_the_ends_of_what_is_quiet(sample):
    now = said(sample)
    for unknown in quiet(all_found(sample)):
        if unknown.choices:
            for choice in unknown.choices:
                assert said(analyse(choice.put())) == now, unknown.key
        else:
            for end in (unknown.least, unknown.greatest):
                assert said(analyse(unknown.put(end))) == now, unknown.key


@settings(max_examples=6, suppress_health_check=list(HealthCheck), deadline=None, phases=UNSHRUNK)
@given(lines())
def test_each_threshold_of_any_line_is_so(build):
    for one in ranked(all_found(analyse(build))):
        check(build, one)


def test_ranges_hold_what_is_taken(sample):
    for unknown in unknowns(sample.build):
        assert unknown.rule
        assert unknown.choices or unknown.source
        assert unknown.least < unknown.greatest
        if unknown.taken is not None:
            assert unknown.least <= unknown.taken <= unknown.greatest


def test_what_is_taken_put_back_changes_nothing(sample):
    """A figure written as it is leaves every verdict as it is."""
    now = said(sample)
    for unknown in unknowns(sample.build):
        if unknown.taken is not None and not unknown.choices:
            assert said(analyse(unknown.put(unknown.taken), sample)) == now, unknown.key


def test_keys_are_of_one_figure_each(sample):
    keys = [one.key for one in unknowns(sample.build)]
    assert len(keys) == len(set(keys))


def test_nearest_come_first(sample):
    nearness = [round(one.nearness, 3) for one in ranked(all_found(sample))]
    assert nearness == sorted(nearness)
    assert all(0.0 <= one <= 1.0 for one in nearness)


def test_search_can_be_stopped_between_two_values():
    search = iter(Search(analyse(load(SAMPLES[0]))))
    first = next(search)
    assert isinstance(first, Progress)
    assert first.done == 0
    assert first.whole == len(unknowns(load(SAMPLES[0])))
    search.close()  # type: ignore[attr-defined]


# --- by hand -------------------------------------------------------------------------------------


def marked(build: Build, item_id: str, of: str, basis: str = "typical") -> Build:
    """The build with the basis of one item's figures told."""
    items = tuple(
        replace(
            item,
            specification=replace(
                item.specification,
                origins=(*item.specification.origins, Origin(of=of, basis=basis)),
            ),
        )
        if item.id == item_id
        else item
        for item in build.items
    )
    return replace(build, items=items)


def kettle(watts: float = 1500.0, basis: str = "typical") -> Build:
    """A kettle alone on a 15 A circuit of 120 V."""
    made = b.build(
        b.outlet("outlet", breaker=15, receptacle="5-15R"),
        b.load("kettle", watts),
        b.wire("kettle", "outlet"),
    )
    return marked(made, "kettle", "electrical", basis)


def only(build: Build, key: str) -> list[Threshold]:
    chosen = [one for one in unknowns(build) if one.key == key]
    return [
        threshold
        for one in Search(analyse(build), chosen)
        if isinstance(one, Found)
        for threshold in one.thresholds
    ]


def test_watts_over_the_breaker_by_ohms_law():
    """P = V I: a 15 A circuit of 120 V is full at 1,800 W, and the cord takes a few of them."""
    found = only(kettle(), "kettle/watts")
    total = next(one for one in found if any(finding.code == "power.total" for finding in one.come))
    assert total.side == "above"
    assert total.turns == pytest.approx(1800.0, rel=0.01)
    assert "If what kettle takes is more than 1,8" in sentence(total, UnitSystem.US)


def test_a_nameplate_is_no_unknown():
    for basis in ("nameplate", "measured", "maker's sheet"):
        assert not [one for one in unknowns(kettle(basis=basis)) if one.key == "kettle/watts"]


def rinser(length: str = "6 m", flow: str = "2 L/min") -> Build:
    """A rinser on a mains tap of 3 bar, its flow typical; it opens wider the more it needs."""
    made = b.build(
        b.mains("mains", "3 bar", connector="3/8 push-fit", level="base", height="2 in"),
        b.tap("rinser", b.drawn(flow), required_flow=flow, least="1 bar", greatest="6 bar"),
        b.tube("mains.outlet", "rinser.inlet", length, "4 mm", run_id="line"),
    )
    return marked(made, "rinser", "inlet flow")


def test_what_a_rinser_may_need_by_the_friction_library():
    """Darcy and Weisbach with the friction factor of the `fluids` library (Colebrook, exact): the
    flow at which 3 bar less the climb and the tube's loss are 1 bar."""
    from fluids.friction import friction_factor
    from iapws import IAPWS97

    from cartlayout.workings.find import working
    from cartlayout.workings.model import Number

    build = rinser()
    found = only(build, "rinser/inlet/flow")
    low = next(one for one in found if any(x.code == "water.pressure" for x in one.come))
    assert low.turns is not None
    water = IAPWS97(T=293.15, P=0.101325)
    speed = low.turns / (math.pi / 4 * 0.004**2)
    factor = friction_factor(Re=water.rho * speed * 0.004 / water.mu, eD=0.0015 / 4.0)
    analysis = analyse(build)
    shown = working(analysis, Number("tube", "line", "loss", "rinser alone"))
    assert shown is not None
    ends = next(one.result.si for one in shown.steps if one.symbol == "K")  # from the table
    heights = analysis.network.heights_m
    climb_m = heights["rinser", "inlet"] - heights["mains", "outlet"]
    lost_pa = (factor * 6.0 / 0.004 + ends) * water.rho * speed**2 / 2
    left_pa = 3e5 - water.rho * 9.80665 * climb_m - lost_pa
    assert left_pa == pytest.approx(1e5, abs=1500.0)


def test_no_range_holds_for_what_is_far_from_any_limit():
    assert only(kettle(300.0), "kettle/watts") == []


def test_longest_run_turns_at_three_hours():
    """NEC article 100: a load that is on for three hours or more is continuous."""
    made = b.build(
        b.outlet("outlet", breaker=15, receptacle="5-15R"),
        b.load("urn", 1650, longest_run=None),
        b.wire("urn", "outlet"),
    )
    found = only(made, "urn/longest run")
    assert any(
        one.side == "below" and one.turns == pytest.approx(3 * 3600.0, rel=0.02) for one in found
    )


def test_two_outlets_that_may_be_on_one_circuit():
    """Two outlets of circuits that nobody knows count as one: 22 A; apart they hold."""
    made = b.build(
        b.outlet("left", breaker=15, circuit=None, receptacle="5-15R"),
        b.outlet("right", breaker=15, circuit=None, receptacle="5-15R"),
        b.load("kettle", 1200),
        b.load("oven", 1400),
        b.wire("kettle", "left"),
        b.wire("oven", "right"),
    )
    found = only(made, "left/circuit")
    assert any("power.total" in {one.code for one in each.gone} for each in found)
    assert any("circuit of its own" in sentence(one, UnitSystem.US) for one in found)


def test_a_plan_that_runs_dry():
    """By hand: 19 L on board, 4 h of service, 0.5 L a drink: dry from 38 drinks, 9.5 an hour."""
    from cartlayout.build import Service
    from cartlayout.units import Duration, Volume

    made = b.build(
        b.tank("jug", "19 L", outlet_height="0 in"),
        b.tank("waste", "40 L", "waste"),
        service=Service(
            hours=Duration("4 h"),
            drinks_per_hour=8.0,
            water_per_drink=Volume("0.4 L"),
            rinse_per_drink=Volume("0.1 L"),
        ),
    )
    found = only(made, "service/drinks")
    dry = next(one for one in found if any(x.code == "water.runs-out" for x in one.come))
    assert dry.turns == pytest.approx(9.5, abs=0.2)
