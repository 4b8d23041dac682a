"""Carts of the samples with one thing done wrong in their water: what people do wrong."""

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from cartlayout.build import Build, End, Item, TubeRun, WayPoint
from cartlayout.build.edits import (
    add_run,
    remove,
    replace_item,
    replace_run,
    set_level,
    with_,
)
from cartlayout.build.file import load
from cartlayout.network import connect, replace_with, tube_named
from cartlayout.network.inserting import insert_inline
from cartlayout.stock import stock
from cartlayout.units import Duration, Flow, Length, Pressure, Volume

SAMPLES = Path(__file__).resolve().parents[3] / "sample_builds"
Harm = Callable[[Build], Build]


@cache
def sample(name: str) -> Build:
    """One of the samples."""
    return load(SAMPLES / f"{name}.cart")


def _item(build: Build, item_id: str) -> Item:
    item = build.item(item_id)
    assert item is not None
    return item


def _run(build: Build, run_id: str) -> TubeRun:
    run = build.run(run_id)
    assert isinstance(run, TubeRun)
    return run


def _entry(key: str) -> Any:
    return next(one for one in stock() if one.key == key)


# --- harms that take a few words -----------------------------------------------------------------


def tube(name: str, *run_ids: str) -> Harm:
    """Another tube in some places; in all of the supply where none is named."""

    def harm(build: Build) -> Build:
        for run in build.tubes:
            wanted = run.id in run_ids if run_ids else "drain" not in run.tube.name
            if wanted:
                build = replace_run(build, replace(run, tube=tube_named(name)))
        return build

    return harm


def role(item_id: str, **fields: Any) -> Harm:
    """Something about an item's water that is not as it should be."""

    def harm(build: Build) -> Build:
        item = _item(build, item_id)
        water = replace(item.specification.water, **fields)
        return replace_item(
            build, replace(item, specification=replace(item.specification, water=water))
        )

    return harm


def inlet(item_id: str, **fields: Any) -> Harm:
    """What an appliance asks at its first inlet."""

    def harm(build: Build) -> Build:
        inlets = _item(build, item_id).specification.water.inlets  # type: ignore[union-attr]
        return role(item_id, inlets=(replace(inlets[0], **fields), *inlets[1:]))(build)

    return harm


def other(item_id: str, key: str) -> Harm:
    """Another piece of the stock in the place of one."""
    return lambda build: replace_with(build, item_id, _entry(key)).build


def without(*ids: str) -> Harm:
    """Runs or items taken away."""
    return lambda build: remove(build, item_ids=ids, run_ids=ids)


def placed(item_id: str, level: str, raised: str = "0 in") -> Harm:
    """Something on another level."""

    def harm(build: Build) -> Build:
        build = set_level(build, (item_id,), level)
        return replace_item(build, replace(_item(build, item_id), raised=Length(raised)))

    return harm


def filled(item_id: str, share: float) -> Harm:
    """A tank that is not full."""
    return lambda build: replace_item(build, replace(_item(build, item_id), fill=share))


def longer(run_id: str, length: str) -> Harm:
    """A tube with far too much left over."""
    return lambda build: replace_run(build, replace(_run(build, run_id), length=Length(length)))


def led_over(run_id: str, height: str) -> Harm:
    """A tube led over a place at a height, half way."""

    def harm(build: Build) -> Build:
        run = _run(build, run_id)
        ends = [_item(build, end.item) for end in (run.a, run.b) if end is not None]
        x_m = sum(one.x.si for one in ends) / 2
        y_m = sum(one.y.si for one in ends) / 2
        bend = WayPoint(
            x=Length.from_si(x_m, "in"), y=Length.from_si(y_m, "in"), height=Length(height)
        )
        return replace_run(build, replace(run, waypoints=(bend,)))

    return harm


def inserted(run_id: str, key: str, **fields: Any) -> Harm:
    """Something of the stock put into a tube, set in its own way."""

    def harm(build: Build) -> Build:
        run = _run(build, run_id)
        item = _item(build, run.a.item)
        made, new = insert_inline(
            build, run_id, _entry(key).specification, item.x.si, item.y.si, label="Part"
        )
        return role(new, **fields)(made) if fields else made

    return harm


