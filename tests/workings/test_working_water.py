"""Every working of the water side adds up: put in by hand, in units, and against the boards."""

import ast
import math

import pint
import pytest
from analysis.random_builds import builds
from checking import all_of
from hypothesis import HealthCheck, Phase, given, settings
from random_water import lines

from cartlayout.analysis import Analysis, analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.units import UnitSystem
from cartlayout.units.display import _SHOWN
from cartlayout.workings.arithmetic import names_in, value_of
from cartlayout.workings.model import Number, Step, Symbol, Working
from cartlayout.workings.water import WATER

SAMPLES = sorted(sample_builds().glob("*.cart"))
SOLVED = {"pressure": 3.0, "flow": 1e-8}
"""As near as the solver solves, far under what is shown: 0.05 Pa along a link, a pascal for each
thing that loses nothing, and 0.6 mL/min, since it keeps a slope at the bottom of its roots."""


def workings(analysis: Analysis) -> list[Working]:
    return all_of(WATER, analysis)


def check(working: Working) -> None:
    for step in working.steps:
        names = {symbol.name: symbol.value.si for symbol in step.symbols}
        assert len(names) == len(step.symbols), f"{working.number}: two symbols of one name"
        if step.expression:
            assert names_in(step.expression) == set(names), f"{working.number}: {step.says}"
            assert value_of(step.expression, names) == pytest.approx(
                step.result.si, rel=1e-6, abs=SOLVED.get(step.result.dimension, 1e-12)
            ), f"{working.number}: {step.says}"
    last = working.steps[-1].result
    for system in UnitSystem:
        assert last.shown(system) == working.result.shown(system)
    for one in working.held:
        assert one.rule
        assert one.source


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def sample(request: pytest.FixtureRequest) -> Analysis:
    return analyse(load(request.param))


def test_each_step_of_each_sample_adds_up(sample):
    found = workings(sample)
    assert len(found) > 40
    for working in found:
        check(working)


UNSHRUNK = (Phase.explicit, Phase.reuse, Phase.generate)
"""A build is long; to make a failing one shorter takes many minutes."""


@settings(max_examples=25, suppress_health_check=list(HealthCheck), deadline=None, phases=UNSHRUNK)
@given(builds())
def test_each_step_of_any_build_adds_up(build):
    for working in workings(analyse(build)):
        check(working)


@settings(max_examples=60, suppress_health_check=list(HealthCheck), deadline=None, phases=UNSHRUNK)
@given(lines())
def test_each_step_of_any_line_adds_up(build):
    for working in workings(analyse(build)):
        check(working)


# --- in units: the second check is that of a library of units ----------------------------------

UNITS: "pint.UnitRegistry[float]" = pint.UnitRegistry()
FUNCTIONS = {"sqrt": lambda x: x**0.5, "min": min, "max": max}


def in_units(node: ast.expr, names: dict[str, object]) -> object:
    """Evaluate arithmetic with quantities; functions of pure numbers take pure numbers."""
    match node:
        case ast.Constant(value=number):
            return number
        case ast.Name(id="pi"):
            return math.pi
        case ast.Name(id=name):
            return names[name]
        case ast.UnaryOp(operand=operand):
            return -in_units(operand, names)
        case ast.BinOp(left=left, op=op, right=right):
            a, b = in_units(left, names), in_units(right, names)
            return {
                ast.Add: lambda: a + b,
                ast.Sub: lambda: a - b,
                ast.Mult: lambda: a * b,
                ast.Div: lambda: a / b,
                ast.Pow: lambda: a**b,
            }[type(op)]()
        case ast.Call(func=ast.Name(id="log10"), args=[one]):
            return math.log10(UNITS.Quantity(in_units(one, names)).to("").magnitude)
        case ast.Call(func=ast.Name(id=name), args=args):
            return FUNCTIONS[name](*(in_units(arg, names) for arg in args))
    raise AssertionError(ast.dump(node))


