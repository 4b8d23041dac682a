"""How long elevations take, from values to paper, and the DXF of everything.

Run with: python -m pytest tests/bench --benchmark-enable --benchmark-only
"""

import datetime
from typing import Any

import pytest

from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.dxf import dxf_bytes
from cartlayout.documents.elevation import VIEWS, elevation
from cartlayout.documents.export import application
from cartlayout.documents.packet.content import Job
from cartlayout.documents.packet.pages import lay_out
from cartlayout.documents.packet.sheets.elevations import elevations
from cartlayout.documents.packet.sheets.plans import plans
from cartlayout.units import UnitSystem

NAMES = ["market_cart", "conference_hall_bar"]


def job(name: str) -> Job:
    application()
    build = load(sample_builds() / f"{name}.cart")
    return Job(build, analyse(build), UnitSystem.US, "letter", datetime.date(2026, 3, 1))


@pytest.mark.parametrize("name", NAMES)
def test_values_of_all_sides(benchmark: Any, name: str) -> None:
    made = job(name)

    def look() -> int:
        return sum(len(elevation(made.build, made.analysis, view).pieces) for view in VIEWS)

    assert benchmark(look)


@pytest.mark.parametrize("maker", [plans, elevations])
@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_of_drawings(benchmark: Any, name: str, maker: Any) -> None:
    made = job(name)
    assert benchmark.pedantic(lambda: lay_out(maker(made), made), rounds=3).poured


@pytest.mark.parametrize("name", NAMES)
def test_the_dxf_of_everything(benchmark: Any, name: str) -> None:
    made = job(name)
    assert benchmark.pedantic(lambda: dxf_bytes(made), rounds=3)
