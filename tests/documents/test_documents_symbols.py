"""Silhouettes: every stock entry has one, all are distinct, and the reader follows SVG."""

import math

import pytest
from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen
from PySide6.QtSvg import QSvgRenderer

from cartlayout.data import resources
from cartlayout.documents.plan.symbols import SIDE, SymbolError, parse, symbol
from cartlayout.stock import stock

NAMES = sorted(path.stem for path in (resources() / "symbols").glob("*.svg"))
SIDE_PX = 200


def file_text(name: str) -> str:
    return (resources() / "symbols" / f"{name}.svg").read_text(encoding="utf-8")


def drawn(name: str) -> QImage:
    """The symbol as our reader sees it."""
    image = QImage(SIDE_PX, SIDE_PX, QImage.Format.Format_Grayscale8)
    image.fill(255)
    painter = QPainter(image)
    painter.scale(SIDE_PX / SIDE, SIDE_PX / SIDE)
    pen = QPen(QColor("black"), 2.5)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.drawPath(symbol(name).lines)
    painter.fillPath(symbol(name).fills, QColor("black"))
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
    found = symbol(name)
    box = found.lines.boundingRect().united(found.fills.boundingRect())
    assert QRectF(-1, -1, 102, 102).contains(box)
    assert max(box.width(), box.height()) > 60


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
    path = parse("x", svg('<path d="M90 50A40 40 0 0 1 50 90"/>')).lines
    for step in range(11):
        point = path.pointAtPercent(step / 10)
        assert math.hypot(point.x() - 50, point.y() - 50) == pytest.approx(40, abs=0.02)
    assert path.length() == pytest.approx(math.pi / 2 * 40, rel=1e-3)


def test_small_letters_are_measured_from_where_the_pen_is():
    one = parse("x", svg('<path d="M10 10h20v30l-5 -5z"/>')).lines
    other = parse("x", svg('<path d="M10 10H30V40L25 35Z"/>')).lines
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
    ],
)
def test_what_is_no_symbol_is_refused_by_name(body):
    with pytest.raises(SymbolError, match="symbol kettle"):
        parse("kettle", svg(body))
