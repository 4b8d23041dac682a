"""The session: one gesture is one undo step, one move is one analysis."""

import gc
import random

import pytest
from msgspec.structs import replace

from cartlayout.build import edits
from cartlayout.build.edits import EditError
from cartlayout.build.file import load
from cartlayout.ui import commands
from cartlayout.ui.selection import Selection
from cartlayout.ui.session import Session


def moved(session: Session, item: str = "kettle", by_m: float = 0.1):
    return edits.move(session.build, (item,), by_m, 0.0)


def test_signals_carry_the_very_value(session, qtbot):
    build = moved(session)
    with qtbot.waitSignal(session.build_changed) as caught:
        session.apply("Move Kettle", build)
    assert caught.args[0] is build
    with qtbot.waitSignal(session.analysis_changed) as caught:
        pass
    assert caught.args[0].build is build


def test_many_moves_in_one_turn_are_one_analysis(session, qtbot):
    before = session.analyses
    builds = [moved(session, by_m=step / 100) for step in range(1, 6)]
    with qtbot.waitSignal(session.analysis_changed):
        for build in builds:
            session.preview(build)
    assert session.analyses == before + 1
    assert session.analysis.build is builds[-1]
    assert session.previewing


def test_a_preview_changes_nothing_that_is_committed(session, qtbot):
    build, count = session.build, session.undo_stack.count()
    settled = session.analysis
    with qtbot.waitSignal(session.analysis_changed):
        session.preview(moved(session))
    assert session.build is build
    assert session.undo_stack.count() == count
    with qtbot.waitSignal(session.analysis_changed) as caught:
        session.cancel_preview()
    assert caught.args[0] is settled
    assert session.shown is build


def test_what_was_previewed_is_not_analysed_again_when_let_go(session, qtbot):
    build = moved(session)
    with qtbot.waitSignal(session.analysis_changed):
        session.preview(build)
    before = session.analyses
    session.apply("Move Kettle", build)
    qtbot.wait(1)
    assert session.analyses == before
    assert session.settled.build is build
    assert session.undo_stack.undoText() == "Move Kettle"


def test_undo_and_redo_give_equal_builds(session):
    first = session.build
    second = moved(session)
    session.apply("Move Kettle", second)
    session.undo_stack.undo()
    assert session.build == first
    session.undo_stack.redo()
    assert session.build is second
    session.undo_stack.undo()


def test_nudges_in_a_row_are_one_step(session):
    first = session.build
    session.select(Selection(items=("kettle",)))
    for _ in range(5):
        commands.nudge(session, 0.01, 0.0)
    assert session.undo_stack.count() == 1
    before, after = first.item("kettle"), session.build.item("kettle")
    assert after.x.si - before.x.si == pytest.approx(0.05, abs=1e-4)
    session.undo_stack.undo()
    assert session.build == first


def test_nothing_else_is_edited_in_mid_drag(session, qtbot):
    session.select(Selection(items=("kettle",)))
    session.apply("Move Kettle", moved(session))
    dragged = moved(session, by_m=0.2)
    session.preview(dragged)
    for command in (commands.undo, commands.rotate, commands.delete, commands.duplicate):
        with qtbot.waitSignal(session.told) as caught:
            command(session)
        assert "Escape" in caught.args[0]
    assert session.undo_stack.count() == 1
    assert session.undo_stack.canUndo()
    assert session.shown is dragged
    session.cancel_preview()
    commands.undo(session)
    assert not session.undo_stack.canUndo()


def test_an_edit_that_fails_pushes_nothing(session, qtbot):
    session.select(Selection(items=("kettle",)))
    kettle = session.build.item("kettle")
    session.apply("Lock", edits.replace_item(session.build, replace(kettle, locked=True)))
    count = session.undo_stack.count()
    with qtbot.waitSignal(session.told) as caught:
        commands.rotate(session)
    assert "locked" in caught.args[0]
    with pytest.raises(EditError):
        edits.move(session.build, ("nobody",), 1.0, 0.0)
    assert session.undo_stack.count() == count


def test_the_selection_forgets_what_is_gone(session):
    session.select(Selection(items=("kettle", "espresso")))
    session.apply("Delete Kettle", edits.remove(session.build, ("kettle",)))
    assert session.selection == Selection(items=("espresso",))
    session.undo_stack.undo()
    session.select(Selection(items=("kettle", "nobody")))
    assert session.selection == Selection(items=("kettle",))


def test_changed_and_saved(session, tmp_path):
    path = tmp_path / "one.cart"
    assert not session.dirty
    session.apply("Move Kettle", moved(session))
    assert session.dirty
    session.save(path)
    assert not session.dirty
    assert load(path) == session.build
    session.undo_stack.undo()
    assert session.dirty
    session.undo_stack.redo()
    assert not session.dirty


def test_commands_outlive_2000_random_steps(session):
    """Style table: undo commands written in Python must survive garbage collection."""
    dice = random.Random(5)
    first = session.build
    for step in range(2000):
        what = dice.random()
        if what < 0.4:
            build = edits.move(session.build, ("kettle",), dice.choice((-0.01, 0.01)), 0.0)
            session.apply(f"Step {step}", build, merge_key=dice.choice(("", "nudge")))
        elif what < 0.75:
            session.undo_stack.undo()
        else:
            session.undo_stack.redo()
        if step % 250 == 0:
            gc.collect()
    while session.undo_stack.canUndo():
        session.undo_stack.undo()
    assert session.build == first


def test_copy_and_paste_join_what_was_joined(session):
    session.select(Selection(items=("grinder",)))
    commands.copy(session)
    count = len(session.build.items)
    commands.paste(session)
    assert len(session.build.items) == count + 1
    assert session.selection.items != ("grinder",)
    assert session.undo_stack.undoText().startswith("Paste ")


def test_paste_of_something_else_is_said(session, qtbot):
    from PySide6.QtGui import QGuiApplication

    QGuiApplication.clipboard().setText("a shopping list")
    with qtbot.waitSignal(session.told) as caught:
        commands.paste(session)
    assert caught.args[0] == "The clipboard holds no equipment."
    assert session.undo_stack.count() == 0


def test_select_all_takes_the_level_then_everything(session):
    commands.select_all(session)
    levels = {session.build.item(one).level for one in session.selection.items}
    assert levels == {session.level}
    commands.select_all(session)
    assert len(session.selection.items) == len(session.build.items)


def test_another_document_starts_a_new_history(session, qtbot):
    session.apply("Move Kettle", moved(session))
    other = replace(session.build, name="Other", units="metric")
    with qtbot.waitSignals([session.document_changed, session.build_changed]):
        session.set_document(other, None)
    assert not session.undo_stack.canUndo()
    assert not session.dirty
    assert session.system.value == "metric"
    assert session.analysis.build is other
