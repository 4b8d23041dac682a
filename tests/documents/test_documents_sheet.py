"""The laid-out sheet, measured on its own data: nothing lies on anything else, all is said."""

import datetime
import itertools
from dataclasses import replace

import building as b
import pytest
from analysis.random_builds import builds
from hypothesis import HealthCheck, given, settings

from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.caution import CAUTION
from cartlayout.documents.plan_sheet import Sheet, SheetOptions, lay_out
from cartlayout.documents.sheet.elements import MarkItem, SampleItem
from cartlayout.documents.sheet.layout import SIZES_MM
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.units import Length, UnitSystem

SAMPLES = sorted(path.stem for path in sample_builds().glob("*.cart"))
SHEETS = ("letter", "A4")
DATE = datetime.date(2026, 3, 1)
# Common practice, no source: print smaller than 6.5 pt (2.3 mm) is not read on a wall.
LEAST_TYPE_MM = 2.3
# Office printers leave about a quarter of an inch blank (common practice, no source).
LEAST_MARGIN_MM = 6.35
FINDING_MARK_MM = 2.8


def sample(name: str):
    build = load(sample_builds() / f"{name}.cart")
    return build, analyse(build)


def laid_out(name: str, sheet: str, system: UnitSystem) -> Sheet:
    build, analysis = sample(name)
    return lay_out(build, analysis, SheetOptions(sheet=sheet, system=system, date=DATE))


def overlap(a, b) -> float:
    """Shared area, worked out here from the corners alone."""
    wide = min(a.x + a.width, b.x + b.width) - max(a.x, b.x)
    high = min(a.y + a.height, b.y + b.height) - max(a.y, b.y)
    return max(wide, 0.0) * max(high, 0.0)


def check_apart(sheet: Sheet) -> None:
    """No label on a label, no text on a text, nothing beyond the printable part."""
    labels = [(text, box) for text, box in sheet.drawing.label_boxes]
    texts = [(one.text, one.box) for one in sheet.texts]
    for (one, a), (other, c) in itertools.combinations([*labels, *texts], 2):
        assert overlap(a, c) < 1e-6, f"'{one}' lies on '{other}'"
    for text, box in [*labels, *texts]:
        assert box.x >= LEAST_MARGIN_MM, text
        assert box.y >= LEAST_MARGIN_MM, text
        assert box.x + box.width <= sheet.width - LEAST_MARGIN_MM, text
        assert box.y + box.height <= sheet.height - LEAST_MARGIN_MM, text


@pytest.mark.parametrize("system", list(UnitSystem))
@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", SAMPLES)
def test_no_label_lies_on_another(name, sheet, system):
    made = laid_out(name, sheet, system)
    assert len(made.drawing.names) == len(made.drawing.picture.bodies)
    assert len(made.drawing.notes) == len(made.drawing.picture.notes)
    check_apart(made)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(builds())
def test_any_build_can_be_laid_out(build):
    made = lay_out(build, analyse(build), SheetOptions(date=DATE))
    for (one, a), (other, c) in itertools.combinations(made.drawing.label_boxes, 2):
        # Marks and dimensions are where they must be, and may meet each other.
        if one not in ("stop", "care") and other not in ("stop", "care"):
            assert overlap(a, c) < 1e-6, f"'{one}' lies on '{other}'"
    assert any(one.text == CAUTION for one in made.texts)


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", SAMPLES)
def test_all_print_is_large_enough(name, sheet):
    made = laid_out(name, sheet, UnitSystem.US)
    assert min(one.size for one in made.texts) >= LEAST_TYPE_MM


@pytest.mark.parametrize("name", SAMPLES)
def test_the_sheet_says_who_what_when_and_that_it_is_no_approval(name):
    build, _ = sample(name)
    dated = replace(SheetOptions(date=DATE, file="x.cart"))
    texts = [one.text for one in lay_out(build, analyse(build), dated).texts]
    assert build.name in texts
    assert "2026-03-01" in texts
    assert "x.cart" in texts
    assert "in, psi, gal/min" in texts
    assert CAUTION in texts
    assert "licensed electrician" in CAUTION
    assert "not an approval" in CAUTION


