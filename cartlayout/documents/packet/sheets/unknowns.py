"""What to check before anything is drilled: figures that would change a verdict, nearest first."""

from ....advice.sensitivity import Found, Threshold, all_found, ranked
from ....advice.sensitivity.words import (
    ONE_AT_A_TIME,
    cause_word,
    name_of,
    quiet,
    range_words,
    summary,
    taken_words,
    verdict,
)
from ..content import Cell, Column, Content, Job, Paragraph, Part, Table

_HOW = (
    "Each figure below was taken as is usual, assumed, planned, or is not known. It was tried over "
    "its whole range by solving the build again; what stands here is where a verdict turns. Read "
    "it off the nameplate or the maker's sheet, or measure it, and write down what was found."
)


def unknowns(job: Job) -> Content:
    """The sheet, with a column for the pen."""
    found = all_found(job.analysis, job.between)
    parts: list[Part] = [
        Paragraph(_HOW, "muted"),
        Paragraph(summary(found), "strong"),
        Paragraph(ONE_AT_A_TIME),
        _deciding(job, found),
        _quiet(job, found),
    ]
    return Content("unknowns", "To be checked before drilling", "builder", tuple(parts))


def _deciding(job: Job, found: tuple[Found, ...]) -> Table:
    thresholds = ranked(found)
    return Table(
        "to-be-checked",
        "What would change a verdict, nearest to what is taken now first",
        (
            Column("If", share=2.4),
            Column("Then", share=2.4),
            Column("Taken now", share=1.6),
            Column("Tried between", share=1.3),
            Column("Found", share=0.9),
        ),
        tuple(_row(job, one) for one in thresholds),
        tuple(verdict(one) for one in thresholds),
        note="A range is common practice where no other source is named; it is no promise.",
        empty="No figure that nobody has checked changes a verdict within its range.",
    )


def _row(job: Job, one: Threshold) -> tuple[Cell, ...]:
    return (
        one.condition.shown(job.system).removeprefix("If "),
        one.consequence.shown(job.system),
        taken_words(one.unknown, job.system),
        range_words(one.unknown, job.system),
        "",
    )


def _quiet(job: Job, found: tuple[Found, ...]) -> Table:
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (
            name_of(one),
            one.value(one.taken).shown(job.system) if one.taken is not None else "",
            cause_word(one),
            range_words(one, job.system),
        )
        for one in quiet(found)
    )
    return Table(
        "turns-nothing",
        "Nobody has checked these either, but nothing turns within their range",
        (
            Column("What", share=3.0),
            Column("Taken now", align="right"),
            Column("Rests on"),
            Column("Tried between", share=1.6),
        ),
        rows,
        empty="Every other figure was read off, measured or entered.",
    )
