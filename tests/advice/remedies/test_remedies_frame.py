"""The frame of remedies: what counts as gone, what harms, order, stopping, reasons.

Logic of our own: no source outside.
"""

import itertools
import re
from dataclasses import replace
from pathlib import Path

import building as b
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from remedies_asking import offered, said

import cartlayout.findings
from cartlayout.advice.remedies import (
    Candidate,
    Mended,
    Remedy,
    Tried,
    all_remedies,
    best_first,
    by_finding,
    changes,
    key_of,
    mend,
    mended,
    remedies,
    why_none,
)
from cartlayout.advice.remedies.find import MOST_GOOD, worth
from cartlayout.advice.remedies.sources import has_sources
from cartlayout.advice.remedies.trial import Trials
from cartlayout.analysis import analyse
from cartlayout.build.edits import EditError, move_to
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.findings import Finding, body_clashes, network_rules
from cartlayout.units import Phrase, UnitSystem, Value

INCH = 0.0254


def finding(code: str, *items: str, severity: str = "stop", value: float | None = None) -> Finding:
    limit = None if value is None else Value(10.0, "current")
    number = None if value is None else Value(value, "current")
    return Finding(severity, code, Phrase(code), Phrase(""), items, value=number, limit=limit)


# --- what has become of a finding -----------------------------------------------------------


def test_the_same_items_are_the_same_finding() -> None:
    old, new = finding("a", "x", value=12.0), finding("a", "x", value=11.0)
    found = changes([old], [new])
    assert (found.gone, found.come) == ((), ())
    assert found.after(old) is new


def test_a_limit_of_another_sort_is_no_smaller_worry() -> None:
    """A lift that did not carry the cart, and does now not take it in: a new thing to stop for."""
    heavy = replace(finding("body.lift", value=40.0), value=Value(40.0, "mass"))
    high = replace(finding("body.lift", "grinder", value=11.0), value=Value(11.0, "length"))
    assert changes([heavy], [high]).worse == (high,)
    assert changes([heavy], [replace(heavy, value=Value(39.0, "mass"))]).worse == ()


def test_one_load_fewer_is_the_same_overload_still() -> None:
    old, new = finding("power.total", "x", "y"), finding("power.total", "x")
    found = changes([old], [new])
    assert found.after(old) is new
    assert found.gone == ()


def test_another_circuit_is_another_overload() -> None:
    def on(letter: str, *items: str) -> Finding:
        title = Phrase.of("Circuit {letter}", letter=letter)
        return Finding("stop", "power.total", title, Phrase(""), items)

    old, new = on("A", "x", "y"), on("B", "x", "z")
    found = changes([old], [new])
    assert found.gone == (old,)
    assert found.come == (new,)
    twins = [on("A", "x"), on("B", "x")]
    assert changes(twins, [on("B", "x")]).gone == (twins[0],)


def test_what_gets_graver_has_come_and_what_gets_further_out_is_worse() -> None:
    care, stop = finding("a", "x", severity="care"), finding("a", "x")
    assert changes([care], [stop]).come == (stop,)
    assert changes([stop], [care]).come == ()
    far = finding("a", "x", value=14.0)
    assert changes([finding("a", "x", value=12.0)], [far]).worse == (far,)
    assert changes([far], [finding("a", "x", value=12.0)]).worse == ()


def test_not_knowing_and_knowing_are_one_worry() -> None:
    unknown = finding("power.leakage-protection-unknown", "o", severity="care")
    known = finding("power.no-leakage-protection", "o")
    assert changes([unknown], [known]).after(unknown) is known


@settings(max_examples=200)
@given(
    st.lists(st.tuples(st.sampled_from("ab"), st.sets(st.sampled_from("xyz"))), max_size=6),
    st.lists(st.tuples(st.sampled_from("ab"), st.sets(st.sampled_from("xyz"))), max_size=6),
)
def test_every_finding_is_accounted_for_once(before, after) -> None:
    old = [finding(code, *sorted(items)) for code, items in before]
    new = [finding(code, *sorted(items)) for code, items in after]
    found = changes(old, new)
    assert len(found.gone) + len(found.stayed) == len(old)
    assert len(found.come) + len(found.stayed) == len(new)
    same = changes(old, old)
    assert (same.gone, same.come, same.worse) == ((), (), ())


# --- trials ----------------------------------------------------------------------------------


