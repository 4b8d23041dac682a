"""A tube is cut and something put between: nothing of the tube is lost, and water runs through it.

What has to hold is plain geometry and the conservation of what was there; a regulator's pressure
behind it is its set point by definition.
"""

import itertools
import math

import pytest
from building import build, item, tank, tap, tube
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import VENUE, TubeRun, WayPoint
from cartlayout.build.edits import EditError, replace_run
from cartlayout.build.file import load
from cartlayout.build.geometry import corners, end_position
from cartlayout.data import sample_builds
from cartlayout.network import insert_inline, make_network
from cartlayout.network.inserting import middle_of
from cartlayout.stock import entry
from cartlayout.units import Length
from cartlayout.water import ALL_SHUT


@pytest.fixture
def market():
    return load(sample_builds() / "market_cart.cart")


def gauge():
    return entry("gauge").specification


def halves(after, before, run_id, new_id):
    """The two tubes that came of one, from its end a on."""
    first = after.run(run_id)
    new = [run for run in after.runs if before.run(run.id) is None]
    assert len(new) == 1
    assert first.b.item == new[0].a.item == new_id
    return first, new[0]


@pytest.mark.parametrize(
    "run_id", ["suction", "pump-line", "filter-line", "filtered-line", "espresso-line"]
)
def test_a_gauge_goes_into_every_supply_tube_of_a_cart(market, run_id):
    network = make_network(market)
    after, new_id = insert_inline(market, run_id, gauge(), *middle_of(market, network, run_id))
    first, second = halves(after, market, run_id, new_id)
    before = market.run(run_id)
    assert (first.a, second.b) == (before.a, before.b)
    assert first.tube == second.tube == before.tube
    analysis = analyse(after)
    state = next(one for one in analysis.water.gauges if one.item == new_id)
    assert state.fed
    assert not analysis.network.problems


def test_a_gauge_takes_nothing_but_its_ends_from_the_taps(market):
    """It has no loss of its own: what the taps get changes by the four joints of the cut only."""
    before = analyse(market).water
    after, _ = insert_inline(market, "filtered-line", gauge(), 0.9, 0.1)
    for old, new in zip(before.taps, analyse(after).water.taps, strict=True):
        assert new.fed
        assert new.static_pa == pytest.approx(old.static_pa, abs=200.0)
        for case, state in old.states.items():
            assert new.states[case].flow == pytest.approx(state.flow, rel=0.05)


@pytest.mark.parametrize("share", [0.25, 0.5, 0.8])
def test_a_measured_length_is_shared_out_along_the_way(share):
    cart = build(
        tank("jug", at=("10 in", "15 in")),
        tap("sink", at=("60 in", "15 in"), level="base"),
        replace(tube("jug", "sink", "3 m", run_id="line"), spare=Length("200 mm")),
    )
    network = make_network(cart)
    points = network.routes["line"].points
    whole = network.routes["line"].length_m
    left = share * whole
    for a, b in itertools.pairwise(points):
        if left <= math.dist(a, b):
            part = left / math.dist(a, b)
            at = (a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]))
            upright = a[:2] == b[:2]
            break
        left -= math.dist(a, b)
    after, new_id = insert_inline(cart, "line", gauge(), *at)
    first, second = halves(after, cart, "line", new_id)
    assert first.length.si + second.length.si == pytest.approx(3.0, abs=0.001)
    assert first.spare.si + second.spare.si == pytest.approx(0.2, abs=0.001)
    if not upright:
        assert first.length.si == pytest.approx(3.0 * share, abs=0.01)


def test_a_length_from_the_way_stays_so(market):
    after, new_id = insert_inline(market, "espresso-line", gauge(), 1.2, 0.3)
    first, second = halves(after, market, "espresso-line", new_id)
    assert first.length is None
    assert second.length is None


def test_water_goes_in_where_it_should(market):
    """A regulator works one way only."""
    spec = entry("regulator").specification
    for run_id in ("espresso-line", "rinser-line"):
        network = make_network(market)
        after, new_id = insert_inline(market, run_id, spec, *middle_of(market, network, run_id))
        first, second = halves(after, market, run_id, new_id)
        ports = {port.id: port.direction for port in spec.ports if port.medium == "water"}
        assert ports[first.b.port] == "in"
        assert ports[second.a.port] == "out"


