"""A day of service: what goes in comes out, who fills the waste, what ends first.

Reference: sums done by hand beside each check, and conservation of water.
"""

import math

import pytest
from building import basin, build, drawn, floor_drain, item, mains, opening, port, tank, tap, tube
from hypothesis import given, settings
from hypothesis import strategies as st

from cartlayout.build import Appliance, Build, Feed, Service, Tank
from cartlayout.findings import Finding
from cartlayout.findings.water_rules import rules
from cartlayout.network import make_network
from cartlayout.units import Duration, Mass, UnitSystem, Volume
from cartlayout.water import WaterBalance, solve_water

LITRE = 1e-3
GALLON = 3.785411784e-3


def judged(*things: object, **more: object) -> tuple[WaterBalance, list[Finding]]:
    made: Build = build(*things, **more)
    network = make_network(made)
    result = solve_water(made, network)
    assert result.balance is not None
    return result.balance, list(rules(made, network, result))


def share(balance: WaterBalance, start: str) -> float:
    return sum(one.per_day for one in balance.shares if one.name.startswith(start))


def machine(share: float, per_drink: str | None, name: str = "machine", **more: object) -> object:
    made: dict[str, object] = {"drained_share": share}
    if per_drink is not None:
        made["per_drink"] = Volume(per_drink)
    return tap(name, drawn("1 L/min"), drain="drain 1 in", water=made | more, at=("20 in", "15 in"))


def rinser() -> object:
    return tap("rinser", opening("1 gal/min", "20 psi"), drain="drain 1 in",
               water={"drained_share": 1.0}, at=("40 in", "15 in"))  # fmt: skip


def led_to(end: str, *names: str) -> tuple[object, ...]:
    return tuple(
        tube(f"{name}.drain", end, None, "1 in", outer="1.3 in", run_id=f"{name} drain")
        for name in names
    )


def plan(**more: object) -> Service:
    return Service(
        hours=Duration("4 h"),
        drinks_per_hour=25,  # 100 drinks
        water_per_drink=Volume("0.2 L"),
        rinse_per_drink=Volume("0.1 L"),
        **more,
    )


def test_who_fills_the_waste() -> None:
    """100 drinks: 10 L rinsed, 15 % of 60 mL each drained, 5 kg of ice, 3 L poured, 2 L besides."""
    balance, _ = judged(
        tank("fresh", "40 L"),
        tank("waste", "46 L", "waste"),
        machine(0.15, "60 mL"),
        rinser(),
        *led_to("waste", "machine", "rinser"),
        service=plan(
            ice_per_drink=Mass("50 g"),
            poured_away_per_drink=Volume("30 mL"),
            waste_besides_fresh=Volume("2 L"),
        ),
    )
    assert share(balance, "rinse water") == pytest.approx(10 * LITRE)
    assert share(balance, "drained by machine") == pytest.approx(0.9 * LITRE)
    assert share(balance, "melted ice") == pytest.approx(5 * LITRE)
    assert share(balance, "drinks poured away") == pytest.approx(3 * LITRE)
    assert share(balance, "syrups") == pytest.approx(2 * LITRE)
    assert balance.waste_per_day == pytest.approx(20.9 * LITRE)
    assert balance.fresh_per_day == pytest.approx(30 * LITRE)
    waste = next(one for one in balance.vessels if one.kind == "waste")
    assert waste.per_day == pytest.approx(20.9 * LITRE)
    assert waste.visits == 0
    assert waste.lasts_s / 3600 == pytest.approx(4 * 46 / 20.9)


