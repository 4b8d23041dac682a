"""Parts on pages: nothing is lost, nothing lies on anything else, all of it is on the paper."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from packet_jobs import boxes_apart, content, packed, plain_job, read, tables, words

from cartlayout.documents.caution import CAUTION
from cartlayout.documents.lettering import Face
from cartlayout.documents.packet.cells import head, shown
from cartlayout.documents.packet.content import (
    Blanks,
    Checks,
    Column,
    Drawn,
    Facts,
    Heading,
    Label,
    Labels,
    Paragraph,
    Picture,
    Table,
)
from cartlayout.documents.packet.lines import broken
from cartlayout.documents.packet.pages import Page, lay_out
from cartlayout.documents.sheet.elements import TextItem
from cartlayout.units import UnitSystem, Value

slowly = settings(
    deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow]
)  # fmt: skip
LEAST_TYPE_MM = 2.3
"""Common practice, no source: print smaller than 6.5 pt is not read on a wall."""


def pages(*parts, system=UnitSystem.US, paper="letter", **more) -> tuple[Page, ...]:
    return lay_out(content(*parts, **more), plain_job(system, paper)).pages()


def numbered(count: int, **more) -> Table:
    columns = (Column("Name"), Column("Amps", "current", "right"))
    rows = tuple((f"row-{at}", Value(float(at), "current")) for at in range(count))
    return Table("t", "Loads", columns, rows, **more)


@slowly
@given(st.text(max_size=300), st.floats(2.0, 200.0))
def test_broken_lines_hold_every_letter_in_order(text: str, width: float) -> None:
    face = Face(2.5)
    lines = broken(text, face, width)
    assert packed("".join(lines)) == packed(text)
    assert all(face.width(line) <= width or len(line) == 1 for line in lines)


@slowly
@given(tables(), st.sampled_from(UnitSystem), st.sampled_from(["letter", "A4"]), st.booleans())
def test_any_table_is_wholly_on_paper(table: Table, system, paper: str, wide: bool) -> None:
    made = pages(table, system=system, paper=paper, is_wide=wide)
    whole = "".join(read(page) for page in made)
    for row in (*table.rows, table.totals):
        for column, cell in zip(table.columns, row, strict=False):
            assert packed(shown(cell, column, system)) in whole
    if table.rows:
        for column in table.columns:
            assert packed(head(column, system)) in whole
    assert packed(table.note) in whole
    for page in made:
        boxes_apart(page)
        inside(page)
        assert all(one.size >= LEAST_TYPE_MM - 1e-9 for one in page.texts)


def inside(page: Page) -> None:
    """What the sheet itself says stands between heading and title block."""
    for element in page.elements:
        if isinstance(element, TextItem) and element.box.y > page.area.y:
            in_block = element.box.y >= page.area.bottom - 1e-6
            assert in_block or element.box.bottom <= page.area.bottom + 0.8, element.text


def test_a_long_table_breaks_between_rows_and_says_its_heads_again() -> None:
    made = pages(numbered(120), system=UnitSystem.METRIC, paper="A4")
    assert len(made) > 2
    for number, page in enumerate(made):
        texts = [one.text for one in page.texts]
        assert "Amps, A" in texts
        assert ("Loads (continued)" in texts) == (number > 0)
    rows = [one.text for page in made for one in page.texts if one.text.startswith("row-")]
    assert rows == [f"row-{at}" for at in range(120)]


def test_figures_end_in_one_line_and_totals_stay_with_the_last_row() -> None:
    for count in range(20, 60):
        made = pages(numbered(count, totals=("Together", Value(99.5, "current"))))
        (last,) = [page for page in made if "Together" in [one.text for one in page.texts]]
        assert f"row-{count - 1}" in [one.text for one in last.texts]
    rights = {
        round(one.x, 6)
        for page in made
        for one in page.texts
        if one.align == 1.0 and one.text.replace(".", "").isdigit()
    }
    assert len(rights) == 1


def test_verdicts_are_mark_and_word() -> None:
    table = numbered(3, marks=("stop", "care", "ok"))
    (page,) = pages(table)
    texts = [one.text for one in page.texts]
    assert [word for word in texts if word in ("stop", "care", "ok")] == ["stop", "care", "ok"]
    marks = [one.severity for one in page.elements if type(one).__name__ == "MarkItem"]
    assert marks == ["stop", "care", "ok"]


def test_an_empty_table_says_so() -> None:
    (page,) = pages(numbered(0, empty="Nothing is plugged in."))
    assert "Nothing is plugged in." in [one.text for one in page.texts]


@slowly
@given(st.lists(words, max_size=12), st.integers(0, 60))
def test_any_parts_are_wholly_on_paper(texts: list[str], rows: int) -> None:
    made = pages(
        Heading("First"),
        *(Paragraph(text * 9) for text in texts),
        Facts(tuple((f"Name {at}", text) for at, text in enumerate(texts)), "Facts"),
        Checks(tuple(texts), "Steps", first=5),
        Blanks(tuple(texts), "By hand"),
        Labels(tuple(Label(text, (text, "second line")) for text in texts), "Labels"),
        numbered(rows),
        is_wide=False,
    )
    whole = "".join(read(page) for page in made)
    for text in texts:
        assert whole.count(packed(text)) >= 4 if text else True
    for page in made:
        boxes_apart(page)
        inside(page)


def test_a_heading_is_never_the_last_on_a_page() -> None:
    for count in range(20, 60):
        made = pages(numbered(count), Heading("Next part"), Paragraph("Its first sentence."))
        for page in made:
            texts = [one.text for one in page.texts]
            assert ("Next part" in texts) == ("Its first sentence." in texts)


def test_a_picture_takes_what_is_left_or_a_page_of_its_own() -> None:
    given_boxes = []

    def draw(box):
        given_boxes.append(box)
        return Drawn((TextItem(box.x, box.bottom, "in the corner"),), (), "1:10")

    first, *_ = pages(numbered(3), Picture(draw, title="Drawn"))
    assert "1:10" in [one.text for one in first.texts]
    assert given_boxes[-1].bottom == pytest.approx(first.area.bottom)
    made = pages(numbered(25), Picture(draw, least_height=90.0))
    assert len(made) == 2
    assert given_boxes[-1].y == pytest.approx(made[1].area.y)
    assert given_boxes[-1].height == pytest.approx(made[1].area.height)


def test_a_sheet_for_one_page_is_set_smaller_before_it_breaks() -> None:
    most = next(count for count in range(20, 90) if len(pages(numbered(count))) > 1)
    (page,) = pages(numbered(most), one_page=True)
    sizes = {one.size for one in page.texts if one.text.startswith("row-")}
    assert min(sizes) >= LEAST_TYPE_MM - 1e-9
    assert len(pages(numbered(200), one_page=True)) > 1


@pytest.mark.parametrize("paper", ["letter", "A4", "tabloid", "A3"])
@pytest.mark.parametrize("wide", [True, False])
def test_every_page_says_what_it_belongs_to(paper: str, wide: bool) -> None:
    laid = lay_out(
        content(numbered(250), is_wide=wide, cautions=("Also mind this.",)),
        plain_job(UnitSystem.METRIC, paper),
    )
    made = laid.pages(3, 12)
    for number, page in enumerate(made, 1):
        assert (page.width > page.height) == wide
        texts = [one.text for one in page.texts]
        for text in ("Trial", "2026-03-01", "3 of 12", f"{number} of {len(made)}", CAUTION):
            assert text in texts
        assert "mm, kg, bar, L/min, L, °C" in texts
        assert "Also mind this." in texts
        assert "trial.cart · United States" in texts