def quantity(symbol: Symbol) -> object:
    return UNITS.Quantity(symbol.value.si, _SHOWN[symbol.value.dimension][0])


def unit_check(number: Number, step: Step) -> None:
    tree = ast.parse(step.expression, mode="eval").body
    found = in_units(tree, {symbol.name: quantity(symbol) for symbol in step.symbols})
    unit = _SHOWN[step.result.dimension][0]
    assert UNITS.Quantity(found).to(unit).magnitude == pytest.approx(
        step.result.si, rel=1e-6, abs=SOLVED.get(step.result.dimension, 1e-12)
    ), f"{number}: {step.says}"


def test_each_formula_holds_in_units(sample):
    """With pint: pressures add to pressures only, and what comes out has the unit it is shown in.

    Manning's formula holds in SI with its roughness in s/m^(1/3), as handbooks give it.
    """
    for working in workings(sample):
        for step in working.steps:
            if step.expression:
                unit_check(working.number, step)


# --- against the boards ------------------------------------------------------------------------


def of(analysis: Analysis, number: Number) -> Working:
    working = WATER[number.subject].working(analysis, number)
    assert working is not None
    return working


def test_taps_are_those_of_the_board(sample):
    for tap in sample.water.taps:
        name = f"{tap.item}.{tap.port}"
        assert of(sample, Number("tap", name, "static")).result.si == tap.static_pa
        for case, state in tap.states.items():
            if state.open:
                pressure = of(sample, Number("tap", name, "pressure", case))
                assert pressure.result.si == state.pressure_pa
                flow = of(sample, Number("tap", name, "flow", case))
                assert flow.result.si == state.flow
                # Held against what the tap's verdict holds it against.
                assert all(one.holds for one in pressure.held) == state.pressure_ok
                assert all(one.holds for one in flow.held) == state.flow_ok


def test_tubes_are_those_of_the_board(sample):
    for case, told in sample.water.cases.items():
        for run, state in told.runs.items():
            if state.flow:
                speed = of(sample, Number("tube", run, "velocity", case)).result.si
                assert speed == pytest.approx(state.velocity_m_s, rel=1e-12)
                assert of(sample, Number("tube", run, "loss", case)).result.si == state.loss_pa
    for static in sample.water.statics:
        shown = of(sample, Number("tube", static.run, "static"))
        assert shown.result.si == static.highest_pa


def test_steps_of_a_ladder_open_the_working_of_each_loss(sample):
    for tap in sample.water.taps:
        for case, state in tap.states.items():
            if not state.open or state.pressure_pa != state.lowest_pa:
                continue
            ladder = of(sample, Number("tap", f"{tap.item}.{tap.port}", "pressure", case))
            for step in ladder.steps:
                for symbol in step.symbols:
                    if symbol.number is not None:
                        said = of(sample, symbol.number)
                        assert said.result.si == pytest.approx(symbol.value.si, rel=1e-9, abs=0.1)


def test_what_is_not_there_has_no_working(sample):
    for subject, what in (("tap", "pressure"), ("tube", "loss"), ("pump", "starts")):
        nowhere = Number(subject, "nowhere", what, "All shut")
        assert WATER[subject].working(sample, nowhere) is None
    tap = sample.water.taps[0]
    gone = Number("tap", f"{tap.item}.{tap.port}", "pressure", "No such case")
    assert WATER["tap"].working(sample, gone) is None


def test_findings_about_numbers_open_their_working(sample):
    """Whatever a finding about water is about has a working with the number that it says."""
    for finding in sample.findings:
        if finding.number is None or finding.number.subject not in WATER:
            continue
        working = of(sample, finding.number)
        told = [one.si for one in (finding.value, finding.limit) if one is not None]
        own = [working.result.si, *(one.value.si for one in working.held)]
        own += [symbol.value.si for step in working.steps for symbol in step.symbols]
        per_hour = [value * 3600.0 for value in own]
        assert any(math.isclose(a, b, rel_tol=1e-4) for a in told for b in (*own, *per_hour)), (
            finding.code
        )
