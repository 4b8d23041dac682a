"""Alignment, spacing, turning, grouping: plane geometry, places worked out by hand."""

import math

import building as b
import pytest
from msgspec.structs import replace

from cartlayout.build import WayPoint
from cartlayout.build.arranging import align, distribute, group, turn, turn_about, turn_to, ungroup
from cartlayout.build.edits import EditError, replace_item
from cartlayout.build.geometry import bounds
from cartlayout.units import Length


def body(item_id: str, x: float, y: float, width: float = 10, depth: float = 10):
    """A body with its middle at (x, y), inches."""
    size = (f"{width} in", f"{depth} in", "8 in")
    return b.item(item_id, at=(f"{x} in", f"{y} in"), size=size)


def three():
    """Left edges at 5, 20 and 48 in; widths 10, 8 and 4 in; rear edges at 5, 8 and 12 in."""
    return b.build(
        body("one", 10, 10), body("two", 24, 12, width=8, depth=8), body("three", 50, 14, 4, 4)
    )


def box(build, item_id):
    """Left, rear, right, front in inches."""
    return tuple(round(side / 0.0254, 6) for side in bounds(build.item(item_id)))


def changed(build, item_id, **fields):
    return replace_item(build, replace(build.item(item_id), **fields))


ALL = ("one", "two", "three")


@pytest.mark.parametrize(
    ("line", "side", "at"),
    [("left", 0, 5), ("right", 2, 52), ("rear", 1, 5), ("front", 3, 16)],
)
def test_edges_come_to_the_outermost(line, side, at):
    build = align(three(), ALL, line)
    assert [box(build, one)[side] for one in ALL] == [at] * 3


def test_middles_come_to_the_middle_of_all():
    # From 5 to 52 in across: middle 28.5. From 5 to 16 in along: middle 10.5.
    build = align(three(), ALL, "middle across")
    assert [build.item(one).x.si / 0.0254 for one in ALL] == pytest.approx([28.5] * 3)
    build = align(three(), ALL, "middle along")
    assert [build.item(one).y.si / 0.0254 for one in ALL] == pytest.approx([10.5] * 3)


def test_a_locked_one_says_where_the_line_is():
    build = changed(three(), "two", locked=True)
    aligned = align(build, ALL, "left")
    assert [box(aligned, one)[0] for one in ALL] == [20] * 3
    assert aligned.item("two") is build.item("two")


def test_what_cannot_be_aligned_says_why():
    with pytest.raises(EditError, match="two or more"):
        align(three(), ("one",), "left")
    build = changed(changed(three(), "one", locked=True), "two", locked=True)
    with pytest.raises(EditError, match="locked apart"):
        align(build, ALL, "left")
    with pytest.raises(EditError, match="locked"):
        align(build, ("one", "two"), "left")


def test_what_is_in_line_already_is_the_same_build():
    build = align(three(), ALL, "left")
    assert align(build, ALL, "left") is build


def test_equal_gaps_leave_the_outer_two():
    # Free between 15 and 48 in: 33; the middle one takes 8; two gaps of 12.5 in.
    build = distribute(three(), ALL, "across", "gaps")
    assert [box(build, one)[0] for one in ALL] == pytest.approx([5, 27.5, 48])


def test_equal_middles_leave_the_outer_two():
    # Middles at 10 and 50 in: the one between at 30 in.
    build = distribute(three(), ALL, "across", "centres")
    assert [build.item(one).x.si / 0.0254 for one in ALL] == pytest.approx([10, 30, 50])


def test_what_cannot_be_spaced_says_why():
    with pytest.raises(EditError, match="three or more"):
        distribute(three(), ("one", "two"), "across", "gaps")
    with pytest.raises(EditError, match="locked"):
        distribute(changed(three(), "two", locked=True), ALL, "across", "gaps")
    # Rear to front the three stand side by side, on 5 to 15, 8 to 16 and 12 to 16 in.
    with pytest.raises(EditError, match="no room"):
        distribute(three(), ALL, "along", "gaps")


def test_a_group_is_one_body():
    build, name = group(three(), ("one", "two"))
    assert {build.item(one).group for one in ("one", "two")} == {name}
    # The pair reaches from 5 to 28 in; its right edge goes to 52, and both go along.
    moved = align(build, ("one", "three"), "right")
    assert box(moved, "one")[0] == pytest.approx(29)
    assert box(moved, "two")[2] == pytest.approx(52)


