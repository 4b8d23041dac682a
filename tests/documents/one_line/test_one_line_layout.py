"""Laying out any diagram: nothing on anything else, nothing lost, nothing larger than its page.

What must always hold, tried on random graphs; there is no table to look it up in.
"""

import networkx as nx
import pytest
from documents.one_line.drawn import lines_along_each_other, overlaps
from hypothesis import given, settings
from hypothesis import strategies as st

from cartlayout.documents.one_line.cutting import Room, pieces
from cartlayout.documents.one_line.drawing import pictures, scaled
from cartlayout.documents.one_line.heights import spread
from cartlayout.documents.one_line.layers import crossings
from cartlayout.documents.one_line.model import Diagram, Link, Part, Words
from cartlayout.documents.one_line.places import laid
from cartlayout.documents.plan.picture import Box
from cartlayout.documents.sheet.elements import TextItem

NAMES = st.sampled_from(["Pump", "Espresso machine", "A · 20 A · 120 V", "Strip", "Tee", "–"])
SYMBOLS = st.sampled_from(
    ["load", "breaker", "breaker us", "receptacle", "pump", "filter", "tee", "bar", "tank",
     "accumulator", "gauge", "reference in"]
)  # fmt: skip
LETTER = Room(259.0, 138.0)


@st.composite
def diagrams(draw: st.DrawFn, most: int = 14) -> Diagram:
    """Any parts, any links between them: rings, second links and links to itself too."""
    count = draw(st.integers(1, most))
    parts = [
        Part(
            f"p{at}",
            draw(SYMBOLS.filter(lambda one: not one.startswith("reference"))),
            tuple(Words(draw(NAMES), 600 if line == 0 else 400)
                  for line in range(draw(st.integers(0, 4)))),
            draw(st.sampled_from(["", "", "stop", "care"])),
            draw(st.booleans()),
        )
        for at in range(count)
    ]  # fmt: skip
    ends = st.integers(0, count - 1)
    pairs = draw(st.lists(st.tuples(ends, ends), max_size=count * 2))
    links = [
        Link(
            f"l{at}",
            f"p{a}",
            f"p{b}",
            tuple(Words(draw(NAMES)) for _ in range(draw(st.integers(0, 2)))),
            tuple(Words(draw(NAMES)) for _ in range(draw(st.integers(0, 3)))),
            flow=draw(st.sampled_from([-1, 0, 1])),
        )
        for at, (a, b) in enumerate(pairs)
    ]
    return Diagram(tuple(parts), tuple(links))


@st.composite
def trees(draw: st.DrawFn, most: int = 40) -> Diagram:
    """A tree with words everywhere."""
    count = draw(st.integers(1, most))
    parts = tuple(
        Part(f"p{at}", "load" if at else "panel", (Words(f"Part {at}", 600), Words("13.8 A")))
        for at in range(count)
    )
    links = tuple(
        Link(f"l{at}", f"p{draw(st.integers(0, at - 1))}", f"p{at}", (Words("5-15P"),))
        for at in range(1, count)
    )
    return Diagram(parts, links)


@settings(max_examples=150, deadline=None)
@given(diagram=diagrams())
def test_nothing_lies_on_anything_else(diagram: Diagram):
    for piece in pieces(diagram, Room(10_000.0, 10_000.0)):
        assert overlaps(piece.elements) == []
        assert lines_along_each_other(piece) == []


@settings(max_examples=60, deadline=None)
@given(diagram=trees())
def test_a_tree_has_straight_chains_and_no_crossings(diagram: Diagram):
    whole = laid(diagram)
    assert overlaps(whole.elements) == []
    children: dict[str, list[str]] = {}
    for link in diagram.links:
        children.setdefault(link.a, []).append(link.b)
    for parent, under in children.items():
        heights = [whole.middles[key][1] for key in under]
        assert whole.middles[parent][1] == pytest.approx((min(heights) + max(heights)) / 2)
    # Lines to neighbours in one column cross only if their ends are in another order.
    for link in diagram.links:
        for other in diagram.links:
            starts = whole.middles[link.a][1] - whole.middles[other.a][1]
            stops = whole.middles[link.b][1] - whole.middles[other.b][1]
            if whole.ranks[link.a] == whole.ranks[other.a]:
                assert starts * stops >= 0.0


