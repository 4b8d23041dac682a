"""The sheet for plan review: what an inspector commonly looks for, and what is missing."""

from collections.abc import Iterator

from ....findings import Finding
from ....limits import profile
from ....units import Phrase, Value
from ..content import Cell, Column, Content, Facts, Job, Paragraph, Part, Table
from ..review.asked import asked_table
from ..review.equipment import (
    equipment_table,
    line_table,
    sinks_table,
    tubes_table,
    vessels_table,
)
from ..review.missing import by_hand, missing_table


def plan_review(job: Job) -> Content:
    """Everything the drawing says to what reviews commonly ask for."""
    parts: tuple[Part, ...] = (
        Paragraph(_opening(job)),
        Facts(tuple(_facts(job)), "The cart"),
        asked_table(job),
        missing_table(job),
        equipment_table(job),
        vessels_table(job),
        sinks_table(job),
        tubes_table(job),
        line_table(job),
        _open_findings(job),
        by_hand(),
    )
    return Content(
        "plan-review",
        "Plan review",
        "inspector",
        parts,
        cautions=(
            "This sheet approves nothing and claims no approval. It repeats what was entered; "
            "makers' sheets and the local code govern.",
        ),
    )


def _opening(job: Job) -> str:
    rules = profile(job.build.region)
    return (
        "What plan reviews commonly ask a drawing of a mobile beverage cart to carry, with what "
        f"this build says to each. Rules quoted: {rules.name} ({rules.edition}); the "
        "local ones may differ and go first. Plan, elevations, one-line diagrams, load schedule "
        "and workings are sheets of their own in this packet."
    )


def _facts(job: Job) -> Iterator[tuple[str, Cell]]:
    build, body = job.build, job.analysis.body
    cart = build.cart
    yield (
        "Size of the cart",
        Phrase.of(
            "{width} × {depth}",
            width=Value(cart.width.si, "length"),
            depth=Value(cart.depth.si, "length"),
        ),
    )
    if body.travel is not None:
        yield (
            "Size as it is moved",
            Phrase.of(
                "{wide} × {deep} × {high}",
                wide=Value(body.travel.wide_m, "length"),
                deep=Value(body.travel.deep_m, "length"),
                high=Value(body.travel.high_m, "length"),
            ),
        )
    if body.counter:
        yield "Working height", Value(body.counter_m, "length")
    if body.empty is not None and body.full is not None:
        yield "Mass, vessels empty", Value(body.empty.mass_kg, "mass")
        yield "Mass, vessels full", Value(body.full.mass_kg, "mass")
    yield "Used", "outdoors" if build.venue.outdoors else "indoors"
    yield (
        "Service",
        Phrase.of(
            "{hours}, {drinks} drinks an hour",
            hours=Value(build.service.hours.si, "duration"),
            drinks=f"{build.service.drinks_per_hour:g}",
        ),
    )
    yield "Circuits", str(sum(bool(one.loads) for one in job.analysis.power.circuits))
    balance = job.analysis.water.balance
    if balance is not None:
        for name, volume in (("Fresh", balance.fresh), ("Waste", balance.waste)):
            yield f"{name} water on board", Value(volume, "volume") if volume > 0.0 else "none"


def _open_findings(job: Job) -> Table:
    """What the program itself has to say against the drawing."""
    found = [one for one in job.analysis.findings if one.severity != "note"]
    found.sort(key=Finding.sort_key)
    return Table(
        "review-findings",
        "What the program finds in this build",
        (Column("Finding", share=1.6), Column("What to do", share=2.4), Column("Rule", share=1.2)),
        tuple((one.title, one.detail, one.source) for one in found),
        tuple(one.severity for one in found),
        empty="Nothing to stop for and nothing to take care of, as far as the program can tell.",
    )
