"""A hall of carts: only what is seen is labelled, and anew when the view rests."""

import pytest
from building_many import hall
from plan_hand import Hand, shown_plan
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter

from cartlayout.documents.plan.paint import draw_body
from cartlayout.ui.plan.exposure import Exposure
from cartlayout.ui.plan.scene import POINT_PX
from cartlayout.ui.plan.stamps import Stamps

STAND = QRectF(-100.0, -300.0, 2100.0, 1400.0)


@pytest.fixture
def large(qtbot) -> Hand:
    return shown_plan(qtbot, hall(110), (850, 560))


def test_labels_follow_the_zoom_when_the_view_rests(qtbot, large) -> None:
    plan = large.view.plan
    assert plan.is_large
    before = plan.arranged
    for _ in range(4):
        large.view.zoom_in()
        large.settle()
    assert plan.arranged is before, "while the wheel turns nothing is arranged"
    qtbot.waitUntil(lambda: plan.arranged is not before, timeout=5000)
    assert plan.arranged.unit == pytest.approx(POINT_PX / large.view.camera.scale)


def test_what_is_far_from_sight_has_no_labels(large) -> None:
    view = large.view
    view.camera.fit(STAND)
    view._keeps_fit = False
    view.outlook.settle()
    names = view.plan.arranged.names
    assert "kettle" in names
    assert view.session.build.items[-1].id not in names
    assert len(names) < len(view.session.build.items) / 2


def test_paper_that_slides_brings_labels_along_when_it_rests(qtbot, large) -> None:
    view = large.view
    view.camera.fit(STAND)
    view._keeps_fit = False
    view.outlook.settle()
    far = view.session.build.item("kettle-2")
    assert far is not None
    assert "kettle-2" not in view.plan.arranged.names
    view.shift(-(far.x.si - 0.8), -(far.y.si - 0.3))
    qtbot.waitUntil(lambda: "kettle-2" in view.plan.arranged.names, timeout=5000)


def test_a_body_laid_down_looks_as_it_is_drawn(large) -> None:
    """The same pixels, but for where half a pixel was rounded."""
    view = large.view
    body = next(one for one in view.plan.picture.bodies if not one.ghosted and not one.venue)
    ink = type(view.plan.ink)(view.session.theme, 4.0)
    stamps = Stamps()

    def image(draw) -> QImage:
        made = QImage(260, 260, QImage.Format.Format_RGB32)
        made.fill(0xFFFFFFFF)
        painter = QPainter(made)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(130, 130)
        painter.scale(0.4, 0.4)
        painter.translate(-body.centre[0], -body.centre[1])
        draw(painter)
        painter.end()
        return made

    drawn = image(lambda painter: draw_body(painter, body, ink, None, False))
    laid = image(lambda painter: stamps.draw(painter, body, ink, None, False))
    again = image(lambda painter: stamps.draw(painter, body, ink, None, False))
    assert laid == again
    far_off = sum(
        abs((drawn.pixel(x, y) & 0xFF) - (laid.pixel(x, y) & 0xFF)) > 8
        for x in range(260)
        for y in range(260)
    )
    assert far_off == 0


def test_exposure_tells_what_is_painted(large) -> None:
    view = large.view
    viewport = view.viewport().rect()
    exposure = Exposure(viewport, view.viewportTransform())
    seen = view.camera.seen()
    assert exposure.sees(QRectF(seen.center(), seen.center()).adjusted(0, 0, 5, 5))
    assert not exposure.sees(seen.translated(3 * seen.width(), 0))
