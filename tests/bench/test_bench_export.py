"""How long an export takes: the whole process of a 300 dpi PNG, and its parts.

Run with: python -m pytest tests/bench --benchmark-enable --benchmark-only
"""

import datetime
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.devices import pdf_bytes, png_bytes, svg_bytes
from cartlayout.documents.export import application, canvas
from cartlayout.documents.plan_sheet import SheetOptions, lay_out

NAMES = ["market_cart", "conference_hall_bar"]
DATE = datetime.date(2026, 3, 1)


@pytest.mark.parametrize("name", NAMES)
def test_whole_process_of_a_300_dpi_png(benchmark: Any, name: str, tmp_path: Path) -> None:
    output = tmp_path / "plan.png"
    command = [sys.executable, "-m", "cartlayout", "export", "-o", str(output)]
    command.append(str(sample_builds() / f"{name}.cart"))
    benchmark.pedantic(subprocess.run, args=(command,), kwargs={"check": True}, rounds=5)
    assert output.stat().st_size > 100_000


@pytest.mark.parametrize("name", NAMES)
def test_layout_of_the_sheet(benchmark: Any, name: str) -> None:
    application()
    build = load(sample_builds() / f"{name}.cart")
    analysis = analyse(build)
    sheet = benchmark(lay_out, build, analysis, SheetOptions(date=DATE))
    assert len(sheet.drawing.names) == len(build.items)


@pytest.mark.parametrize("kind", ["png", "svg", "pdf"])
def test_writing_of_the_sheet(benchmark: Any, kind: str) -> None:
    application()
    build = load(sample_builds() / "conference_hall_bar.cart")
    page = canvas(lay_out(build, analyse(build), SheetOptions(date=DATE)))
    make = {
        "png": lambda: png_bytes(page, 300),
        "svg": lambda: svg_bytes(page, build.name, ""),
        "pdf": lambda: pdf_bytes((page,), build.name),
    }[kind]
    assert len(benchmark.pedantic(make, rounds=5)) > 10_000
