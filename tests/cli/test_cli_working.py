"""`cartlayout check --working`: how the numbers of the findings came about, as text and as JSON."""

import json

from cartlayout.cli import main
from cartlayout.data import sample_builds
from cartlayout.workings.arithmetic import value_of

FAULTY = str(sample_builds() / "market_cart_first_try.cart")


def test_every_number_of_a_finding_is_worked(capsys):
    assert main(["check", FAULTY, "--working"]) == 1
    said = capsys.readouterr().out
    assert "Amps on circuit A: 19.3 A" in said
    assert "I = I₁ + I₂ + I₃ + I₄ + I₅ = 0.14 A + 1 A + 1 A + 3.4 A + 13.8 A = 19.34 A" in said
    assert "typical figures, to be read off the nameplate" in said
    assert said.rstrip().endswith("the local code decide.")


def test_without_it_nothing_is_worked(capsys):
    main(["check", FAULTY])
    assert "I = I₁" not in capsys.readouterr().out


def test_json_can_be_worked_out_again(capsys):
    """Whoever reads it may evaluate each step with the numbers beside it."""
    main(["check", FAULTY, "--json"])
    findings = json.loads(capsys.readouterr().out)["findings"]
    told = [one["working"] for one in findings if one["working"] is not None]
    assert len(told) > 8
    for working in told:
        assert working["title"]
        for step in working["steps"]:
            if step["expression"]:
                names = {one["name"]: one["value"]["si"] for one in step["symbols"]}
                found = value_of(step["expression"], names)
                assert abs(found - step["result"]["si"]) <= 1e-5 * abs(found) + 0.1


def test_units_of_the_person(capsys):
    main(["check", FAULTY, "--working", "--units", "metric"])
    said = capsys.readouterr().out
    assert "ohm/m" in said
    assert "ohm/ft" not in said