def crowded():
    return b.build(b.item("a", at=("20 in", "15 in")), b.item("c", at=("27 in", "15 in")))


def test_a_candidate_that_cannot_be_done_or_changes_nothing_is_no_remedy() -> None:
    analysis, over = said(crowded(), "body.overlap")
    trials = Trials(analysis)

    def refused():
        raise EditError("no")

    for make in (refused, lambda: analysis.build, crowded):
        assert trials.attempt(over, Candidate("x", Phrase("X"), 0, make)) is None
    assert trials.count == 0


def test_a_candidate_that_brings_a_stop_is_no_remedy() -> None:
    """Out of one body, over the edge of the cart."""
    analysis, over = said(crowded(), "body.overlap")
    trials = Trials(analysis)
    bad = Candidate("x", Phrase("X"), 0, lambda: move_to(analysis.build, "a", 0.0, 15 * INCH))
    assert trials.attempt(over, bad) is None
    assert trials.harmful is not None
    assert {one.code for one in trials.harmful.stops} == {"body.overhang"}
    good = Candidate("x", Phrase("X"), 0, lambda: move_to(analysis.build, "a", 16 * INCH, 0.381))
    assert trials.attempt(over, good) is not None


def test_a_finding_of_another_analysis_is_known_by_what_it_is_about() -> None:
    """Made anew, it is another object; and what is not said at all cannot be taken away."""
    analysis, _ = said(crowded(), "body.overlap")
    _, again = said(crowded(), "body.overlap")
    trials = Trials(analysis)
    nothing = Candidate("x", Phrase("X"), 0, lambda: move_to(analysis.build, "a", 0.5, 0.2))
    aside = Candidate("x", Phrase("X"), 0, lambda: move_to(analysis.build, "a", 16 * INCH, 0.381))
    assert trials.attempt(again, nothing) is None
    assert trials.attempt(again, aside) is not None
    assert trials.attempt(finding("body.overlap", "p", "q"), aside) is None


def test_the_same_copy_is_analysed_once() -> None:
    analysis, over = said(crowded(), "body.overlap")
    trials = Trials(analysis)
    one = Candidate("x", Phrase("X"), 0, lambda: move_to(analysis.build, "a", 16 * INCH, 0.381))
    assert trials.attempt(over, one) is not None
    assert trials.attempt(over, one) is not None
    assert trials.count == 1


def test_the_build_that_is_mended_stays_as_it_is() -> None:
    made = crowded()
    analysis = analyse(made)
    before = analysis.findings
    list(all_remedies(analysis))
    mended(analysis)
    assert analysis.build is made
    assert analysis.findings == before == analyse(crowded()).findings


def test_a_change_that_harms_goes_with_what_mends_the_harm() -> None:
    """A jug too tall for the base; the board above feeds a box by a cord of just its way."""
    cord = b.cord("14 AWG", "4.2 ft")
    made = b.build(
        b.item("jug", size=("68 in", "26 in", "31 in"), level="base", at=("36 in", "14 in")),
        b.load("till", 60, cord=cord, at=("36 in", "5 in")),
        b.outlet("wall", electrical={"gfci": True}),
        b.wire("till", "wall.1"),
        b.item("full", size=("70 in", "18 in", "40 in"), at=("36 in", "20 in"), locked=True),
        cart=b.cart(),
    )
    found = offered(made, "body.height")
    assert found
    assert all(not [one for one in each.come if one.severity == "stop"] for each in found)


# --- searching -------------------------------------------------------------------------------


def test_a_search_can_be_left_between_any_two_candidates() -> None:
    analysis, over = said(crowded(), "body.overlap")
    steps = list(remedies(analysis, over))
    found = [one for one in steps if isinstance(one, Remedy)]
    assert 0 < len(found) <= MOST_GOOD
    for one, other in itertools.pairwise(steps):
        assert isinstance(one, Tried) or isinstance(other, Tried)
    assert all(one.done <= one.whole for one in steps if isinstance(one, Tried))
    some = list(itertools.islice(remedies(analysis, over), 2))
    assert len(some) == 2


def test_the_best_comes_first() -> None:
    found = offered(crowded(), "body.overlap")
    costs = [(one.partly, worth(one)) for one in found]
    assert costs == sorted(costs)
    assert best_first(reversed(found))[0].effort == found[0].effort


