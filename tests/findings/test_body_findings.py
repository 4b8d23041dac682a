"""What is said about the body: every sort of clash has words, and limits come with their source."""

import building as b
import pytest
from hypothesis import HealthCheck, given, settings
from msgspec.structs import replace
from random_body import bodies

from cartlayout.analysis import analyse
from cartlayout.body import solve_body
from cartlayout.build import Build, Cart, Caster, Passage, Strip, Venue
from cartlayout.documents.body_lines import body_lines
from cartlayout.findings import Finding
from cartlayout.findings.body_rules import rules
from cartlayout.units import Current, Length, Mass, UnitSystem


def found(build: Build) -> dict[str, Finding]:
    return {one.code: one for one in rules(build, solve_body(build))}


def wheeled(width: str = "24 in", mass: str = "80 kg", rating: str = "200 kg", **more) -> Cart:  # type: ignore[no-untyped-def]
    casters = tuple(
        Caster(x=Length(x), y=Length(y), rating=Mass(rating))
        for x in ("0 in", width) for y in ("0 in", "30 in")
    )  # fmt: skip
    return b.cart(width, casters=casters, empty_mass=Mass(mass), **more)


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(bodies())
def test_whatever_is_drawn_is_put_in_words_in_both_units(build: Build) -> None:
    for finding in rules(build, solve_body(build)):
        for system in UnitSystem:
            assert "{" not in finding.text(system)
        if finding.limit is not None:
            assert finding.source
    analysis = analyse(build)
    for system in UnitSystem:
        assert all(line.label and line.value for line in body_lines(analysis, system))


def test_a_tall_narrow_cart_tips() -> None:
    # A base of 0.30 m under a centre at 0.90 m goes over at 9.46 degrees (statics).
    cart = wheeled("0.30 m", centre_of_mass_height=Length("0.90 m"))
    finding = found(b.build(cart=cart))["body.tilt"]
    assert finding.severity == "stop"
    assert finding.value is not None
    assert finding.value.si == pytest.approx(9.46, abs=0.005)
    assert "60335-1" in finding.source
    assert "arctan" in finding.working[0].template


def test_a_weak_caster_stops_and_a_slim_one_is_a_care() -> None:
    middle = Length("10 in")
    weak = found(b.build(cart=wheeled("72 in", "200 kg", "45 kg", centre_of_mass_height=middle)))
    assert weak["body.caster"].severity == "stop"  # 200 / 4 = 50 kg on each
    slim = found(b.build(cart=wheeled("72 in", "200 kg", "60 kg", centre_of_mass_height=middle)))
    assert slim["body.caster-rule"].severity == "care"  # 200 / 3 = 66.7 kg asked
    assert "body.caster" not in slim
    good = found(b.build(cart=wheeled("72 in", "200 kg", "70 kg", centre_of_mass_height=middle)))
    assert not {"body.caster", "body.caster-rule"} & set(good)


def test_a_door_that_is_too_narrow_stops_and_says_straight_on() -> None:
    door = Passage(name="Side door", kind="door", width=Length("28 in"))
    finding = found(b.build(venue=Venue(passages=(door,))))["body.door"]
    assert finding.severity == "stop"
    assert "straight on" in finding.detail.template


def test_water_over_a_strip_is_a_care() -> None:
    jug = b.tank("jug", at=("36 in", "15 in"), level="shelf", size=("10 in", "10 in", "10 in"))
    strip = b.item("strip", electrical=Strip(rating=Current("15 A")), level="base",
                   at=("36 in", "15 in"), size=("14 in", "2 in", "2 in"))  # fmt: skip
    shielded = found(b.build(jug, strip))
    assert shielded["body.drip-shielded"].severity == "note"
    assert shielded["body.drip-shielded"].items == ("strip", "jug")
    beside = b.tank("jug", at=("36 in", "20.5 in"), level="base")
    assert found(b.build(beside, strip))["body.drip"].severity == "care"


def test_a_counter_is_held_against_36_inches_where_that_is_the_rule() -> None:
    # 2010 ADA Standards 904.4.1: 36 in at most, for fixed counters.
    usual = b.cart()
    level = usual.levels[0]
    levels = (replace(level, height=Length("38 in")), *usual.levels[1:])
    high = replace(usual, levels=levels)
    finding = found(b.build(cart=high))["body.counter-height"]
    assert finding.severity == "note"
    assert "fixed counters" in finding.detail.template
    assert "body.counter-height" not in found(b.build())
    assert "body.counter-height" not in found(b.build(cart=high, region="EU"))


def test_a_heavy_module_is_a_care_and_a_machine_a_note() -> None:
    # NIOSH load constant: 23 kg.
    module = b.item("a", mass="30 kg", group="pump set", travels=False)
    assert found(b.build(module))["body.lift"].severity == "care"
    assert found(b.build(b.item("a", mass="30 kg")))["body.lift"].severity == "note"
    assert "body.lift" not in found(b.build(b.item("a", mass="22 kg")))


def test_a_ramp_says_its_grade_and_its_push_apart() -> None:
    # 2010 ADA Standards 405.2: 1:12. 150 kg x 9.81 m/s2 / 10 = 147 N, and 29 N to roll, are
    # more than 25 lb (111 N) over 10 ft.
    ramp = Passage(name="Dock", kind="ramp", width=Length("40 in"), rise=Length("1 ft"),
                   length=Length("10.5 ft"))  # fmt: skip
    build = b.build(cart=wheeled("72 in", "150 kg"), venue=Venue(passages=(ramp,)))
    said = found(build)
    assert (said["body.ramp-grade"].severity, said["body.ramp-push"].severity) == ("care", "care")
    assert "body.ramp" not in said
    line = next(one for one in body_lines(analyse(build), UnitSystem.US) if one.label == "Dock")
    assert (line.value, line.state) == ("steep, 9.6 of 8.3 %", "care")


def test_names_with_braces_are_only_names() -> None:
    tall = b.item("a", size=("10 in", "10 in", "40 in"), label="{tall} {0}")
    low = Passage(name="{way}", kind="door", width=Length("32 in"), height=Length("50 in"))
    build = b.build(tall, b.item("n", at=("38 in", "15 in"), label="{n}"),
                    venue=Venue(passages=(low,)))  # fmt: skip
    texts = [one.text(UnitSystem.US) for one in rules(build, solve_body(build))]
    assert any("{tall} {0} sticks up highest" in text for text in texts)
    assert any(text.startswith("The cart does not go through {way}") for text in texts)
