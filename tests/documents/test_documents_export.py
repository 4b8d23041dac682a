"""Exported files, read back with other tools than those that wrote them."""

import datetime
import re
import struct
import xml.etree.ElementTree as ElementTree
import zlib

import building as b
import pytest
from pypdf import PdfReader

from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.caution import CAUTION
from cartlayout.documents.export import ExportError, export_plan
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.units import UnitSystem
from cartlayout.water.results import ALL_OPEN

SAMPLES = sorted(path.stem for path in sample_builds().glob("*.cart"))
DATE = datetime.date(2026, 3, 1)
SVG = "{http://www.w3.org/2000/svg}"
PSI_PA = 6894.757  # NIST SP 811, appendix B.8
GAL_MIN_M3_S = 3.785412e-3 / 60  # NIST SP 811, appendix B.8
# Common practice, no source: print smaller than 6.5 pt (2.3 mm) is not read on a wall.
LEAST_TYPE_MM = 2.3


def sample(name: str):
    build = load(sample_builds() / f"{name}.cart")
    return build, analyse(build)


def written(tmp_path, name: str, ending: str, **more):
    build, analysis = sample(name)
    return export_plan(build, analysis, tmp_path / f"plan.{ending}", date=DATE, **more)


def words(path) -> str:
    """All text of a one-page PDF, blanks made single."""
    (page,) = PdfReader(path).pages
    return " ".join(page.extract_text().split())


@pytest.mark.parametrize("name", SAMPLES)
def test_numbers_read_back_from_the_pdf_are_those_of_the_analysis(tmp_path, name):
    build, analysis = sample(name)
    path = export_plan(
        build, analysis, tmp_path / "p.pdf", date=DATE, system=UnitSystem.US, file="mine.cart"
    )
    text = words(path)
    for circuit in analysis.power.circuits:
        amps = circuit.amps[EVERYTHING_ON]
        assert f"{amps:.1f} / {circuit.rating_a:g} A" in text
    for tap in analysis.water.taps:
        state = tap.states[ALL_OPEN]
        window = f"{tap.least_pa / PSI_PA:.1f}–{tap.greatest_pa / PSI_PA:.1f}"
        pressures = f"{tap.static_pa / PSI_PA:.1f} {state.pressure_pa / PSI_PA:.1f}"
        flows = f"{state.flow / GAL_MIN_M3_S:.2f} / {tap.required_flow / GAL_MIN_M3_S:.2f}"
        assert f"{window} {pressures} {flows}" in text
    assert CAUTION in text
    assert "2026-03-01" in text
    assert "mine.cart" in text
    assert build.name in text


@pytest.mark.parametrize(
    ("sheet", "width_pt", "height_pt"),
    # 11 x 8.5 in at 72 pt an inch; 297 x 210 mm (ISO 216) at 72/25.4.
    [("letter", 792.0, 612.0), ("A4", 841.89, 595.28)],
)
def test_pdf_page(tmp_path, sheet, width_pt, height_pt):
    path = written(tmp_path, "market_cart", "pdf", sheet=sheet)
    (page,) = PdfReader(path).pages
    assert float(page.mediabox.width) == pytest.approx(width_pt, abs=1.0)
    assert float(page.mediabox.height) == pytest.approx(height_pt, abs=1.0)
    assert not page.rotation
    assert list(page.images) == []


@pytest.mark.parametrize(("region", "width_pt"), [("US", 792.0), ("EU", 841.89)])
def test_auto_sheet_follows_the_region(tmp_path, region, width_pt):
    build = b.build(region=region)
    path = export_plan(build, analyse(build), tmp_path / "p.pdf", sheet="auto")
    (page,) = PdfReader(path).pages
    assert float(page.mediabox.width) == pytest.approx(width_pt, abs=1.0)


@pytest.mark.parametrize(("sheet", "width", "height"), [("letter", 279.4, 215.9), ("A4", 297, 210)])
def test_svg_is_in_millimetres_and_all_vectors(tmp_path, sheet, width, height):
    path = written(tmp_path, "conference_hall_bar", "svg", sheet=sheet)
    root = ElementTree.fromstring(path.read_bytes())
    assert root.tag == f"{SVG}svg"
    assert root.get("width") == f"{width:g}mm"
    assert root.get("height") == f"{height:g}mm"
    assert [float(one) for one in root.get("viewBox").split()] == [0, 0, width, height]
    assert list(root.iter(f"{SVG}image")) == []
    assert len(list(root.iter(f"{SVG}path"))) > 100


def matrices(root):
    """Every group of an SVG by Qt: its matrix as numbers, and the group."""
    for group in root.iter(f"{SVG}g"):
        found = re.fullmatch(r"matrix\((.*)\)", group.get("transform", ""))
        if found:
            yield [float(one) for one in found[1].split(",")], group


@pytest.mark.parametrize("name", SAMPLES)
def test_letters_of_the_svg_are_large_enough(tmp_path, name):
    root = ElementTree.fromstring(written(tmp_path, name, "svg").read_bytes())
    sizes = []
    for (a, c, _, _, _, _), group in matrices(root):
        scale = (a * a + c * c) ** 0.5
        sizes += [
            float(text.get("font-size")) * scale
            for text in group.iter(f"{SVG}text")
            if (text.text or "").strip()
        ]
    assert len(sizes) > 40
    assert min(sizes) >= LEAST_TYPE_MM


