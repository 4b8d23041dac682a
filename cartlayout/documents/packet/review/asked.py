"""What local rules commonly ask a drawing to carry, and what this build says to it.

It judges nothing: it says where on the drawing the answer stands, or that there is none yet.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ....build import (
    Appliance,
    CheckValve,
    Heater,
    Item,
    Mains,
    Pump,
    ShutOff,
    Tank,
)
from ....build.electrical import Outlet
from ....limits import profile
from ....units import Phrase, Value, counted
from ..content import Cell, Column, Job, Table
from .equipment import on_cart

_PRACTICE = "common practice, no source"
_SINK_TEMPERED_K = 273.15 + 29.4
_SINK_SOURCE = "FDA Food Code 5-202.12 wording: 85 °F (29.4 °C); other places ask for 100 to 110 °F"
_CHECK_SOURCE = "FDA Food Code 5-203.15 wording, as in 2VAC5-585-2270"
_BACKFLOW_SOURCE = "FDA Food Code 5-203.14"


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing asked for."""

    what: str
    answer: Phrase | str
    source: str
    mark: str = ""
    """"ok": the drawing says it. "care": it does not, or what it says wants a look."""


def asked_table(job: Job) -> Table:
    """Everything asked for, with where the answer stands."""
    found = tuple(asked(job))
    rows: tuple[tuple[Cell, ...], ...] = tuple((one.what, one.answer, one.source) for one in found)
    return Table(
        "review-items",
        "What reviews commonly ask a drawing to carry",
        (
            Column("Asked for", share=1.1),
            Column("On this drawing", share=2.0),
            Column("Where it is asked", share=1.2),
        ),
        rows,
        tuple(one.mark for one in found),
        note="“ok” means that the drawing says it, not that anybody has approved it; “care” that "
        "it is missing or wants a look. Which of these a place asks for, and what else, its own "
        "rules say.",
    )


def asked(job: Job) -> Iterator[Asked]:
    """Each in turn."""
    yield _scale(job)
    yield _equipment(job)
    yield from _tanks(job)
    yield from _sinks(job)
    yield from _water_line(job)
    yield from _backflow(job)
    yield _tubes(job)
    yield _power(job)
    yield from _mass(job)


def _scale(job: Job) -> Asked:
    body = job.analysis.body
    cart = job.build.cart
    return Asked(
        "Plan and elevations to scale, with overall size and working height",
        Phrase.of(
            "Plan of each level and elevations, to the scale in their title blocks; {width} × "
            "{depth}, working height {height}",
            width=Value(cart.width.si, "length"),
            depth=Value(cart.depth.si, "length"),
            height=Value(body.counter_m, "length"),
        ),
        _PRACTICE,
        "ok",
    )


def _equipment(job: Job) -> Asked:
    items = list(on_cart(job))
    typical = sum(
        any(one.basis == "typical" and "size" in one.of for one in item.specification.origins)
        for item in items
    )
    words = f"{counted(len(items), 'piece')}, see the table of equipment"
    if typical:
        words += f"; the sizes of {typical} are typical ones, not a maker's"
    return Asked(
        "Equipment in place, with sizes and makers' sheets",
        words,
        _PRACTICE,
        "care" if typical or not items else "ok",
    )


# --- vessels and sinks ----------------------------------------------------------------


def _tanks(job: Job) -> Iterator[Asked]:
    balance = job.analysis.water.balance
    roles = [item.specification.water for item in job.build.items]
    mains = any(isinstance(role, Mains) for role in roles)
    if balance is None or (balance.fresh <= 0.0 and not mains):
        yield Asked("Fresh water: tank size or connection", "None on the plan", _PRACTICE, "care")
    else:
        words = "{fresh} in tanks" if balance.fresh > 0.0 else ""
        words += (" and " if words and mains else "") + ("the venue's tap" if mains else "")
        yield Asked(
            "Fresh water: tank size or connection",
            Phrase.of(words, fresh=Value(balance.fresh, "volume")),
            _PRACTICE,
            "ok",
        )
    if balance is None:
        return
    yield _waste(job)
    rules = profile(job.build.region)
    if balance.fresh > 0.0:
        for one in rules.stricter_waste_ratios:
            need = one.ratio * balance.fresh
            if balance.waste > 0.0 and not balance.to_drain:
                holds = balance.waste >= need - 1e-9
                yield Asked(
                    f"Waste tank in {one.place}",
                    Phrase.of(
                        "{waste} against {need} there",
                        waste=Value(balance.waste, "volume", 2, need),
                        need=Value(need, "volume", 2, balance.waste),
                    ),
                    one.citation,
                    "ok" if holds else "care",
                )
    if balance.waste > 0.0:
        yield _waste_outlet(job)


