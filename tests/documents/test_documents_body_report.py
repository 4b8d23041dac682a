"""The body in the reports: the same numbers for the window, the terminal and the JSON."""

import json

import building as b
import pytest

from cartlayout.analysis import analyse
from cartlayout.build import Build, Caster, Passage, Venue
from cartlayout.documents.body_lines import body_lines, item_lines
from cartlayout.documents.json_report import json_report
from cartlayout.documents.text_report import text_report
from cartlayout.stock import entry, placed
from cartlayout.units import Length, Mass, UnitSystem


def small() -> Build:
    casters = tuple(
        Caster(x=Length(x), y=Length(y), rating=Mass("90 kg"))
        for x in ("0 in", "72 in") for y in ("0 in", "30 in")
    )  # fmt: skip
    cart = b.cart(casters=casters, empty_mass=Mass("60 kg"), operator_side="front",
                  centre_of_mass_height=Length("20 in"))  # fmt: skip
    door = Passage(name="Back door", kind="door", width=Length("29 in"))
    machine = b.item("machine", mass="30 kg", at=("36 in", "15 in"), spec={"operated": True})
    return b.build(machine, b.tank("jug", "5 gal", mass="1 kg", at=("60 in", "15 in")),
                   cart=cart, venue=Venue(passages=(door,)))  # fmt: skip


def test_the_lines_are_those_of_a_hand_calculation() -> None:
    lines = {one.label: one for one in body_lines(analyse(small()), UnitSystem.METRIC)}
    # 60 + 30 + 1 kg, and 18.9 kg of water (5 US gal, IAPWS-95) more when it is full.
    assert lines["Mass"].value == "91 to 110 kg"
    assert (lines["Back door"].value, lines["Back door"].state) == (
        "too wide, 762 of 737 mm", "stop",
    )  # fmt: skip
    # Base: 72 x 30 in, the jug takes 10 x 10 in of it.
    assert lines["Free on base"].value.startswith("95 %")
    assert lines["Counter"].value == "914 mm high"
    assert lines["Heaviest lift"].value == "machine, 30 kg"
    # 110 kg x 9.81 m/s2: 2 % to roll, 4 % to start (common practice, no source).
    assert lines["Push, level"].value == "43 start, 22 N roll"
    for label in ("Tilts at", "Worst caster", "Push, level", "Heaviest lift", "Counter"):
        assert any(
            word in lines[label].tip for word in ("IEC", "guideline", "NIOSH", "ADA", "caster")
        )


def test_an_item_says_its_weight_and_its_reach() -> None:
    analysis = analyse(small())
    machine = {one.label: one.value for one in item_lines(analysis, "machine", UnitSystem.US)}
    # 30 kg are 66 lb; its front is 10 in from the operator's edge.
    assert machine == {"Weighs": "66 lb", "Reach": "10.0 of 25.0 in"}
    jug = {one.label: one.value for one in item_lines(analysis, "jug", UnitSystem.METRIC)}
    assert jug == {"Weighs": "1 kg, 20 kg full"}
    assert item_lines(analysis, "nobody", UnitSystem.US) == ()


def test_the_terminal_has_a_section_for_the_body() -> None:
    text = text_report(analyse(small()), UnitSystem.METRIC)
    section = text.split("\nBody\n")[1].split("\n\n")[0]
    assert "Back door        too wide, 762 of 737 mm  <- see findings" in section
    assert "Mass             91 to 110 kg\n" in section


def test_the_json_carries_numbers_and_no_text_of_units() -> None:
    body = json.loads(json.dumps(json_report(analyse(small()), UnitSystem.US)))["body"]
    assert body["full"]["mass_kg"] == pytest.approx(60 + 30 + 1 + 18.893, abs=0.01)
    assert body["full"]["filled"] == {"jug": 1.0}
    assert body["passages"][0]["checks"][0]["limit"] == pytest.approx(29 * 0.0254)
    assert [level["level"] for level in body["levels"]] == ["counter", "shelf", "base"]
    assert body["feet"]["thirds_kg"] == pytest.approx(109.9 / 3, abs=0.01)
    assert {one["edge"] for one in body["tilts"]} == {"front", "rear", "left", "right"}


def test_an_empty_cart_has_little_to_say_and_says_it() -> None:
    labels = [one.label for one in body_lines(analyse(b.build()), UnitSystem.US)]
    assert labels == ["Free on base", "Counter"]


def test_what_is_light_does_not_weigh_nothing() -> None:
    """A gauge of 0.2 kg weighs 0.4 lb (1 lb = 0.45359237 kg)."""
    build, (gauge,) = placed(small(), entry("gauge"), "base", 0.3, 0.2)
    mass = build.item(gauge).specification.mass.si
    (line, *_) = item_lines(analyse(build), gauge, UnitSystem.US)
    assert line.label == "Weighs"
    assert line.value == f"{mass / 0.45359237:.1f} lb"
    assert line.value != "0 lb"
