"""Loads assigned to outlets: against trying everything, and against cases reckoned by hand."""

import itertools

import pytest
from building import battery, build, cord, load, outlet, strip, wire
from hypothesis import given, settings
from hypothesis import strategies as st

from cartlayout.analysis import analyse
from cartlayout.build import Build
from cartlayout.network import make_network
from cartlayout.power.assign import (
    assigned,
    barred,
    best,
    goes,
    make_problem,
    missing,
    optimum,
    rated,
)
from cartlayout.power.assign.request import request
from cartlayout.units import Power


def problem_of(made: Build):
    return make_problem(made, make_network(made))


def cart(loads, outlets, plugged=(), **more) -> Build:
    """Loads as watts, outlets as (breaker, ways); plugged: (load, outlet, way)."""
    items = [load(f"l{n}", watts=watts) for n, watts in enumerate(loads)]
    items += [outlet(f"o{n}", breaker=a, ways=ways) for n, (a, ways) in enumerate(outlets)]
    wires = [wire(f"l{a}.plug", f"o{b}.{way}") for a, b, way in plugged]
    return build(*items, *wires, **more)


# Ohm's law at 120 V: 1025, 750 and 700 W draw 8.54, 6.25 and 5.83 A, 20.6 A together: too much
# for one circuit of 20 A, and within two whichever one goes over.
def test_three_heaters_on_one_circuit_are_spread_over_two():
    made = cart([1025, 750, 700], [(20, 4), (20, 4)], [(0, 0, 1), (1, 0, 2), (2, 0, 3)])
    problem = problem_of(made)
    assert not goes(rated(problem, [one.now for one in problem.loads]))
    answer = best(problem)
    assert goes(answer)
    assert answer.proven
    assert answer.moves == 1
    # 6.25 + 5.83 = 12.08 A of 20 is the lowest peak that any split has.
    assert answer.peak == pytest.approx(12.083 / 20, abs=1e-3)
    after = analyse(assigned(made, problem, answer))
    shares = sorted(circuit.share for circuit in after.power.circuits)
    assert shares == pytest.approx([8.542 / 20, 12.083 / 20], abs=1e-3)


def test_a_gap_is_that_of_what_is_answered_not_of_what_was_on_the_way(monkeypatch):
    """What is not proven may be given up for fewer moves; then it lies farther from its bound.

    By sums: 1002 + 206 W beside 1000 + 200 W; 1206 W is the least peak and takes two moves.
    """
    bounds = []

    def unproven(program, aim, known, least):
        if aim.name != "peak":
            return solve(program, aim, known, least)
        bounds.append(0.995 * known)
        return optimum._Solved(None, bounds[-1])

    solve = optimum._solve
    monkeypatch.setattr(optimum, "_solve", unproven)
    plugged = [(0, 0, 1), (1, 0, 2), (2, 1, 1), (3, 1, 2)]
    made = cart([1002, 206, 1000, 200], [(20, 4), (20, 4)], plugged)
    answer = best(problem_of(made))
    assert answer.moves == 0
    assert answer.peak == pytest.approx(1208 / 120 / 20, rel=1e-6)
    assert bounds == pytest.approx([0.995 * 1206 / 120 / 20], rel=1e-6)
    gap = dict(answer.gaps)["peak"]
    assert gap == pytest.approx((1208 - 0.995 * 1206) / 1208, rel=1e-4)
    assert answer.gap == gap
    assert not answer.proven


def test_one_circuit_too_few_says_what_is_missing():
    made = cart([1800, 1800], [(20, 2)], [(0, 0, 1), (1, 0, 2)])
    problem = problem_of(made)
    assert not goes(best(problem))
    found = missing(made, problem)
    # 15 A each at 120 V: two do not go on 20 A, one does.
    assert [(one.amps, one.count) for one in found.more] == [(20.0, 1)]
    assert len(found.take_off) == 1
    words = found.told({"l0": "the kettle", "l1": "the urn"})
    assert words.startswith("one more 20 A circuit")
    assert ", or take the " in words


