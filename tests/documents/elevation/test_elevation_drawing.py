"""Elevations and plans on sheets: to scale, nothing on anything else, what they say is so."""

import datetime
import io
import itertools
import math

import building as b
import pytest
from analysis.random_builds import builds
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.devices import pdf_bytes
from cartlayout.documents.elevation import VIEWS, elevation
from cartlayout.documents.elevation.drawing import draw_elevation
from cartlayout.documents.elevation.layout import best_denominator
from cartlayout.documents.elevation.measures import spread
from cartlayout.documents.packet.content import Job
from cartlayout.documents.packet.pages import lay_out
from cartlayout.documents.packet.sheets.elevations import elevation_content, elevations
from cartlayout.documents.packet.sheets.plans import level_picture, plan_content, plans
from cartlayout.documents.plan.picture import Box
from cartlayout.documents.sheet.drawing import ScaleError, standard_scales
from cartlayout.documents.sheet.elements import LineItem, PathItem, TextItem
from cartlayout.units import UnitSystem
from cartlayout.units.display import show

SAMPLES = sorted(path.stem for path in sample_builds().glob("*.cart"))
DATE = datetime.date(2026, 3, 1)
# Common practice, no source: print smaller than 6.5 pt (2.3 mm) is not read on a wall.
LEAST_TYPE_MM = 2.3
# Office printers leave about a quarter of an inch blank (common practice, no source).
LEAST_MARGIN_MM = 6.35
pytestmark = pytest.mark.usefixtures("qapp")


def job(name, system=UnitSystem.US, paper="letter"):
    build = load(sample_builds() / f"{name}.cart")
    return Job(build, analyse(build), system, paper, DATE, f"{name}.cart")


def overlap(a, c):
    """Shared area, worked out here from the corners alone."""
    wide = min(a.x + a.width, c.x + c.width) - max(a.x, c.x)
    high = min(a.y + a.height, c.y + c.height) - max(a.y, c.y)
    return max(wide, 0.0) * max(high, 0.0)


def check_apart(labels):
    for (one, a), (other, c) in itertools.combinations(labels, 2):
        assert overlap(a, c) < 1e-6, f"'{one}' lies on '{other}'"


def upright(element):
    return not element.turn


def check_scale(pages, system):
    """A standard one, the same on every page."""
    said = {
        one.text.split()[1]
        for page in pages
        for one in page.texts
        if one.text.startswith("scale 1:")
    }
    assert len(said) == 1
    assert float(said.pop().removeprefix("1:")) in standard_scales(system)


def check_heights_are_said(made, pages):
    """The PDF says every authored height, the cart's measures, all four sides, the caution."""
    data = pdf_bytes([page.canvas() for page in pages], "elevations")
    said = (page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)
    text = " ".join(" ".join(said).split())
    cart = made.build.cart
    for side in (cart.width, cart.depth, *(level.height for level in cart.levels)):
        assert show(side.si, "tape", made.system) in text
    for title in ("Front elevation", "Rear elevation", "Left end", "Right end", "licensed"):
        assert title in text


@pytest.mark.parametrize(
    ("paper", "system"),
    [
        ("letter", UnitSystem.US),
        ("A4", UnitSystem.METRIC),
        ("tabloid", UnitSystem.METRIC),
        ("A3", UnitSystem.US),
    ],
)
@pytest.mark.parametrize("name", SAMPLES)
def test_no_text_of_an_elevation_lies_on_another(name, system, paper):
    made = job(name, system, paper)
    pages = lay_out(elevations(made), made).pages()
    check_scale(pages, system)
    check_heights_are_said(made, pages)
    for page in pages:
        texts = [(one.text, one.box) for one in page.texts if upright(one)]
        check_apart(texts)
        for text, box in texts:
            assert box.x >= LEAST_MARGIN_MM, text
            assert box.y >= LEAST_MARGIN_MM, text
            assert box.x + box.width <= page.width - LEAST_MARGIN_MM, text
            assert box.y + box.height <= page.height - LEAST_MARGIN_MM, text
        assert min(one.size for one in page.texts) >= LEAST_TYPE_MM


@pytest.mark.parametrize(
    ("paper", "system"), [("letter", UnitSystem.US), ("A4", UnitSystem.METRIC)]
)
@pytest.mark.parametrize("name", SAMPLES)
def test_no_label_of_a_level_lies_on_another(name, system, paper):
    made = job(name, system, paper)
    pages = lay_out(plans(made), made).pages()
    assert len(pages) == len(made.build.cart.levels)
    for page in pages:
        (drawing,) = page.plans
        check_apart([*drawing.label_boxes, *((one.text, one.box) for one in page.texts)])


@pytest.mark.parametrize("name", SAMPLES)
def test_every_body_is_on_the_plan_of_its_level_and_on_no_other(name):
    made = job(name)
    for level in made.build.cart.levels:
        picture = level_picture(made, level.name)
        drawn = {body.id for body in picture.bodies}
        there = {item.id for item in made.build.items if item.level in (level.name, "venue")}
        assert drawn == there