def _waste(job: Job) -> Asked:
    balance = job.analysis.water.balance
    assert balance is not None
    rule = profile(job.build.region).waste_ratio
    if balance.to_drain:
        return Asked(
            "Waste water: tank size against fresh water",
            "Waste leaves through the venue's drain",
            rule.citation,
            "ok",
        )
    values = {
        "waste": Value(balance.waste, "volume", 2, balance.waste_needed),
        "need": Value(balance.waste_needed, "volume", 2, balance.waste),
        "ratio": Value(balance.ratio, "number"),
    }
    return Asked(
        "Waste water: tank size against fresh water",
        Phrase.of("{waste} against {need}, {ratio} times the fresh tank", **values),
        rule.citation,
        "ok" if balance.waste >= balance.waste_needed - 1e-9 else "care",
    )


def _waste_outlet(job: Job) -> Asked:
    rule = profile(job.build.region).waste_drain_bore_m
    tanks = [
        item
        for item in job.build.items
        if isinstance(role := item.specification.water, Tank) and role.contents == "waste"
    ]
    lets_out = [
        item.name
        for item in tanks
        if any(
            port.medium == "drain" and port.direction == "out" for port in item.specification.ports
        )
    ]
    told = f"outlet of {', '.join(lets_out)}: see the plan" if lets_out else "not in the drawing"
    return Asked(
        "Drain of the waste tank, with its valve",
        Phrase.of(
            "{told}; {bore} bore or more is asked for",
            told=told,
            bore=Value(rule.value, "length"),
        ),
        rule.citation,
        "care",
    )


def _of_kind(job: Job, *kinds: str) -> list[Item]:
    return [item for item in on_cart(job) if item.specification.kind in kinds]


def _sinks(job: Job) -> Iterator[Asked]:
    hands = _of_kind(job, "hand sink")
    if hands:
        yield Asked(
            "Hand sink",
            ", ".join(item.name for item in hands),
            _PRACTICE,
            "ok",
        )
        yield from (_warm(job, item) for item in hands)
    else:
        yield Asked(
            "Hand sink",
            "None is drawn: say where hands are washed, or add one",
            _PRACTICE,
            "care",
        )
    washing = _of_kind(job, "wash sink")
    yield Asked(
        "Where utensils are washed",
        ", ".join(item.name for item in washing)
        or "No wash sink is drawn: say where utensils are washed",
        _PRACTICE,
        "ok" if washing else "care",
    )
    dumps = _of_kind(job, "dump sink")
    if dumps:
        yield Asked("Dump sink", ", ".join(item.name for item in dumps), _PRACTICE, "ok")


def _warm(job: Job, item: Item) -> Asked:
    taps = [tap for tap in job.analysis.water.taps if tap.item == item.id and tap.fed]
    if not taps:
        return Asked(f"Warm water at {item.name}", "No water reaches it", _SINK_SOURCE, "care")
    warmest = max(tap.temperature_k for tap in taps)
    return Asked(
        f"Warm water at {item.name}",
        Phrase.of("{warm}", warm=Value(warmest, "temperature")),
        _SINK_SOURCE,
        "ok" if warmest >= _SINK_TEMPERED_K else "care",
    )


# --- the line ----------------------------------------------------------------


def _water_line(job: Job) -> Iterator[Asked]:
    pumps = [item for item in job.build.items if isinstance(item.specification.water, Pump)]
    for item in pumps:
        role = item.specification.water
        assert isinstance(role, Pump)
        yield Asked(
            f"Switch pressures of {item.name}",
            Phrase.of(
                "starts at {low}, stops at {high}",
                low=Value(role.cut_in.si, "pressure"),
                high=Value(role.cut_out.si, "pressure"),
            ),
            _PRACTICE,
            "ok",
        )
    heaters = [item for item in job.build.items if isinstance(item.specification.water, Heater)]
    for item in heaters:
        role = item.specification.water
        assert isinstance(role, Heater)
        yield Asked(
            f"Water heater: {item.name}",
            Phrase.of("{outlet} behind it", outlet=Value(role.outlet.si, "temperature")),
            _PRACTICE,
            "ok",
        )
    if not heaters:
        yield Asked("Water heater", "None is drawn", _PRACTICE, "care")


