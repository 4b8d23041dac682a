"""Which pump does this cart need: every pump of the stock, tried in the build."""

import itertools

import pytest
from building import build, drawn, mains, opening, pump, tank, tap, tee, tube
from msgspec.structs import replace

from cartlayout.advice.pumps import PumpChoice, best_first, candidates, choose_pumps
from cartlayout.analysis import analyse
from cartlayout.build import Accumulator, Build, file
from cartlayout.build.edits import EditError, remove
from cartlayout.data import sample_builds
from cartlayout.limits.water_practice import water_practice
from cartlayout.units import UnitSystem
from cartlayout.water import alone

PSI = 6894.757
MARKET = file.load(sample_builds() / "market_cart.cart")
FIRST_TRY = file.load(sample_builds() / "market_cart_first_try.cart")


@pytest.fixture(scope="module")
def market() -> list[PumpChoice]:
    return best_first(choose_pumps(MARKET, "pump"))


def shortfalls(made: Build) -> list[str]:
    """Taps that the whole analysis stops for: too much, too little, nothing."""
    wrong = {"water.static", "water.flow", "water.pressure", "water.never", "water.not-fed"}
    return [one.items[0] for one in analyse(made).findings if one.code in wrong]


def test_every_pump_of_the_region_is_tried_and_told_of(market):
    assert {one.key for one in market} == {one.key for one in candidates(MARKET)}
    assert [one.key for one in market if one.current] == ["pump-1.9-60"]
    for one in market:
        assert one.fits == (one.reason is None)
        assert one.reason is None or one.reason.shown(UnitSystem.US)


def test_what_fits_starves_and_bursts_nothing_when_it_is_taken_over(market):
    fitting = [one for one in market if one.fits]
    assert fitting
    for one in fitting:
        assert shortfalls(one.build) == [], one.key
        assert min(one.pressure.share, one.static.share) >= 0.0


def test_what_does_not_fit_starves_or_bursts_something(market):
    """The whole analysis of the build it was tried in says so too."""
    refused = [one for one in market if not one.fits and one.build is not None]
    assert refused
    for one in refused:
        assert shortfalls(one.build), one.key


def test_the_best_come_first(market):
    fits = [one.fits for one in market]
    assert fits == sorted(fits, reverse=True)
    shares = [one.worst_share for one in market if one.fits and not one.new_stops]
    assert shares == sorted(shares, reverse=True)


def test_a_pump_whose_switch_is_above_what_a_tap_may_see_is_refused(market):
    """Static pressure is the cut-out, and the rinser may see 80 psi."""
    one = next(one for one in market if one.key == "pump-1.4-100")
    assert not one.fits
    assert "at most 80.0 psi" in one.reason.shown(UnitSystem.US)


def test_a_vessel_is_charged_a_little_below_the_cut_in(market):
    """2 psi below (well-tank fitting instructions on pre-charge, 2007)."""
    assert water_practice().pre_charge_below_cut_in_pa.value == pytest.approx(2 * PSI)
    charged = [one for one in market if one.fits and one.cushion is not None]
    assert charged
    for one in charged:
        assert one.cushion.pre_charge_pa == pytest.approx(one.cut_in_pa - 2 * PSI, abs=0.5 * PSI)
        role = one.build.item(one.cushion.item).specification.water
        assert isinstance(role, Accumulator)
        assert role.pre_charge.si == one.cushion.pre_charge_pa


def test_a_vessel_gives_what_boyle_says(market):
    """V (p0/p1 - p0/p2) in absolute pressures, 14.7 psi of air: the drawdown formula of the
    tank trade.
    """
    one = next(one for one in market if one.key == "pump-1.9-60")
    air, held = 14.7 * PSI, one.cushion
    low, high = one.cut_in_pa + air, one.cut_out_pa + air
    useful = held.volume * (held.pre_charge_pa + air) * (1 / low - 1 / high)
    assert held.useful_volume == pytest.approx(useful, rel=0.01)


