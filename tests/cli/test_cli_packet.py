"""`cartlayout packet`: folders, single files, refusals in words."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from cartlayout.cli import main
from cartlayout.data import sample_builds
from cartlayout.documents.packet.registry import SHEETS

CART = str(sample_builds() / "market_cart.cart")


def words_of(path: Path) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(path).pages)


def test_a_packet_into_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "out"
    command = ["packet", CART, "-o", str(folder), "--only", "load-schedule, taps"]
    assert main([*command, "--date", "2026-03-01", "--units", "metric", "--sheet", "A4"]) == 0
    assert "files in" in capsys.readouterr().out
    names = {path.name for path in folder.iterdir()}
    assert names == {"load-schedule.pdf", "taps.pdf", "packet.pdf", "tables", "tables.xlsx"}
    text = words_of(folder / "packet.pdf")
    for part in ("2026-03-01", "mm, kg, bar", "market_cart.cart", "not an approval"):
        assert part in text
    page = PdfReader(folder / "packet.pdf").pages[0]
    width, height = (float(side) * 25.4 / 72 for side in page.mediabox[2:])
    assert (width, height) == pytest.approx((297.0, 210.0), abs=0.5)  # ISO 216


def test_a_second_time_only_with_replace(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command = ["packet", CART, "-o", str(tmp_path), "--only", "labels", "--formats", "pdf,csv"]
    assert main(command) == 0
    before = (tmp_path / "labels.pdf").read_bytes()
    assert main(command) == 2
    error = capsys.readouterr().err
    assert "labels.pdf" in error
    assert "--replace" in error
    assert (tmp_path / "labels.pdf").read_bytes() == before
    assert main([*command, "--replace"]) == 0


def test_a_name_that_ends_in_pdf_is_one_file(tmp_path: Path) -> None:
    path = tmp_path / "for the venue.pdf"
    assert main(["packet", CART, "-o", str(path), "--only", "venue-request"]) == 0
    assert [one.name for one in tmp_path.iterdir()] == [path.name]
    assert "What we ask of the venue" in words_of(path)


def test_one_file_is_not_written_over_unasked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "venue.pdf"
    path.write_text("mine")
    command = ["packet", CART, "-o", str(path), "--only", "venue-request"]
    assert main(command) == 2
    assert "venue.pdf" in capsys.readouterr().err
    assert path.read_text() == "mine"
    assert main([*command, "--replace"]) == 0
    assert "What we ask of the venue" in words_of(path)


def test_the_list_names_every_sheet(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["packet", "--list"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in lines] == list(SHEETS)


@pytest.mark.parametrize(
    ("more", "message"),
    [
        (["--only", "nonsense"], "there is no sheet 'nonsense'; there are: "),
        (["--formats", "doc"], "there is no kind of file 'doc'"),
        (["--only", ""], "no sheet"),
        (["--formats", ","], "no kind of file"),
    ],
)
def test_what_makes_no_sense_is_refused(
    more: list[str], message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["packet", CART, "-o", str(tmp_path / "x"), *more]) == 2
    assert message in capsys.readouterr().err
    assert not (tmp_path / "x").exists()


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ([CART], "-o/--output"),
        ([CART, "-o", "x", "--date", "yesterday"], "no date"),
        ([CART, "-o", "x", "--sheet", "B5"], "--sheet"),
        ([], "FILE"),
    ],
)
def test_words_that_are_missing_or_wrong(
    words: list[str], message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["packet", *words])
    assert ended.value.code == 2
    assert message.lower() in capsys.readouterr().err.lower()


def test_a_file_that_is_no_build(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "x.cart"
    path.write_text("{")
    assert main(["packet", str(path), "-o", str(tmp_path / "out")]) == 2
    assert "x.cart" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
