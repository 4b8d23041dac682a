"""How the cart itself is drawn: what is measured on the picture, in both themes."""

import dataclasses

import building as b
import pytest
from building import build as made_build
from msgspec.structs import replace
from PySide6.QtGui import QColor, QImage, QPainter
from shapely.geometry import Polygon

from cartlayout.analysis import analyse
from cartlayout.build import Handle, Leaf, RearPanel, Zone
from cartlayout.documents.plan import PlanOptions, plan_picture
from cartlayout.documents.plan.cart import draw_cart, draw_zone, ground_words, zone_words
from cartlayout.documents.plan.ink import Ink
from cartlayout.documents.plan.picture import Box, ZoneShape
from cartlayout.documents.theme import DARK, LIGHT
from cartlayout.units import Length

THEMES = pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])


def length(inches: float) -> Length:
    return Length.from_si(inches * 0.0254, "in")


def painted(draw, theme, size=(400, 300)) -> QImage:
    image = QImage(*size, QImage.Format.Format_RGB32)
    image.fill(QColor(theme.cart))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw(painter)
    painter.end()
    return image


def inked(image: QImage, box: Box, ground: str) -> float:
    """Share of the pixels of a box that are not of the ground."""
    plain = QColor(ground).rgb()
    points = [
        (x, y)
        for x in range(int(box.x), int(box.right))
        for y in range(int(box.y), int(box.bottom))
    ]
    return sum(image.pixel(x, y) != plain for x, y in points) / len(points)


def shape(kind: str, **more) -> ZoneShape:
    return ZoneShape(name="", kind=kind, box=Box(100, 80, 160, 120), ghosted=False, **more)


@THEMES
def test_zones_differ_in_more_than_colour(theme):
    """A hole is hatched twice, a no-go zone once, a reserved one not at all."""
    ink = Ink(theme, 1.5)
    inner = Box(112, 92, 136, 96)
    shares = {}
    for kind in ("opening", "no-go", "reserved"):
        image = painted(lambda p, k=kind: draw_zone(p, shape(k), ink, words=False), theme)
        grounds = {image.pixel(x, y) for x in range(112, 248) for y in range(92, 188)}
        common = max(
            grounds,
            key=lambda g, i=image: sum(
                i.pixel(x, y) == g for x in range(112, 248, 2) for y in range(92, 188, 2)
            ),
        )
        shares[kind] = inked(image, inner, QColor.fromRgb(common).name())
    assert shares["reserved"] == 0
    assert 0 < shares["no-go"] < shares["opening"]


@THEMES
def test_a_round_hole_leaves_its_corners(theme):
    ink = Ink(theme, 1.5)
    image = painted(lambda p: draw_zone(p, shape("opening", round=True), ink, words=False), theme)
    assert inked(image, Box(101, 81, 14, 10), theme.cart) == 0
    assert inked(image, Box(160, 120, 40, 40), theme.cart) > 0.5


@THEMES
def test_words_of_zones_are_legible(theme):
    """At least 4.5:1 (WCAG 2.1, 1.4.3), ink on the patch that is laid under it."""
    ink = Ink(theme, 1.5)
    for kind in ("opening", "no-go", "reserved"):
        zone = replace_name(shape(kind), "Cups", ("for lids",))
        words = zone_words(zone, ink)
        assert words is not None
        image = painted(lambda p, z=zone: draw_zone(p, z, ink), theme)
        box = words.box
        pixels = {
            image.pixel(x, y)
            for x in range(int(box.x), int(box.right) + 1)
            for y in range(int(box.y), int(box.bottom) + 1)
        }
        lights = sorted(luminance(QColor.fromRgb(pixel)) for pixel in pixels)
        assert (lights[-1] + 0.05) / (lights[0] + 0.05) >= 4.5


def luminance(colour: QColor) -> float:
    """Relative luminance (WCAG 2.1)."""

    def linear(value: float) -> float:
        return value / 12.92 if value <= 0.03928 else ((value + 0.055) / 1.055) ** 2.4

    return sum(
        share * linear(value)
        for share, value in zip((0.2126, 0.7152, 0.0722), colour.getRgbF()[:3], strict=True)
    )


def replace_name(zone: ZoneShape, name: str, words: tuple[str, ...]) -> ZoneShape:
    return dataclasses.replace(zone, name=name, words=words)


def test_words_never_leave_their_zone():
    ink = Ink(LIGHT, 1.5)
    for wide in range(8, 200, 6):
        zone = ZoneShape("Reserved 12", "reserved", Box(0, 0, wide, 40), False, words=("for cups",))
        words = zone_words(zone, ink)
        assert words is None or zone.box.holds(words.box)


def drawn_cart(**more):
    build = made_build(b.load("kettle", watts=1000), b.outlet("wall"))
    cart = replace(build.cart, **more)
    build = replace(build, cart=cart)
    return build, plan_picture(build, analyse(build), PlanOptions())


def test_what_stands_out_is_part_of_what_is_seen():
    leaf = Leaf(name="Side", side="left", start=length(2), length=length(12), depth=length(10))
    _, plain = drawn_cart()
    _, picture = drawn_cart(leaves=(leaf,), handle=Handle(side="right", height=length(36)))
    assert picture.cart.box == plain.cart.box
    assert picture.cart.whole.x == pytest.approx(plain.cart.box.x - 254)
    assert picture.cart.whole.right == pytest.approx(plain.cart.box.right + 101.6)
    assert picture.box.holds(picture.cart.whole)


def test_dimensions_stand_clear_of_leaves():
    leaf = Leaf(name="Front", side="front", start=length(2), length=length(12), depth=length(10))
    _, picture = drawn_cart(leaves=(leaf,))
    width = picture.dimensions[0]
    assert abs(width.offset) > 254
    assert width.text == drawn_cart()[1].dimensions[0].text


@THEMES
def test_a_leaf_that_is_down_is_drawn_otherwise(theme):
    up = Leaf(name="", side="right", start=length(2), length=length(12), depth=length(10))
    ink = Ink(theme, 1.5)
    images = []
    for leaf in (up, replace(up, up=False)):
        _, picture = drawn_cart(leaves=(leaf,))
        box = picture.cart.leaves[0].box

        def draw(painter, cart=picture.cart, at=box):
            painter.translate(40 - at.x, 40 - at.y)
            draw_cart(painter, cart, ink)

        images.append(painted(draw, theme, (340, 390)))
    assert images[0] != images[1]
    hanging = picture.cart.leaves[0].hanging
    assert hanging.width == pytest.approx(25.4)


def test_a_reserved_zone_says_what_of_its_level_is_free():
    """The share is of the area that shapely finds uncovered."""
    zone = Zone(
        name="Cups", kind="reserved", level="counter", use="lids",
        x=length(1), y=length(1), width=length(20), depth=length(9),
    )  # fmt: skip
    _, picture = drawn_cart(zones=(zone,))
    words = picture.zones[0].words
    assert words[0] == "for lids"
    whole = Polygon(picture.cart.outline)
    taken = sum(
        Polygon(body.corners).intersection(whole).area
        for body in picture.bodies
        if body.level == "counter"
    )
    share = 100 * (1 - taken / whole.area)
    assert words[1].endswith("free")
    assert float(words[1].split()[1]) == pytest.approx(share, abs=0.6)
    assert len(ground_words(picture, Ink(LIGHT, 1.5))) == 1


def test_a_thin_panel_lies_within_the_cart():
    _, picture = drawn_cart(rear_panel=RearPanel(bottom=length(6), top=length(36)))
    assert picture.cart.box.holds(picture.cart.panel)
