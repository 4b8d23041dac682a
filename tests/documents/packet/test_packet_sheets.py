"""Every sheet there is, on paper and back: each cell of each table, whatever paper and units."""

import building as b
import pytest
from analysis.random_builds import builds
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from packet_jobs import DATE, SAMPLES, boxes_apart, job_of, packed, sample_job
from pypdf import PdfReader

from cartlayout.build import Venue
from cartlayout.documents.caution import CAUTION
from cartlayout.documents.packet.cells import head, shown, words
from cartlayout.documents.packet.content import (
    Blanks,
    Checks,
    Content,
    Facts,
    Heading,
    Labels,
    Paragraph,
    Part,
    Table,
)
from cartlayout.documents.packet.packet import asked, packet_files, write_pdf
from cartlayout.documents.packet.pages import lay_out
from cartlayout.documents.packet.registry import SHEETS
from cartlayout.units import UnitSystem

METRIC_ONES = ("conference_hall_bar", "station_kiosk_230v")
WAYS = [  # reading a page back takes longer than writing it: each sample one way, one both
    *((name, UnitSystem.US, "letter") for name in SAMPLES if name != "station_kiosk_230v"),
    *((name, UnitSystem.METRIC, "A4") for name in METRIC_ONES),
]
OTHER_WAYS = [
    *((name, UnitSystem.US, "A4") for name in SAMPLES),
    *((name, UnitSystem.METRIC, "letter") for name in METRIC_ONES),
    ("conference_hall_bar", UnitSystem.METRIC, "A3"),
]


def said(part: Part, system: UnitSystem) -> list[str]:
    """Everything a part says, as it is read."""
    match part:
        case Heading():
            return [part.text]
        case Paragraph():
            return [words(part.text, system)]
        case Facts():
            return [part.title, *(t for n, c in part.pairs for t in (n, shown(c, None, system)))]
        case Checks():
            return [part.title, *(words(line, system) for line in part.lines)]
        case Blanks():
            return [part.title, *part.names, part.note]
        case Labels():
            return [
                text
                for one in part.labels
                for text in (one.headline, *(words(line, system) for line in one.lines))
            ]
        case Table():
            return table_texts(part, system)
    return []


def table_texts(table: Table, system: UnitSystem) -> list[str]:
    if not table.rows and not table.totals:
        return [table.title, table.empty]
    cells = [
        shown(cell, column, system)
        for row in (*table.rows, table.totals)
        for column, cell in zip(table.columns, row, strict=False)
    ]
    heads = [head(column, system) for column in table.columns]
    return [table.title, *heads, *cells, words(table.note, system)]


@pytest.mark.parametrize(("name", "system", "paper"), WAYS)
def test_every_word_and_number_is_read_back_from_the_pdf(
    tmp_path, name: str, system: UnitSystem, paper: str
) -> None:
    job = sample_job(name, system, paper)
    path = write_pdf(job, tmp_path / "p.pdf", asked())
    pages = [packed(page.extract_text()) for page in PdfReader(path).pages]
    at = 0
    contents = [one for entry in SHEETS.values() if (one := entry.make(job)).applies]
    for number, made in enumerate(contents, 1):
        key = made.key
        count = len(lay_out(made, job).poured)
        text = "".join(pages[at : at + count])
        for part in made.parts:
            for words_ in said(part, system):
                assert packed(words_) in text, (key, words_)
        for place, page in enumerate(pages[at : at + count], 1):
            title_block(page, made, f"Sheet{number}of{len(contents)}", f"Page{place}of{count}")
            assert packed(job.build.name) in page
        at += count
    assert at == len(pages)


def title_block(page: str, made: Content, *places: str) -> None:
    for text in (made.title, CAUTION, DATE.isoformat(), "Units", "Revision", "Scale"):
        assert packed(text) in page
    for text in (*places, *map(packed, made.cautions)):
        assert text in page


@pytest.mark.parametrize(("name", "system", "paper"), OTHER_WAYS)
def test_nothing_lies_on_anything_else(name: str, system: UnitSystem, paper: str) -> None:
    job = sample_job(name, system, paper)
    for entry in SHEETS.values():
        for page in lay_out(entry.make(job), job).pages():
            boxes_apart(page)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_list_says_what_is_so_and_every_table_has_a_file_of_its_own(name: str) -> None:
    job = sample_job(name)
    tables = []
    for key, entry in SHEETS.items():
        made = entry.make(job)
        assert (made.key, made.title, made.reader) == (key, entry.title, entry.reader)
        parts = (*made.parts, *made.file_tables) if made.applies else ()
        tables += [part.key for part in parts if isinstance(part, Table)]
    assert len(tables) == len(set(tables))
    files = packet_files(job, asked(None, ["csv"]))
    assert set(files) == {f"tables/{key}.csv" for key in tables}


@settings(deadline=None, max_examples=8, suppress_health_check=list(HealthCheck))
@given(builds(), st.sampled_from(UnitSystem), st.sampled_from(["letter", "A4"]))
def test_any_build_gives_every_sheet(build, system: UnitSystem, paper: str) -> None:
    job = job_of(build, system, paper)
    for key, entry in SHEETS.items():
        if key == "unknowns":  # solves the build again and again; tried on the samples
            continue
        for page in lay_out(entry.make(job), job).pages():
            boxes_apart(page)


def test_names_with_braces_and_signs_are_only_names() -> None:
    name = "{amps} =1+1 {0} %s"
    build = b.build(
        b.outlet("o", label=name),
        b.load("k", watts=1500, label=name),
        b.load("l", watts=1500, label=name),
        b.tank("t", label=name),
        b.pump("p", label=name),
        b.tap("r", b.opening("1 gal/min", "40 psi"), label=name),
        b.tank("w", contents="waste", label=name),
        b.wire("k", "o.1"),
        b.wire("l", "o.2"),
        b.tube("t", "p"),
        b.tube("p", "r"),
        name=name,
        designer=name,
        venue=Venue(name=name),
    )
    job = job_of(build)
    for entry in SHEETS.values():
        pages = lay_out(entry.make(job), job).pages()
        text = "".join(packed(one.text) for page in pages for one in page.texts)
        assert packed(name) in text
