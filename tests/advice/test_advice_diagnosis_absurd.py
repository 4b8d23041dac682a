"""However absurd the numbers of a build that loads, asking what explains its gauges answers.

Nothing is checked against a source here: only that no number that a file may hold breaks it.
"""

import pytest
from msgspec.structs import replace
from test_advice_diagnosis import BEHIND, FRONT, line, with_role

from cartlayout.advice.diagnosis import diagnose
from cartlayout.analysis import analyse
from cartlayout.build import FlowPoint, Reading
from cartlayout.build.edits import replace_item
from cartlayout.units import Flow, Length, Pressure
from cartlayout.water import ALL_OPEN, ALL_SHUT


def read_as(cart, text):
    for gauge_id in (FRONT, BEHIND):
        item = cart.item(gauge_id)
        made = tuple(Reading(case, Pressure(text)) for case in (ALL_SHUT, ALL_OPEN))
        cart = replace_item(cart, replace(item, readings=made))
    return cart


def in_order(found):
    return all(
        (one.explains, -one.misfit) >= (other.explains, -other.misfit)
        for one, other in zip(found.causes, found.causes[1:], strict=False)
    )


@pytest.mark.parametrize("text", ["0 bar", "-3 bar", "1e-9 bar", "50 bar", "1e9 bar"])
@pytest.mark.parametrize("source", ["mains", "pump"])
def test_any_reading(text, source):
    found = diagnose(analyse(read_as(line(source), text)))
    assert found.off > 0
    assert in_order(found)


@pytest.mark.parametrize(
    ("item_id", "changes"),
    [
        ("mains", {"usual": Pressure("0 bar")}),
        ("mains", {"usual": Pressure("1e9 bar")}),
        ("mains", {"usual": Pressure("9e9 bar")}),
        ("mains", {"usual": Pressure("-2 bar")}),
        ("mains", {"residual": FlowPoint(Flow("0 L/min"), Pressure("9 bar"))}),
        ("filter", {"used": 7.0}),
        ("filter", {"used": -1.0}),
        ("filter", {"loss": ()}),
        ("filter", {"loss": (FlowPoint(Flow("1e-9 L/min"), Pressure("1e6 bar")),)}),
        ("valve", {"closed_share": 1.0}),
        ("valve", {"closed_share": 5.0}),
        ("valve", {"is_open": False}),
        (FRONT, {"full_scale": Pressure("0 bar")}),
        (FRONT, {"full_scale": Pressure("-1 bar")}),
    ],
)
def test_any_line(item_id, changes):
    cart = with_role(line(), item_id, **changes)
    assert in_order(diagnose(analyse(read_as(cart, "1.5 bar"))))


@pytest.mark.parametrize(
    "changes",
    [
        {"curve": ()},
        {"cut_out": Pressure("0 bar")},
        {"cut_in": Pressure("9 bar"), "cut_out": Pressure("1 bar")},
        {"cut_out": Pressure("1e9 bar")},
        {"cut_out": Pressure("9e9 bar")},
    ],
)
def test_any_pump(changes):
    cart = with_role(line("pump"), "pump", **changes)
    assert in_order(diagnose(analyse(read_as(cart, "1.5 bar"))))


@pytest.mark.parametrize("bore", ["0 mm", "0.001 mm", "3 m"])
def test_any_tube(bore):
    cart = line()
    runs = tuple(replace(run, tube=replace(run.tube, bore=Length(bore))) for run in cart.runs)
    found = diagnose(analyse(read_as(replace(cart, runs=runs), "1.5 bar")))
    assert in_order(found)
