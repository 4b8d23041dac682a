"""What should be checked first, on the command line and as a sheet."""

import json

import pytest
from packet_jobs import sample_job

from cartlayout.advice.sensitivity import all_found, ranked
from cartlayout.cli import main
from cartlayout.data import sample_builds
from cartlayout.documents.packet.content import Table
from cartlayout.documents.packet.sheets.unknowns import unknowns

GOOD = sample_builds() / "market_cart.cart"


def test_check_tells_unknowns_where_they_are_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(GOOD)]) == 0
    assert "To be checked first" not in capsys.readouterr().out
    assert main(["check", str(GOOD), "--unknowns", "--units", "metric"]) == 0
    out = capsys.readouterr().out
    assert "To be checked first" in out
    assert "One figure at a time" in out
    assert (
        "If the flow that Pitcher rinser needs is more than 3.7 L/min: Pitcher rinser gets" in out
    )
    assert "Nothing turns within the range of:" in out
    assert "common practice, no source" in out


def test_json_holds_thresholds_and_what_turns_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", str(GOOD), "--unknowns", "--json"])
    told = json.loads(capsys.readouterr().out)["unknowns"]
    assert set(told) == {"note", "thresholds", "quiet"}
    first = told["thresholds"][0]
    assert first["sentence"].startswith("If ")
    assert first["severity"] in ("stop", "care")
    assert first["least_si"] <= first["turns_si"] <= first["greatest_si"]
    assert first["come"] or first["gone"]
    nearness = [one["nearness"] for one in told["thresholds"]]
    assert nearness == sorted(nearness)
    assert all(one["what"] for one in told["quiet"])


@pytest.mark.parametrize("name", ["market_cart", "station_kiosk_230v"])
def test_the_sheet_says_what_was_found(name: str) -> None:
    job = sample_job(name)
    found = all_found(job.analysis)
    made = unknowns(job)
    deciding, quiet = (part for part in made.parts if isinstance(part, Table))
    assert [row[1] for row in deciding.rows] == [
        one.consequence.shown(job.system) for one in ranked(found)
    ]
    assert len(quiet.rows) == sum(1 for one in found if not one.thresholds)
    assert set(deciding.marks) <= {"stop", "care", "ok"}
