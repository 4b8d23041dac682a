"""How much a pump that is tried has to spare, and why one does not do: by hand and printed tables.

Water at 20 degC weighs 998.2 kg/m3 (any steam table); the test's counter stands 30 in above its
base. Tubes like drums lose nothing, so that a line is its hydrostatics.
"""

import msgspec
import pytest
from building import accumulator, build, drawn, opening, pump, tank, tap, tee, tube

from cartlayout.advice.cushions import is_calm
from cartlayout.advice.margins import judge
from cartlayout.advice.pumps import PumpChoice, choose_pumps
from cartlayout.analysis import analyse
from cartlayout.build import Build, Pump
from cartlayout.build.edits import replace_item
from cartlayout.units import Length, Pressure, UnitSystem

BAR, PSI, GPM = 1e5, 6894.757, 6.30902e-5
CLIMB_PA = 998.2 * 9.80665 * 30 * 0.0254
WIDE = {"length": "10 mm", "bore": "150 mm"}


def two_taps(greatest: str = "5 bar", other: str = "6 bar") -> Build:
    """A pump of 2 to 4 bar and two taps on the counter that want 1.5 and 1.2 bar."""
    return build(
        tank("jug"),
        pump("pump", [("0 bar", "12 L/min"), ("4 bar", "6 L/min")], "2 bar", "4 bar"),
        tee("tee"),
        tap("one", drawn("2 L/min"), required_flow="2 L/min", least="1.5 bar", greatest=greatest),
        tap("other", drawn("1 L/min"), required_flow="1 L/min", least="1.2 bar", greatest=other),
        tube("jug", "pump", **WIDE),
        tube("pump", "tee.a", **WIDE),
        tube("tee.b", "one", **WIDE),
        tube("tee.c", "other", **WIDE),
    )


def judged(made: Build):
    analysis = analyse(made)
    (window,) = analysis.water.windows
    return judge(analysis.water, window, {run.id: run.id for run in made.tubes})


def test_what_is_to_spare_at_rest_is_what_is_allowed_less_cut_out_and_climb():
    """At rest both stand at 4 bar less the climb, 3.925; the nearer limit is the one that tells."""
    found = judged(two_taps("5 bar", "4.5 bar")).static
    assert found.name == "other"
    assert found.spare == pytest.approx(4.5 * BAR - (4 * BAR - CLIMB_PA), abs=500.0)
    assert found.share == pytest.approx((0.5 + CLIMB_PA / BAR) / 4.5, abs=0.002)
    assert judged(two_taps("4.2 bar", "4.5 bar")).static.name == "one"


def test_what_is_to_spare_flowing_is_cut_in_less_what_the_hungrier_tap_wants():
    """Cut-in at 2 bar; 1.5 bar and the climb are wanted, and what the jug's water helps is less."""
    found = judged(two_taps()).pressure
    needed_pa = 1.5 * BAR + CLIMB_PA
    assert found.name == "one"
    assert found.spare == pytest.approx(2 * BAR - needed_pa, abs=500.0)
    assert found.share == pytest.approx(2 * BAR / needed_pa - 1, abs=0.005)


def with_rating(made: Build, rating: str) -> Build:
    first = made.runs[1]
    rated = msgspec.structs.replace(first.tube, rating=Pressure(rating))
    changed = msgspec.structs.replace(first, tube=rated)
    return msgspec.structs.replace(
        made, runs=tuple(changed if run is first else run for run in made.runs)
    )


def test_a_tube_that_sees_more_than_its_rating_is_the_fault():
    """The tube lies at the pump, which stops at 4 bar."""
    found = judged(with_rating(two_taps(), "3.5 bar"))
    assert found.fault.shown(UnitSystem.METRIC) == "tube pump tee.a sees 4.00 bar, rated 3.50 bar"
    assert found.static.spare == pytest.approx(-0.5 * BAR, abs=500.0)
    assert judged(with_rating(two_taps(), "4.5 bar")).fault is None


