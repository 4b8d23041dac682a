"""What the water side says of one item or one tube, in short lines: prepared values."""

import math
from collections.abc import Iterator

from ...analysis import Analysis
from ...build import Item, TubeRun
from ...documents.water_lines import edge_lines, robbed_words, set_point_words
from ...documents.water_waste_lines import vessel_words
from ...findings.number import Number
from ...units import UnitSystem, counted, show, show_pair, show_plain
from ...water.drain_results import DrainState
from ...water.pump_results import PumpDuty, Suction, Surge, Swing
from ...water.results import ALL_OPEN
from ...water.supply_results import Arrival, Robbed
from .fact import Fact
from .pump_pictures import cycle_words

_MOST_ROBBERS = 3
_FEW_STARTS = 1.0
_CHATTERS = 3600.0


def water_facts(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    """Everything about one item that is not its pressure and flow."""
    yield from _robbers(analysis, item, system)
    for duty in analysis.water.duties:
        if duty.item == item.id:
            yield from _pump(duty, system)
    for suction in analysis.water.suctions:
        if suction.pump == item.id:
            yield from _suction(suction, system)
        if suction.tank == item.id:
            yield from _pick_up(suction, system)
    yield from _parts(analysis, item, system)
    yield from _vessels(analysis, item, system)
    for surge in analysis.water.surges:
        if surge.item == item.id:
            yield _knock(surge, "Shutting it", system)


def tube_facts(analysis: Analysis, run: TubeRun, system: UnitSystem) -> Iterator[Fact]:
    """What a tube stands, hears and lets down."""
    for drain in analysis.water.drains:
        if drain.run == run.id:
            yield from _drain(drain, analysis, system)
    for static in analysis.water.statics:
        if static.run == run.id:
            rating = static.rating_pa
            yield Fact(
                "At rest",
                show(static.highest_pa, "pressure", system)
                if rating is None
                else show_pair(static.highest_pa, rating, "pressure", system),
                "care"
                if static.too_hot or rating is None
                else "ok"
                if static.highest_pa <= rating
                else "stop",
                "The highest it sees with everything shut, of what it bears at "
                f"{show(static.temperature_k, 'temperature', system)}",
                (Number("tube", run.id, "static"),),
            )
    knocks = [one for one in analysis.water.surges if one.run == run.id]
    if knocks:
        worst = max(knocks, key=lambda one: one.peak_pa)
        yield _knock(worst, f"{worst.name} shuts", system)


def _robbers(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    told = [one for one in analysis.water.robbed(item.id) if one.fall_pa > 0.0]
    for at, one in enumerate(told[:_MOST_ROBBERS]):
        yield Fact(
            "Robbed" if at == 0 else "",
            _robbed_words(one, system),
            "stop" if one.fails else "",
            "Its pressure with only this tap open, and with the others open as well",
        )


def _robbed_words(one: Robbed, system: UnitSystem) -> str:
    """The names of all others are not said where everything is open."""
    words = robbed_words(one, system)
    return f"{ALL_OPEN}{words[words.index(': ') :]}" if one.case == ALL_OPEN else words


def _pump(duty: PumpDuty, system: UnitSystem) -> Iterator[Fact]:
    if not duty.reaches_cut_out:
        yield Fact(
            "Switch",
            "never reached",
            "stop",
            "It cannot push as high as its cut-out: it never stops",
        )
    worst = duty.worst
    if worst is not None and worst.cycles:
        yield Fact(
            "Cycles",
            f"{cycle_words(worst, system)} ({worst.case})",
            tip="In the case in which it starts most often, while the water goes on running",
            numbers=(Number("pump", duty.item, "starts", worst.case),),
        )
        if duty.accumulator is not None:
            bare = _bare_words(worst.bare_starts_per_hour)
            yield Fact("Without vessel", bare, tip="Only what the tubes stretch would be left")
    if duty.most_starts_per_hour >= _FEW_STARTS:
        yield Fact(
            "Starts an hour",
            f"{duty.service_starts_per_hour:.0f} in service, "
            f"{duty.most_starts_per_hour:.0f} at the worst draw",
            tip="In service: the plan's water over what the vessel gives. The worst draw is about "
            "half of what the pump gives. Limits and their sources stand in the findings.",
            numbers=tuple(
                Number("pump", duty.item, what) for what in ("service starts", "most starts")
            ),
        )
    if math.isfinite(duty.shortest_run_s):
        yield Fact(
            "Shortest run",
            show(duty.shortest_run_s, "seconds", system),
            tip="To fill vessel and tubes from cut-in to cut-out while nobody draws",
            numbers=(Number("pump", duty.item, "shortest run"),),
        )
    for swing in duty.swings:
        yield _swing(swing, system)


def _bare_words(starts_per_hour: float) -> str:
    """Starts without a vessel; where they come faster than once a second, a number says nothing."""
    if starts_per_hour > _CHATTERS:
        return "chatters, on and off many times a second"
    return f"{starts_per_hour:.0f} starts an hour"


def _swing(swing: Swing, system: UnitSystem) -> Fact:
    drop = swing.high_pa - swing.drink_low_pa if swing.drink > 0.0 else swing.high_pa - swing.low_pa
    bare = swing.high_pa - (swing.bare_drink_low_pa if swing.drink > 0.0 else swing.low_pa)
    during = "during a drink" if swing.drink > 0.0 else "as the pump cycles"
    falls = show_plain(drop, "pressure", system)
    return Fact(
        f"Swing, {swing.name}",
        f"{falls} {during}, {show(bare, 'pressure', system)} without vessel",
        tip=f"From {show(swing.high_pa, 'pressure', system)} down, this tap alone open; the whole "
        f"range takes {show(swing.fall_s, 'seconds', system)} with the vessel and "
        f"{show(swing.bare_fall_s, 'seconds', system)} without",
    )


def _suction(one: Suction, system: UnitSystem) -> Iterator[Fact]:
    yield Fact(
        "Lifts",
        show_pair(one.last_lift_m, one.greatest_lift_m, "distance", system),
        "ok" if one.last_lift_m <= one.greatest_lift_m else "stop",
        "From the last water that can be drawn up to its inlet, of what its maker allows",
        (Number("suction", one.pump, "lift"),),
    )
    needed = one.required_m
    yield Fact(
        "Suction head",
        show(one.available_m, "distance", system)
        + ("" if needed is None else f", needs {show(needed, 'distance', system)}"),
        "" if needed is None else "ok" if one.available_m >= needed else "stop",
        "Net positive suction head: air "
        f"{show(one.air_m, 'distance', system)}, less the water's own vapour "
        f"{show(one.vapour_m, 'distance', system)}, the lift, and "
        f"{show(one.loss_pa, 'pressure', system)} that the line takes",
        (Number("suction", one.pump, "head"),),
    )
    if not one.primed:
        yield Fact("Prime", "lost", "stop", "Air gets in: the pick-up is above the water")


def _pick_up(one: Suction, system: UnitSystem) -> Iterator[Fact]:
    if one.left_behind > 0.0:
        yield Fact(
            "Stays in it",
            show(one.left_behind, "volume", system),
            tip="Water below the pick-up, which the pump cannot draw",
        )
    if math.isfinite(one.lasts_s):
        yield Fact(
            "Draws air after",
            show(one.lasts_s, "duration", system),
            tip="Of service by its plan, as full as it is now",
        )


def _parts(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    water = analysis.water
    for part in water.filters:
        if part.item == item.id:
            yield Fact(
                "Passes",
                show_pair(part.flow, part.rated_flow, "flow", system),
                "ok" if part.flow <= part.rated_flow else "care",
                f"The most in any case ({part.case}), of what it is rated for",
            )
            yield Fact(
                "Takes",
                show(part.loss_pa, "pressure", system),
                tip="At that flow, as used up as it is",
            )
            yield from _lasting(part.item, part.days_left, part.left, system)
    for regulator in water.regulators:
        if regulator.item == item.id:
            flowing = show(regulator.flow, "flow", system)
            yield Fact(
                "Behind it",
                f"{show_plain(regulator.outlet_pa, 'pressure', system)} at {flowing}, "
                f"{show(regulator.shut_pa, 'pressure', system)} shut",
                tip="Falls with flow (droop), rises when everything is shut (creep)",
                numbers=tuple(
                    Number("regulator", regulator.item, what) for what in ("outlet", "shut")
                ),
            )
    for heater in water.heaters:
        if heater.item == item.id:
            on = all(point.switches_on for point in heater.points)
            yield Fact(
                "Heats to",
                show(heater.outlet_k, "temperature", system),
                "ok" if on else "stop",
                "In every case in which water runs through it"
                if on
                else "In some cases there is too little pressure or flow for it to switch on",
                tuple(
                    Number("heater", heater.item, "reaches", point.case) for point in heater.points
                ),
            )


def _lasting(
    item_id: str, days: float | None, left: float | None, system: UnitSystem
) -> Iterator[Fact]:
    if left is None:
        return
    volume = show(left, "volume", system)
    lasts = f", {counted(int(days), 'day')}" if days is not None and math.isfinite(days) else ""
    yield Fact(
        "Still treats",
        f"{volume}{lasts}",
        "ok" if left > 0.0 and (days is None or days >= 1.0) else "care",
        "With this venue's water, by the service plan",
        (Number("filter", item_id, "left"),),
    )


def _vessels(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    balance = analysis.water.balance
    if balance is None:
        return
    for vessel in balance.vessels:
        if item.id in vessel.items:
            first = " (the first of all)" if balance.first is vessel else ""
            yield Fact(
                "Over the day",
                f"{vessel_words(vessel, system)}{first}",
                "" if vessel.visits <= 0 else "care",
                "By the service plan",
                (Number("vessel", vessel.items[0], "lasts", vessel.kind),),
            )


def window_facts(analysis: Analysis, item: Item, system: UnitSystem) -> Iterator[Fact]:
    """What a supply has to give. It takes longer than all the rest: not at every step of a drag."""
    window = analysis.water.window(item.id)
    if window is None:
        return
    yield Fact(
        "Has to give",
        f"{show(window.flow, 'flow', system)} at once",
        tip=", ".join(window.flow_taps),
    )
    for line in edge_lines(window, system):
        name, _, value = line.partition("  ")
        label, words = (name.capitalize(), value.strip()) if value else ("", line)
        yield Fact(
            label or "Window", words, "" if window.is_hit else "care" if window.is_open else "stop"
        )

    for point in window.set_points:
        yield Fact("Opened by", set_point_words(point, system), "care", "Tried by solving the line")
    if window.arrival is not None:
        yield from _arrival(window.arrival, system)


def _arrival(arrival: Arrival, system: UnitSystem) -> Iterator[Fact]:
    where = f"{'after' if arrival.filtered else 'at'} {arrival.behind}"
    tip = f"Hold a gauge {where} when you arrive; unknown mains are gauged after the filter."
    if math.isfinite(arrival.greatest_pa):
        most = show(arrival.greatest_pa, "pressure", system)
        yield Fact("On arrival", f"gauge {where}: at most {most} with all shut", tip=tip)
    needs = [one for one in arrival.open if math.isfinite(one.least_pa)]
    for one in sorted(needs, key=lambda one: -one.least_pa)[:_MOST_ROBBERS]:
        least = show(one.least_pa, "pressure", system)
        yield Fact("", f"at least {least} with {one.case}", tip=tip)


def _knock(one: Surge, label: str, system: UnitSystem) -> Fact:
    peak = show(one.peak_pa, "pressure", system)
    rating = one.rating_pa
    closes = show(one.closing_s, "short time", system)
    return Fact(
        label,
        f"up to {peak}"
        if rating is None
        else f"up to {show_pair(one.peak_pa, rating, 'pressure', system)}",
        "" if rating is None else "ok" if one.peak_pa <= rating else "stop",
        f"The knock as it shuts in {closes}{' (typical)' if one.assumed else ''}: "
        f"{show(one.rise_pa, 'pressure', system)} on top of what the line stands at. "
        f"However quick, it adds no more than {show(one.bound_pa, 'pressure', system)} "
        "(Joukowsky, 1898).",
        (Number("surge", f"{one.item}.{one.port}", "peak"),),
    )


def _drain(one: DrainState, analysis: Analysis, system: UnitSystem) -> Iterator[Fact]:
    slope = one.slope
    if one.pumped:
        yield Fact("Falls", "pumped", tip="A drain pump pushes: it may climb")
    else:
        words = (
            "straight down" if slope == math.inf else f"{slope:.1%}, asked {one.asked_slope:.1%}"
        )
        yield Fact(
            "Falls",
            f"{show(one.fall_m, 'length', system)}, {words}",
            "ok" if slope >= one.asked_slope else "stop" if slope <= 0.0 else "care",
            "Its least fall for each length along the plan",
            (Number("drain", one.run, "slope"),),
        )
    for low in one.low_points:
        yield Fact(
            "Air lock" if low.sealed else "Low point",
            f"{show(low.along_m, 'distance', system)} along, climbs "
            f"{show(low.rise_m, 'length', system)}",
            "stop" if low.blocked else "care",
            "Water stands here and would have to climb again",
        )
    case, flow = one.greatest
    if not one.pumped:
        rough = " Thin and slow: a rough figure." if one.advisory else ""
        yield Fact(
            "Carries",
            show_pair(flow, one.half_full, "flow", system)
            if case
            else show(one.half_full, "flow", system),
            "" if not case else "ok" if flow <= one.half_full else "stop",
            f"What comes to it at the most ({case}), of what it carries half full (Manning).{rough}"
            if case
            else f"Half full (Manning). Water comes to it only as it is poured.{rough}",
            (Number("drain", one.run, "half full"),),
        )
    if len(one.serves) > 1:
        found = (analysis.build.item(item) for item in one.serves)
        yield Fact("Shared by", ", ".join(item.name for item in found if item is not None))
    if one.backs_up_m is not None:
        yield Fact(
            "Backs up",
            show(one.backs_up_m, "length", system),
            "stop",
            "When the waste tank is full",
        )