@pytest.mark.parametrize("name", SAMPLES)
def test_every_run_is_on_some_level(name):
    made = job(name)
    drawn = {
        run.id for level in made.build.cart.levels for run in level_picture(made, level.name).runs
    }
    assert drawn == {run.id for run in made.build.runs}


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("denominator", [10.0, 16.0, 25.0])
def test_an_elevation_is_to_scale(view, denominator):
    made = job("market_cart")
    drawn = elevation(made.build, made.analysis, view)
    drawing = draw_elevation(drawn, Box(0, 0, 900, 900), denominator, UnitSystem.US)
    # The cart is 72 in by 30 in: its width from an end is 30 in. 25.4 mm in an inch (exact).
    width_mm = (72 if view in ("front", "rear") else 30) * 25.4 / denominator
    extension = [
        one
        for one in drawing.elements
        if isinstance(one, LineItem) and one.ax == one.bx and one.ay > drawing.place.origin[1]
    ]
    xs = sorted(one.ax for one in extension[:2])
    assert xs[1] - xs[0] == pytest.approx(width_mm, abs=1e-6)
    floor, counter = drawing.place.on_sheet((0, 0)), drawing.place.on_sheet((0, 36 * 0.0254))
    assert floor[1] - counter[1] == pytest.approx(36 * 25.4 / denominator)


def test_a_cart_of_six_feet_fits_tabloid_at_1_to_10_but_not_letter():
    # 72 in is 183 mm at 1:10, and the grinder on it ends 56 in above the floor: 142 mm. Letter
    # is 216 mm high (ANSI Y14.1 size A) with heading, dimensions, key and title block taking 75.
    made = job("market_cart", paper="tabloid")
    assert lay_out(elevation_content(made, ("front",), 10.0), made).pages()
    small = job("market_cart", paper="letter")
    with pytest.raises(ScaleError, match=r"1:10 it does not fit.*ask for 1:12"):
        lay_out(elevation_content(small, ("front",), 10.0), small)
    with pytest.raises(ScaleError, match="larger sheet"):
        lay_out(plan_content(small, ("counter",), 4.0), small)


@pytest.mark.parametrize("paper", ["letter", "A4", "tabloid", "A3"])
def test_the_pdf_has_the_size_of_its_paper(paper):
    made = job("market_cart", paper=paper)
    (page,) = lay_out(plan_content(made, ("counter",)), made).pages()
    box = PdfReader(io.BytesIO(pdf_bytes([page.canvas()], "plan"))).pages[0].mediabox
    # ANSI Y14.1 sizes A and B in inches, ISO 216 in millimetres; a point is 1/72 in.
    wide, high = {"letter": (11, 8.5), "tabloid": (17, 11), "A4": (297 / 25.4, 210 / 25.4),
                  "A3": (420 / 25.4, 297 / 25.4)}[paper]  # fmt: skip
    assert (float(box.width), float(box.height)) == pytest.approx((wide * 72, high * 72), abs=0.6)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(builds(most_items=7), st.sampled_from(VIEWS))
def test_any_build_can_be_drawn_and_no_label_lies_on_another(build, view):
    drawn = elevation(build, analyse(build), view)
    area = Box(9, 9, 261, 170)
    denominator = best_denominator([(drawn, area)], UnitSystem.US)
    drawing = draw_elevation(drawn, area, denominator, UnitSystem.US)
    check_apart(drawing.labels)
    lowest = max(
        one.box.y + one.box.height for one in drawing.elements if isinstance(one, TextItem)
    )
    assert lowest <= area.y + area.height + 1e-6


def test_holes_under_what_is_fed_from_below_are_dotted_on_the_plan():
    # The rinser's middle is at (44.25, 22.5) in, its drain 1.4 in to the right of it in its
    # underside (market_cart.cart); 25.4 mm in an inch (exact), on paper at the drawing's scale.
    counter, _, base = lay_out(plans(job("market_cart")), job("market_cart")).pages()
    said = "dotted: hole under what stands there"
    assert said in [one.text for one in counter.texts]
    assert said not in [one.text for one in base.texts]
    (drawing,) = counter.plans
    dotted = [one for one in counter.elements if isinstance(one, PathItem) and one.dash]
    x, y = drawing.on_sheet(((44.25 + 1.4) * 25.4, 22.5 * 25.4))
    near = [
        math.dist(point, (x, y))
        for one in dotted
        for point in one.points
        if math.dist(point, (x, y)) < 2.5
    ]
    assert near
    assert max(near) - min(near) < 0.01


def test_an_empty_cart_can_be_drawn():
    made = b.build()
    drawn = elevation(made, analyse(made), "front")
    drawing = draw_elevation(drawn, Box(9, 9, 261, 170), 12.0, UnitSystem.US)
    assert any(isinstance(one, TextItem) and one.text == "36 in" for one in drawing.elements)


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(1, 10)), min_size=1, max_size=8).map(sorted))
def test_heights_keep_their_order_and_their_room(marks):
    wanted, rooms = [at for at, _ in marks], [room for _, room in marks]
    found = spread(wanted, rooms, 0.0, 100.0)
    for at in range(len(found) - 1):
        assert found[at + 1] - found[at] >= rooms[at] - 1e-9
    assert found[0] >= -1e-9
    if all(c - a >= room for (a, c), room in zip(itertools.pairwise(wanted), rooms, strict=False)):
        assert found == pytest.approx(wanted)
