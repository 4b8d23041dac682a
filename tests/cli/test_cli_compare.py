"""`cartlayout compare`, by hand and for version control."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from cartlayout.build.edits import move_to
from cartlayout.build.file import load, save
from cartlayout.cli import main
from cartlayout.data import sample_builds

FIRST = str(sample_builds() / "market_cart_first_try.cart")
LATER = str(sample_builds() / "market_cart.cart")


def test_two_builds(capsys: pytest.CaptureFixture[str]):
    assert main(["compare", FIRST, LATER]) == 1
    told = capsys.readouterr().out
    assert told.startswith("stops 6 → 0")
    assert "[stop] Strip carries 19.3 of 15.0 A" in told
    assert "Circuit A, Outlet 1, with everything on: 19.3 A → 15.5 A (holds now)" in told
    assert "Knock box: 2.3 in to the rear" in told


def test_the_same_build(capsys: pytest.CaptureFixture[str]):
    assert main(["compare", LATER, LATER]) == 0
    assert "the same" in capsys.readouterr().out


def test_metric_and_json(capsys: pytest.CaptureFixture[str]):
    assert main(["compare", FIRST, LATER, "--json", "--units", "metric"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert told["format"] == "cartlayout compare"
    moved = next(one for one in told["changes"] if one["kind"] == "moved")
    assert moved["lines"] == ["57 mm to the rear"]
    assert {one["way"] for one in told["findings"]} >= {"come", "gone"}


@pytest.mark.parametrize(
    "words",
    [["compare", FIRST], ["compare", FIRST, LATER, LATER], ["compare", "--git", FIRST, LATER]],
)
def test_words_that_make_no_sense(words: list[str], capsys: pytest.CaptureFixture[str]):
    with pytest.raises(SystemExit) as left:
        main(words)
    assert left.value.code == 2
    assert "cartlayout compare" in capsys.readouterr().err


def test_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str]):
    assert main(["compare", FIRST, "nowhere.cart"]) == 2
    assert "nowhere.cart" in capsys.readouterr().err


@pytest.mark.skipif(shutil.which("git") is None, reason="there is no git here")
def test_git_shows_what_the_readme_says_it_shows(tmp_path: Path):
    """The driver of the README, set up in a repository of its own."""

    def git(*words: str) -> str:
        done = subprocess.run(
            ["git", "-c", "user.name=n", "-c", "user.email=n@example.org", *words],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=True,
        )
        return done.stdout

    git("init", "-q")
    (tmp_path / ".gitattributes").write_text("*.cart diff=cart\n")
    git("config", "diff.cart.command", f"{sys.executable} -m cartlayout compare --git")
    build = load(Path(LATER))
    save(build, tmp_path / "stand.cart")
    (tmp_path / "words.txt").write_text("one\n")
    git("add", "-A")
    git("commit", "-qm", "one")
    kettle = next(one for one in build.items if one.name == "Kettle")
    save(move_to(build, kettle.id, kettle.x.si + 0.0254, kettle.y.si), tmp_path / "stand.cart")
    (tmp_path / "words.txt").write_text("two\n")
    shown = git("diff")
    assert "cartlayout compare a/stand.cart b/stand.cart" in shown
    assert "Kettle: 1.0 in right" in shown
    assert "+two" in shown, "what follows is shown as well"
    (tmp_path / "stand.cart").write_text("{}")
    assert "+two" in git("diff"), "a file that cannot be read does not hide the others"
