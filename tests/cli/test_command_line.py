"""The command line: exit codes, JSON keys, refusals in words."""

import json
import shutil
from pathlib import Path

import pytest
from msgspec.structs import replace

from cartlayout.build.file import load, save
from cartlayout.cli import main
from cartlayout.data import sample_builds

GOOD = sample_builds() / "market_cart.cart"
FAULTY = sample_builds() / "market_cart_first_try.cart"


def test_a_build_with_nothing_to_stop_for_is_0(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(GOOD)]) == 0
    out = capsys.readouterr().out
    for part in ("Circuits", "Taps", "Findings: 0 stop", "not an approval"):
        assert part in out


def test_a_build_with_something_to_stop_for_is_1(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(FAULTY)]) == 1
    assert "[stop]" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (None, "No such file"),
        ("{", "line 1"),
        ('{"format": "cartlayout build", "version": 9}', "newer"),
    ],
)
def test_a_file_that_cannot_be_used_is_2(
    content: str | None, message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "x.cart"
    if content is not None:
        path.write_text(content)
    assert main(["check", str(path)]) == 2
    error = capsys.readouterr().err
    assert message in error
    assert "x.cart" in error


def test_json_has_its_documented_keys(capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", str(FAULTY), "--json"])
    report = json.loads(capsys.readouterr().out)
    assert report["verdict"] == "stop"
    assert set(report) == {
        "format", "version", "build", "verdict", "circuits", "power", "taps", "water", "body",
        "findings", "caution",
    }  # fmt: skip
    assert {"letter", "rating_a", "amps_by_case", "loads", "limits"} <= set(report["circuits"][0])
    assert {"static_pa", "states", "least_pa", "greatest_pa"} <= set(report["taps"][0])
    assert {"severity", "code", "title", "detail", "items", "source"} <= set(report["findings"][0])


def test_units_can_be_chosen(capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", str(GOOD), "--units", "metric"])
    assert " bar" in capsys.readouterr().out
    main(["check", str(GOOD), "--units", "US"])
    assert " psi" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["export", str(GOOD)], "-o/--output"),
        (["export", str(GOOD), "-o", "plan.docx"], ".docx"),
        (["export", str(GOOD), "-o", "plan.png", "--dpi", "3"], "--dpi 3"),
        (["export", str(GOOD), "-o", "plan.png", "--overlays", "gas"], "'gas'"),
        (["check"], "FILE"),
        (["--sample", "no such"], "there is no sample 'no such'"),
    ],
)
def test_wrong_words_are_2_and_say_which(
    words: list[str], message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    try:
        code = main(words)
    except SystemExit as left:
        code = left.code  # type: ignore[assignment]
    assert code == 2
    assert message in capsys.readouterr().err


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_export_writes_the_plan(ending: str, tmp_path: Path) -> None:
    source = tmp_path / "mine.cart"
    shutil.copy(GOOD, source)
    target = tmp_path / f"plan.{ending}"
    assert main(["export", str(source), "-o", str(target), "--dpi", "100"]) == 0
    starts = {"png": b"\x89PNG", "svg": b"<?xml", "pdf": b"%PDF"}
    assert target.read_bytes().startswith(starts[ending])
    assert {path.name for path in tmp_path.iterdir()} == {source.name, target.name}


def test_export_says_where_it_could_not_write(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["export", str(GOOD), "-o", str(tmp_path / "no" / "plan.png")]) == 2
    assert "plan.png" in capsys.readouterr().err


def test_names_do_not_command_the_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A name of somebody else's file with an escape sequence and a turn of direction in it."""
    build = load(sample_builds() / "market_cart.cart")
    name = "Stand\x1b[31m\u202edrats"
    path = tmp_path / "named.cart"
    save(replace(build, name=name), path)
    main(["check", str(path)])
    main(["compare", str(path), str(sample_builds() / "market_cart.cart")])
    told = capsys.readouterr().out
    assert "Stand[31mdrats" in told
    assert not {"\x1b", "\u202e"} & set(told)
