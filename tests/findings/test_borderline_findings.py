"""What is just over a limit says a number that is over it, in both units."""

import re

import building as b
import pytest
from hypothesis import HealthCheck, given, settings
from random_body import bodies

from cartlayout.analysis import analyse
from cartlayout.body import solve_body
from cartlayout.build import Build, Cart, Caster
from cartlayout.findings import Finding
from cartlayout.findings.body_rules import rules
from cartlayout.units import Length, Mass, Phrase, UnitSystem, Value

NO_WORDS = Phrase("")


def cart_of(base: str) -> Cart:
    """On casters at its corners, all its mass in the middle and 0.90 m up."""
    casters = tuple(
        Caster(x=Length(x), y=Length(y), rating=Mass("200 kg"))
        for x in ("0 m", base) for y in ("0 m", "0.9 m")
    )  # fmt: skip
    return b.cart(
        base, casters=casters, empty_mass=Mass("80 kg"), centre_of_mass_height=Length("0.90 m")
    )


def test_a_cart_just_short_of_the_lean_says_by_how_much() -> None:
    # Statics: half of 0.316 m over 0.90 m is the tangent of 9.957 degrees; 10 are asked.
    build = b.build(cart=cart_of("0.316 m"))
    found = {one.code: one for one in rules(build, solve_body(build))}
    tilt = found["body.tilt"]
    for system in UnitSystem:
        assert "9.96°" in tilt.title.shown(system)
        assert "10°" in tilt.detail.shown(system)
        assert tilt.value is not None
        assert tilt.value.shown(system) == "9.96°"


def test_a_finding_tells_number_and_limit_apart_wherever_they_stand() -> None:
    value, limit = Value(23.1, "mass"), Value(23.0, "mass")
    finding = Finding(
        "note",
        "test",
        Phrase.of("A lift of {mass}", mass=value),
        Phrase.of("One person lifts {limit}.", limit=limit),
        value=value,
        limit=limit,
        working=(Phrase.of("{mass} in all", mass=value),),
    )
    assert finding.title.shown(UnitSystem.US) == "A lift of 50.9 lb"
    assert finding.detail.shown(UnitSystem.US) == "One person lifts 50.7 lb."
    assert finding.working[0].shown(UnitSystem.METRIC) == "23.1 kg in all"
    assert Finding("note", "test", NO_WORDS, NO_WORDS, value=value).value == value


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(bodies())
def test_no_finding_says_a_number_like_its_limit(build: Build) -> None:
    for finding in analyse(build).findings:
        value, limit = finding.value, finding.limit
        if value is None or limit is None or value.dimension != limit.dimension:
            continue
        if value.si == pytest.approx(limit.si, rel=2e-3):
            continue
        for system in UnitSystem:
            assert value.shown(system) != limit.shown(system)
            assert not re.search(r"(\d[\d.,]*) of \1 ", finding.title.shown(system))