def test_the_search_for_what_is_missing_can_be_stopped():
    made = cart([1800, 1800], [(20, 2)], [(0, 0, 1), (1, 0, 2)])
    problem = problem_of(made)
    asked = []

    def twice() -> bool:
        asked.append(True)
        return len(asked) < 2

    assert missing(made, problem, goes_on=twice) is None
    assert len(asked) == 2


def test_locked_loads_stay():
    made = cart([1025, 750, 700], [(20, 4), (20, 4)], [(0, 0, 1), (1, 0, 2), (2, 0, 3)])
    from msgspec.structs import replace

    from cartlayout.build.edits import replace_item

    made = replace_item(made, replace(made.item("l2"), locked=True))
    problem = problem_of(made)
    answer = best(problem)
    after = assigned(made, problem, answer)
    where = {one.a.item: one.b.item for one in after.wires}
    assert where["l2"] == "o0"
    assert goes(answer)


def test_a_load_that_wants_its_own_circuit_gets_it():
    alone = load("alone", watts=900, electrical={"needs_own_circuit": True})
    made = build(
        alone,
        load("other", watts=300),
        outlet("a", ways=2),
        outlet("b", ways=2),
        wire("alone.plug", "a.1"),
        wire("other.plug", "a.2"),
    )
    problem = problem_of(made)
    answer = best(problem)
    assert goes(answer)
    after = analyse(assigned(made, problem, answer))
    assert not [one for one in after.findings if one.code == "power.own-circuit"]
    assert answer.moves == 1


def test_what_is_plugged_in_nothing_gets_a_place():
    made = cart([600], [(20, 2)])
    problem = problem_of(made)
    answer = best(problem)
    after = analyse(assigned(made, problem, answer))
    assert after.power.item_circuit["l0"]
    assert answer.moves == 1


def test_a_strip_is_held_to_its_own_rating():
    made = build(
        load("one", watts=1000),
        load("two", watts=1000),
        strip("strip", rating=15),
        outlet("wall", breaker=20, ways=2),
        wire("strip.plug", "wall.1"),
        wire("one.plug", "strip.1"),
        wire("two.plug", "strip.2"),
    )
    problem = problem_of(made)
    answer = best(problem)
    # 8.33 A each: both on the strip are 16.7 A of its 15, one of each way is within everything.
    assert answer.overload == 0.0
    assert answer.moves == 1


# NEC 2023 210.23(B)(1): one plug-in appliance takes no more than 80 % of a circuit with several
# receptacles. 13 A are more than that of 15 A, and less than that of 20 A; the other 15 A are free.
def test_an_appliance_too_large_for_its_circuit_is_moved_though_both_would_carry_it():
    made = cart([1560], [(15, 2), (20, 2)], [(0, 0, 1)])
    problem = problem_of(made)
    assert rated(problem, [problem.loads[0].now]).broken == 1
    answer = best(problem)
    assert goes(answer)
    assert answer.moves == 1
    codes = {one.code for one in analyse(assigned(made, problem, answer)).findings}
    assert "power.one-appliance" not in codes
    assert "power.one-appliance" in {one.code for one in analyse(made).findings}


carts = st.tuples(
    st.lists(st.sampled_from([200, 400, 700, 900, 1200, 1500, 1800]), min_size=1, max_size=4),
    st.lists(st.sampled_from([(15, 2), (20, 1), (20, 2)]), min_size=1, max_size=3),
)


def order(answer) -> tuple[float, ...]:
    """What is better comes first, aim by aim."""
    left_out = sum(place is None for place in answer.chosen)
    first = 1e3 * left_out + answer.overload + 10 * answer.broken
    return (round(first, 4), round(answer.peak, 4), round(answer.uneven_a, 3), answer.moves)


