"""Marks of cords and tubes, the same on every sheet and label of a packet: "W3", "T1"."""

from functools import lru_cache

from ...build import Build


@lru_cache(maxsize=4)
def marks(build: Build) -> dict[str, str]:
    """The mark of every run by its id, in the order of the build."""
    wires = {run.id: f"W{number}" for number, run in enumerate(build.wires, 1)}
    return wires | {run.id: f"T{number}" for number, run in enumerate(build.tubes, 1)}
