"""The sweep with every mix of loads at once: leg to neutral, leg to leg, three-phase, held power.

Checked against Kirchhoff's current law, the conservation of energy, and what any passive network
does (text-books on circuit theory): one load more lowers the voltage between its own conductors.
"""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cartlayout.power.loads import LoadModel
from cartlayout.power.parts import Draw, Segment
from cartlayout.power.sweep import sweep
from cartlayout.power.systems import ConductorSet, conductor_set

SYSTEMS = [
    ("single-phase", 120),
    ("split-phase", 240),
    ("split-phase", 208),
    ("three-phase", 208),
    ("three-phase", 400),
]


def drawing(volts: float, heater_w: float, held_va: complex) -> LoadModel:
    """A heater and held power side by side; the latter is a resistance below 70 % of its volts."""
    return LoadModel(
        volts,
        heater_w,
        held_va,
        heater_w / volts**2,
        held_va.conjugate() / (0.7 * volts) ** 2,
    )


@st.composite
def any_load(draw, source: ConductorSet, nodes: int) -> list[Draw]:
    """One load: between any two conductors, or a star or a delta of three equal parts."""
    node = draw(st.integers(0, nodes - 1))
    heater_w = draw(st.sampled_from([0.0, 60.0, 750.0, 1500.0]))
    held_va = draw(st.sampled_from([0j, 0j, 200 + 0j, 500 + 375j, 1200 + 600j]))
    if len(source.legs) == 3 and draw(st.booleans()):
        one, two, three = source.legs
        pairs = draw(
            st.sampled_from(
                [
                    [(leg, source.neutral) for leg in source.legs],
                    [(one, two), (two, three), (three, one)],
                ]
            )
        )
    else:
        p = draw(st.sampled_from(source.legs))
        q = draw(st.sampled_from([c for c in (*source.legs, source.neutral) if c != p]))
        pairs = [(p, q)]
    return [
        Draw(node, p, q, drawing(abs(source.between(p, q)), heater_w, held_va)) for p, q in pairs
    ]


@st.composite
def networks(draw):
    source = conductor_set(*draw(st.sampled_from(SYSTEMS)))
    nodes = draw(st.integers(1, 7))
    segments = [Segment(-1, source.volts, complex(draw(st.floats(0, 0.02))))]
    for index in range(1, nodes):
        ohm = complex(draw(st.floats(0, 0.05)), draw(st.floats(0, 0.01)))
        segments.append(Segment(draw(st.integers(0, index - 1)), source.volts, ohm))
    parts = draw(st.lists(any_load(source, nodes), max_size=7))
    return source, segments, [one for load in parts for one in load]


@given(networks(), st.data())
def test_currents_balance_at_every_node_whatever_is_on(network, data):
    _, segments, draws = network
    on = [data.draw(st.booleans()) for _ in draws]
    flow = sweep(segments, draws, on)
    assert flow.converged
    for index, segment in enumerate(segments):
        assert abs(sum(flow.segment_a[index])) < 1e-9
        for conductor in range(len(segment.source)):
            here = sum(
                (one.p == conductor) * amps - (one.q == conductor) * amps
                for one, amps in zip(draws, flow.load_a, strict=True)
                if one.segment == index
            )
            passed_on = sum(
                flow.segment_a[child][conductor]
                for child, other in enumerate(segments)
                if other.parent == index
            )
            assert abs(flow.segment_a[index][conductor] - here - passed_on) < 1e-9
    for one, amps, running in zip(draws, flow.load_a, on, strict=True):
        assert running or amps == 0
        volts = flow.segment_v[one.segment]
        assert abs(volts[one.p]) > 0


@given(networks(), st.data())
def test_volts_fall_along_each_cord_by_ohms_law(network, data):
    source, segments, draws = network
    flow = sweep(segments, draws, [data.draw(st.booleans()) for _ in draws])
    for index, segment in enumerate(segments):
        above = source.volts if segment.parent < 0 else flow.segment_v[segment.parent]
        for conductor, volts in enumerate(flow.segment_v[index]):
            fallen = segment.impedance_ohm * flow.segment_a[index][conductor]
            assert abs(above[conductor] - volts - fallen) < 1e-5


@given(networks())
def test_power_in_is_power_out_and_what_the_cords_take(network):
    source, segments, draws = network
    flow = sweep(segments, draws)
    given_va = sum(v * i.conjugate() for v, i in zip(source.volts, flow.segment_a[0], strict=True))
    used_va = sum(u * i.conjugate() for u, i in zip(flow.load_v, flow.load_a, strict=True))
    lost_va = sum(
        segment.impedance_ohm * sum(abs(i) ** 2 for i in row)
        for segment, row in zip(segments, flow.segment_a, strict=True)
    )
    assert abs(given_va - used_va - lost_va) < 1e-3
    held_w = sum(one.model.held_va.real for one in draws)
    assert used_va.real >= held_w - 1.0  # what holds its power has it, as long as it has the volts


@settings(max_examples=200)
@given(networks(), st.data())
def test_one_load_more_raises_no_voltage_between_its_own_conductors(network, data):
    """Between other conductors it may: what flows in the neutral lifts the other legs."""
    source, segments, draws = network
    before = sweep(segments, draws)
    more = data.draw(any_load(source, len(segments)))
    after = sweep(segments, [*draws, *more])
    mine = {frozenset((one.p, one.q)) for one in more}
    if len(more) == 3:
        return  # thirds share conductors; the test below has them
    for one, old, new in zip(draws, before.load_v, after.load_v, strict=False):
        if frozenset((one.p, one.q)) in mine:
            assert abs(new) <= abs(old) + 1e-4


@given(st.floats(0.001, 0.1), st.floats(100, 6000), st.floats(100, 6000))
def test_a_balanced_three_phase_load_more_lowers_every_leg_alike(ohm, first_w, second_w):
    source = conductor_set("three-phase", 400)
    segments = [Segment(-1, source.volts), Segment(0, source.volts, complex(ohm))]
    phase_v = 400 / math.sqrt(3)

    def star(watts):
        return [
            Draw(1, leg, source.neutral, drawing(phase_v, watts / 3, 0j)) for leg in source.legs
        ]

    before = sweep(segments, star(first_w))
    after = sweep(segments, star(first_w) + star(second_w))
    for old, new in zip(before.load_v, after.load_v, strict=False):
        assert abs(new) < abs(old)
    # By hand: each leg is a divider of its own, the neutral carries nothing.
    resistance = phase_v**2 / ((first_w + second_w) / 3)
    assert abs(after.load_v[0]) == pytest.approx(
        phase_v * resistance / (resistance + ohm), rel=1e-6
    )


def test_a_load_on_one_leg_lifts_the_other():
    """Known of shared neutrals: 10 A on L1 through 0.1 ohm each way put 1 V on the neutral."""
    source = conductor_set("split-phase", 240)
    segments = [Segment(-1, source.volts), Segment(0, source.volts, 0.1 + 0j)]
    small = Draw(1, 1, source.neutral, drawing(120, 1e-6, 0j))
    heavy = Draw(1, 0, source.neutral, drawing(120, 1222.45, 0j))
    flow = sweep(segments, [small, heavy])
    # 10.0 A: 120 V over 11.78 ohm of heater and 0.2 ohm of cord (Ohm's law)
    resistance = 120**2 / 1222.45
    amps = 120 / (resistance + 0.2)
    assert abs(flow.load_v[0]) == pytest.approx(120 + 0.1 * amps, abs=1e-3)
