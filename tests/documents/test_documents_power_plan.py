"""Volts at the plug on the plan seen from near: in the case shown, beside the amps."""

import pytest
from building import build, cord, load, outlet, wire
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import OperatingCase
from cartlayout.documents.plan import PlanOptions, plan_picture
from cartlayout.documents.plan.paint import Ink
from cartlayout.documents.theme import LIGHT
from cartlayout.ui.plan.arrange import arrange
from cartlayout.ui.plan.names import NEAR_MM

POWER = frozenset({"power"})


def heater(feet: float = 50.0, volts: float = 120, **more):
    """10 ohm behind a cord of 12 AWG, which has 1.588 ohm in 1,000 ft (wire table, ASTM B258)."""
    return build(
        outlet("outlet", volts),
        load("heater", 1440, cord=cord("12 AWG", f"{feet:g} ft"), size=("24 in", "24 in", "9 in")),
        wire("heater", "outlet.1"),
        **more,
    )


def body(made, **options):
    options.setdefault("overlays", POWER)
    return plan_picture(made, analyse(made), PlanOptions(**options)).body("heater")


def test_volts_are_ohms_law():
    volts = 120.0 * 10.0 / (10.0 + 2 * 50.0 / 1000.0 * 1.588)
    shown = body(heater())
    assert shown.sub == "12.0 A"
    assert shown.near_sub == f"12.0 A · {volts:.1f} V"


def test_outside_its_range_a_word_says_so():
    """10 % either side where no nameplate says otherwise: common practice, no source."""
    assert body(heater(500.0)).near_sub.endswith(" V low")
    assert body(heater(1.0, 140)).near_sub.endswith(" V high")


def test_without_the_power_overlay_there_are_none():
    assert body(heater(), overlays=frozenset({"water"})).near_sub == ""
    loose = build(load("heater", 1440))
    assert body(loose).near_sub == ""


def test_a_three_phase_load_that_is_not_fed_says_the_amps_of_its_legs():
    """P = sqrt(3) U I (any text-book): 9 kW at 400 V draw 12.99 A from each leg."""
    one = load("heater", 9000, volts=400, plug="IEC 60309 16 A red P")
    role = replace(one.specification.electrical, phases=3)
    one = replace(one, specification=replace(one.specification, electrical=role))
    assert body(build(one, region="EU")).sub == "13.0 A, not fed"


def test_the_case_that_is_shown_governs():
    made = build(
        outlet("outlet"),
        load("heater", 1440, cord=cord("12 AWG", "50 ft"), size=("24 in", "24 in", "9 in")),
        wire("heater", "outlet.1"),
        cases=(OperatingCase(name="Standing by", loads=()),),
    )
    assert body(made, case="Standing by").near_sub == "0.0 A · 120.0 V"
    assert body(made).near_sub != "0.0 A · 120.0 V"


@pytest.mark.parametrize("near", [True, False])
def test_they_stand_there_only_from_near(near):
    made = heater()
    picture = plan_picture(made, analyse(made), PlanOptions(overlays=POWER))
    unit = NEAR_MM * (0.5 if near else 1.5)
    name = arrange(picture, Ink(LIGHT, unit), None).names["heater"]
    assert name.sub.split("\n")[0] == ("12.0 A · 118.1 V" if near else "12.0 A")
