"""The sweep against another load-flow engine: radial feeders, single-phase and three-phase.

The other engine is power-grid-model, a general-purpose library for steady states of power grids.
A single-phase feeder out and back is one phase of a balanced grid with twice the conductor's
resistance on each line.
"""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cartlayout.power.parts import Draw, Segment
from cartlayout.power.sweep import sweep
from cartlayout.power.systems import conductor_set

pgm = pytest.importorskip("power_grid_model", reason="it has no wheel for every platform")

CONSTANT_POWER, CONSTANT_IMPEDANCE = 0, 1


class Held:
    """Constant complex power."""

    conductance = 0.0

    def __init__(self, va: complex) -> None:
        self.va = va

    def current(self, u: complex) -> complex:
        return (self.va / u).conjugate()


class Heater:
    """A resistance that takes so many watts at rated voltage."""

    def __init__(self, watts: float, rated_v: float) -> None:
        self.conductance = watts / rated_v**2

    def current(self, u: complex) -> complex:
        return self.conductance * u


def other_engine(
    phase_v: float, ohms: list[float], parents: list[int], loads: list[tuple[int, complex, bool]]
) -> tuple[list[float], list[float]]:
    """Volts to neutral at every node and amps of every line of a balanced grid.

    ``loads`` are (node, watts and vars of one phase, whether a resistance).
    """
    nodes = len(ohms) + 1
    data = {}
    node = pgm.initialize_array("input", "node", nodes)
    node["id"] = range(nodes)
    node["u_rated"] = phase_v * math.sqrt(3)
    line = pgm.initialize_array("input", "line", len(ohms))
    line["id"] = range(100, 100 + len(ohms))
    line["from_node"] = parents
    line["to_node"] = range(1, nodes)
    line["from_status"] = line["to_status"] = 1
    line["r1"], line["x1"] = ohms, 0.0
    line["c1"] = line["tan1"] = 0.0
    line["i_n"] = 1000.0
    source = pgm.initialize_array("input", "source", 1)
    source["id"], source["node"], source["status"], source["u_ref"] = 500, 0, 1, 1.0
    source["sk"] = 1e20
    load = pgm.initialize_array("input", "sym_load", len(loads))
    load["id"] = range(1000, 1000 + len(loads))
    load["node"] = [at for at, _, _ in loads]
    load["status"] = 1
    load["type"] = [CONSTANT_IMPEDANCE if heats else CONSTANT_POWER for _, _, heats in loads]
    load["p_specified"] = [3 * va.real for _, va, _ in loads]
    load["q_specified"] = [3 * va.imag for _, va, _ in loads]
    data = {"node": node, "line": line, "source": source, "sym_load": load}
    result = pgm.PowerGridModel(data).calculate_power_flow(
        error_tolerance=1e-10, max_iterations=100
    )
    volts = [float(u) / math.sqrt(3) for u in result["node"]["u"]]
    return volts, [float(i) for i in result["line"]["i_from"]]


feeders = st.lists(
    st.tuples(
        st.floats(0.005, 0.15),  # ohms of one conductor of the cord before it
        st.floats(0.0, 0.999),  # which node before it hangs on
        st.floats(20.0, 700.0),  # watts
        st.sampled_from([0.0, 0.2, 0.5, 0.8]),  # vars for each watt
        st.booleans(),  # a heater
    ),
    min_size=1,
    max_size=8,
)


def parts_of(feeder, return_share: float):
    """Ohms of each line, parent of each line, and loads, as both engines want them."""
    ohms = [ohm * return_share for ohm, *_ in feeder]
    parents = [int(where * (at + 1)) for at, (_, where, *_) in enumerate(feeder)]
    loads = [
        (at + 1, complex(watts, 0.0 if heats else watts * vars_), heats)
        for at, (_, _, watts, vars_, heats) in enumerate(feeder)
    ]
    return ohms, parents, loads


def ours(system: str, volts: float, feeder, parents, loads):
    source = conductor_set(system, volts)
    segments = [Segment(-1, source.volts)]
    for (ohm, *_), parent in zip(feeder, parents, strict=True):
        segments.append(Segment(parent, source.volts, complex(ohm)))
    phase_v = abs(source.volts[0])
    draws = []
    for at, va, heats in loads:
        model = Heater(va.real, phase_v) if heats else Held(va)
        draws += [Draw(at, leg, source.neutral, model) for leg in source.legs]
    return source, sweep(segments, draws)


@settings(max_examples=60, deadline=None)
@given(feeders)
def test_a_single_phase_feeder_out_and_back(feeder):
    ohms, parents, loads = parts_of(feeder, 2.0)
    volts, amps = other_engine(230.0, ohms, parents, loads)
    _, flow = ours("single-phase", 230.0, feeder, parents, loads)
    assert flow.converged
    for at, there in enumerate(flow.segment_v):
        assert abs(there[0] - there[1]) == pytest.approx(volts[at], abs=1e-3)
    for at, row in enumerate(flow.segment_a[1:]):
        assert abs(row[0]) == pytest.approx(amps[at], abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(feeders)
def test_a_balanced_three_phase_feeder(feeder):
    ohms, parents, loads = parts_of(feeder, 1.0)
    volts, amps = other_engine(400.0 / math.sqrt(3), ohms, parents, loads)
    source, flow = ours("three-phase", 400.0, feeder, parents, loads)
    assert flow.converged
    for at, there in enumerate(flow.segment_v):
        for leg in source.legs:
            to_neutral = abs(there[leg] - there[source.neutral])
            assert to_neutral == pytest.approx(volts[at], abs=1e-3)
    for at, row in enumerate(flow.segment_a[1:]):
        assert abs(row[source.neutral]) == pytest.approx(0.0, abs=1e-4)
        assert [abs(row[leg]) for leg in source.legs] == pytest.approx([amps[at]] * 3, abs=1e-3)
