"""How long a packet takes: the whole process, and what the window waits for.

Run with: python -m pytest tests/bench --benchmark-enable --benchmark-only
"""

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from cartlayout.analysis import analyse
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.packet.packet import KINDS, asked, make_job, packet_files

NAMES = ["conference_hall_bar"]


@pytest.mark.parametrize("name", NAMES)
def test_whole_process_of_a_packet(benchmark: Any, name: str, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "cartlayout", "packet", "-o", str(tmp_path), "--replace"]
    command.append(str(sample_builds() / f"{name}.cart"))
    benchmark.pedantic(
        subprocess.run, args=(command,), kwargs={"check": True, "capture_output": True}, rounds=3
    )
    assert (tmp_path / "packet.pdf").stat().st_size > 100_000


EVERY = pytest.param(KINDS, id="every kind", marks=pytest.mark.campaign)
USUAL = pytest.param(("pdf", "csv", "xlsx"), id="usual")


@pytest.mark.parametrize("kinds", [USUAL, EVERY])
def test_files_of_a_packet(benchmark: Any, kinds: tuple[str, ...]) -> None:
    build = load(sample_builds() / "conference_hall_bar.cart")

    def make() -> dict[str, bytes]:
        return packet_files(make_job(analyse(build)), asked(None, kinds))

    assert "packet.pdf" in benchmark.pedantic(make, rounds=3)
