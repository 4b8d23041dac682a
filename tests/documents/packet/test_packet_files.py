"""Files of the packet, read back with other tools than those that wrote them."""

import csv
import io
import os
import stat
from pathlib import Path
from xml.etree import ElementTree

import msgspec
import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from packet_jobs import content, job_of, plain_job, sample_job, tables
from pypdf import PdfReader

from cartlayout.documents.devices import ExportCancelledError, ExportError
from cartlayout.documents.packet.comma_separated import csv_bytes
from cartlayout.documents.packet.content import Column, Table
from cartlayout.documents.packet.packet import (
    PACKET_NAME,
    WORKBOOK_NAME,
    asked,
    make_job,
    packet_files,
    write_packet,
    write_pdf,
)
from cartlayout.documents.packet.placing import FilesThereError, put
from cartlayout.documents.packet.registry import SHEETS
from cartlayout.documents.packet.workbook import workbook_bytes
from cartlayout.units import UnitSystem, Value

PSI_PA = 6894.757  # NIST SP 811, appendix B.8
FEW = ("load-schedule", "checklist")

LOADS = Table(
    "loads",
    "Loads: A/B?",
    (Column("Name"), Column("Pressure", "pressure", "right"), Column("Other")),
    (
        ("Kettle é °", Value(3 * PSI_PA, "pressure"), Value(1.5, "current")),
        ("=1+2", Value(12345.0 * PSI_PA, "pressure"), "@home"),
        ("+5 bar", None, "-x"),
    ),
    ("stop", "", "ok"),
    ("Together", Value(12348.0 * PSI_PA, "pressure"), ""),
)


def rows_of(data: bytes) -> list[list[str]]:
    assert data.startswith(b"\xef\xbb\xbf")  # RFC 3629: the byte order mark in UTF-8
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_csv_has_units_in_heads_and_plain_numbers() -> None:
    heads, *rows = rows_of(csv_bytes(LOADS, UnitSystem.US))
    assert heads == ["Name", "Pressure, psi", "Other", "Verdict"]
    assert [row[1] for row in rows] == ["3.0", "12345.0", "", "12348.0"]
    assert rows[0] == ["Kettle é °", "3.0", "1.5 A", "stop"]
    assert [row[0] for row in rows] == ["Kettle é °", "'=1+2", "'+5 bar", "Together"]
    assert rows[2][2] == "'-x"


def test_csv_ends_its_lines_as_rfc_4180_says() -> None:
    data = csv_bytes(LOADS, UnitSystem.METRIC)
    assert data.count(b"\r\n") == len(LOADS.rows) + 2
    assert float(rows_of(data)[1][1]) == pytest.approx(3 * PSI_PA / 1e5, abs=0.005)


@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(tables())
def test_any_table_survives_both_kinds_of_file(table: Table) -> None:
    read = rows_of(csv_bytes(table, UnitSystem.US))
    marked = int(any(table.marks))
    assert all(len(row) == len(table.columns) + marked for row in read)
    assert len(read) == 1 + len(table.rows) + bool(table.totals)
    book = openpyxl.load_workbook(
        io.BytesIO(workbook_bytes([content(table)], plain_job())), data_only=False
    )
    sheet = book.worksheets[1]
    for place, row in enumerate(table.rows):
        for column, cell in enumerate(row):
            found = sheet.cell(4 + place, 1 + column)
            assert found.data_type != "f"
            if isinstance(cell, str) and cell:
                assert found.value == cell
            elif isinstance(cell, Value) and table.columns[column].dimension == cell.dimension:
                factor = 1.0 if cell.dimension == "current" else PSI_PA
                assert found.value == pytest.approx(cell.si / factor, rel=1e-6, abs=1e-9)