def turned_round(item_id: str, one: str = "inlet", two: str = "outlet") -> Harm:
    """A part the wrong way round in its line."""

    def harm(build: Build) -> Build:
        ends = {End(item_id, one): End(item_id, two), End(item_id, two): End(item_id, one)}
        for run in build.tubes:
            a, b = ends.get(run.a, run.a), run.b
            b = ends.get(b, b) if b is not None else None
            build = replace_run(build, replace(run, a=a, b=b))
        return build

    return harm


def loose(run_id: str) -> Harm:
    """A tube that came off at its far end."""
    return lambda build: replace_run(build, replace(_run(build, run_id), b=None))


def no_pump(build: Build) -> Build:
    """The jug joined straight to the vessel."""
    build = remove(build, item_ids=("pump",))
    return connect(build, End("jug", "outlet"), End("accumulator", "a"))[0]


def busy(factor: float) -> Harm:
    """More drinks than the tanks are for."""

    def harm(build: Build) -> Build:
        plan = build.service
        return with_(build, service=replace(plan, drinks_per_hour=plan.drinks_per_hour * factor))

    return harm


def no_vessel(build: Build) -> Build:
    """The pump joined straight to the filter."""
    build = remove(build, item_ids=("accumulator",))
    return connect(build, End("pump", "outlet"), End("filter", "inlet"))[0]


def second_jug(build: Build) -> Build:
    """A second jug on a tee in the suction line, with nothing between the two."""
    from cartlayout.stock.placing import placed as put

    suction = _run(build, "suction")
    build, (tee,) = put(build, _entry("tee"), "base", 1.0, 0.3)
    build, (jug,) = put(build, _entry("jug-5-gal"), "counter", 0.2, 0.2)
    build = replace_run(build, replace(suction, b=End(tee, "a"), waypoints=()))
    assert suction.b is not None
    build = add_run(build, replace(suction, id="to-pump", a=End(tee, "b"), b=suction.b))
    return add_run(
        build, replace(suction, id="second", a=End(jug, "outlet"), b=End(tee, "c"), waypoints=())
    )


def both(*harms: Harm) -> Harm:
    """Several at once."""

    def harm(build: Build) -> Build:
        for one in harms:
            build = one(build)
        return build

    return harm


MARKET, HALL, KIOSK, FOLDING = (
    "market_cart",
    "conference_hall_bar",
    "station_kiosk_230v",
    "folding_cart_modules",
)

