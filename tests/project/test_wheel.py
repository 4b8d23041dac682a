"""The wheel carries the data folders and works from an empty environment, from any folder."""

import json
import os
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest
from pypdf import PdfReader

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--outdir", str(folder), str(ROOT)],
        check=True,
        capture_output=True,
    )
    (made,) = folder.glob("*.whl")
    return made


def test_the_wheel_carries_the_data(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    for part in ("resources/stock/", "resources/limits/", "resources/fonts/", "sample_builds/"):
        assert any(name.startswith(f"cartlayout/_data/{part}") for name in names), part
    assert not any(name.startswith("tests/") for name in names)


@pytest.fixture(scope="module")
def program(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("empty")
    venv.create(folder, with_pip=True)
    scripts = folder / ("Scripts" if os.name == "nt" else "bin")
    subprocess.run(
        [str(scripts / "python"), "-m", "pip", "install", "-q", str(wheel)],
        check=True,
        capture_output=True,
    )
    return scripts / "cartlayout"


def run(program: Path, folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    clean = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    clean.pop("QT_QPA_PLATFORM", None)
    clean.pop("DISPLAY", None)
    return subprocess.run(
        [str(program), *words], cwd=folder, env=clean, capture_output=True, text=True, check=False
    )


def test_check_and_export_work_from_an_empty_environment(program: Path, tmp_path: Path) -> None:
    sample = tmp_path / "mine.cart"
    sample.write_bytes((ROOT / "sample_builds" / "market_cart.cart").read_bytes())
    checked = run(program, tmp_path, "check", "mine.cart", "--json")
    assert checked.returncode == 0, checked.stderr
    assert json.loads(checked.stdout)["verdict"] == "clear"
    exported = run(program, tmp_path, "export", "mine.cart", "-o", "plan.pdf")
    assert exported.returncode == 0, exported.stderr
    text = PdfReader(tmp_path / "plan.pdf").pages[0].extract_text()
    assert "not an approval" in " ".join(text.split()).lower()
