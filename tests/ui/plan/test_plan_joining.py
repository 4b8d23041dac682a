"""Wires, tubes, plugs and bends on the plan with real mouse events."""

import itertools

import pytest
from PySide6.QtCore import Qt

from cartlayout.build import End, TubeRun, Wire
from cartlayout.build.geometry import end_position
from cartlayout.ui.selection import Selection

Key = Qt.Key
INCH = 25.4


def port_place(hand, item, port):
    x, y, _ = end_position(hand.session.build, End(item=item, port=port))
    return x * 1000, y * 1000


def run_between(hand, item, other):
    found = [
        run
        for run in hand.session.shown.runs
        if run.b is not None and {run.a.item, run.b.item} == {item, other}
    ]
    return found[0] if found else None


def test_ports_appear_on_hover(hand):
    hand.hover((40 * INCH, 27 * INCH))
    kinds = {(one.kind, one.item) for one in hand.view.plan.handles.handles}
    assert ("port", "kettle") not in kinds
    hand.hover(hand.middle("kettle"))
    assert any(
        one.kind == "port" and one.item == "kettle" for one in hand.view.plan.handles.handles
    )


def test_dragging_from_a_plug_to_an_outlet_runs_a_wire(hand):
    hand.hover(hand.middle("kettle"))
    start = hand.handle("port", "kettle", "plug")
    goal = port_place(hand, "outlet-2", "2")
    hand.start(start, goal)
    # Seen before the button is let go: the wire, and the amps of the circuit.
    assert isinstance(run_between(hand, "kettle", "outlet-2"), Wire)
    assert run_between(hand, "kettle", "outlet-2").id in hand.view.plan.runs
    circuit = hand.session.analysis.power.circuit_of("kettle")
    assert "outlet-2" in circuit.items
    # 12.5 A and 3.4 A of heaters on one leg add up (Kirchhoff); the cords take a few percent.
    assert max(circuit.amps.values()) == pytest.approx(15.9, rel=0.05)
    assert hand.undo_texts == []
    hand.release(goal)
    assert hand.undo_texts == ["Plug Kettle into Outlet 2"]
    assert hand.session.selection.runs == (run_between(hand, "kettle", "outlet-2").id,)


def test_only_fitting_ports_light_up(hand):
    hand.hover(hand.middle("kettle"))
    start = hand.handle("port", "kettle", "plug")
    hand.start(start, (40 * INCH, 26 * INCH))
    lit = {tuple(round(one * 1000) for one in place) for place in hand.view.plan.trace.trace.lit}
    # A 5-15P goes into a 5-20R (NEMA WD 6, T-slot): the free one of each outlet, nothing else.
    wanted = {
        tuple(round(one) for one in port_place(hand, "outlet-1", "2")),
        tuple(round(one) for one in port_place(hand, "outlet-2", "2")),
    }
    assert lit == wanted
    hand.key(Key.Key_Escape)
    assert hand.view.plan.trace.trace.lit == ()


def test_a_port_that_does_not_fit_says_why_and_does_nothing(hand):
    build = hand.session.build
    hand.hover(hand.middle("kettle"))
    start = hand.handle("port", "kettle", "plug")
    goal = port_place(hand, "outlet-2", "1")  # the grinder is in it; the outlet has another free
    other = port_place(hand, "rinser", "inlet")
    hand.start(start, other)
    assert hand.view.plan.trace.tip
    assert hand.view.plan.trace.trace.rubber_ok is False
    hand.release(other)
    assert hand.session.build is build
    assert goal is not None
    assert hand.view.plan.trace.tip == ""


def test_dropping_on_a_body_takes_its_best_port(hand):
    hand.session.set_level("base")
    hand.hover(hand.middle("pump"))
    start = hand.handle("port", "pump", "outlet")
    goal = hand.middle("machine")  # ghosted on the counter, still a goal
    hand.drag(start, goal)
    tube = run_between(hand, "pump", "machine")
    assert isinstance(tube, TubeRun)
    ends = {(tube.a.item, tube.a.port), (tube.b.item, tube.b.port)}
    assert ends == {("pump", "outlet"), ("machine", "inlet")}
    assert hand.undo_texts == ["Run a tube from Pump to Machine"]


def test_a_drain_runs_from_the_rinser_to_the_waste_tank(hand):
    hand.hover(hand.middle("rinser"))
    hand.drag(hand.handle("port", "rinser", "drain"), (63 * INCH, 27 * INCH))
    assert run_between(hand, "rinser", "waste") is not None
    assert hand.undo_texts == ["Run a drain from Rinser to Waste tank"]


def test_letting_go_over_the_paper_joins_nothing(hand):
    build = hand.session.build
    hand.hover(hand.middle("kettle"))
    hand.drag(hand.handle("port", "kettle", "plug"), (50 * INCH, 20 * INCH))
    assert hand.session.build is build
    assert not hand.session.previewing


