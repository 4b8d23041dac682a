"""Setting out: every place against what was authored, worked out by hand in inches."""

import building as b
import pytest
from msgspec.structs import replace
from packet_jobs import SAMPLES, job_of, sample_job

from cartlayout.build.cart import Point, Zone
from cartlayout.documents.packet.sheets.set_out import set_out
from cartlayout.units import Length, UnitSystem, Value

INCH = 0.0254


def table(job, key):
    return next(part for part in set_out(job).parts if getattr(part, "key", "") == key)


def inches(row):
    return [round(cell.si / INCH, 4) for cell in row if isinstance(cell, Value)
            and cell.dimension == "tape"]  # fmt: skip


def test_a_body_is_measured_from_the_left_the_rear_and_the_floor():
    # Middle at (20, 10) in; 8 by 6 in turned a quarter: 6 wide, 8 deep. The shelf is at 20 in.
    jug = b.item("jug", size=("8 in", "6 in", "9 in"), at=("20 in", "10 in"), level="shelf",
                 rotation=90.0)  # fmt: skip
    (row,) = table(job_of(b.build(jug)), "set-out").rows
    assert row[:2] == ("shelf", "jug")
    assert inches(row) == [17, 6, 6, 8, 9, 20, 29]
    assert row[-2:] == (Value(90.0, "angle"), "standing")


def test_what_hangs_is_measured_at_its_underside():
    # The shelf's room is 15 in above 20 in; a body of 5 in, 1 in below the top of it.
    sink = b.item("sink", size=("8 in", "8 in", "5 in"), level="shelf", mount="hanging",
                  raised=Length("1 in"))  # fmt: skip
    (row,) = table(job_of(b.build(sink)), "set-out").rows
    assert inches(row)[-2:] == [29, 34]
    assert row[-1] == "hanging"


def test_the_cart_is_measured_from_its_own_edges_wherever_it_is_drawn():
    corners = tuple(
        Point(x=Length(f"{x} in"), y=Length(f"{y} in"))
        for x, y in ((5, 3), (65, 3), (65, 33), (5, 33))
    )
    jug = b.item("jug", size=("8 in", "6 in", "9 in"), at=("20 in", "10 in"))
    (row,) = table(job_of(b.build(jug, cart=b.cart(outline=corners))), "set-out").rows
    assert inches(row)[:2] == [20 - 4 - 5, 10 - 3 - 3]


def test_a_hole_is_measured_at_its_edges_and_its_middle():
    hole = Zone(
        name="rinser",
        kind="opening",
        level="counter",
        x=Length("30 in"),
        y=Length("10 in"),
        width=Length("6 in"),
        depth=Length("4 in"),
        round=True,
    )
    (row,) = table(job_of(b.build(cart=b.cart(zones=(hole,)))), "holes").rows
    assert row[:4] == ("counter", "rinser", "hole", "round")
    assert inches(row) == [30, 10, 6, 4, 33, 12]


def test_ports_are_where_cords_and_tubes_end():
    # `b.load` has its port in the middle of a 10 in body, 2 in above its underside.
    kettle = b.load("kettle", at=("20 in", "10 in"))
    build = b.build(kettle, b.load("idle", at=("50 in", "10 in")), b.outlet("wall"),
                    b.wire("kettle", "wall"))  # fmt: skip
    rows = {row[1]: row for row in table(job_of(build), "ports").rows}
    assert set(rows) == {"kettle", "wall"}
    assert inches(rows["kettle"]) == [20, 10, 38]


@pytest.mark.parametrize("system", list(UnitSystem))
@pytest.mark.parametrize("name", SAMPLES)
def test_everything_of_a_sample_is_listed_once(name, system):
    job = sample_job(name, system)
    names = [row[1] for row in table(job, "set-out").rows]
    assert sorted(names) == sorted(item.name for item in job.build.items)
    ends = {(end.item, end.port) for run in job.build.runs for end in (run.a, run.b) if end}
    assert len(table(job, "ports").rows) == len(ends)


def test_an_empty_cart_says_so():
    job = job_of(b.build())
    assert table(job, "set-out").empty
    assert table(job, "holes").rows == ()
    assert table(job, "ports").rows == ()


def test_what_is_on_no_level_of_the_cart_is_listed_all_the_same():
    lost = b.item("lost", level="attic")
    (row,) = table(job_of(b.build(lost)), "set-out").rows
    assert row[:2] == ("attic", "lost")


def test_what_is_fed_from_below_has_a_hole_for_each_tube():
    """Middle at (30, 15) in, 10 by 10 in: ports 2 in left and right of its middle, in its underside
    on the counter, are holes at (28, 15) and (32, 15)."""
    under = [
        replace(b.port("inlet", "water", "in", "3/8 push-fit", "0 in"), x=Length("3 in")),
        replace(b.port("drain", "drain", "out", "drain 1 in", "0 in"), x=Length("7 in")),
    ]
    rinser = b.item("rinser", size=("10 in", "10 in", "3 in"), at=("30 in", "15 in"), ports=under)
    made = b.build(
        rinser,
        b.tank("jug", level="shelf", at=("10 in", "15 in")),
        b.tank("waste", level="shelf", contents="waste", at=("55 in", "15 in")),
        b.tube("jug", "rinser.inlet"),
        b.tube("rinser.drain", "waste"),
    )
    rows = [row for row in table(job_of(made), "passages").rows if row[4] == "hole under rinser"]
    assert [(row[0], row[1], *inches(row)[:2]) for row in rows] == [
        ("counter", "T1", 28, 15),
        ("counter", "T2", 32, 15),
    ]


def test_a_run_through_a_drawn_hole_names_it_and_one_at_the_edge_names_the_gap():
    """The counter is at 36 in, the shelf at 20 in: one of each stands on each."""
    hole = Zone(name="left hole", kind="opening", level="counter", x=Length("14 in"),
                y=Length("14 in"), width=Length("2 in"), depth=Length("2 in"))  # fmt: skip
    urn = b.load("urn", at=("15 in", "10 in"))
    strip = b.strip("strip", level="shelf", at=("15 in", "20 in"))
    drawn = job_of(b.build(urn, strip, b.wire("urn", "strip"), cart=b.cart(zones=(hole,))))
    (row,) = table(drawn, "passages").rows
    assert row[0] == "counter"
    assert row[4] == "left hole"
    assert inches(row) == [15, 15]
    (row,) = table(job_of(b.build(urn, strip, b.wire("urn", "strip"))), "passages").rows
    assert row[4].startswith("gap along the ")