@settings(max_examples=80, deadline=None)
@given(diagram=diagrams(), width=st.sampled_from([90.0, 160.0, 259.0]))
def test_cutting_loses_nothing(diagram: Diagram, width: float):
    room = Room(width, 100.0)
    found = pieces(diagram, room)
    own = [part.key for piece in found for part in piece.diagram.parts
           if not part.symbol.startswith("reference")]  # fmt: skip
    assert sorted(own) == sorted(part.key for part in diagram.parts)
    # Every link is drawn whole or has a reference at both of its ends; all its words are there.
    for link in diagram.links:
        if link.a == link.b:
            continue
        drawn = [one for piece in found for one in piece.diagram.links
                 if one.key == link.key or one.key.startswith(f"{link.key} ")]  # fmt: skip
        assert drawn
        assert any(one.above == link.above and one.below == link.below for one in drawn)
    for piece in found:
        assert overlaps(piece.elements) == []
    _references_pair_up(found)


def _references_pair_up(found) -> None:
    leaving = [part.words[0].text for piece in found for part in piece.diagram.parts
               if part.symbol == "reference out"]  # fmt: skip
    entering = [part.words[0].text for piece in found for part in piece.diagram.parts
                if part.symbol == "reference in"]  # fmt: skip
    assert set(leaving) == set(entering)


@settings(max_examples=40, deadline=None)
@given(diagram=trees(80))
def test_pieces_of_a_tree_fit_a_page(diagram: Diagram):
    for piece in pieces(diagram, LETTER):
        assert LETTER.holds(piece)


@settings(max_examples=60, deadline=None)
@given(diagram=diagrams(), cut=st.sampled_from([LETTER, Room(160.0, 100.0)]))
def test_the_way_along_references_is_the_way_of_the_links(diagram: Diagram, cut: Room):
    """Joined at their numbers again, the pieces hang together as the whole did."""
    whole = nx.Graph()
    whole.add_nodes_from(part.key for part in diagram.parts)
    whole.add_edges_from((link.a, link.b) for link in diagram.links)
    joined = nx.Graph()
    for piece in pieces(diagram, cut):
        for part in piece.diagram.parts:
            joined.add_node(_joint(part))
        for link in piece.diagram.links:
            joined.add_edge(*(_joint(piece.diagram.part(key)) for key in (link.a, link.b)))
    groups = [frozenset(key for key in one if not key.startswith("ref "))
              for one in nx.connected_components(joined)]  # fmt: skip
    assert set(groups) == {frozenset(one) for one in nx.connected_components(whole)}


def _joint(part: Part) -> str:
    return f"ref {part.words[0].text}" if part.symbol.startswith("reference") else part.key


def test_a_page_too_small_is_drawn_smaller_rather_than_cut_off():
    part = Part("a", "load", tuple(Words(f"line {at}") for at in range(30)))
    room = Room(100.0, 40.0)
    (picture,) = pictures(Diagram((part,), ()), room)
    box = Box(10.0, 10.0, 100.0, 40.0)
    drawn = picture.draw(box)
    texts = [one for one in drawn.elements if isinstance(one, TextItem)]
    assert len(texts) == 30
    assert all(box.holds(one.box) for one in texts)


def test_scaling_halves_places_and_letters():
    text = TextItem(10.0, 20.0, "5 A", 3.0)
    assert scaled(text, 0.5) == TextItem(5.0, 10.0, "5 A", 1.5)


def test_places_that_would_fall_are_pooled():
    """Isotonic regression by hand (Barlow and others, 1972): 3, 1 pool to their mean 2; 5 stays."""
    assert spread([3.0, 1.0, 5.0], [1.0, 1.0, 1.0], [0.0, 0.0]) == pytest.approx([2.0, 2.0, 5.0])
    # Weighed: (3 * 3 + 1 * 1) / 4 = 2.5.
    assert spread([3.0, 1.0], [3.0, 1.0], [0.0]) == pytest.approx([2.5, 2.5])
    # Two that want the same place part evenly.
    assert spread([4.0, 4.0], [1.0, 1.0], [2.0]) == pytest.approx([3.0, 5.0])


def test_crossings_are_counted_as_one_counts_them_by_eye():
    """Lines cross where their order at one end is not that at the other."""
    columns = [["a", "b", "c"], ["x", "y", "z"]]
    assert crossings(columns, {"a": ["x"], "b": ["y"], "c": ["z"]}) == 0
    assert crossings(columns, {"a": ["y"], "b": ["x"], "c": ["z"]}) == 1
    assert crossings(columns, {"a": ["z"], "b": ["y"], "c": ["x"]}) == 3
    assert crossings(columns, {"a": ["x", "z"], "b": ["y"]}) == 1