@pytest.mark.parametrize("name", SAMPLES)
def test_every_circuit_and_tap_and_stop_is_on_the_sheet(name):
    build, analysis = sample(name)
    made = lay_out(build, analysis, SheetOptions(date=DATE))
    texts = " ".join(one.text for one in made.texts)
    letters = {one.letter for one in made.elements if isinstance(one, SampleItem) and one.letter}
    assert letters == {circuit.letter for circuit in analysis.power.circuits}
    for circuit in analysis.power.circuits:
        assert f"{circuit.amps[EVERYTHING_ON]:.1f} / {circuit.rating_a:g} A" in texts
    for tap in analysis.water.taps:
        assert tap.name in texts
    stops = [one for one in analysis.findings if one.severity == "stop"]
    marks = [one for one in made.elements if isinstance(one, MarkItem) and one.severity == "stop"]
    assert len(marks) >= len(stops)
    for finding in stops:
        words = finding.title.shown(UnitSystem.US).split()
        assert " ".join(words[:3]) in texts
    counts = [sum(one.severity == kind for one in analysis.findings) for kind in
              ("stop", "care", "note")]  # fmt: skip
    assert f"{counts[0]} stop · {counts[1]} care · {counts[2]} note" in texts


@pytest.mark.parametrize(
    ("sheet", "width", "height"),
    # Letter is 11 x 8.5 in (ANSI/ASME Y14.1 size A); A4 is 297 x 210 mm (ISO 216).
    [("letter", 11 * 25.4, 8.5 * 25.4), ("A4", 297, 210)],
)
def test_sheets_have_their_standard_sizes(sheet, width, height):
    assert SIZES_MM[sheet] == pytest.approx((width, height))


@pytest.mark.parametrize(
    ("system", "scales"),
    [
        # ISO 5455: 1:5, 1:10, 1:20, 1:50, 1:100; 1:15 and 1:25 are common practice, no source.
        (UnitSystem.METRIC, {5, 10, 15, 20, 25, 50, 100}),
        # Inches to the foot: 3, 1 1/2, 1, 3/4, 1/2, 3/8, 1/4, 1/8 (common practice, no source).
        (UnitSystem.US, {4, 8, 10, 12, 16, 20, 24, 32, 48, 96}),
    ],
)
@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", SAMPLES)
def test_the_scale_is_one_that_rulers_have(name, sheet, system, scales):
    made = laid_out(name, sheet, system)
    denominator = made.drawing.denominator
    assert denominator in scales
    assert any(f"1:{denominator:g}" in one.text for one in made.texts)


def test_overlays_not_asked_for_are_not_listed():
    build, analysis = sample("market_cart")
    made = lay_out(build, analysis, SheetOptions(overlays=frozenset(), date=DATE))
    texts = [one.text for one in made.texts]
    assert "Circuits" not in texts
    assert "Taps" not in texts
    assert "Findings" in texts
    assert made.drawing.picture.runs == ()


def test_what_a_sheet_cannot_hold_is_counted():
    """Forty kettles, most plugged into nothing: more findings than a sheet holds."""
    kettles = [
        b.load(f"kettle {n}", watts=1500, at=(f"{n % 10 * 7} in", f"{n // 10 * 7} in"))
        for n in range(40)
    ]
    build = b.build(*kettles, b.outlet("wall"), b.wire("kettle 0", "wall.1"))
    analysis = analyse(build)
    made = lay_out(build, analysis, SheetOptions(date=DATE))
    assert len(made.drawing.names) == 41
    check_apart_labels(made)
    texts = [one.text for one in made.texts]
    (more,) = (text for text in texts if text.startswith("and "))
    titled = [one for one in analysis.findings if one.severity != "note"]
    marks = [
        one for one in made.elements if isinstance(one, MarkItem) and one.size == FINDING_MARK_MM
    ]
    assert len(marks) + int(more.split()[1]) == len(titled)
    assert {"Circuits", "Findings", CAUTION} <= set(texts)


def check_apart_labels(sheet: Sheet) -> None:
    for (one, a), (other, c) in itertools.combinations(sheet.drawing.label_boxes, 2):
        if {one, other} & {"stop", "care"}:
            continue
        assert overlap(a, c) < 1e-6, f"'{one}' lies on '{other}'"


def test_an_empty_cart_is_a_sheet_too():
    build = b.build(name="Nothing yet")
    made = lay_out(build, analyse(build), SheetOptions(date=DATE))
    texts = [one.text for one in made.texts]
    assert "Nothing yet" in texts
    assert made.drawing.names == ()


def test_a_huge_and_a_tiny_cart_fit():
    for width, depth in (("40 ft", "12 ft"), ("8 in", "6 in")):
        build = b.build(cart=b.cart(width, depth))
        made = lay_out(build, analyse(build), SheetOptions(date=DATE))
        box = made.drawing.box_on_sheet(made.drawing.picture.cart.box)
        area = made.drawing.area
        assert box.width == pytest.approx(Length(width).si * 1000 / made.drawing.denominator)
        assert area.x <= box.x
        assert box.x + box.width <= area.x + area.width
        assert area.y <= box.y
        assert box.y + box.height <= area.y + area.height
