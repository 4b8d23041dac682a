"""What a tool tip of the plan says: the number, its limit, and where the limit is from."""

import pytest
from PySide6.QtCore import QPoint, QPointF
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QApplication

from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.ui.plan import tips


class Shown:
    """Stands for the platform's tip window, which has no place to rise to without a screen."""

    text = ""

    @staticmethod
    def showText(where: QPoint, text: str, widget: object) -> None:  # noqa: N802 (Qt's name)
        Shown.text = text


@pytest.fixture
def first_try(show_plan, monkeypatch):
    """The sample that a long thin cord and one strip are wrong with."""
    monkeypatch.setattr(tips, "QToolTip", Shown)
    return show_plan(load(sample_builds() / "market_cart_first_try.cart"), size=(1100, 760))


def asked(hand, place: QPointF) -> str:
    """Rest the mouse on a place of the viewport, as the platform tells it."""
    port = hand.view.viewport()
    spot = place.toPoint()
    QApplication.sendEvent(port, QHelpEvent(QHelpEvent.Type.ToolTip, spot, port.mapToGlobal(spot)))
    return Shown.text


def note_of(hand, kind: str):
    return next(one for one in hand.view.plan.arranged.notes if one.note.kind == kind)


def middle(hand, box) -> QPointF:
    x, y = box.centre
    return hand.view.camera.to_viewport((x / 1000, y / 1000))


def test_a_circuits_pill_says_its_limits_and_their_sources(first_try):
    said = asked(first_try, middle(first_try, note_of(first_try, "circuit").box))
    circuit = first_try.session.analysis.power.circuits[0]
    assert said.startswith(f"Circuit {circuit.letter}")
    assert "every thermostat calling" in said
    for limit in circuit.limits:
        assert limit.name in said
        assert limit.source in said


def test_a_taps_pill_says_its_window_and_where_that_is_from(first_try):
    said = asked(first_try, middle(first_try, note_of(first_try, "tap").box))
    assert "Its maker allows" in said
    assert "Limits from:" in said


def test_a_body_says_where_its_numbers_are_from_and_what_is_wrong(first_try):
    body = first_try.view.plan.picture.body("rinser")
    x, y = body.box.x + 8, body.box.y + 8
    said = asked(first_try, first_try.view.camera.to_viewport((x / 1000, y / 1000)))
    item = first_try.session.build.item("rinser")
    assert item.name in said
    assert f"Its numbers: {item.specification.origins[0].basis}" in said
    assert "stop: " in said


def test_bare_paper_says_nothing(first_try):
    asked(first_try, middle(first_try, note_of(first_try, "tap").box))
    assert asked(first_try, QPointF(QPoint(3, 3))) == ""


def test_a_tube_says_how_fast_its_water_is_and_what_it_bears(first_try):
    placed = note_of(first_try, "water")
    assert placed.note.text.startswith("too fast ")
    said = asked(first_try, middle(first_try, placed.box))
    water = first_try.session.analysis.water
    assert placed.note.run == max(water.fastest, key=water.fastest.get)
    feet = water.fastest[placed.note.run] / 0.3048  # NIST SP 811, appendix B.8: 1 ft is 0.3048 m
    assert f"Water moves at up to {feet:.1f} ft/s" in said
    assert "with everything shut; it bears" in said