def test_grouping_needs_two_of_one_place():
    build = three()
    with pytest.raises(EditError, match="two or more"):
        group(build, ("one",))
    with pytest.raises(EditError, match="venue"):
        group(changed(build, "two", level="venue"), ALL)
    grouped, _ = group(build, ALL)
    with pytest.raises(EditError, match="already"):
        group(grouped, ("one",))
    assert ungroup(grouped, ("one",)) == build
    with pytest.raises(EditError, match="group"):
        ungroup(build, ALL)


def test_two_groups_have_two_names_and_join_into_one():
    build = b.build(*(body(f"b{n}", 5 + 12 * n, 10) for n in range(4)))
    build, first = group(build, ("b0", "b1"))
    build, second = group(build, ("b2", "b3"))
    assert first != second
    build, _ = group(build, ("b0", "b3"))
    assert len({item.group for item in build.items}) == 1


def test_one_turns_about_its_own_middle():
    build = turn(three(), ("one", "two"), 90)
    assert [build.item(one).rotation for one in ALL] == [90, 90, 0]
    assert [build.item(one).x for one in ALL] == [three().item(one).x for one in ALL]
    assert build.item("three") is not None


def test_a_group_turns_as_one():
    build = b.build(body("p", 10, 10), body("q", 30, 10))
    build, _ = group(build, ("p", "q"))
    # Middle of the pair at (20, 10) in. A quarter turn clockwise as seen on the plan
    # (y runs down) takes what is 10 in to the left to 10 in behind, that is to y = 0.
    turned = turn(build, ("p",), 90)
    p, q = turned.item("p"), turned.item("q")
    assert (p.x.si, p.y.si) == pytest.approx((20 * 0.0254, 0.0), abs=1e-9)
    assert (q.x.si, q.y.si) == pytest.approx((20 * 0.0254, 20 * 0.0254))
    assert (p.rotation, q.rotation) == (90, 90)
    four = build
    for _ in range(4):
        four = turn(four, ("p", "q"), 90)
    for before, after in zip(build.items, four.items, strict=True):
        assert (after.x.si, after.y.si) == pytest.approx((before.x.si, before.y.si))
        assert after.rotation == before.rotation


def test_one_picked_out_of_a_group_turns_alone():
    build, _ = group(three(), ALL)
    turned = turn(build, ("two",), 30, alone=True)
    assert [turned.item(one).rotation for one in ALL] == [0, 30, 0]
    assert turned.item("one") is build.item("one")


def test_any_angle_is_taken_by_rotation_matrix():
    # Rotation by 30 degrees: (cos 30, sin 30) = (0.8660, 0.5), y running down the plan.
    build = turn_about(b.build(body("p", 20, 10)), ("p",), 30, (10 * 0.0254, 10 * 0.0254))
    item = build.item("p")
    assert item.x.si / 0.0254 == pytest.approx(10 + 10 * math.sqrt(3) / 2, abs=1e-3)
    assert item.y.si / 0.0254 == pytest.approx(15)
    assert item.rotation == 30


def test_turning_to_an_angle_sets_it_and_locked_things_stay():
    build = changed(changed(three(), "one", rotation=20.0), "three", locked=True)
    turned = turn_to(build, ALL, 45)
    assert [turned.item(one).rotation for one in ALL] == [45, 45, 0]
    assert turn_to(turned, ALL, 45) is turned
    assert turn_to(turned, ALL, 405).item("one").rotation == 45


def test_bends_of_runs_between_turn_along():
    one = b.tank("jug", at=("10 in", "10 in"), size=("10 in", "9 in", "12 in"))
    two = b.pump("pump", at=("30 in", "10 in"), size=("8 in", "6 in", "5 in"))
    bend = WayPoint(x=Length("20 in"), y=Length("14 in"))
    run = replace(b.tube("jug.outlet", "pump.inlet"), waypoints=(bend,))
    build = turn_about(b.build(one, two, run), ("jug", "pump"), 90, (20 * 0.0254, 10 * 0.0254))
    # 4 in before the pivot turns to 4 in left of it.
    (bend,) = build.runs[0].waypoints
    assert (bend.x.si / 0.0254, bend.y.si / 0.0254) == pytest.approx((16, 10))
    alone = turn_about(b.build(one, two, run), ("jug",), 90, (0.0, 0.0))
    assert alone.runs[0] is run
