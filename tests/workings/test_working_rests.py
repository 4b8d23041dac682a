"""Which numbers rest on figures that nobody has checked."""

from pathlib import Path

import building as b
import pytest
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Build, Origin
from cartlayout.build.file import load
from cartlayout.units import Pressure
from cartlayout.workings.find import numbers, working
from cartlayout.workings.model import Number
from cartlayout.workings.rests import typical_figures

SAMPLES = Path(__file__).parents[2] / "sample_builds"
SAME = {"least": Pressure("4 bar"), "greatest": Pressure("4 bar")}


def line(**bases: str) -> Build:
    """Mains, a filter, a tap: with what the figures of each rest on."""
    made = b.build(
        b.mains("mains", "4 bar", connector="3/8 push-fit", water=SAME, level="base"),
        b.water_filter("filter", b.point("4 L/min", "0.4 bar")),
        b.tap("tap", b.opening("4 L/min", "2 bar"), least="1 bar", greatest="6 bar"),
        b.tube("mains.outlet", "filter.inlet"),
        b.tube("filter.outlet", "tap.inlet"),
    )
    of = {"filter": "loss", "tap": "inlet flow", "mains": "pressure"}
    items = tuple(
        replace(
            item,
            specification=replace(
                item.specification,
                origins=(Origin(of=of[item.id], basis=bases.get(item.id, "nameplate")),),
            ),
        )
        for item in made.items
    )
    return replace(made, items=items)


PRESSURE = Number("tap", "tap.inlet", "pressure", "tap alone")
FLOW = Number("tap", "tap.inlet", "flow", "tap alone")


def test_nothing_typical_no_sign():
    analysis = analyse(line())
    # How fast a valve shuts and how stiff a wall is nobody has told: knocks rest on that.
    rest = {one.subject for one in numbers(analysis) if typical_figures(analysis, one)}
    assert rest <= {"surge"}


def test_a_typical_filter_is_felt_at_the_tap_behind_it():
    """What a filter takes is a step of the ladder, and its loss has a working of its own."""
    analysis = analyse(line(filter="typical"))
    assert typical_figures(analysis, PRESSURE) == ("loss of filter",)
    assert typical_figures(analysis, FLOW) == ("loss of filter",)
    assert typical_figures(analysis, Number("tap", "tap.inlet", "static")) == ()


def test_a_typical_opening_is_felt_in_the_flow():
    analysis = analyse(line(tap="typical"))
    assert typical_figures(analysis, PRESSURE) == ()
    assert len(typical_figures(analysis, FLOW)) > 0


def test_several_numbers_name_each_figure_once():
    analysis = analyse(line(filter="typical", tap="typical"))
    named = typical_figures(analysis, PRESSURE, FLOW)
    assert len(named) == len(set(named)) >= 2
    assert "loss of filter" in named


def test_what_is_its_own_is_named_by_whose_it_is():
    """Watts, vars and heaters of appliances: "its vars of Grinder" is no English."""
    for path in sorted(SAMPLES.glob("*.cart")):
        analysis = analyse(load(path))
        for one in numbers(analysis):
            for figure in typical_figures(analysis, one):
                assert not figure.startswith("its "), figure
                assert " of its " not in figure, figure


@pytest.mark.parametrize("number", [Number("tap", "gone.inlet", "pressure"), Number("x", "", "")])
def test_what_is_not_there_rests_on_nothing(number):
    analysis = analyse(line(filter="typical"))
    assert working(analysis, number) is None
    assert typical_figures(analysis, number) == ()