# --- pumps of the stock --------------------------------------------------------------------------


def one_tap(*, level: str = "base", draw: str = "1 gal/min", least: str = "43 psi") -> Build:
    """A jug, any pump on a level and a tap at the height of the base's ports."""
    return build(
        tank("jug", fill=0.02),
        pump("pump", level=level),
        tap("sink", drawn(draw), required_flow=draw, least=least, greatest="150 psi", level="base"),
        tube("jug", "pump", **WIDE),
        tube("pump", "sink", **WIDE),
    )


def chosen(made: Build) -> dict[str, PumpChoice]:
    return {one.key: one for one in choose_pumps(made, "pump")}


@pytest.mark.parametrize(
    ("key", "given_gpm"),
    # Owners' manuals of solar diaphragm pumps, 911-415 (2012) and IMI-160 (2015), rows at 43 psi.
    [("pump-5-chamber-12", 1.20), ("pump-5-chamber-24", 2.90), ("pump-3-chamber-24", 1.717)],
)
def test_flow_to_spare_is_that_of_the_printed_table(key, given_gpm):
    """1 gal/min is drawn at 43 psi."""
    flow = chosen(one_tap())[key].flow
    assert flow.spare == pytest.approx((given_gpm - 1.0) * GPM, abs=0.01 * GPM)
    assert flow.share == pytest.approx(given_gpm - 1.0, abs=0.01)


def test_a_pump_that_stands_too_high_over_its_water_says_so():
    """Pump's inlet at 38 in, the last water at 6 in: 32 in, 0.81 m. The stock's may lift 1.8 m."""
    assert all("lifts" not in told(one) for one in chosen(one_tap(level="counter")).values())
    high = one_tap(level="counter")
    item = high.item("pump")
    high = replace_item(high, msgspec.structs.replace(item, raised=Length("40 in")))
    lifts = [told(one) for one in chosen(high).values()]
    # Inlets of the stock are 2 to 2.5 in up, so 78 less 6 in; 1.8 m are 70.9 in.
    assert all("it lifts 70.9 in, the last water stands 72." in words for words in lifts), lifts


def told(one: PumpChoice) -> str:
    return "" if one.reason is None else one.reason.shown(UnitSystem.US)


@pytest.mark.parametrize(("most", "calm"), [(None, True), (400.0, True), (300.0, False)])
def test_a_pump_is_calm_if_it_starts_no_more_often_than_its_maker_allows(most, calm):
    """1 L at 28/30/45 psi with 1.4 gal/min: 331 starts an hour by the tank trade's 4 V / Q."""
    made = build(
        tank("jug"),
        pump("pump", [("0 psi", "1.4001 gal/min"), ("100 psi", "1.3999 gal/min")], "30 psi",
             "45 psi", water={"starts_per_hour": most}),
        accumulator("vessel", "1 L", "28 psi"),
        tap("sink", opening("0.7 gal/min", "30 psi"), least="0 psi"),
        tube("jug", "pump", **WIDE),
        tube("pump", "vessel.a", "50 mm", "10 mm", outer="20 mm"),
        tube("vessel.b", "sink", "50 mm", "10 mm", outer="20 mm"),
    )  # fmt: skip
    role = made.item("pump").specification.water
    assert isinstance(role, Pump)
    assert is_calm(role, analyse(made).water.duties[0]) is calm


def test_a_pump_that_would_never_stop_says_so():
    """Its table ends at no flow at 60 psi, its switch waits for 70: no text needed."""
    weak = pump("pump", [("0 psi", "3 gal/min"), ("60 psi", "0 gal/min")], "50 psi", "70 psi")
    specification = msgspec.structs.replace(weak.specification, stock="pump-1.9-60")
    made = replace_item(one_tap(), msgspec.structs.replace(weak, specification=specification))
    (current,) = [one for one in choose_pumps(made, "pump") if one.current]
    assert not current.fits
    assert "never reaches its cut-out" in told(current)