def test_forty_gallons_of_each() -> None:
    """40 gal of fresh water ask for 46 of waste; where a local rule asks for half more, for 60.

    FDA Food Code 5-401.11, as in Ohio Adm. Code 3717-1-05.3(A); California Health and Safety Code
    114240 and Chicago Municipal Code 7-38-132: 50 % more.
    """
    balance, findings = judged(tank("fresh", "40 gal"), tank("waste", "40 gal", "waste"))
    assert balance.waste_needed / GALLON == pytest.approx(46.0)
    (found,) = [one for one in findings if one.code == "water.waste-ratio"]
    assert found.severity == "stop"
    text = found.text(UnitSystem.US)
    assert "California 50% larger" in text
    assert "Chicago 50% larger" in text
    _, findings = judged(tank("fresh", "40 gal"), tank("waste", "46 gal", "waste"))
    (found,) = [one for one in findings if one.code.startswith("water.waste-")]
    assert (found.severity, found.code) == ("note", "water.waste-elsewhere")
    assert "60.0 gal" in found.text(UnitSystem.US)
    _, findings = judged(tank("fresh", "40 gal"), tank("waste", "60 gal", "waste"))
    assert not [one for one in findings if one.code.startswith("water.waste-")]


def test_what_is_empty_or_full_first() -> None:
    """12 L of 30 L a day are gone in 1.6 h; 8 L of waste at 10 L a day in 3.2 h."""
    balance, findings = judged(
        tank("fresh", "12 L"),
        tank("waste", "8 L", "waste"),
        rinser(),
        *led_to("waste", "rinser"),
        service=plan(),
    )
    first, second = balance.vessels
    assert first is balance.first
    assert (first.kind, first.items) == ("fresh", ("fresh",))
    assert first.lasts_s / 3600 == pytest.approx(1.6)
    assert first.drinks == pytest.approx(40)
    assert first.visits == 2  # 12 + 12 + 6 L
    assert (second.kind, second.visits) == ("waste", 1)
    assert second.lasts_s / 3600 == pytest.approx(3.2)
    told = {one.code: one.text(UnitSystem.METRIC) for one in findings}
    assert "1.6 h" in told["water.runs-out"]
    assert "ends first" in told["water.runs-out"]
    assert "3.2 h" in told["water.fills-up"]
    assert "ends first" not in told["water.fills-up"]


def test_a_waste_tank_that_drains_away_never_fills() -> None:
    """Its own outlet leads to the venue's drain."""
    draining = item(
        "waste",
        ports=(
            port("inlet", "drain", "in", "drain 1 in", "9 in"),
            port("outlet", "drain", "out", "drain 1 in", "1 in"),
        ),
        water=Tank(contents="waste", volume=Volume("2 L")),
        level="base",
        at=("50 in", "15 in"),
    )
    balance, findings = judged(
        tank("fresh", "40 L"),
        draining,
        rinser(),
        floor_drain("floor", at=("80 in", "15 in")),
        *led_to("waste", "rinser"),
        tube("waste.outlet", "floor", None, "1 in", outer="1.3 in"),
        service=plan(),
    )
    assert balance.to_drain
    assert [one.kind for one in balance.vessels] == ["fresh"]
    codes = {one.code for one in findings}
    assert not codes & {"water.fills-up", "water.waste-ratio"}


def test_a_drain_for_one_and_a_tank_for_the_other() -> None:
    """Rinse water goes down the floor drain; what the machine lets go fills the tank."""
    balance, _ = judged(
        tank("fresh", "40 L"),
        tank("waste", "0.5 L", "waste"),
        machine(0.15, "60 mL"),
        rinser(),
        floor_drain("floor", at=("80 in", "15 in")),
        *led_to("waste", "machine"),
        *led_to("floor", "rinser"),
        service=plan(),
    )
    assert not balance.to_drain
    waste = next(one for one in balance.vessels if one.kind == "waste")
    assert waste.per_day == pytest.approx(0.9 * LITRE)
    assert waste.visits == 1
    ends = {one.name: one.into for one in balance.shares if one.kind == "waste"}
    assert ends == {"rinse water": ("floor",), "drained by machine": ("waste",)}