def test_nothing_is_done_to_more_things_than_it_has_to_be(monkeypatch) -> None:
    """One body moved aside is enough; both moved by the same kind of change is not offered."""
    analysis, over = said(crowded(), "body.overlap")

    def one():
        return move_to(analysis.build, "a", 16 * INCH, 15 * INCH)

    def both():
        return move_to(one(), "c", 28 * INCH, 15 * INCH)

    tried = [
        Candidate("move", Phrase("One"), 0, one, ("a",)),
        Candidate("move", Phrase("Both"), 0, both, ("a", "c")),
        Candidate("other", Phrase("Both otherwise"), 0, both, ("a", "c")),
    ]
    monkeypatch.setattr("cartlayout.advice.remedies.find.candidates", lambda *_: iter(tried))
    found = by_finding(remedies(analysis, over))[key_of(over)]
    assert [str(one.title.shown(UnitSystem.US)) for one in found] == ["One", "Both otherwise"]


# --- mending ---------------------------------------------------------------------------------


def test_mending_ends_with_what_was_done() -> None:
    steps = list(mend(analyse(crowded())))
    assert all(isinstance(one, Tried) for one in steps[:-1])
    result = steps[-1]
    assert isinstance(result, Mended)
    assert result.after.count("stop") == 0
    assert len(result.steps) == 1


def test_of_one_stop_the_remedy_is_taken_that_stands_first() -> None:
    """16 in high on a shelf with 15 in above it: it goes elsewhere, or levels are moved."""
    made = b.build(b.item("a", size=("10 in", "10 in", "16 in"), level="shelf"))
    best, *others = offered(made, "body.height")
    assert worth(best) < max(map(worth, others))
    (step,) = mended(analyse(made)).steps
    assert worth(step) == worth(best)


def test_what_is_not_wanted_is_left_out() -> None:
    analysis = analyse(crowded())
    first = mended(analysis)
    again = mended(analysis, [one.title for one in first.steps])
    assert not {one.title for one in again.steps} & {one.title for one in first.steps}


def test_what_nothing_helps_against_remains_with_its_reason() -> None:
    made = b.build(
        b.item("a", at=("20 in", "15 in"), locked=True),
        b.item("c", at=("27 in", "15 in"), locked=True),
        b.item("d", at=("69 in", "15 in")),
    )
    result = mended(analyse(made))
    assert [one.finding.code for one in result.remaining] == ["body.overlap"]
    assert result.remaining[0].reason.endswith(".")
    assert [one.finding[0] for one in result.steps] == ["body.overhang"]


def test_no_step_is_needless() -> None:
    """Leaving any one of them out leaves a stop."""
    analysis = analyse(load(sample_builds() / "market_cart_first_try.cart"))
    result = mended(analysis)
    assert result.after.count("stop") == 0
    for one in result.steps:
        without = mended(analysis, [one.title])
        assert one.title not in {each.title for each in without.steps}
    stops = {key_of(one) for one in analysis.findings if one.severity == "stop"}
    helped = {key_of(one) for step in result.steps for one in step.gone}
    assert stops <= helped


# --- something for everything ----------------------------------------------------------------

_FOLDER = Path(cartlayout.findings.__file__).parent
_GENERIC = "Nothing that was tried"


def _codes() -> list[str]:
    """Every code that the rules may say, read from their sources."""
    found: set[str] = set()
    for path in sorted(_FOLDER.glob("*.py")):
        if path.name == "network_rules.py":
            continue  # its codes stand without "network." before them
        text = path.read_text()
        found |= set(re.findall(r'"((?:power|body|water|network|module)\.[a-z][a-z.-]*)"', text))
        if path.name.startswith("power_"):
            found |= {
                f"power.{code}"
                for code in re.findall(r'words\.finding\(\s*[^,]+,\s*"([a-z-]+)"', text)
            }
    found |= {f"body.{code}" for code in body_clashes._SAID}
    found |= {f"network.{code}" for code in network_rules._SAID}
    for kind in ("door", "lift", "ramp", "vehicle"):
        found |= {f"body.{kind}"}
    found |= {f"body.{kind}-{what}" for kind in ("ramp", "vehicle") for what in ("grade", "push")}
    return sorted(found)


@pytest.mark.parametrize("code", _codes())
def test_every_code_has_candidates_or_a_reason(code: str) -> None:
    assert has_sources(code) or not why_none(finding(code, "x")).startswith(_GENERIC)