HARMS: dict[str, tuple[str, Harm, str]] = {
    "thin tube to the rinser": (MARKET, tube("1/4 in tube", "rinser-line"), "water.flow"),
    "thin tube everywhere": (MARKET, tube("1/4 in tube"), "water.flow"),
    "thin tube, metric": (KIOSK, tube("6 mm tube", "rinser-line"), "water.flow"),
    "too much air, metric": (
        KIOSK,
        role("accumulator", pre_charge=Pressure("4 bar")),
        "water.pre-charge",
    ),
    "tender machine, metric": (
        KIOSK,
        inlet("espresso", greatest_pressure=Pressure("3 bar")),
        "water.static",
    ),
    "waste smaller than fresh, metric": (
        KIOSK,
        role("waste", volume=Volume("20 L")),
        "water.waste-ratio",
    ),
    "no drain, metric": (KIOSK, without("espresso-drain"), "water.no-drain"),
    "60 m of tube": (MARKET, longer("rinser-line", "60 m"), "water.flow"),
    "too much air": (
        MARKET,
        role("accumulator", pre_charge=Pressure("60 psi")),
        "water.pre-charge",
    ),
    "too little air": (
        MARKET,
        role("accumulator", pre_charge=Pressure("5 psi")),
        "water.pre-charge-low",
    ),
    "tiny vessel": (MARKET, role("accumulator", volume=Volume("0.1 L")), "water.vessel-small"),
    "no vessel": (MARKET, no_vessel, "water.no-accumulator"),
    "valve shut": (FOLDING, role("water-shut-off", is_open=False), "water.not-fed"),
    "valve nearly shut": (FOLDING, role("water-shut-off", closed_share=0.85), "water.flow"),
    "cartridge used up": (MARKET, role("filter", used=1.0), "water.filter-used"),
    "small filter": (HALL, other("carbon", "filter-blend-100"), "water.together"),
    "waste as small as fresh": (MARKET, other("waste", "waste-jug-5-gal"), "water.waste-ratio"),
    "switch too high": (
        MARKET,
        role("pump", cut_in=Pressure("80 psi"), cut_out=Pressure("110 psi")),
        "water.static",
    ),
    "no drain": (MARKET, without("espresso-drain"), "water.no-drain"),
    "no tube": (MARKET, without("espresso-line"), "water.unconnected"),
    "empty jug": (MARKET, filled("jug", 0.0), "water.empty"),
    "waste on the counter": (MARKET, placed("waste", "counter"), "water.drain-rise"),
    "drain over a rail": (MARKET, led_over("espresso-drain", "40 in"), "water.drain-rise"),
    "thin drain": (MARKET, tube("3/8 in drain hose", "rinser-drain"), "water.drain-narrows"),
    "regulator too low": (
        MARKET,
        inserted("espresso-line", "regulator", set_point=Pressure("8 psi")),
        "water.pressure",
    ),
    "tender machine": (
        MARKET,
        inlet("espresso", greatest_pressure=Pressure("50 psi")),
        "water.static",
    ),
    "tender machine, regulator there": (
        MARKET,
        both(
            inserted("espresso-line", "regulator", set_point=Pressure("58 psi")),
            inlet("espresso", greatest_pressure=Pressure("50 psi")),
        ),
        "water.static",
    ),
    "strong main": (HALL, role("mains", usual=Pressure("120 psi")), "water.static"),
    "weak main": (HALL, role("mains", usual=Pressure("18 psi")), "water.flow"),
    "plain check valve": (HALL, role("dual-check", vented=False), "water.carbonator"),
    "stuck check valve": (HALL, role("dual-check", stuck_open=True), "water.check-stuck"),
    "two jugs, nothing between": (MARKET, second_jug, "water.sources-joined"),
    "garden hose": (MARKET, lambda build: _not_potable(build, "suction"), "water.not-potable"),
    "short scale": (
        MARKET,
        inserted("filter-line", "gauge", full_scale=Pressure("30 psi")),
        "water.gauge-scale",
    ),
    "pump on the counter": (MARKET, placed("pump", "shelf"), "water.prime"),
    "pump that lifts little": (
        MARKET,
        both(placed("pump", "shelf"), role("pump", greatest_lift=Length("0.1 m"))),
        "water.lift",
    ),
    "thin suction": (MARKET, tube("1/4 in tube", "suction"), "water.velocity"),
    "high pick-up": (MARKET, role("jug", pick_up=Length("5 in")), "water.left-behind"),
    "small air gap": (MARKET, role("rinser", air_gap=Length("5 mm")), "water.air-gap"),
    "busy day": (MARKET, busy(3.0), "water.runs-out"),
    "valve that slams": (
        MARKET,
        both(
            role("pump", cut_in=Pressure("60 psi"), cut_out=Pressure("80 psi")),
            inlet("rinser", closing_time=Duration("5 ms")),
        ),
        "water.hammer",
    ),
    "suction over a rail": (MARKET, led_over("suction", "40 in"), "water.suction-crest"),
    "two regulators": (
        MARKET,
        both(
            inserted("espresso-line", "regulator", set_point=Pressure("40 psi")),
            inserted("filter-line", "regulator", set_point=Pressure("45 psi")),
        ),
        "water.regulators-in-a-row",
    ),
    "pump the wrong way round": (MARKET, turned_round("pump"), "water.not-fed"),
    "loose tube": (MARKET, loose("filtered-line"), "water.not-fed"),
    "loose tube in a module": (FOLDING, loose("accumulator-tube"), "water.not-fed"),
    "line without a pump": (MARKET, no_pump, "water.not-fed"),
    "weak pump": (MARKET, other("pump", "pump-3-chamber-small-12"), "water.flow"),
    "hungry rinser": (
        MARKET,
        inlet("rinser", required_flow=Flow("1.2 gal/min")),
        "water.flow",
    ),
}


def _not_potable(build: Build, run_id: str) -> Build:
    run = _run(build, run_id)
    return replace_run(
        build, replace(run, tube=replace(run.tube, name="garden hose", potable=False))
    )


def harmed(name: str) -> Build:
    """The sample with the harm done."""
    of, harm, _ = HARMS[name]
    return harm(sample(of))
