"""Remedies and mending on the command line: exit codes, files, keys."""

import json
from pathlib import Path

import pytest

from cartlayout.cli import main
from cartlayout.data import sample_builds

FAULTY = sample_builds() / "market_cart_first_try.cart"
GOOD = sample_builds() / "market_cart.cart"


def test_check_tells_remedies_where_they_are_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(FAULTY)]) == 1
    assert "instead of" not in capsys.readouterr().out
    assert main(["check", str(FAULTY), "--remedies"]) == 1
    out = capsys.readouterr().out
    assert "Move Knock box" in out
    assert "No remedy: " in out


def test_json_of_check_holds_remedies(capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", str(FAULTY), "--json", "--remedies"])
    findings = json.loads(capsys.readouterr().out)["findings"]
    stops = [one for one in findings if one["severity"] == "stop"]
    assert all(one["remedies"] and one["none"] is None for one in stops)
    first = stops[0]["remedies"][0]
    assert set(first) == {
        "kind", "title", "outcome", "effort", "partly", "items", "cautions", "value", "before",
        "gone", "come",
    }  # fmt: skip
    assert all(one["none"] for one in findings if not one["remedies"])


def test_mend_writes_a_build_without_stops(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = FAULTY.read_bytes()
    out = tmp_path / "mended.cart"
    assert main(["mend", str(FAULTY), "-o", str(out)]) == 0
    told = capsys.readouterr().out
    assert "Stops: 6 before, 0 after" in told
    assert "not an approval" in told
    assert FAULTY.read_bytes() == before
    assert main(["check", str(out)]) == 0


def test_mend_writes_over_nothing_unless_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "there.cart"
    out.write_text("something of mine")
    assert main(["mend", str(FAULTY), "-o", str(out)]) == 2
    assert "--force" in capsys.readouterr().err
    assert out.read_text() == "something of mine"
    assert main(["mend", str(FAULTY), "-o", str(out), "--force", "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    assert (report["stops_before"], report["stops_after"]) == (6, 0)
    assert report["remaining"] == []
    assert main(["check", str(out)]) == 0


def test_mend_never_writes_over_the_build_it_reads(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own.cart"
    own.write_bytes(FAULTY.read_bytes())
    (tmp_path / "link.cart").symlink_to(own)
    for out in (own, tmp_path / "link.cart"):
        assert main(["mend", str(own), "-o", str(out), "--force"]) == 2
        assert "choose another name" in capsys.readouterr().err
    assert own.read_bytes() == FAULTY.read_bytes()


def test_a_build_with_nothing_to_mend_stays_as_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "same.cart"
    assert main(["mend", str(GOOD), "-o", str(out)]) == 0
    assert "Nothing was changed." in capsys.readouterr().out
    assert main(["compare", str(GOOD), str(out)]) == 0


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["mend", str(FAULTY)], "-o/--output"),
        (["mend", "no such.cart", "-o", "x.cart"], "No such file"),
        (["mend", str(FAULTY), "-o", "no folder/x.cart"], "no folder"),
    ],
)
def test_what_cannot_be_is_2_and_said(
    words: list[str], message: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    try:
        code = main(words)
    except SystemExit as left:
        code = int(left.code or 0)
    assert code == 2
    assert message in capsys.readouterr().err