def test_a_reservoir_filled_by_hand() -> None:
    """1.5 L for 100 drinks of 60 mL: 6 L, so 3 refills; the first is due after 1 h."""
    by_hand = item(
        "machine",
        water=Appliance(
            inlets=(),
            feed="own reservoir",
            reservoir=Volume("1.5 L"),
            per_drink=Volume("60 mL"),
            other_feeds=(Feed(mode="line pressure"),),
        ),
    )
    balance, findings = judged(tank("fresh", "40 L"), by_hand, service=plan())
    vessel = balance.first
    assert vessel is not None
    assert (vessel.kind, vessel.items, vessel.visits) == ("reservoir", ("machine",), 3)
    assert vessel.lasts_s / 3600 == pytest.approx(1.0)
    assert vessel.drinks == pytest.approx(25)
    assert share(balance, "filled by hand into machine") == pytest.approx(6 * LITRE)
    found = next(one for one in findings if one.code == "water.refill")
    assert found.severity == "note"
    assert "3 times" in found.text(UnitSystem.METRIC)


def test_with_the_venues_mains_no_water_runs_out() -> None:
    balance, findings = judged(
        mains("mains", connector="3/8 push-fit"),
        tank("fresh", "1 L"),
        rinser(),
        tube("mains", "rinser"),
        service=plan(),
    )
    assert not [one for one in balance.vessels if one.kind == "fresh"]
    assert "water.runs-out" not in {one.code for one in findings}


def test_drinks_made_by_several_machines_take_no_more_than_the_plan() -> None:
    """A brewer at 0.3 L and an espresso machine at 0.1 L a drink, 0.2 L in the plan: halved."""
    balance, _ = judged(
        tank("fresh", "40 L"),
        tank("waste", "46 L", "waste"),
        machine(0.5, "0.3 L", "brewer"),
        machine(0.5, "0.1 L", "espresso"),
        service=plan(),
    )
    assert share(balance, "drained by brewer") == pytest.approx(100 * 0.15 * 0.5 * LITRE)
    assert share(balance, "drained by espresso") == pytest.approx(100 * 0.05 * 0.5 * LITRE)


def test_ice_and_poured_away_drinks_go_down_the_sink() -> None:
    """Common practice, no source: at the sink, not the rinser. 100 drinks: 5 kg of ice and 3 L."""
    balance, _ = judged(
        tank("fresh", "40 L"),
        tank("waste", "46 L", "waste"),
        rinser(),
        basin("sink", at=("60 in", "15 in")),
        floor_drain("floor", at=("80 in", "15 in")),
        *led_to("waste", "rinser"),
        *led_to("floor", "sink"),
        service=plan(ice_per_drink=Mass("50 g"), poured_away_per_drink=Volume("30 mL")),
    )
    ends = {one.name: one.into for one in balance.shares if one.kind == "waste"}
    assert ends["melted ice"] == ends["drinks poured away"] == ("floor",)
    waste = next(one for one in balance.vessels if one.kind == "waste")
    assert waste.per_day == pytest.approx(10 * LITRE)


def test_what_two_outlets_let_go_is_shared_by_their_tanks() -> None:
    """10 L rinsed leave by two drains into two tanks: 5 L each, and no more than 10 in all."""
    both = tap(
        "rinser",
        opening("1 gal/min", "20 psi"),
        drain="drain 1 in",
        ports=(port("other", "drain", "out", "drain 1 in", "0 in"),),
        water={"drained_share": 1.0},
        at=("40 in", "15 in"),
    )
    balance, _ = judged(
        tank("fresh", "40 L"),
        tank("left", "46 L", "waste", at=("20 in", "15 in")),
        tank("right", "46 L", "waste", at=("60 in", "15 in")),
        both,
        tube("rinser.drain", "left", None, "1 in", outer="1.3 in"),
        tube("rinser.other", "right", None, "1 in", outer="1.3 in"),
        service=plan(),
    )
    held = {one.items[0]: one.per_day for one in balance.vessels if one.kind == "waste"}
    assert held == {"left": pytest.approx(5 * LITRE), "right": pytest.approx(5 * LITRE)}


