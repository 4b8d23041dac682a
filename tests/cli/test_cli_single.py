"""`cartlayout export` of one drawing: view, level, scale, sheet; PNG, SVG, PDF, DXF."""

import io
import re
from pathlib import Path

import ezdxf
import pytest
from ezdxf import bbox
from pypdf import PdfReader
from PySide6.QtGui import QImage

from cartlayout.cli import main
from cartlayout.data import sample_builds
from cartlayout.documents.single import denominator_of

GOOD = sample_builds() / "market_cart.cart"


def export(tmp_path: Path, ending: str, *words: str) -> Path:
    target = tmp_path / f"drawing.{ending}"
    assert main(["export", str(GOOD), "-o", str(target), *words]) == 0
    return target


@pytest.mark.parametrize("view", ["plan", "front", "rear", "left", "right"])
def test_every_view_as_pdf_says_its_scale(view: str, tmp_path: Path) -> None:
    target = export(tmp_path, "pdf", "--view", view, "--sheet", "tabloid", "--scale", "1:10")
    (page,) = PdfReader(io.BytesIO(target.read_bytes())).pages
    text = " ".join(page.extract_text().split())
    assert "1:10" in text
    assert "licensed electrician" in text
    # Tabloid is 11 x 17 in (ANSI Y14.1 size B); a point is 1/72 in.
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
        (17 * 72, 11 * 72), abs=0.6
    )


def test_a_level_by_name(tmp_path: Path) -> None:
    svg = export(tmp_path, "svg", "--level", "base").read_text(encoding="utf-8")
    texts = " ".join(re.findall(r">([^<>]+)<", svg))
    assert "Water jug" in texts
    assert "Kettle" not in texts
    assert "Base, 6 in above the floor" in texts


def test_a_picture_has_the_size_of_its_sheet(tmp_path: Path) -> None:
    target = export(tmp_path, "png", "--view", "left", "--sheet", "A4", "--dpi", "100")
    picture = QImage(str(target))
    # A4 is 297 x 210 mm (ISO 216), 25.4 mm in an inch.
    assert picture.width() == pytest.approx(297 / 25.4 * 100, abs=1)
    assert picture.height() == pytest.approx(210 / 25.4 * 100, abs=1)


def test_dxf_of_everything_and_of_one(tmp_path: Path) -> None:
    doc = ezdxf.readfile(export(tmp_path, "dxf"))
    assert {name for name, _ in doc.groups} >= {"PLAN-COUNTER", "ELEVATION-FRONT"}
    one = ezdxf.readfile(export(tmp_path, "dxf", "--level", "shelf", "--units", "metric"))
    assert {name for name, _ in one.groups} == {"PLAN-SHELF", "NOTES"}
    outline = [entity for entity in one.modelspace() if entity.dxf.layer == "CART"]
    size = bbox.extents(outline).size
    assert (size.x, size.y) == pytest.approx((72 * 25.4, 30 * 25.4))  # 72 by 30 in, in mm
    side = ezdxf.readfile(export(tmp_path, "dxf", "--view", "rear"))
    assert {name for name, _ in side.groups} == {"ELEVATION-REAR", "NOTES"}


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--view", "front", "--scale", "1:10", "--sheet", "letter"], "ask for 1:12"),
        (["--view", "front", "--scale", "ten"], "'ten' is no scale"),
        (["--scale", "1:0"], "'1:0' is no scale"),
        (["--level", "attic"], "there are: counter, shelf, base"),
        (["--level", "shelf", "--view", "rear"], "for the plan only"),
        (["--view", "top"], "top"),
        (["--view", "plan", "--overlays", "water"], "--overlays goes with the annotated plan"),
        (["--sheet", "napkin"], "napkin"),
    ],
)
def test_what_makes_no_sense_is_said_and_nothing_is_written(
    words: list[str], message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "plan.pdf"
    try:
        code = main(["export", str(GOOD), "-o", str(target), *words])
    except SystemExit as left:
        code = left.code  # type: ignore[assignment]
    assert code == 2
    assert message in capsys.readouterr().err
    assert not target.exists()


def test_an_ending_nobody_knows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "plan.dwx"
    assert main(["export", str(GOOD), "-o", str(target), "--view", "plan"]) == 2
    assert ".png, .svg, .pdf or .dxf" in capsys.readouterr().err


@pytest.mark.parametrize(("text", "value"), [("1:10", 10), (" 1 : 12.5 ", 12.5), ("1/20", 20)])
def test_scales_are_read(text: str, value: float) -> None:
    assert denominator_of(text) == value


@pytest.mark.parametrize("text", ["", "10", "2:1", "1:-5", "1:5000", "1:nan"])
def test_what_is_no_scale_is_not_taken_for_one(text: str) -> None:
    with pytest.raises(ValueError, match="is no scale"):
        denominator_of(text)
