"""Edits are pure: a new build, the old one untouched, and what did not change shared."""

import building as b
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Build, OperatingCase, WayPoint, edits, file
from cartlayout.build.edits import EditError
from cartlayout.units import Length


def trial() -> Build:
    return b.build(
        b.outlet("wall"),
        b.load("kettle", 1500),
        b.load("grinder", 400, at=("50 in", "10 in")),
        b.wire("kettle", "wall.1"),
        b.wire("grinder", "wall.2"),
        cases=(OperatingCase(name="Rush", loads=("kettle", "grinder")),),
    )


def test_placing_gives_a_free_id_and_the_builds_units() -> None:
    before = trial()
    kettle = before.items[1].specification
    after, first = edits.place(before, kettle, "counter", 0.3683, 0.2)
    after, second = edits.place(after, kettle, "counter", 0.5, 0.2)
    assert first != second
    assert {first, second}.isdisjoint({item.id for item in before.items})
    placed = after.item(first)
    assert placed is not None
    assert placed.x == Length("14.5 in")


def test_moving_shares_everything_else() -> None:
    before = trial()
    after = edits.move(before, ["kettle"], 0.0254, 0)
    moved = after.item("kettle")
    assert moved is not None
    assert moved.x == Length("37 in")
    assert after.items[0] is before.items[0]
    assert after.runs is before.runs
    assert before.items[1].x == Length("36 in")


def test_locked_items_stay() -> None:
    before = b.build(b.load("kettle", 1500, locked=True))
    assert edits.move(before, ["kettle"], 0.1, 0) is before
    assert edits.rotate(before, ["kettle"], 90) is before
    assert edits.remove(before, ["kettle"]) is before


def test_four_quarter_turns_are_none() -> None:
    before = trial()
    after = before
    for _ in range(4):
        after = edits.rotate(after, ["kettle"], 90)
    assert after == before


def test_removing_takes_the_runs_and_the_cases_entries_along() -> None:
    after = edits.remove(trial(), ["kettle"])
    assert [run.id for run in after.runs] == [trial().runs[1].id]
    assert after.cases[0].loads == ("grinder",)


def test_copies_keep_the_runs_between_them() -> None:
    before = trial()
    after, new = edits.duplicate(before, ["wall", "kettle"], 0.1, 0.1)
    assert len(new) == 2
    assert len(after.runs) == len(before.runs) + 1
    added = after.runs[-1]
    assert added.b is not None
    assert {added.a.item, added.b.item} == set(new)


def test_the_clipboard_crosses_builds() -> None:
    text = edits.copy(trial(), ["kettle"])
    after, new = edits.paste(b.build(), text, 0, 0)
    assert [item.id for item in after.items] == list(new)


@pytest.mark.parametrize("text", ["", "hello", "{}", '{"cartlayout_items": 1, "items": [3]}'])
def test_a_strange_clipboard_is_refused_with_words(text: str) -> None:
    with pytest.raises(EditError, match="the clipboard holds no equipment"):
        edits.paste(trial(), text, 0, 0)


def test_what_is_not_there_cannot_be_edited() -> None:
    with pytest.raises(EditError, match="no item 'ghost'"):
        edits.move(trial(), ["ghost"], 1, 1)
    with pytest.raises(EditError, match=r"no level 'roof' \(its levels: counter, shelf, base\)"):
        edits.set_level(trial(), ["kettle"], "roof")


STEPS = st.lists(
    st.one_of(
        st.tuples(st.just("move"), st.floats(-1, 1), st.floats(-1, 1)),
        st.tuples(st.just("rotate"), st.sampled_from([90.0, -90.0, 15.0])),
        st.tuples(st.just("duplicate"), st.floats(-0.5, 0.5)),
        st.tuples(st.just("remove")),
        st.tuples(st.just("level"), st.sampled_from(["counter", "shelf", "base", "venue"])),
    ),
    max_size=12,
)


@given(STEPS, st.randoms(use_true_random=False))
def test_every_edited_build_survives_its_file(steps: list[tuple], rng) -> None:  # type: ignore[no-untyped-def,type-arg]
    now = trial()
    for name, *rest in steps:
        if not now.items:
            break
        ids = [rng.choice(now.items).id]
        match name:
            case "move":
                now = edits.move(now, ids, *rest)
            case "rotate":
                now = edits.rotate(now, ids, *rest)
            case "duplicate":
                now, _ = edits.duplicate(now, ids, rest[0], rest[0])
            case "remove":
                now = edits.remove(now, ids)
            case "level":
                now = edits.set_level(now, ids, *rest)
        assert file.decode(file.encode(now)) == now


def test_bends_go_along_where_both_ends_do() -> None:
    bend = WayPoint(x=Length("40 in"), y=Length("-4 in"))
    before = trial()
    before = edits.replace_run(before, replace(before.runs[0], waypoints=(bend,)))
    both = edits.move(before, ["kettle", "wall"], 0.0254, 0)
    assert both.runs[0].waypoints == (WayPoint(x=Length("41 in"), y=Length("-4 in")),)
    one = edits.move(before, ["kettle"], 0.0254, 0)
    assert one.runs[0].waypoints == (bend,)
    copied, _ = edits.duplicate(before, ["kettle", "wall"], 0, 0.0254)
    assert copied.runs[-1].waypoints == (WayPoint(x=Length("40 in"), y=Length("-3 in")),)


def test_what_is_grouped_moves_as_one() -> None:
    build = b.build(b.load("a", 100, group="set"), b.load("b", 100), b.load("c", 100, group="set"))
    assert edits.with_groups(build, ["c"]) == ("a", "c")
    assert edits.with_groups(build, ["b"]) == ("b",)


def test_what_is_pasted_has_its_middle_at_the_place() -> None:
    # Bodies of 10 x 10 in at (20, 10) and (40, 16) in: from 15 to 45 and from 5 to 21 in.
    build = b.build(b.item("a", at=("20 in", "10 in")), b.item("c", at=("40 in", "16 in")))
    made, new = edits.paste_at(build, edits.copy(build, ["a", "c"]), 60 * 0.0254, 20 * 0.0254)
    places = [(made.item(one).x.si / 0.0254, made.item(one).y.si / 0.0254) for one in new]
    assert places == [pytest.approx((50, 17)), pytest.approx((70, 23))]


def test_a_level_the_cart_has_not_falls_to_the_one_asked_for() -> None:
    build = b.build(b.item("a", level="attic"), b.item("c", level="base"))
    text = edits.copy(build, ["a", "c"])
    made, (first, second) = edits.paste(build, text, 0.1, 0.0, "shelf")
    assert made.item(first).level == "shelf"
    assert made.item(second).level == "base"
    made, (first, _) = edits.paste(build, text, 0.1, 0.0, "cellar")
    assert made.item(first).level == build.cart.levels[0].name


def test_a_run_of_a_text_changed_by_hand_is_left_out() -> None:
    build = trial()
    text = edits.copy(build, ["kettle", "wall"]).replace('"item": "wall"', '"item": "nowhere"')
    made, new = edits.paste(build, text, 0.1, 0.0)
    assert len(new) == 2
    assert made.runs == build.runs


@pytest.mark.parametrize("text", ["", "[]", "12", '{"cartlayout_items": 1, "items": [{}]}'])
def test_other_text_is_no_equipment(text: str) -> None:
    with pytest.raises(EditError, match="no equipment"):
        edits.paste(trial(), text, 0.0, 0.0)
    with pytest.raises(EditError, match="no equipment"):
        edits.paste_at(trial(), text, 0.0, 0.0)