def test_the_svg_is_to_scale(tmp_path):
    """The market cart is 72 x 30 in: measured on paper at the scale the sheet states."""
    path = written(tmp_path, "market_cart", "svg", system=UnitSystem.US)
    root = ElementTree.fromstring(path.read_bytes())
    texts = "".join(text.text or "" for text in root.iter(f"{SVG}text"))
    denominator = float(re.search(r"scale 1:(\d+)", texts)[1])
    widths, heights = [], []
    for (a, _, _, d, _, _), group in matrices(root):
        for way in group.iter(f"{SVG}path"):
            numbers = [float(one) for one in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", way.get("d"))]
            xs, ys = numbers[0::2], numbers[1::2]
            widths.append((max(xs, default=0) - min(xs, default=0)) * a)
            heights.append((max(ys, default=0) - min(ys, default=0)) * d)
    cart = (72 * 25.4 / denominator, 30 * 25.4 / denominator)
    sizes = zip(widths, heights, strict=True)
    assert any(w == pytest.approx(cart[0], abs=0.05) and h == pytest.approx(cart[1], abs=0.05)
               for w, h in sizes)  # fmt: skip


def test_svg_dashes_are_as_long_in_thin_lines_as_in_thick_ones(tmp_path):
    """A dash is at least half a pen width and at most a dozen, whatever the pen."""
    root = ElementTree.fromstring(written(tmp_path, "conference_hall_bar", "svg").read_bytes())
    shares = []
    for _, group in matrices(root):
        dashes = group.get("stroke-dasharray")
        if dashes:
            width = float(group.get("stroke-width"))
            shares += [float(one) / width for one in dashes.split(",")]
    assert shares
    assert min(shares) > 0.5
    assert max(shares) < 12


def chunks(data: bytes):
    """The chunks of a PNG (PNG specification, section 5.3), their checksums checked."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at = 8
    while at < len(data):
        (size,) = struct.unpack(">I", data[at : at + 4])
        body = data[at + 4 : at + 8 + size]
        assert struct.unpack(">I", data[at + 8 + size : at + 12 + size])[0] == zlib.crc32(body)
        yield body[:4], body[4:]
        at += 12 + size


@pytest.mark.parametrize("dpi", [96, 300])
@pytest.mark.parametrize(("sheet", "width_in", "height_in"),
                         [("letter", 11.0, 8.5), ("A4", 297 / 25.4, 210 / 25.4)])  # fmt: skip
def test_png_size_and_resolution(tmp_path, sheet, width_in, height_in, dpi):
    path = written(tmp_path, "market_cart", "png", sheet=sheet, dpi=dpi)
    found = dict(chunks(path.read_bytes()))
    width, height = struct.unpack(">II", found[b"IHDR"][:8])
    assert width == pytest.approx(width_in * dpi, abs=1)
    assert height == pytest.approx(height_in * dpi, abs=1)
    across, up, unit = struct.unpack(">IIB", found[b"pHYs"])
    assert unit == 1  # the metre
    assert across == up == pytest.approx(dpi / 0.0254, abs=1)


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_the_same_build_gives_the_same_file(tmp_path, ending):
    files = []
    for turn in ("a", "b"):
        build, analysis = sample("folding_cart_modules")
        path = export_plan(build, analysis, tmp_path / f"{turn}.{ending}", date=DATE, dpi=100)
        data = path.read_bytes()
        # A PDF carries the second it was written in, and an id made from it.
        data = re.sub(rb"\d{4}-?\d\d-?\d\dT?\d\d:?\d\d:?\d\d", b"", data)
        data = re.sub(rb"(uuid:|/ID \[)[^\n>]*>?[^\n]*", b"", data)
        files.append(data)
    assert files[0] == files[1]


def test_metric_and_us_units(tmp_path):
    us = words(written(tmp_path, "market_cart", "pdf", system=UnitSystem.US))
    metric = words(written(tmp_path, "market_cart", "pdf", system=UnitSystem.METRIC))
    assert "72 in" in us
    assert "psi" in us
    assert "1,829 mm" in metric  # 72 in
    assert "psi" not in metric
    assert "bar" in metric


@pytest.mark.parametrize(
    ("arguments", "part"),
    [
        ({"path": "plan.gif"}, "png"),
        ({"path": "plan"}, "png"),
        ({"dpi": 5}, "72"),
        ({"dpi": 100_000}, "1200"),
        ({"sheet": "A0"}, "A4"),
        ({"overlays": ("gas",)}, "water"),
        ({"path": "no/such/folder/plan.png"}, "could not be written"),
    ],
)
def test_what_cannot_be_done_is_said(tmp_path, arguments, part):
    build = b.build()
    given = {"path": "plan.png", **arguments}
    with pytest.raises(ExportError, match=part):
        export_plan(build, analyse(build), tmp_path / given.pop("path"), **given)
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_cannot_be_replaced_stays(tmp_path):
    target = tmp_path / "plan.png"
    target.mkdir()
    build = b.build()
    with pytest.raises(ExportError):
        export_plan(build, analyse(build), target)
    assert [one.name for one in tmp_path.iterdir()] == ["plan.png"]


def test_names_with_every_sort_of_sign_survive(tmp_path):
    name = "Café <№ 5> & “Söhne” 50 % \\ /"
    build = b.build(name=name, story="Ünïcode & <tags>. Second sentence.")
    for ending in ("svg", "pdf"):
        export_plan(build, analyse(build), tmp_path / f"p.{ending}", date=DATE)
    root = ElementTree.fromstring((tmp_path / "p.svg").read_bytes())
    assert any(text.text == name for text in root.iter(f"{SVG}text"))
    assert "Ünïcode & <tags>." in words(tmp_path / "p.pdf")
    assert "Second sentence" not in words(tmp_path / "p.pdf")
