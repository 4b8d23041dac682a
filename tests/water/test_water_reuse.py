"""What a change of the drawing costs: nothing where no water depends on it, one solve elsewhere."""

import pytest
from building import build, opening, pump, tank, tap, tee, tube, water_filter
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from cartlayout.build import Build, Venue
from cartlayout.build.edits import move, remove, replace_run
from cartlayout.findings.water_rules import rules
from cartlayout.network import make_network
from cartlayout.units import Length, Temperature
from cartlayout.water import WaterResult, alone, solve_water
from cartlayout.water import cases as cases_module

TUBES = (
    tube("jug", "pump", None),
    tube("pump", "filter", None),
    tube("filter", "tee.a", None),
    tube("tee.b", "rinser", None),
    tube("tee.c", "sink", "3 m"),
)


def cart() -> Build:
    return build(
        tank("jug", at=("10 in", "10 in")),
        pump("pump", at=("20 in", "10 in")),
        water_filter("filter", at=("30 in", "10 in")),
        tee("tee", at=("35 in", "10 in")),
        tap("rinser", opening("1 gal/min", "30 psi"), at=("40 in", "10 in")),
        tap("sink", opening("0.5 gal/min", "20 psi"), at=("60 in", "10 in")),
        tap("loose", at=("50 in", "20 in")),
        *TUBES,
    )


def solve(build: Build, previous: WaterResult | None = None) -> WaterResult:
    return solve_water(build, make_network(build), previous)


@pytest.fixture
def solves(monkeypatch):
    """Counts solutions of the network."""
    counted: list[object] = []
    real = cases_module.solve

    def counting(*args: object) -> object:
        counted.append(args)
        return real(*args)

    monkeypatch.setattr(cases_module, "solve", counting)
    return counted


def test_moving_what_no_tube_touches_solves_nothing(solves):
    before = cart()
    first = solve(before)
    assert solves
    solves.clear()
    moved = move(before, ("loose",), 0.05, 0.02)
    assert solve(moved, first) is first
    assert not solves


def test_a_tube_of_fixed_length_does_not_care_where_its_end_goes(solves):
    before = cart()
    first = solve(before)
    solves.clear()
    assert solve(move(before, ("sink",), 0.05, 0.0), first) is first
    assert not solves


def test_moving_a_tap_solves_anew_and_ends_where_a_cold_start_does():
    before = cart()
    first = solve(before)
    moved = move(before, ("rinser",), 0.2, 0.1)
    warm = solve(moved, first)
    cold = solve(moved)
    assert warm is not first
    assert warm.cases[alone("rinser")].iterations <= cold.cases[alone("rinser")].iterations
    for tap_cold, tap_warm in zip(cold.taps, warm.taps, strict=True):
        for name, state in tap_cold.states.items():
            assert tap_warm.states[name].flow == pytest.approx(state.flow, abs=1e-9)
            assert tap_warm.states[name].pressure_pa == pytest.approx(state.pressure_pa, abs=2.0)
    assert warm.tap("rinser").ladder[-1].loss_pa > first.tap("rinser").ladder[-1].loss_pa


def test_equal_builds_give_equal_results():
    assert solve(cart()) == solve(cart())


def test_another_bore_or_temperature_is_noticed():
    before = cart()
    first = solve(before)
    thin = TUBES[3].__class__(
        id=TUBES[3].id,
        a=TUBES[3].a,
        b=TUBES[3].b,
        tube=tube("a", "b", bore="3 mm").tube,
    )
    thinner = solve(replace_run(before, thin), first)
    assert thinner.tap("rinser").states[alone("rinser")].flow < (
        first.tap("rinser").states[alone("rinser")].flow
    )
    warm = Build(
        **{name: getattr(before, name) for name in before.__struct_fields__}
        | {"venue": Venue(water_temperature=Temperature("60 degC"))}
    )
    # Thinner water: less friction, more flow.
    assert solve(warm, first).tap("rinser").states[alone("rinser")].flow > (
        first.tap("rinser").states[alone("rinser")].flow
    )


def test_a_result_for_another_shape_is_no_hindrance():
    before = cart()
    first = solve(before)
    shorter = remove(before, run_ids=(TUBES[4].id,))
    again = solve(shorter, first)
    assert not again.tap("sink").fed
    assert again == solve(shorter)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(st.tuples(st.integers(0, 13), st.integers(0, 13)), max_size=14),
    st.sampled_from(["0 mm", "0.01 mm", "4 mm", "6.35 mm", "1 m"]),
    st.sampled_from(["0 in", "1 m", "-1 in", "10 km"]),
)
# Drums for tubes, some in rings, that only walls hold: pumps that stand, taps that are shut.
@example([(3, 5), (2, 10), (3, 9), (1, 4), (5, 0)], "1 m", "0 in")
@example([(13, 4), (9, 11), (7, 4), (4, 9), (9, 0), (7, 5), (4, 9)], "1 m", "0 in")
@example([(3, 7), (5, 9), (9, 8), (1, 0), (4, 13), (4, 2)], "1 m", "10 km")
def test_any_tangle_of_tubes_is_solved_without_an_exception(pairs, bore, length):
    """Outlet into outlet, rings, several tubes at a port, no bore, no length: findings at most."""
    ends = (
        "jug.outlet", "pump.inlet", "pump.outlet", "second.inlet", "second.outlet",
        "filter.inlet", "filter.outlet", "tee.a", "tee.b", "tee.c", "rinser.inlet", "sink.inlet",
        "jug.nowhere", "nobody.inlet",
    )  # fmt: skip
    tubes = [
        tube(ends[a], ends[b], length if number % 3 == 0 else "1 m",
             bore if number % 2 else "6 mm", run_id=f"t{number}")
        for number, (a, b) in enumerate(pairs)
    ]  # fmt: skip
    made = build(
        tank("jug"), pump("pump"), pump("second", cut_out="40 psi"), water_filter("filter"),
        tee("tee"), tap("rinser", opening("1 gal/min", "30 psi")), tap("sink"), *tubes,
    )  # fmt: skip
    network = make_network(made)
    result = solve_water(made, network)
    list(rules(made, network, result))
    for case in result.cases.values():
        assert case.worst_imbalance < 1e-9
        for pressure_pa in case.pressures_pa.values():
            assert pressure_pa == pressure_pa  # no NaN
    assert Length("1 m").si == 1.0