def _backflow(job: Job) -> Iterator[Asked]:
    for gap in job.analysis.water.air_gaps:
        item = job.build.item(gap.item)
        name = item.name if item is not None else gap.item
        needed = Value(gap.needed_m, "length", beside=gap.given_m)
        if gap.given_m is None:
            answer, mark = Phrase.of("not stated; {need} is asked for", need=needed), "care"
        else:
            given = Value(gap.given_m, "length", beside=gap.needed_m)
            answer = Phrase.of("{given} against {need}", given=given, need=needed)
            mark = "ok" if gap.given_m >= gap.needed_m - 1e-9 else "care"
        yield Asked(f"Air gap of {name}", answer, gap.source, mark)
    checks = [item for item in job.build.items if isinstance(item.specification.water, CheckValve)]
    carbonating = [
        item
        for item in job.build.items
        if isinstance(role := item.specification.water, Appliance) and role.carbonates
    ]
    vented = [
        item
        for item in checks
        if isinstance(role := item.specification.water, CheckValve) and role.vented
    ]
    if carbonating:
        yield Asked(
            "Vented double check before a carbonator",
            ", ".join(item.name for item in vented) or "None is drawn",
            _CHECK_SOURCE,
            "ok" if vented else "care",
        )
    if any(isinstance(item.specification.water, Mains) for item in job.build.items):
        valves = [item for item in job.build.items if isinstance(item.specification.water, ShutOff)]
        names = [item.name for item in (*checks, *valves)]
        yield Asked(
            "Backflow protection and shut-off at the venue's water",
            ", ".join(names) or "None is drawn",
            _BACKFLOW_SOURCE,
            "ok" if checks else "care",
        )


def _tubes(job: Job) -> Asked:
    drains = {(item.id, port.id) for item in job.build.items for port in item.specification.ports
              if port.medium == "drain"}  # fmt: skip
    supply = [run for run in job.build.tubes if (run.a.item, run.a.port) not in drains]
    bad = [run for run in supply if not run.tube.potable]
    unrated = [run for run in supply if run.tube.rating is None]
    words = f"{counted(len(job.build.tubes), 'run')}, see the table of tubes"
    if bad:
        words += f"; {counted(len(bad), 'supply run')} not entered as made for drinking water"
    if unrated:
        words += f"; {counted(len(unrated), 'supply run')} without a pressure rating"
    return Asked(
        "Sizes and materials of pipes and tubes",
        words,
        _PRACTICE,
        "care" if bad or unrated else "ok",
    )


# --- power and mass ----------------------------------------------------------------


def _power(job: Job) -> Asked:
    circuits = [one for one in job.analysis.power.circuits if one.loads]
    outlets = [role for item in job.build.items
               if isinstance(role := item.specification.electrical, Outlet)]  # fmt: skip
    unknown = sum(role.gfci is None for role in outlets)
    words = f"{counted(len(circuits), 'circuit')}, see load schedule and one-line diagram"
    if unknown:
        words += f"; of {counted(unknown, 'outlet')} the earth-leakage protection is not known"
    over = [one.letter for one in circuits if not all(limit.holds for limit in one.limits)]
    if over:
        words += f"; circuit {', '.join(over)} does not hold as drawn"
    return Asked(
        "Electrical loads and protection",
        words,
        _PRACTICE,
        "care" if unknown or over or not circuits else "ok",
    )


def _mass(job: Job) -> Iterator[Asked]:
    body = job.analysis.body
    if body.empty is None or body.full is None:
        yield Asked("Mass", "Nothing is known", _PRACTICE, "care")
        return
    yield Asked(
        "Mass, empty and full",
        Phrase.of(
            "{empty} to {full}",
            empty=Value(body.empty.mass_kg, "mass"),
            full=Value(body.full.mass_kg, "mass"),
        ),
        _PRACTICE,
        "ok",
    )
    rule = profile(job.build.region).tilt_degrees
    if body.tilts:
        worst = body.tilts[0]
        yield Asked(
            "Stands safely",
            Phrase.of(
                "goes over at {tilt} to the {edge}; {least} is asked for",
                tilt=Value(worst.worst_deg, "angle", beside=rule.value),
                edge=worst.edge,
                least=Value(rule.value, "angle", beside=worst.worst_deg),
            ),
            rule.citation,
            "ok" if worst.worst_deg >= rule.value else "care",
        )
