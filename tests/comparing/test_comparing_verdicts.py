"""How findings and numbers of two analyses differ."""

from analysis.random_builds import builds
from building import build, load, outlet, wire
from hypothesis import given, settings

from cartlayout.analysis import analyse
from cartlayout.build import Build
from cartlayout.build.file import load as load_file
from cartlayout.comparing import finding_key, turns, verdicts
from cartlayout.data import sample_builds
from cartlayout.findings import Finding
from cartlayout.units import Phrase, UnitSystem


def heavy(watts: float) -> Build:
    return build(
        outlet("a", ways=2),
        load("urn", watts),
        load("oven", 1500),
        wire("urn", "a.1"),
        wire("oven", "a.2"),
    )


@settings(max_examples=25, deadline=None)
@given(made=builds(), other=builds())
def test_every_finding_is_accounted_for(made: Build, other: Build):
    """What is said now is what was said, without what has gone, with what has come."""
    before, after = analyse(made), analyse(other)
    found = verdicts(before, after)
    gone = [one.before for one in found.turns if one.after is None]
    come = [one.after for one in found.turns if one.before is None]
    assert len(before.findings) - len(gone) + len(come) == len(after.findings)
    for one in found.turns:
        if one.before is not None and one.after is not None:
            assert finding_key(one.before) == finding_key(one.after)
    assert [(severity, after.count(severity)) for severity, _, _ in found.counts] == [
        (severity, now) for severity, _, now in found.counts
    ]


@settings(max_examples=25, deadline=None)
@given(made=builds())
def test_the_same_build_turns_nothing(made: Build):
    found = verdicts(analyse(made), analyse(made))
    assert found.turns == ()
    assert found.figures == ()


def test_an_overload_that_is_gone():
    """1,500 and 1,500 W at 120 V are 25 A on 20 A; 500 W less leaves 20.8, 700 less 19.2 A."""
    before, after = analyse(heavy(1500)), analyse(heavy(800))
    found = verdicts(before, after)
    assert "power.total" in {one.before.code for one in found.of("gone") if one.before}
    (circuit,) = [one for one in found.figures if one.subject == "circuit"]
    texts = [one.shown(UnitSystem.US) for one in (circuit.before, circuit.after) if one]
    assert texts == ["25.0 A", "19.2 A"]
    assert circuit.held_before is False


def test_an_overload_that_grows_has_another_number():
    found = verdicts(analyse(heavy(1500)), analyse(heavy(1700)))
    over = [
        one for one in found.of("other number") if one.after and one.after.code == "power.total"
    ]
    assert over


def test_a_stop_is_worse_than_a_care_and_a_care_than_a_note():
    def said(severity: str) -> tuple[Finding, ...]:
        return (Finding(severity, "power.total", Phrase("Too much"), Phrase(""), ("urn",)),)

    stop, care, note = said("stop"), said("care"), said("note")
    for graver, milder in ((stop, care), (care, note), (stop, note)):
        assert [one.way for one in turns(milder, graver)] == ["worse"]
        assert [one.way for one in turns(graver, milder)] == ["better"]
    assert turns(stop, stop) == ()


def test_the_first_try_and_what_became_of_it():
    folder = sample_builds()
    before = analyse(load_file(folder / "market_cart_first_try.cart"))
    after = analyse(load_file(folder / "market_cart.cart"))
    found = verdicts(before, after)
    assert {severity: now for severity, _, now in found.counts}["stop"] == 0
    assert not [one for one in found.of("come", "worse") if one.severity == "stop"]
    turned = {(one.name, one.what) for one in found.figures if one.turned}
    assert ("Pitcher rinser", "pressure, everything open") in turned
