"""Regulators that are put in: what then stands before the tap is the set point, by any text."""

import pytest
from building import build, drawn, mains, opening, regulator, tap, tee, tube
from msgspec.structs import replace

from cartlayout.advice.regulating import regulators, with_regulators
from cartlayout.analysis import analyse
from cartlayout.build import Build, Regulator
from cartlayout.build.edits import EditError

BAR = 1e5


def two_wants(*more: object, units: str = "metric") -> Build:
    """A machine that may see 3 bar, a rinser that wants 4, and mains of 6 bar."""
    level = {"level": "base", "height": "2 in"}
    made = build(
        mains("mains", "6 bar", connector="3/8 push-fit", at=("8 in", "15 in"), **level),
        tee("tee", at=("24 in", "15 in")),
        tap("machine", drawn("2 L/min"), required_flow="2 L/min", least="1.5 bar",
            greatest="3 bar", at=("60 in", "8 in"), **level),
        tap("rinser", opening("4 L/min", "4 bar"), required_flow="4 L/min", least="4 bar",
            greatest="8 bar", at=("60 in", "22 in"), **level),
        tube("mains", "tee.a", "0.5 m", "9.5 mm"),
        tube("tee.c", "rinser", "0.5 m", "9.5 mm"),
        *(more or (tube("tee.b", "machine", None, "9.5 mm"),)),
    )  # fmt: skip
    return replace(made, units="US" if units == "US" else "metric")


@pytest.mark.parametrize("units", ["US", "metric"])
def test_one_is_put_in_before_the_tap_and_set_as_the_window_says(units):
    made = two_wants(units=units)
    (window,) = analyse(made).water.windows
    (point,) = window.set_points
    done, (item_id,) = with_regulators(made, window.set_points)
    role = done.item(item_id).specification.water
    assert isinstance(role, Regulator)
    # Rounded as one sets it: to a psi, to a tenth of a bar.
    step_pa = 6895 if units == "US" else 1e4
    assert role.set_point.si == pytest.approx(point.set_point_pa, abs=0.51 * step_pa)
    after = analyse(done).water
    machine = after.tap("machine")
    creep_pa = role.creep.si if role.creep is not None else 0.0
    assert machine.static_pa == pytest.approx(role.set_point.si + creep_pa, abs=0.05 * BAR)
    assert machine.static_pa <= 3 * BAR
    assert after.tap("rinser").static_pa == pytest.approx(6 * BAR, abs=0.05 * BAR)


def test_one_that_is_there_is_set_anew_and_none_put_beside_it():
    made = two_wants(
        regulator("regulator", "5 bar", at=("42 in", "8 in")),
        tube("tee.b", "regulator", "0.1 m", "9.5 mm"),
        tube("regulator", "machine", "0.5 m"),
    )
    (window,) = analyse(made).water.windows
    done, ids = with_regulators(made, window.set_points)
    assert ids == ("regulator",)
    assert len(done.items) == len(made.items)
    assert analyse(done).water.tap("machine").static_pa < 3 * BAR


def test_only_those_sold_where_the_build_is():
    us, eu = two_wants(), replace(two_wants(), region="EU")
    assert regulators(us)
    assert regulators(eu)
    for made in (us, eu):
        assert all(not one.regions or made.region in one.regions for one in regulators(made))


def test_what_is_no_regulator_is_refused():
    (window,) = analyse(two_wants()).water.windows
    wrong = [replace_point(one, "tee") for one in window.set_points]
    with pytest.raises(EditError, match="is no regulator"):
        with_regulators(two_wants(), wrong)


def replace_point(point, regulator_id):
    from dataclasses import replace as changed

    return changed(point, regulator=regulator_id)