def test_workbook_has_numbers_with_formats_frozen_heads_and_no_formula() -> None:
    second = Table("loads-2", "Loads: A/B?", LOADS.columns, (), empty="Nothing here.")
    # A name of a tab has 31 letters at most (ECMA-376, sheet names).
    long = [Table(f"a-very-long-key-of-a-table-that/{at}", "", LOADS.columns, ()) for at in "ab"]
    made = content(LOADS, second, *long, cautions=("Mind it.",))
    book = openpyxl.load_workbook(io.BytesIO(workbook_bytes([made], plain_job())))
    assert book.sheetnames == [
        "About",
        "Loads",
        "Loads 2",
        "A very long key of a table that",
        "A very long key of a table th 2",
    ]
    about = [cell.value for row in book["About"].iter_rows() for cell in row if cell.value]
    assert {"Trial", "2026-03-01", "trial.cart", "Mind it."} <= set(about)
    assert any("not an approval" in str(text) for text in about)
    sheet = book["Loads"]
    assert sheet.freeze_panes == "A4"
    assert [sheet.cell(3, at).value for at in (1, 2, 3, 4)] == [
        "Name", "Pressure, psi", "Other", "Verdict",
    ]  # fmt: skip
    assert sheet["B4"].value == pytest.approx(3.0, rel=1e-6)
    assert sheet["B4"].number_format == "#,##0.0"
    assert sheet["A5"].value == "=1+2"
    assert sheet["A5"].data_type == "s"
    assert sheet["C4"].value == "1.5 A"
    assert sheet["D4"].value == "stop"
    assert sheet["B7"].value == pytest.approx(12348.0, rel=1e-6)
    assert book["Loads 2"]["A4"].value == "Nothing here."


# --- a whole packet -------------------------------------------------------------------------------


def test_a_packet_is_one_pdf_of_all_one_a_sheet_and_their_tables(tmp_path: Path) -> None:
    job = sample_job("market_cart")
    folder = tmp_path / "new" / "packet"
    kinds = ("pdf", "png", "svg", "csv", "xlsx")
    written = write_packet(job, folder, asked(FEW, kinds))
    names = {path.relative_to(folder).as_posix() for path in written}
    assert names == {
        path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()
    }
    assert {PACKET_NAME, "load-schedule.pdf", "checklist.pdf", WORKBOOK_NAME} <= names
    assert {"tables/load-schedule.csv", "tables/expected-taps.csv"} <= names
    assert {"pages/checklist-1.png", "pages/checklist-2.svg"} <= names
    whole = PdfReader(folder / PACKET_NAME)
    single = write_packet(job, tmp_path / "one", asked(["venue-request"], ["png"]))
    assert [path.name for path in single] == ["venue-request.png"]  # one page: no number
    apart = [PdfReader(folder / f"{key}.pdf") for key in FEW]
    assert len(whole.pages) == sum(len(one.pages) for one in apart)
    sizes = {tuple(round(float(side)) for side in page.mediabox[2:]) for page in whole.pages}
    assert sizes == {(792, 612), (612, 792)}  # letter, 11 by 8.5 in of 72 points, both ways
    umask = os.umask(0)
    os.umask(umask)
    assert stat.S_IMODE((folder / PACKET_NAME).stat().st_mode) == 0o666 & ~umask


def test_files_there_are_replaced_only_when_told(tmp_path: Path) -> None:
    job = plain_job()
    (tmp_path / "checklist.pdf").write_text("mine")
    (tmp_path / "other.txt").write_text("mine too")
    with pytest.raises(FilesThereError) as error:
        write_packet(job, tmp_path, asked(["checklist"], ["pdf"]))
    assert error.value.names == ("checklist.pdf",)
    assert "nothing has been written" in str(error.value)
    assert (tmp_path / "checklist.pdf").read_text() == "mine"
    write_packet(job, tmp_path, asked(["checklist"], ["pdf"]), replace=True)
    assert (tmp_path / "checklist.pdf").read_bytes().startswith(b"%PDF")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["checklist.pdf", "other.txt"]


def test_cancelled_at_any_moment_nothing_is_written(tmp_path: Path) -> None:
    job = plain_job()
    told: list[tuple[float, str]] = []

    def count(share: float, words: str) -> bool:
        told.append((share, words))
        return True

    write_packet(job, tmp_path / "whole", asked(FEW), watch=count)
    shares = [share for share, _ in told]
    assert shares == sorted(shares)
    assert 0.0 <= shares[0] < shares[-1] == 1.0
    assert all(words for _, words in told)
    for moment in range(len(told)):
        calls = iter(range(len(told)))
        with pytest.raises(ExportCancelledError):
            write_packet(
                job, tmp_path / "no", asked(FEW), watch=lambda *_, c=calls, m=moment: next(c) < m
            )
        assert not (tmp_path / "no").exists()


def test_a_sheet_that_takes_long_can_be_cancelled_while_it_is_made() -> None:
    asked_often = []

    def watch(share: float, words: str) -> bool:
        asked_often.append(words)
        return len(asked_often) < 4

    with pytest.raises(ExportCancelledError):
        # A fresh analysis, of which nobody has asked that yet.
        packet_files(job_of(sample_job("market_cart").build), asked(["unknowns"]), watch)
    assert len(asked_often) == 4
    assert len(set(asked_often)) == 1