def test_dragging_a_plug_to_another_outlet_moves_the_load(hand):
    wire = run_between(hand, "grinder", "outlet-2")
    goal = port_place(hand, "outlet-1", "2")
    hand.start(hand.handle("plug", wire.id), goal)
    # Both circuits answer before the button is let go.
    power = hand.session.analysis.power
    assert "outlet-1" in power.circuit_of("grinder").items
    amps = {circuit.items[0]: max(circuit.amps.values()) for circuit in power.circuits}
    assert amps["outlet-1"] == pytest.approx(13.8 + 3.4, rel=0.05)
    assert amps["outlet-2"] == pytest.approx(0, abs=0.01)
    hand.release(goal)
    assert hand.undo_texts == ["Plug Grinder into Outlet 1"]
    assert run_between(hand, "grinder", "outlet-1").id == wire.id
    hand.session.undo_stack.undo()
    hand.settle()
    assert run_between(hand, "grinder", "outlet-2").id == wire.id


def test_escape_leaves_the_plug_where_it_was(hand):
    build = hand.session.build
    wire = run_between(hand, "grinder", "outlet-2")
    goal = port_place(hand, "outlet-1", "2")
    hand.start(hand.handle("plug", wire.id), goal)
    hand.key(Key.Key_Escape)
    hand.release(goal)
    assert hand.session.build is build
    assert hand.undo_texts == []


def line_place(hand, run_id):
    """A place on a run that is on no body: the middle of its longest straight piece."""
    points = hand.view.plan.lines[run_id]
    pairs = list(itertools.pairwise(points))
    (x1, y1), (x2, y2) = max(pairs, key=lambda p: abs(p[0][0] - p[1][0]) + abs(p[0][1] - p[1][1]))
    return (x1 + x2) * 500, (y1 + y2) * 500


def test_double_click_adds_a_bend_drag_moves_it_delete_takes_it(hand):
    wire = run_between(hand, "grinder", "outlet-2")
    place = line_place(hand, wire.id)
    hand.double_click(place)
    bent = hand.session.build.run(wire.id)
    assert bent.waypoints
    assert hand.undo_texts == ["Add bend"]
    run_id, index = hand.view.active_bend
    assert run_id == wire.id
    point = bent.waypoints[index]
    assert (point.x.si * 1000, point.y.si * 1000) == pytest.approx(place, abs=5)

    start = hand.handle("bend", wire.id, str(index))
    hand.drag(start, (start[0] + 4 * INCH, start[1] + 2 * INCH))
    moved = hand.session.build.run(wire.id).waypoints[index]
    assert moved.x.si * 1000 == pytest.approx(start[0] + 4 * INCH, abs=INCH)
    assert hand.undo_texts[-1] == "Move bend"

    count = len(hand.session.build.run(wire.id).waypoints)
    hand.click(hand.handle("bend", wire.id, str(index)))
    hand.key(Key.Key_Delete)
    assert len(hand.session.build.run(wire.id).waypoints) == count - 1
    assert hand.session.build.run(wire.id) is not None, "the bend goes, the wire stays"
    assert hand.undo_texts[-1] == "Remove bend"


def test_pulling_a_selected_run_leads_it_another_way_in_one_step(hand):
    wire = run_between(hand, "grinder", "outlet-2")
    place = line_place(hand, wire.id)
    hand.click(place)
    assert hand.session.selection == Selection(runs=(wire.id,))
    hand.drag(place, (place[0] + 5 * INCH, place[1]))
    assert hand.session.build.run(wire.id).waypoints
    assert hand.undo_texts == ["Lead wire another way"]


def test_delete_takes_a_selected_wire(hand):
    wire = run_between(hand, "grinder", "outlet-2")
    hand.click(line_place(hand, wire.id))
    hand.key(Key.Key_Delete)
    assert hand.session.build.run(wire.id) is None
    assert wire.id not in hand.view.plan.runs


def test_overlays_that_are_off_are_neither_drawn_nor_hit(hand):
    wire = run_between(hand, "grinder", "outlet-2")
    place = line_place(hand, wire.id)
    hand.session.set_overlay("power", False)
    assert wire.id not in hand.view.plan.runs
    assert not any(one.kind == "plug" for one in hand.view.plan.handles.handles)
    hand.click(place)
    assert not hand.session.selection


def test_the_end_of_a_tube_can_be_dragged_to_another_port(hand):
    # Machine on the pump first; then its end to the rinser's inlet, same tube.
    hand.session.set_level("base")
    hand.hover(hand.middle("pump"))
    hand.drag(hand.handle("port", "pump", "outlet"), hand.middle("machine"))
    tube = run_between(hand, "pump", "machine")
    hand.session.set_level("counter")
    hand.hover(hand.middle("machine"))
    goal = port_place(hand, "rinser", "inlet")
    hand.start(hand.handle("port", "machine", "inlet"), goal)
    assert run_between(hand, "pump", "rinser").id == tube.id
    assert run_between(hand, "pump", "machine") is None
    hand.release(goal)
    moved = run_between(hand, "pump", "rinser")
    assert moved.id == tube.id
    assert moved.tube == tube.tube
    assert hand.undo_texts[-1] == "Move tube to Rinser"
