"""The sign beside numbers that rest on typical figures, on the boards and in Details."""

from PySide6.QtWidgets import QApplication

from cartlayout.build import Origin
from cartlayout.build.edits import replace_item
from cartlayout.ui.selection import Selection
from cartlayout.ui.typical import SIGN, marks_of, tip_of


def settle(window, qtbot) -> None:
    marks = marks_of(window.session)
    qtbot.waitUntil(lambda: not marks._wanted, timeout=10_000)
    QApplication.processEvents()


def test_boards_and_details_say_what_their_numbers_rest_on(window, qtbot) -> None:
    window.session.select(Selection(items=("rinser",)))
    settle(window, qtbot)
    gauge = next(one for one in window.taps.gauges if one.row.item == "rinser")
    assert any("Carbon filter" in one for one in gauge.row.about)
    assert SIGN in gauge.toolTip()
    assert "typical" in gauge.accessibleDescription()
    bar = window.circuits.bar(window.session.analysis.power.circuits[0].key)
    assert bar is not None
    assert any("Kettle" in one for one in bar.row.about)
    facts = window.details.page.facts
    signs = {left.text(): sign for (left, _), sign in zip(facts._rows, facts._signs, strict=True)}
    assert signs["Tap open"].text() == SIGN
    assert "nobody has checked" in signs["Tap open"].toolTip()
    assert signs["Size"].text() == ""


def test_a_figure_that_was_read_off_takes_the_sign_away(window, qtbot) -> None:
    settle(window, qtbot)
    session = window.session
    from msgspec.structs import replace

    build = session.build
    for item in build.items:
        read = tuple(Origin(of=one.of, basis="nameplate") for one in item.specification.origins)
        build = replace_item(
            build, replace(item, specification=replace(item.specification, origins=read))
        )
    session.apply("Read off every nameplate", build)
    qtbot.waitUntil(lambda: session.settled.build is session.build, timeout=20_000)
    settle(window, qtbot)
    left = {figure for one in window.taps.gauges for figure in one.row.about}
    assert left == set()
    for circuit in session.analysis.power.circuits:
        bar = window.circuits.bar(circuit.key)
        assert bar is not None
        assert bar.row.about == ()


def test_nothing_is_worked_out_in_mid_drag(window, qtbot) -> None:
    settle(window, qtbot)
    session = window.session
    from cartlayout.build.edits import move

    session.preview(move(session.build, ["rinser"], 0.05, 0.0))
    QApplication.processEvents()
    marks = marks_of(session)
    assert not marks._is_posted
    gauge = next(one for one in window.taps.gauges if one.row.item == "rinser")
    assert gauge.row.about  # those of before
    session.cancel_preview()
    settle(window, qtbot)


def test_a_tip_names_four_and_counts_the_rest() -> None:
    assert tip_of(()) == ""
    assert tip_of(("a", "b")).endswith("a, b.")
    assert tip_of(tuple("abcdefg")).endswith("a, b, c, d and 3 more.")
