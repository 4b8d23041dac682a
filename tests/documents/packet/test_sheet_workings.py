"""The sheet of workings: whoever has only the paper can follow every number to its end."""

import pytest
from packet_jobs import SAMPLES, sample_job

from cartlayout.documents.packet.content import Job, Table
from cartlayout.documents.packet.sheets.workings import workings
from cartlayout.findings.number import Number
from cartlayout.water.results import ALL_OPEN
from cartlayout.workings.find import SUBJECTS, working


def titles(job: Job) -> set[str]:
    """First cells of its rows: titles of workings, and what is said step by step."""
    tables = [part for part in workings(job).parts if isinstance(part, Table)]
    return {str(row[0]) for table in tables for row in table.rows}


@pytest.mark.parametrize("name", SAMPLES)
def test_what_taps_put_in_stands_on_the_sheet_too(name: str) -> None:
    """A line to a tap says what each tube and each filter takes; how, stands under its own."""
    job = sample_job(name)
    told = titles(job)
    for subject in ("tap", "pump"):
        for number in SUBJECTS[subject].numbers(job.analysis):
            one = working(job.analysis, number)
            assert one is not None
            if number.case not in ("", ALL_OPEN):
                continue
            for step in one.steps:
                for symbol in step.symbols:
                    if symbol.number is not None and symbol.number.what == "loss":
                        assert _title(job, symbol.number) in told


@pytest.mark.parametrize("name", SAMPLES)
def test_every_drain_that_is_judged_stands_on_the_sheet(name: str) -> None:
    job = sample_job(name)
    told = titles(job)
    for number in SUBJECTS["drain"].numbers(job.analysis):
        assert _title(job, number) in told


def _title(job: Job, number: Number) -> str:
    one = working(job.analysis, number)
    assert one is not None
    return one.title.shown(job.system)
