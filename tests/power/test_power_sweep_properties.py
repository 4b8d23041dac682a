"""The sweep against Kirchhoff's laws, energy, and a direct solution of the linear case."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cartlayout.power.loads import LoadModel
from cartlayout.power.parts import Draw, Segment
from cartlayout.power.sweep import sweep
from cartlayout.power.systems import conductor_set, three_phase_wye

SOURCES = [
    conductor_set("single-phase", 120),
    conductor_set("single-phase", 230),
    conductor_set("split-phase", 240),
    conductor_set("split-phase", 208),
    three_phase_wye(208),
]


def model(rated_v: float, heater_w: float, held_va: complex) -> LoadModel:
    return LoadModel(
        rated_v,
        heater_w,
        held_va,
        heater_w / rated_v**2,
        held_va.conjugate() / (0.7 * rated_v) ** 2,
    )


@st.composite
def trees(draw, longest_ohm=0.05, linear=False):
    source = draw(st.sampled_from(SOURCES))
    count = draw(st.integers(1, 9))
    segments = [Segment(-1, source.volts)]
    for index in range(1, count):
        parent = draw(st.integers(0, index - 1))
        ohm = draw(st.floats(0, longest_ohm))
        segments.append(Segment(parent, source.volts, complex(ohm)))
    loads = []
    for _ in range(draw(st.integers(0, 8))):
        conductors = range(len(source.names))
        p = draw(st.sampled_from(conductors[:-1]))
        q = draw(st.sampled_from([c for c in conductors if c != p]))
        rated = draw(st.floats(100, 260))
        heater = draw(st.floats(0, 3000))
        held = 0j if linear else complex(draw(st.floats(0, 1500)), draw(st.floats(0, 800)))
        loads.append(Draw(draw(st.integers(0, count - 1)), p, q, model(rated, heater, held)))
    return segments, loads


@given(trees())
def test_currents_balance_everywhere(tree):
    segments, loads = tree
    flow = sweep(segments, loads)
    assert flow.converged
    for index, segment in enumerate(segments):
        assert abs(sum(flow.segment_a[index])) < 1e-9  # what goes out comes back
        for conductor in range(len(segment.source)):
            drawn = sum(
                (load.p == conductor) * amps - (load.q == conductor) * amps
                for load, amps in zip(loads, flow.load_a, strict=True)
                if load.segment == index
            )
            passed_on = sum(
                flow.segment_a[child][conductor]
                for child, other in enumerate(segments)
                if other.parent == index
            )
            assert abs(flow.segment_a[index][conductor] - drawn - passed_on) < 1e-9


@given(trees())
def test_power_in_is_power_used_and_lost(tree):
    segments, loads = tree
    flow = sweep(segments, loads)
    given_w = sum(
        (v * i.conjugate()).real for v, i in zip(segments[0].source, flow.segment_a[0], strict=True)
    )
    used_w = sum((u * i.conjugate()).real for u, i in zip(flow.load_v, flow.load_a, strict=True))
    lost_w = sum(
        segment.impedance_ohm.real * sum(abs(i) ** 2 for i in row)
        for segment, row in zip(segments, flow.segment_a, strict=True)
    )
    assert given_w == pytest.approx(used_w + lost_w, rel=1e-6, abs=1e-3)


@given(trees(longest_ohm=20.0, linear=True))
def test_heaters_agree_with_the_direct_solution(tree):
    """Heaters make a linear network, which one set of equations solves whatever the cords."""
    segments, loads = tree
    flow = sweep(segments, loads, tolerance_a=1e-7)
    conductors = len(segments[0].source)
    size = len(segments) * conductors

    def paths(load):
        at = load.segment
        while at >= 0:
            yield at
            at = segments[at].parent

    incidence = np.zeros((size, len(loads)))
    for column, load in enumerate(loads):
        for at in paths(load):
            incidence[at * conductors + load.p, column] += 1
            incidence[at * conductors + load.q, column] -= 1
    z = np.diag([segment.impedance_ohm for segment in segments for _ in range(conductors)])
    admittance = np.diag([load.model.conductance for load in loads])
    source = np.array(
        [segments[0].source[load.p] - segments[0].source[load.q] for load in loads], complex
    )
    matrix = np.eye(len(loads)) + incidence.T @ z @ incidence @ admittance
    volts = np.linalg.solve(matrix, source) if loads else np.array([])
    assert flow.converged
    assert np.allclose(flow.load_v, volts, atol=1e-4)


@given(trees(), st.floats(10, 2000))
def test_one_heater_more_on_a_two_wire_circuit_never_raises_a_voltage(tree, watts):
    segments, loads = tree
    if len(segments[0].source) != 2:
        return
    loads = [load for load in loads if load.p == 0 and load.q == 1]
    before = sweep(segments, loads)
    more = Draw(len(segments) - 1, 0, 1, model(abs(segments[0].source[0]), watts, 0j))
    after = sweep(segments, [*loads, more])
    for one, other in zip(before.load_v, after.load_v, strict=False):
        assert abs(other) <= abs(one) + 1e-5


def test_a_cord_far_too_long_still_settles():
    source = conductor_set("single-phase", 120)
    segments = [Segment(-1, source.volts), Segment(0, source.volts, 500 + 0j)]
    flow = sweep(segments, [Draw(1, 0, 1, model(120, 1500, 0j))])
    assert flow.converged
    # a voltage divider: 1000 ohm of cord before 9.6 ohm of heater
    assert abs(flow.load_v[0]) == pytest.approx(120 * 9.6 / 1009.6, rel=1e-4)


def test_loads_that_are_off_draw_nothing():
    source = conductor_set("single-phase", 120)
    loads = [Draw(0, 0, 1, model(120, 1200, 0j)), Draw(0, 0, 1, model(120, 600, 0j))]
    flow = sweep([Segment(-1, source.volts)], loads, on=[False, True])
    assert flow.load_a[0] == 0
    assert abs(flow.segment_a[0][0]) == pytest.approx(5.0)
