"""Loads assigned on any mix of supplies, against trying every assignment there is."""

import itertools

import pytest
from building import box, branch, build, generator, load, outlet, strip, wire
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Build
from cartlayout.build.edits import replace_item
from cartlayout.network import make_network
from cartlayout.power.assign import assigned, best, make_problem, missing, rated
from cartlayout.power.assign.bounds import must_come, must_leave
from cartlayout.units import Power

WATTS = st.sampled_from([60, 400, 700, 900, 1200, 1500, 1800])


def split_box(main: float) -> list:
    """A box with a breaker on each leg and one across both, fed by 240 V."""
    branches = [
        branch("1", 20, "L1", "1", "2"),
        branch("2", 20, "L2", "3"),
        branch("3", 30, "L1 L2", "4"),
    ]
    feed = outlet(
        "feed", 240, 50, receptacle="14-50R", ways=1, electrical={"system": "split-phase"}
    )
    return [feed, box("box", branches, main, receptacles={"4": "6-20R"}), wire("box", "feed.1")]


def legged_generator(leg_amps: float) -> list:
    branches = [branch("1", 20, "L1", "1", "2"), branch("2", 20, "L2", "3", "4")]
    return [generator("set", branches, 240, 3500, 4500, system="split-phase", leg_amps=leg_amps)]


def strip_on_the_wall(rating: float) -> list:
    return [
        outlet("wall", ways=2),
        strip("strip", rating, 3),
        wire("strip", "wall.1"),
        outlet("other", breaker=15, ways=1),
    ]


def few_watts(most: float) -> list:
    limited = outlet("hall", ways=2, electrical={"limit": Power(f"{most:g} W")})
    return [limited, outlet("other", ways=2)]


SUPPLIES = st.one_of(
    st.builds(split_box, st.sampled_from([20, 30, 50])),
    st.builds(legged_generator, st.sampled_from([10, 12.5, 16])),
    st.builds(strip_on_the_wall, st.sampled_from([10, 15])),
    st.builds(few_watts, st.sampled_from([500, 1000, 1600])),
)


@st.composite
def carts(draw) -> Build:
    supply = draw(SUPPLIES)
    loads = []
    for number in range(draw(st.integers(1, 4))):
        two_legs = draw(st.booleans()) and any(one.id == "box" for one in supply)
        one = load(
            f"l{number}",
            draw(WATTS),
            volts=240 if two_legs else 120,
            plug="6-20P" if two_legs else "5-15P",
            longest_run=draw(st.sampled_from(["10 min", "3 h"])),
            electrical={"needs_own_circuit": draw(st.integers(0, 4)) == 0},
        )
        loads.append(replace(one, locked=draw(st.integers(0, 4)) == 0))
    ports = [
        (one.id, port.id, port.connector)
        for one in supply
        if hasattr(one, "specification")
        for port in one.specification.ports
        if port.direction == "out" and (one.id, port.id) not in (("wall", "1"), ("feed", "1"))
    ]
    ports = draw(st.permutations(ports))
    wires = []
    for one in loads:
        wanted = "6-20R" if one.specification.ports[0].connector == "6-20P" else "5-"
        hole = next((p for p in ports if p[2].startswith(wanted)), None)
        if hole is not None and draw(st.integers(0, 5)):
            ports.remove(hole)
            wires.append(wire(one.id, f"{hole[0]}.{hole[1]}"))
    return build(*supply, *loads, *wires)


def order(answer) -> tuple[float, ...]:
    """What is better comes first, aim by aim."""
    left_out = sum(place is None for place in answer.chosen)
    first = 1e3 * left_out + answer.overload + 10 * answer.broken
    return (round(first, 4), round(answer.peak, 4), round(answer.uneven_a, 3), answer.moves)


def every(problem):
    choices = [
        [None, *(way.place for way in problem.ways if way.load == at)]
        for at in range(len(problem.loads))
    ]
    for chosen in itertools.product(*choices):
        counts = [sum(one == at for one in chosen) for at in range(len(problem.places))]
        if all(n <= len(place.nodes) for n, place in zip(counts, problem.places, strict=True)):
            yield rated(problem, chosen)