def test_the_other_way_round_the_ports_follow():
    cart = build(
        tank("jug"),
        tap("sink", level="base", at=("60 in", "15 in")),
        tube("sink.inlet", "jug.outlet", run_id="line"),
    )
    spec = entry("regulator").specification
    after, new_id = insert_inline(cart, "line", spec, 1.0, 0.4)
    first, second = halves(after, cart, "line", new_id)
    ports = {port.id: port.direction for port in spec.ports if port.medium == "water"}
    assert ports[first.b.port] == "out"
    assert ports[second.a.port] == "in"
    assert analyse(after).water.tap("sink").fed


def test_it_stands_in_line_and_in_nothing_else():
    cart = build(
        tank("jug", at=("10 in", "15 in")),
        tap("sink", at=("60 in", "15 in"), level="base"),
        item("box", at=("36 in", "15 in"), level="base"),
        tube("jug", "sink", None, run_id="line"),
    )
    after, new_id = insert_inline(cart, "line", gauge(), 36 * 0.0254, 15 * 0.0254)
    new = after.item(new_id)
    assert new.level == "base"
    box = after.item("box")
    (ax, ay), (bx, by) = corners(new)[0], corners(new)[2]
    (cx, cy), (dx, dy) = corners(box)[0], corners(box)[2]
    apart = max(ax, bx) <= cx + 1e-6 or min(ax, bx) >= dx - 1e-6
    apart = apart or max(ay, by) <= cy + 1e-6 or min(ay, by) >= dy - 1e-6
    assert apart
    first, second = halves(after, cart, "line", new_id)
    jug, sink = end_position(after, first.a), end_position(after, second.b)
    near, far = end_position(after, first.b), end_position(after, second.a)
    assert math.dist(jug, near) < math.dist(jug, far)
    assert math.dist(sink, far) < math.dist(sink, near)


def test_bends_stay_where_they_are():
    bends = (
        WayPoint(x=Length("0.5 m"), y=Length("0.1 m")),
        WayPoint(x=Length("1.4 m"), y=Length("0.1 m")),
    )
    cart = build(
        tank("jug", at=("10 in", "15 in")),
        tap("sink", at=("60 in", "15 in"), level="base"),
        replace(tube("jug", "sink", None, run_id="line"), waypoints=bends),
    )
    after, new_id = insert_inline(cart, "line", gauge(), 1.0, 0.1)
    first, second = halves(after, cart, "line", new_id)
    assert first.waypoints == bends[:1]
    assert second.waypoints == bends[1:]


def test_gauges_are_sold_for_every_tube_and_regulators_are_not(market):
    """A 3/8 push-fit port takes no 1/2 in tube."""
    after, _ = insert_inline(market, "pump-line", gauge(), 0.5, 0.3)
    assert analyse(after).water.cases[ALL_SHUT].converged
    odd = replace(
        market.run("pump-line"),
        tube=replace(market.run("pump-line").tube, name="15 mm copper tube"),
    )
    other = replace_run(market, odd)
    with pytest.raises(EditError, match="does not go onto the ports"):
        insert_inline(other, "pump-line", entry("regulator").specification, 0.5, 0.3)
    after, _new_id = insert_inline(other, "pump-line", gauge(), 0.5, 0.3)
    assert analyse(after).water.gauges[0].fed


@pytest.mark.parametrize(
    ("run_id", "why"),
    [
        ("rinser-drain", "is a drain"),
        ("pump-wire", "only a tube"),
        ("nothing", "only a tube"),
    ],
)
def test_what_cannot_be_cut_says_why(market, run_id, why):
    with pytest.raises(EditError, match=why):
        insert_inline(market, run_id, gauge(), 0.5, 0.3)


def test_what_has_one_port_does_not_go_between(market):
    with pytest.raises(EditError, match="not made to stand in a line"):
        insert_inline(market, "pump-line", market.item("jug").specification, 0.5, 0.3)


def test_a_tube_with_a_free_end_is_not_cut():
    cart = build(tank("jug"), tube("jug", None, run_id="line"))
    assert isinstance(cart.run("line"), TubeRun)
    with pytest.raises(EditError, match="only a tube"):
        insert_inline(cart, "line", gauge(), 0.5, 0.3)


def test_between_two_things_of_the_venue_it_stands_there_too(market):
    cart = build(
        tank("jug", level=VENUE),
        tap("sink", level=VENUE, at=("60 in", "-20 in")),
        tube("jug", "sink", run_id="line"),
    )
    after, new_id = insert_inline(cart, "line", gauge(), 1.0, 0.0)
    assert after.item(new_id).level == VENUE