@settings(max_examples=40, deadline=None)
@given(carts, st.data())
def test_nothing_is_better_than_the_optimum(given_cart, data):
    """Against trying every assignment there is."""
    loads, outlets = given_cart
    holes = [(o, w) for o, (_, ways) in enumerate(outlets) for w in range(1, ways + 1)]
    here = data.draw(st.permutations(holes))
    plugged = [(n, *hole) for n, hole in zip(range(len(loads)), here, strict=False)]
    made = cart(loads, outlets, plugged)
    problem = problem_of(made)
    answer = best(problem)
    choices = [
        [None, *(way.place for way in problem.ways if way.load == at)]
        for at in range(len(problem.loads))
    ]
    every = (
        rated(problem, chosen)
        for chosen in itertools.product(*choices)
        if all(
            sum(one == at for one in chosen) <= len(place.nodes)
            for at, place in enumerate(problem.places)
        )
    )
    assert answer.proven
    assert order(answer) == min(map(order, every))


@settings(max_examples=25, deadline=None)
@given(carts)
def test_what_is_promised_is_what_the_analysis_finds(given_cart):
    loads, outlets = given_cart
    made = cart(loads, outlets)
    problem = problem_of(made)
    answer = best(problem)
    after = analyse(assigned(made, problem, answer))
    peak = max((circuit.share for circuit in after.power.circuits), default=0.0)
    assert peak == pytest.approx(answer.peak, abs=1e-6)
    over = [
        limit
        for circuit in after.power.circuits
        for limit in circuit.limits
        if limit.name in ("total", "continuous") and not limit.holds
    ]
    assert bool(over) == (answer.overload > 0.0)


# Bin packing by hand: 13.8 A wants a circuit of its own beside others on 20 A (16 A is 80 %);
# 12.5 + 6 A are 18.5 A of 20.
def test_the_fewest_circuits_to_ask_a_venue_for():
    made = cart([1500, 720, 600, 240], [])
    asked = request(made)
    assert asked.proven
    assert not asked.left_out
    # 12.5 + 6 + 5 + 2 = 25.5 A: more than one circuit of 20 A, not more than two.
    assert len(asked.circuits) == 2
    assert sorted(item for one in asked.circuits for item in one.loads) == ["l0", "l1", "l2", "l3"]
    assert all(one.drawn_a <= one.amps for one in asked.circuits)


@pytest.mark.parametrize(
    ("watts", "hours", "circuits"),
    [
        # NEC 2023 210.20(A): 8 A each for hours count 10 A, two of them fill 20 A; 8.5 A do not.
        ((960, 960), "3 h", 1),
        ((1020, 1020), "3 h", 2),
        ((1020, 1020), "2 h", 1),
        # NEC 2023 210.23(B)(1): one appliance of no more than 80 %: 15.5 A and 2 A share, 16.5 not.
        ((1860, 240), "10 min", 1),
        ((1980, 240), "10 min", 2),
    ],
)
def test_rules_that_a_circuit_asked_for_has_to_keep(watts, hours, circuits):
    made = build(*(load(f"l{n}", one, longest_run=hours) for n, one in enumerate(watts)))
    asked = request(made)
    assert asked.proven
    assert len(asked.circuits) == circuits


def test_of_circuits_that_carry_it_the_smallest_is_asked_for():
    """AS/NZS 3112: a 10 A plug fits sockets of 10, 15 and 20 A. 600 W at 230 V are 2.6 A."""
    made = build(load("kettle", 600, volts=230, plug="AS/NZS 3112 10 A P"), region="AU")
    assert [(one.amps, one.receptacle) for one in request(made).circuits] == [
        (10.0, "AS/NZS 3112 10 A R")
    ]


def test_operating_cases_need_fewer_circuits_than_everything_on():
    made = cart([1800, 1800], [])
    assert len(request(made).circuits) == 2
    assert len(request(made, cases=[["l0"], ["l1"]]).circuits) == 1