@settings(max_examples=60, deadline=None)
@given(carts())
def test_nothing_is_better_on_any_supply(made):
    problem = make_problem(made, make_network(made))
    answer = best(problem)
    assert answer.proven
    assert order(answer) == min(map(order, every(problem)))
    locked = {one.id for one in made.items if one.locked}
    assert not locked & {one.item for one in problem.loads}


@settings(max_examples=40, deadline=None)
@given(carts())
def test_what_is_over_afterwards_could_not_be_helped(made):
    """The analysis of the new build finds a limit broken only where the answer said so."""
    problem = make_problem(made, make_network(made))
    answer = best(problem)
    after = analyse(assigned(made, problem, answer)).power
    names = {"total", "continuous", "strip", "main", "leg", "generator", "venue limit"}
    kept = {one.id for one in made.items if one.locked}
    broken = [
        one
        for circuit in after.circuits
        for one in circuit.limits
        if one.name in names and not one.holds
    ] + [one for _, one in after.limits if one.name in names and not one.holds]
    if answer.overload <= 1e-6:
        assert not [one for one in broken if not kept & set(one.items)]
    else:
        assert broken


@settings(max_examples=25, deadline=None)
@given(carts())
def test_the_loads_to_take_off_are_the_fewest(made):
    problem = make_problem(made, make_network(made))
    off = missing(made, problem).take_off
    works = [
        sum(place is None for place in one.chosen)
        for one in every(problem)
        if one.overload <= 1e-6 and not one.broken
    ]
    if off:
        assert len(off) == min(works)


@settings(max_examples=40, deadline=None)
@given(carts(), st.data())
def test_what_has_to_leave_or_to_come_is_true_of_every_assignment(made, data):
    """Whatever keeps a row within a sum keeps no more of its loads, and needs no fewer others."""
    problem = make_problem(made, make_network(made))
    if not problem.rows:
        return
    row = data.draw(st.integers(0, len(problem.rows) - 1))
    bound = problem.rows[row].limit * data.draw(st.floats(0.1, 1.2))
    staying, most = must_leave(problem, row, bound)
    coming, least = must_come(problem, row, bound)
    for one in every(problem):
        taken = [at for at, way in enumerate(problem.ways) if one.chosen[way.load] == way.place]
        total = problem.fixed[row] + sum(
            amount for at in taken for to, amount in problem.ways[at].adds if to == row
        )
        if total <= bound:
            assert len(set(taken) & set(staying)) <= most
        if total >= bound:
            # What comes from elsewhere is needed only if what is here does not reach it.
            assert len(set(taken) & set(coming)) >= least


# Ohm's law at 120 V: 1200 W are 10 A. Both on one leg of 12.5 A are too much.
def test_legs_of_a_generator_are_evened():
    made = build(
        *legged_generator(12.5),
        load("a", 1200),
        load("b", 1200),
        wire("a", "set.1"),
        wire("b", "set.2"),
    )
    problem = make_problem(made, make_network(made))
    answer = best(problem)
    assert answer.overload == 0.0
    # 10 A on each leg of 12.5 A: 80 %, as in the trial case of two loads on one leg.
    assert answer.uneven_a == pytest.approx(0.0)
    assert answer.peak == pytest.approx(0.8)
    assert answer.moves == 1


def test_a_locked_load_beside_one_that_wants_its_circuit_alone():
    alone = load("alone", 600, electrical={"needs_own_circuit": True})
    made = build(
        outlet("a"),
        outlet("b"),
        alone,
        load("fixed", 600),
        wire("alone", "a.1"),
        wire("fixed", "a.2"),
    )
    made = replace_item(made, replace(made.item("fixed"), locked=True))
    answer = best(make_problem(made, make_network(made)))
    assert answer.broken == 0
    assert answer.moves == 1
