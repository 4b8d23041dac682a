"""The details: fields that take units, keep what was typed, and make one undo step each."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from ui_samples import sample

from cartlayout.build import Load, Opening, Tank, edits
from cartlayout.ui.details.editors import ListEditor, StructEditor, UnionEditor
from cartlayout.ui.details.fields import ChoiceField, LineField
from cartlayout.ui.details.pages import BuildPage, ItemPage
from cartlayout.ui.details.panel import DetailsPanel
from cartlayout.ui.details.run_page import RunPage
from cartlayout.ui.details.several import SeveralPage
from cartlayout.ui.selection import NOTHING, Selection
from cartlayout.ui.session import Session
from cartlayout.units import UnitSystem


@pytest.fixture
def session(qtbot) -> Session:
    return Session(sample("market_cart_first_try"))


@pytest.fixture
def panel(session, qtbot) -> DetailsPanel:
    made = DetailsPanel(session)
    qtbot.addWidget(made)
    made.resize(308, 700)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def field(panel, section: str, *names: str):
    """An editor by its section and the names of the fields that lead to it."""
    part = panel.page.sections[section]
    part.open()
    editor = part.editor
    for name in names:
        if isinstance(editor, UnionEditor):
            editor = editor._inner
        inner = getattr(editor, "_inner", None)
        if inner is not None and not isinstance(editor, StructEditor):
            editor = inner._inner if isinstance(inner, UnionEditor) else inner
        listed = isinstance(editor, ListEditor)
        editor = editor.parts[int(name)] if listed else editor.editors[name]
    return editor


def type_into(line_field: LineField, text: str, key=Qt.Key.Key_Return) -> None:
    line_field.line.setFocus()
    line_field.line.selectAll()
    QTest.keyClicks(line_field.line, text)
    if key is not None:
        QTest.keyClick(line_field.line, key)


def test_a_fraction_of_an_inch_is_one_undo_step(panel, session):
    session.select(Selection(items=("rinser",)))
    before = session.build
    type_into(field(panel, "Place", "x"), "14 1/2 in")
    item = session.build.item("rinser")
    assert item.x.text == "14 1/2 in"
    # NIST SP 811, appendix B.8: 1 inch is 25.4 mm exactly.
    assert item.x.si == pytest.approx(14.5 * 0.0254)
    assert session.undo_stack.count() == 1
    assert session.undo_stack.undoText() == f"Change from the left of {item.name}"
    session.undo_stack.undo()
    assert session.build is before
    assert field(panel, "Place", "x").line.text() == before.item("rinser").x.text


def test_leaving_the_field_commits_as_enter_does(panel, session):
    session.select(Selection(items=("rinser",)))
    type_into(field(panel, "Place", "x"), "37 cm", key=Qt.Key.Key_Tab)
    assert session.build.item("rinser").x.text == "37 cm"
    assert session.undo_stack.count() == 1


def test_a_bare_number_takes_the_unit_that_stood_there(panel, session):
    session.select(Selection(items=("rinser",)))
    unit = session.build.item("rinser").x.unit
    type_into(field(panel, "Place", "x"), "40")
    assert session.build.item("rinser").x.text == f"40 {unit}"


def test_what_is_wrong_stays_typed_and_is_explained(panel, session, qtbot):
    session.select(Selection(items=("rinser",)))
    editor = field(panel, "Place", "x")
    type_into(editor, "12 inn")
    assert editor.line.text() == "12 inn"
    assert editor.error.isVisible()
    assert "try '12 in'" in editor.error.text()
    assert session.undo_stack.count() == 0
    with qtbot.waitSignal(session.analysis_changed):  # something else changes meanwhile
        session.apply("Move", edits.move(session.build, ("cups",), 0.01, 0.0))
    assert editor.line.text() == "12 inn"
    QTest.keyClick(editor.line, Qt.Key.Key_Escape)
    assert editor.line.text() == session.build.item("rinser").x.text
    assert not editor.error.isVisible()


def test_a_size_below_zero_is_refused(panel, session):
    session.select(Selection(items=("rinser",)))
    editor = field(panel, "Body", "size", "width")
    for text in ("-3 in", "0 in"):
        type_into(editor, text)
        assert editor.error.isVisible()
    assert session.undo_stack.count() == 0


def test_the_label_is_asked_for_and_edited(panel, session):
    session.label_requested.emit("kettle" if session.build.item("kettle") else "grinder")
    page = panel.page
    assert isinstance(page, ItemPage)
    editor = field(panel, "Place", "label")
    type_into(editor, "The loud one")
    assert session.build.item(page.item_id).label == "The loud one"
    assert panel.heading.text() == "The loud one"


def test_choosing_another_level(panel, session):
    session.select(Selection(items=("rinser",)))
    combo = field(panel, "Place", "level").combo
    combo.setFocus()
    QTest.keyClick(combo, Qt.Key.Key_Down)
    assert session.build.item("rinser").level == "shelf"
    assert session.undo_stack.undoText().startswith("Change level of ")


def test_numbers_on_top_are_those_of_the_solver(panel, session):
    session.select(Selection(items=("espresso",)))
    facts = {fact.label: fact for fact in panel.page.facts._facts}
    state = session.analysis.power.appliances["espresso"]["Everything on"]
    assert facts["Draws"].value.startswith(f"{state.amps:.1f} A")
    tap = session.analysis.water.tap("espresso")
    # NIST SP 811, appendix B.8: 1 psi is 6.894757 kPa.
    assert facts["Tap shut"].value == f"{tap.static_pa / 6894.757:.1f} psi"
    session.set_system(UnitSystem.METRIC)
    facts = {fact.label: fact for fact in panel.page.facts._facts}
    assert facts["Tap shut"].value == f"{tap.static_pa / 1e5:.2f} bar"


def test_the_ladder_falls_as_the_solver_says_and_selects(panel, session):
    session.select(Selection(items=("rinser",)))
    tap = session.analysis.water.tap("rinser")
    bars = panel.page.ladder.bars
    assert [bar.rung.id for bar in bars] == [step.id for step in tap.ladder]
    top = max(step.pressure_pa for step in tap.ladder)
    for bar, step in zip(bars, tap.ladder, strict=True):
        assert bar.rung.share == pytest.approx(max(0.0, step.pressure_pa / top))
    last = next(bar for bar in reversed(bars) if session.build.run(bar.rung.id))
    QTest.mouseClick(last, Qt.MouseButton.LeftButton)
    assert session.selection.runs == (last.rung.id,)
    assert isinstance(panel.page, RunPage)


def test_another_tube_is_chosen_from_those_that_fit(panel, session, qtbot):
    session.select(Selection(runs=("rinser-line",)))
    before = session.analysis.water.tap("rinser").states["Everything open"].flow
    choice = field(panel, "Way", "tube")
    names = [words for _, words in choice._choices]
    assert names[0] == min(names[:3], key=names.index)
    wider = next(name for name in names if name.startswith("3/8 in"))
    with qtbot.waitSignal(session.analysis_changed):
        choice._activated(names.index(wider))
    assert session.build.run("rinser-line").tube.name == wider
    assert session.undo_stack.undoText() == "Change tube"
    assert session.analysis.water.tap("rinser").states["Everything open"].flow > before


def test_a_length_is_automatic_or_typed(panel, session):
    session.select(Selection(runs=("rinser-line",)))
    editor = field(panel, "Way", "length")
    assert editor.line.text() == ""
    assert "from the route" in editor.line.placeholderText()
    type_into(editor, "6 ft")
    assert session.build.run("rinser-line").length.text == "6 ft"
    type_into(editor, " ")
    assert session.build.run("rinser-line").length is None
    assert session.undo_stack.count() == 2


def test_fittings_are_added_with_the_loss_of_the_table(panel, session):
    from cartlayout.limits import fittings

    session.select(Selection(runs=("rinser-line",)))
    listed = field(panel, "Way", "fittings")
    QTest.mouseClick(listed.add, Qt.MouseButton.LeftButton)
    assert len(session.build.run("rinser-line").fittings) == 1
    row = fittings()[3]
    choice = listed.parts[0].editors["name"]
    assert isinstance(choice, ChoiceField)
    choice._activated([value for value, _ in choice._choices].index(row.name))
    (fitting,) = session.build.run("rinser-line").fittings
    assert (fitting.name, fitting.loss_coefficient) == (row.name, row.loss_coefficient)


def test_watts_of_a_load_reach_the_solver(panel, session, qtbot):
    session.select(Selection(items=("espresso",)))
    load = session.build.item("espresso").specification.electrical
    assert isinstance(load, Load)
    before = session.analysis.power.appliances["espresso"]["Everything on"].amps
    name = "current" if load.current is not None else "power"
    with qtbot.waitSignal(session.analysis_changed):
        type_into(field(panel, "Electrical", name), "9 A" if name == "current" else "1000 W")
    assert session.analysis.power.appliances["espresso"]["Everything on"].amps < before


def test_the_sort_of_a_tap_can_be_changed(panel, session):
    session.select(Selection(items=("rinser",)))
    inlets = field(panel, "Water", "inlets")
    behaviour = inlets.parts[0].editors["behaviour"]
    assert isinstance(behaviour, UnionEditor)
    kinds = [kind.__name__ for kind, _ in behaviour.chooser._choices]
    behaviour.chooser._activated(kinds.index("Drawn"))
    inlet = session.build.item("rinser").specification.water.inlets[0]
    assert type(inlet.behaviour).__name__ == "Drawn"
    session.undo_stack.undo()
    inlet = session.build.item("rinser").specification.water.inlets[0]
    assert isinstance(inlet.behaviour, Opening)


def test_how_full_a_tank_is(panel, session):
    jug = next(
        item
        for item in session.build.items
        if isinstance(item.specification.water, Tank)
        and item.specification.water.contents == "fresh"
    )
    session.select(Selection(items=(jug.id,)))
    editor = field(panel, "Place", "fill")
    type_into(editor, "40 %")
    assert session.build.item(jug.id).fill == pytest.approx(0.4)
    type_into(editor, "140")
    assert editor.error.isVisible()


def test_several_items_share_a_level(panel, session):
    session.select(Selection(items=("cups", "rinser")))
    assert isinstance(panel.page, SeveralPage)
    combo = field(panel, "Several", "level").combo
    combo.setFocus()
    QTest.keyClick(combo, Qt.Key.Key_Down)
    levels = {session.build.item(one).level for one in ("cups", "rinser")}
    assert levels == {"shelf"}
    assert session.undo_stack.count() == 1


def test_nothing_selected_shows_cart_venue_service_and_cases(panel, session, qtbot):
    session.select(Selection(items=("cups",)))
    session.select(NOTHING)
    assert isinstance(panel.page, BuildPage)
    with qtbot.waitSignal(session.analysis_changed):
        type_into(field(panel, "Cart", "width"), "80 in")
    assert session.build.cart.width.text == "80 in"
    type_into(field(panel, "Service", "drinks_per_hour"), "55")
    assert session.build.service.drinks_per_hour == 55
    cases = field(panel, "Operating cases")
    count = len(session.build.cases)
    QTest.mouseClick(cases.add, Qt.MouseButton.LeftButton)
    assert len(session.build.cases) == count + 1
    names = [case.name for case in session.build.cases]
    assert len(set(names)) == len(names)


def test_every_part_of_every_sample_opens(panel, session, qtbot):
    """Every kind of role in the samples has an editor, and shows without a word of complaint."""
    for name in ("conference_hall_bar", "station_kiosk_230v", "folding_cart_modules"):
        session.set_document(sample(name), None)
        chosen = [Selection(items=(item.id,)) for item in session.build.items]
        chosen += [Selection(runs=(run.id,)) for run in session.build.runs]
        for selection in chosen:
            session.select(selection)
            for section in panel.page.sections.values():
                section.open()
            assert panel.page.sections
            body = panel.area.body
            assert body.minimumSizeHint().width() <= panel.area.viewport().width()
    assert session.undo_stack.count() == 0


def test_a_wrong_group_of_fields_names_the_place():
    """Every field of the document has a label, and its kind can be edited."""
    from cartlayout.build import Build
    from cartlayout.ui.details.kinds import fields_of, label_of

    infos = fields_of(Build)
    assert {info.name for info in infos} == set(Build.__struct_fields__)
    assert label_of("needs_own_circuit") == "Needs own circuit"
    tips = {info.name: info.tip for info in fields_of(Load)}
    assert "individual circuit" in tips["needs_own_circuit"]