def test_machines_that_state_nothing_share_what_the_plan_has() -> None:
    """100 drinks of 0.2 L by two of them: 10 L each, of which half is drained: 5 L each."""
    balance, _ = judged(
        tank("fresh", "40 L"),
        tank("waste", "46 L", "waste"),
        machine(0.5, None, "one"),
        machine(0.5, None, "other"),
        service=plan(),
    )
    assert share(balance, "drained by one") == pytest.approx(5 * LITRE)
    assert share(balance, "drained by other") == pytest.approx(5 * LITRE)


def test_a_rinser_filled_by_hand_takes_its_water_once() -> None:
    """100 drinks rinsed with 0.1 L each out of its own reservoir: 10 L by hand, none besides."""
    by_hand = item(
        "rinser",
        water=Appliance(
            inlets=(), feed="own reservoir", reservoir=Volume("2 L"), drained_share=1.0
        ),
    )
    balance, _ = judged(tank("fresh", "40 L"), by_hand, service=plan())
    fresh = {one.name: one.per_day for one in balance.shares if one.kind == "fresh"}
    assert fresh == {
        "filled by hand into rinser": pytest.approx(10 * LITRE),
        "drinks": pytest.approx(20 * LITRE),
    }
    assert balance.fresh_per_day == pytest.approx(30 * LITRE)


amounts = st.floats(0.0, 2.0).map(lambda litres: Volume(f"{litres:.4f} L"))


@settings(deadline=None, max_examples=60)
@given(
    drinks=st.floats(0.0, 200.0),
    hours=st.floats(0.0, 24.0),
    water=amounts,
    rinse=amounts,
    shares=st.lists(st.tuples(st.floats(0.0, 0.99), st.one_of(st.none(), amounts)), max_size=3),
    drained=st.booleans(),
)
def test_what_goes_in_comes_out(
    drinks: float,
    hours: float,
    water: Volume,
    rinse: Volume,
    shares: list[tuple[float, Volume | None]],
    drained: bool,
) -> None:
    """Fresh water in = water in the cups + water down the drain; no vessel gets more than that."""
    makers = [
        machine(share, None if per_drink is None else per_drink.text, f"maker {at}")
        for at, (share, per_drink) in enumerate(shares)
    ]
    service = Service(
        hours=Duration(f"{hours} h"),
        drinks_per_hour=drinks,
        water_per_drink=water,
        rinse_per_drink=rinse,
    )
    names = [f"maker {at}" for at in range(len(makers))]
    ends = led_to("waste", *names) if drained else ()
    balance, _ = judged(
        tank("fresh", "40 L"), tank("waste", "46 L", "waste"), *makers, *ends, service=service
    )
    taken = drinks * hours * (water.si + rinse.si)
    assert balance.fresh_per_day == pytest.approx(taken, rel=1e-9, abs=1e-12)
    used = sum(one.per_day for one in balance.shares if one.kind == "fresh")
    assert used == pytest.approx(taken, rel=1e-9, abs=1e-12)
    gone = sum(one.per_day for one in balance.shares if one.kind == "waste")
    assert gone == pytest.approx(balance.waste_per_day)
    cups = taken - gone
    assert cups >= -1e-9
    assert cups <= drinks * hours * water.si + 1e-9
    into = sum(one.per_day for one in balance.vessels if one.kind == "waste")
    assert into == pytest.approx(gone, rel=1e-9, abs=1e-12)
    for vessel in balance.vessels:
        if math.isfinite(vessel.lasts_s) and vessel.visits:
            assert vessel.lasts_s < hours * 3600 + 1e-6
    order = [one.lasts_s for one in balance.vessels]
    assert order == sorted(order)