def test_the_line_without_a_vessel_gets_one_put_in():
    """It stands behind the pump, on the cart, in nothing else's place, and water runs through."""
    bare = remove(MARKET, item_ids=("accumulator",))
    outlet = next(run for run in MARKET.tubes if run.b and run.b.item == "accumulator")
    onward = next(run for run in MARKET.tubes if run.a.item == "accumulator")
    joined = replace(outlet, b=onward.b)
    bare = replace(bare, runs=(*(run for run in bare.runs if run.id != joined.id), joined))
    choice = next(one for one in choose_pumps(bare, "pump") if one.fits)
    assert choice.cushion.key.startswith("accumulator")
    after = analyse(choice.build)
    duty = next(one for one in after.water.duties if one.item == "pump")
    assert duty.accumulator == choice.cushion.item
    assert not [one for one in after.findings if one.code in ("body.overlap", "body.overhang")]
    assert shortfalls(choice.build) == []


def test_they_are_tried_one_by_one_so_that_whoever_asks_may_stop(monkeypatch):
    from cartlayout.advice import pumps

    tried = []
    usual = pumps._tried
    monkeypatch.setattr(pumps, "_tried", lambda *args: tried.append(args) or usual(*args))
    assert len(list(itertools.islice(choose_pumps(MARKET, "pump"), 2))) == 2
    assert len(tried) == 2


def test_the_build_itself_stays_as_it_was():
    before = file.encode(MARKET)
    assert len(list(choose_pumps(MARKET, "pump"))) == len(candidates(MARKET))
    assert file.encode(MARKET) == before


def test_where_no_pump_does_each_says_why():
    """A rinser behind a tube too narrow: no pump of the stock is right, and each has a reason."""
    choices = best_first(choose_pumps(FIRST_TRY, "pump"))
    assert not any(one.fits for one in choices)
    assert all(one.reason is not None for one in choices)


def bare_line(*things: object) -> Build:
    return build(
        tank("jug", at=("20 in", "15 in")),
        tap(
            "sink",
            opening("1 gal/min", "20 psi"),
            at=("50 in", "15 in"),
            required_flow="1 gal/min",
            least="20 psi",
        ),
        *things,
    )


def test_a_tank_that_nothing_pumps_gets_its_first():
    made = bare_line(tube("jug", "sink", None, "6.35 mm"))
    assert shortfalls(made) == ["sink"]
    choices = best_first(choose_pumps(made, "jug"))
    best = choices[0]
    assert best.fits, best.reason
    assert best.remarks == ("it has to be plugged in",)
    assert shortfalls(best.build) == []
    assert best.build.item(best.cushion.item) is not None


@pytest.mark.parametrize("wrong", ["nothing", "sink"])
def test_only_what_gives_water_has_its_pump_chosen(wrong):
    with pytest.raises(EditError, match="a pump is chosen for"):
        next(choose_pumps(bare_line(), wrong))


def test_a_pump_that_feeds_nothing_has_none_to_choose():
    with pytest.raises(EditError, match="no tap gets its water"):
        next(choose_pumps(build(pump("pump")), "pump"))


def test_of_two_that_run_together_the_pump_has_to_feed_both():
    """Each alone is fed by a pump of the stock that both together are too much for."""
    made = build(
        tank("jug", at=("12 in", "15 in")),
        pump("pump", at=("24 in", "15 in")),
        tee("tee", at=("36 in", "15 in")),
        tap("a", drawn("4 L/min"), required_flow="4 L/min", least="1 bar", at=("48 in", "8 in")),
        tap("b", drawn("4 L/min"), required_flow="4 L/min", least="1 bar", at=("60 in", "22 in")),
        tube("jug", "pump", "0.3 m", "9.5 mm"),
        tube("pump", "tee.a", "1 m", "9.5 mm"),
        tube("tee.b", "a", "1 m", "9.5 mm"),
        tube("tee.c", "b", "1 m", "9.5 mm"),
    )
    for one in choose_pumps(made, "pump"):
        if one.build is None:
            continue
        states = analyse(one.build).water.tap("a").states
        if one.fits:
            assert all(state.flow_ok for state in states.values() if state.open)
        if one.key == "pump-3-chamber-24":
            # Printed table of that pump: 1.95 gal/min (7.4 L/min) at 9 psi, the least it is
            # printed for, so never 8 L/min against the bar that both want.
            assert states[alone("a")].flow_ok
            assert not one.fits


def test_mains_may_get_a_pump_too():
    made = build(
        mains("mains", "10 psi", connector="3/8 push-fit", at=("10 in", "15 in")),
        tap(
            "sink",
            opening("1 gal/min", "20 psi"),
            at=("50 in", "15 in"),
            required_flow="1 gal/min",
            least="20 psi",
        ),
        tube("mains", "sink", None),
    )
    assert any(one.fits for one in choose_pumps(made, "mains"))
