"""Silhouettes: every stock entry has one, all are distinct, and the reader follows SVG."""

import math

import pytest
from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen
from PySide6.QtSvg import QSvgRenderer

from cartlayout.data import resources
from cartlayout.documents.plan import Box
from cartlayout.documents.plan.silhouettes import laid_into
from cartlayout.documents.plan.symbols import SIDE, SymbolError, parse, symbol
from cartlayout.stock import stock

NAMES = sorted(path.stem for path in (resources() / "symbols").glob("*.svg"))
SIDE_PX = 200


def file_text(name: str) -> str:
    return (resources() / "symbols" / f"{name}.svg").read_text(encoding="utf-8")


def drawn(name: str) -> QImage:
    """The symbol as our reader sees it, where its file has it."""
    image = QImage(SIDE_PX, SIDE_PX, QImage.Format.Format_Grayscale8)
    image.fill(255)
    painter = QPainter(image)
    painter.scale(SIDE_PX / SIDE, SIDE_PX / SIDE)
    box = symbol(name).box
    shape = laid_into(name, box, box, outlined=True)
    for tone, path in shape.tones:
        painter.fillPath(path, QColor(0, 0, 0, round(255 * tone)))
    pen = QPen(QColor("black"), 2.5)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.drawPath(shape.lines)
    painter.end()
    return image


def rendered(name: str) -> QImage:
    """The same file as another SVG reader sees it."""
    image = QImage(SIDE_PX, SIDE_PX, QImage.Format.Format_Grayscale8)
    image.fill(255)
    text = file_text(name).replace("currentColor", "#000000")
    painter = QPainter(image)
    QSvgRenderer(QByteArray(text.encode())).render(painter, QRectF(0, 0, SIDE_PX, SIDE_PX))
    painter.end()
    return image


def difference(a: QImage, b: QImage) -> float:
    """Share of the pixels that are dark in one and light in the other."""
    one, other = bytes(a.constBits()), bytes(b.constBits())
    return sum(abs(x - y) > 128 for x, y in zip(one, other, strict=True)) / len(one)


def test_every_stock_entry_has_a_drawing():
    wanted = {
        item.symbol
        for entry in stock()
        for item in ([entry.specification] if entry.specification else [])
    }
    assert wanted <= set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_the_reader_sees_what_another_svg_reader_sees(name):
    assert difference(drawn(name), rendered(name)) < 0.006


@pytest.mark.parametrize("name", NAMES)
def test_a_symbol_stays_on_its_square(name):
    box = symbol(name).box
    assert Box(-1, -1, 102, 102).holds(box)
    assert max(box.width, box.height) > 60


BODIES = [Box(-300, -50, 600, 100), Box(-40, -200, 80, 400), Box(-150, -150, 300, 300)]


@pytest.mark.parametrize("body", BODIES, ids=["wide", "deep", "square"])
@pytest.mark.parametrize("name", NAMES)
def test_a_symbol_stays_within_the_body_it_is_laid_into(name, body):
    shape = laid_into(name, body, body.grown(-5))
    drawn = [shape.lines, *(path for _, path in shape.tones)]
    for path in drawn:
        box = path.boundingRect()
        assert path.isEmpty() or body.grown(0.01).holds(
            Box(box.x(), box.y(), box.width(), box.height())
        )
    assert any(not path.isEmpty() for path in drawn)


@pytest.mark.parametrize("body", BODIES, ids=["wide", "deep", "square"])
@pytest.mark.parametrize("name", NAMES)
def test_round_things_stay_round_in_a_body_of_any_proportions(name, body):
    """A circle of the file covers as wide as it is high, however long the body is."""
    text = file_text(name)
    circles = [
        part
        for part in symbol(name).parts
        if part.path.elementCount() == 13  # Qt makes an ellipse of four curves
        and abs(part.path.boundingRect().width() - part.path.boundingRect().height()) < 1e-6
    ]
    assert len(circles) == text.count("<circle")
    stretched = [part for part in circles if part.follows in ("shell", "fill", "outline")]
    assert stretched == [], "only what is moved as a whole stays round"


def test_what_stretches_keeps_its_corners_and_its_distance_from_the_edges():
    """The frame of 100 x 100 with corners of 10 in a body of 600 x 100 still has corners of 10."""
    at = next(one for one in symbol("knock-box").parts if one.follows == "fill")
    whole = symbol("knock-box").box
    margin = at.path.boundingRect().x() - whole.x
    body = Box(0, 0, whole.width * 4, whole.height)
    laid = laid_into("knock-box", body, body).tones[0][1].boundingRect()
    assert laid.x() == pytest.approx(margin)
    assert laid.right() == pytest.approx(body.right - margin)
    assert laid.y() == pytest.approx(margin)


def test_no_two_symbols_look_alike():
    images = {name: drawn(name) for name in NAMES}
    for at, one in enumerate(NAMES):
        for other in NAMES[at + 1 :]:
            assert difference(images[one], images[other]) > 0.01, (one, other)


def test_an_unknown_name_is_a_plain_box():
    assert symbol("no such thing") is symbol("box")
    assert symbol("../theme") is symbol("box")


def svg(body: str) -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">{body}</svg>'


def test_an_arc_is_the_circle_it_is_part_of():
    path = parse("x", svg('<path d="M90 50A40 40 0 0 1 50 90"/>')).parts[0].path
    for step in range(11):
        point = path.pointAtPercent(step / 10)
        assert math.hypot(point.x() - 50, point.y() - 50) == pytest.approx(40, abs=0.02)
    assert path.length() == pytest.approx(math.pi / 2 * 40, rel=1e-3)


def test_small_letters_are_measured_from_where_the_pen_is():
    one = parse("x", svg('<path d="M10 10h20v30l-5 -5z"/>')).parts[0].path
    other = parse("x", svg('<path d="M10 10H30V40L25 35Z"/>')).parts[0].path
    assert one == other


@pytest.mark.parametrize(
    "body",
    [
        '<text x="0" y="0">a</text>',
        '<path d="M0 0 T 5 5"/>',
        '<path d="M0 0 L 5"/>',
        '<path d="5 5 L 1 1"/>',
        '<path d="M0 0 L 5 x"/>',
        '<circle cx="5" cy="5"/>',
        "<path",
        '<path class="loose" d="M0 0L5 5"/>',
        "",
    ],
)
def test_what_is_no_symbol_is_refused_by_name(body):
    with pytest.raises(SymbolError, match="symbol kettle"):
        parse("kettle", svg(body))