def test_a_plug_goes_nowhere_its_cord_does_not_reach():
    """An outlet 50 ft away, and a cord of 6 ft."""
    near, far = outlet("near", ways=4), outlet("far", ways=4, at=("600 in", "-18 in"))
    loads = [load("urn", 1800), load("oven", 1800)]
    plugs = [wire("urn", "near.1"), wire("oven", "near.2")]
    problem = problem_of(build(near, far, *loads, *plugs))
    answer = best(problem)
    assert answer.moves == 0
    assert not goes(answer)
    assert [one.count for one in missing(build(near, far, *loads, *plugs), problem).more] == [1]


def test_a_long_cord_reaches():
    near, far = outlet("near", ways=4), outlet("far", ways=4, at=("600 in", "-18 in"))
    loads = [load("urn", 1800), load("oven", 1800, cord=cord("12 AWG", "80 ft"))]
    plugs = [wire("urn", "near.1"), wire("oven", "near.2")]
    problem = problem_of(build(near, far, *loads, *plugs))
    answer = best(problem)
    assert goes(answer)
    chosen = {one.item: answer.chosen[at] for at, one in enumerate(problem.loads)}
    assert problem.places[chosen["urn"]].host == "near"
    assert problem.places[chosen["oven"]].host == "far"


def test_a_way_that_was_found_too_long_is_not_taken_again():
    near, far = outlet("near", ways=4), outlet("far", ways=4)
    loads = [load("urn", 1800), load("oven", 1800)]
    problem = problem_of(build(near, far, *loads, *(wire(one.id, "near.1") for one in loads[:1])))
    assert goes(best(problem))
    fewer = barred(problem, {("oven", "far")})
    answer = best(fewer)
    assert goes(answer)
    chosen = {one.item: answer.chosen[at] for at, one in enumerate(fewer.loads)}
    assert fewer.places[chosen["oven"]].host == "near"
    assert fewer.places[chosen["urn"]].host == "far"
    assert not goes(best(barred(fewer, {("oven", "near")})))
    assert barred(fewer, {("oven", "far")}).ways == fewer.ways


def test_what_is_fastened_keeps_its_outlet():
    """Two of 12.5 A on 20 A: the loose one goes, though either would do."""
    fixed = load("fixed", 1500, electrical={"fastened": True})
    halls = [outlet("a", ways=3), outlet("b", ways=3)]
    plugs = [wire("fixed", "a.1"), wire("loose", "a.2")]
    problem = problem_of(build(*halls, fixed, load("loose", 1500), *plugs))
    assert problem.kept == ("fixed",)
    answer = best(problem)
    assert goes(answer)
    assert [(one.item, problem.places[at].host) for one, at in zip(
        problem.loads, answer.chosen, strict=True
    )] == [("loose", "b")]  # fmt: skip


def test_what_is_fastened_and_in_nothing_is_plugged_in():
    fixed = load("fixed", 1500, electrical={"fastened": True})
    problem = problem_of(build(outlet("a"), fixed))
    answer = best(problem)
    assert goes(answer)
    assert answer.chosen == (0,)


def test_a_battery_is_held_to_its_own_discharge():
    """500 and 500 W / 0.9 and 10 W are 1,121 W of a battery that gives 600: one goes elsewhere."""
    bank = battery(
        "bank",
        3000,
        2000,
        electrical={
            "efficiency": 0.9,
            "idle": Power("10 W"),
            "greatest_discharge": Power("600 W"),
        },
    )
    plugs = [wire("urn", "bank.1"), wire("oven", "bank.2")]
    problem = problem_of(build(bank, load("urn", 500), load("oven", 500), *plugs))
    assert not goes(best(problem))
    more = problem_of(build(bank, outlet("a"), load("urn", 500), load("oven", 500), *plugs))
    answer = best(more)
    assert goes(answer)
    assert answer.moves == 1
