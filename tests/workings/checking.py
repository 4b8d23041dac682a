"""What must hold of every working, whatever it is of."""

from collections.abc import Mapping

import pytest
from pocket_calculator import redo

from cartlayout.analysis import Analysis
from cartlayout.power.sweep import TOLERANCE_A
from cartlayout.units import UnitSystem
from cartlayout.workings.arithmetic import names_in, value_of
from cartlayout.workings.model import Working
from cartlayout.workings.shown import text, told_result
from cartlayout.workings.subjects import Subject

SOLVED = {"power": TOLERANCE_A * 400, "current": TOLERANCE_A, "voltage": 1e-9}
"""As near as currents and voltages are made to agree: a millionth of an ampere."""


def check(one: Working) -> None:
    """Each step put in by hand gives its result, and the last one is the number shown."""
    assert one.steps
    for step in (*one.steps, *(step for held in one.held for step in held.steps)):
        names = {symbol.name: symbol.value.si for symbol in step.symbols}
        assert len(names) == len(step.symbols), f"{one.number}: two symbols of one name"
        if step.expression:
            assert names_in(step.expression) == set(names), f"{one.number}: {step.says}"
            assert value_of(step.expression, names) == pytest.approx(
                step.result.si, rel=1e-6, abs=SOLVED.get(step.result.dimension, 1e-12)
            ), f"{one.number}: {step.says}"
    last = one.steps[-1].result
    assert last.si == pytest.approx(one.result.si, rel=1e-9, abs=1e-12), one.number
    for held in one.held:
        assert held.rule
        assert held.source
        if held.steps:
            assert held.steps[-1].result.si == pytest.approx(held.value.si, rel=1e-9), one.number
    for system in UnitSystem:
        said = text(one, system)
        assert told_result(one).shown(system) in said.splitlines()[0]
        assert said.count("\n") >= len(one.steps)
    for steps in (one.steps, *(held.steps for held in one.held)):
        redo(steps, UnitSystem.US)


def all_of(subjects: Mapping[str, Subject], analysis: Analysis) -> list[Working]:
    """Every working that some subjects have of an analysis, each of the number it was asked for."""
    found = []
    for subject in subjects.values():
        for number in subject.numbers(analysis):
            one = subject.working(analysis, number)
            assert one is not None, number
            assert one.number == number
            found.append(one)
    return found