def test_a_sheet_with_nothing_on_it_is_left_out_among_others() -> None:
    job = plain_job()  # no pump on it
    among = packet_files(job, asked(["pump", "checklist"], ["pdf"]))
    assert "pump.pdf" not in among
    assert "checklist.pdf" in among
    assert "pump.pdf" in packet_files(job, asked(["pump"], ["pdf"]))


def test_a_folder_in_the_way_of_a_file_leaves_all_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "b").mkdir()
    (tmp_path / "a").write_text("old")
    with pytest.raises(ExportError, match="b could not be written"):
        put({"a": b"new", "b": b"new", "c/d": b"new"}, tmp_path, replace=True)
    assert (tmp_path / "a").read_text() == "old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a", "b"]


def test_a_failure_while_files_are_put_in_place_is_undone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a").write_text("old a")
    (tmp_path / "b").write_text("old b")
    real = os.replace

    def failing(source, target) -> None:
        if Path(target).name == "b" and Path(source).suffix == ".part":
            raise OSError(28, "No space left on device", str(target))
        real(source, target)

    monkeypatch.setattr(os, "replace", failing)
    with pytest.raises(ExportError, match="No space left"):
        put({"a": b"new", "b": b"new"}, tmp_path, replace=True)
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {
        "a": "old a",
        "b": "old b",
    }


def test_where_nobody_may_write_the_place_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(ExportError, match="could not be written") as error:
        put({"a.pdf": b""}, tmp_path / "file" / "deep", replace=False)
    assert str(tmp_path) in str(error.value)


@pytest.mark.parametrize("name", ["a.pdf", "tables/a.csv"])
def test_a_file_in_the_way_of_a_folder_is_named_and_stays(tmp_path: Path, name: str) -> None:
    file = tmp_path / name.rpartition("/")[0] if "/" in name else tmp_path / "file"
    file.write_text("mine")
    folder = tmp_path if "/" in name else file
    with pytest.raises(ExportError, match="a file of that name stands there") as error:
        put({name: b"new"}, folder, replace=True)
    assert str(error.value).startswith(f"{file} could not be written")
    assert ".part" not in str(error.value)
    assert file.read_text() == "mine"


@pytest.mark.parametrize(
    ("sheets", "kinds", "message"),
    [
        (["nonsense"], ["pdf"], "there is no sheet 'nonsense'; there are: "),
        (None, ["doc"], "there is no kind of file 'doc'"),
        ([], ["pdf"], "no sheet"),
        (None, [], "no kind of file"),
    ],
)
def test_what_makes_no_sense_is_refused_in_words(sheets, kinds, message: str) -> None:
    with pytest.raises(ExportError, match=message):
        asked(sheets, kinds)


def test_sheets_come_in_the_order_of_the_packet_whatever_the_order_asked() -> None:
    assert asked(reversed(FEW)).sheets == tuple(key for key in SHEETS if key in FEW)


def test_control_characters_in_a_name_leave_a_drawing_that_can_be_read() -> None:
    """XML 1.0, section 2.2: no control characters in any document, escaped or not."""
    build = msgspec.structs.replace(plain_job().build, name="Cart\x00\x07\x1b[31m\x0b end")
    files = packet_files(job_of(build), asked(["venue-request"], ["svg"]))
    title = ElementTree.fromstring(files["pages/venue-request.svg"]).find("{*}title")
    assert title is not None
    assert str(title.text).startswith("Cart[31m end: ")


def test_one_pdf_alone(tmp_path: Path) -> None:
    path = write_pdf(plain_job(), tmp_path / "mine.pdf", asked(FEW))
    assert [one.name for one in tmp_path.iterdir()] == ["mine.pdf"]
    assert PdfReader(path).metadata.title == "Trial"
    with pytest.raises(ExportError, match="could not be written"):
        write_pdf(plain_job(), tmp_path / "gone" / "mine.pdf", asked(FEW))


def test_paper_goes_by_region_unless_it_is_said() -> None:
    job = sample_job("station_kiosk_230v")
    assert make_job(job.analysis).paper == "A4"
    assert make_job(job.analysis, paper="tabloid").paper == "tabloid"
    assert make_job(sample_job("market_cart").analysis).paper == "letter"
    with pytest.raises(ExportError, match="there is no paper"):
        make_job(job.analysis, paper="B5")
