"""What a figure puts into a copy of the build: that figure, and nothing else of anything else."""

import json
from collections.abc import Iterator

import building as b
import pytest
from msgspec.structs import replace

from cartlayout.advice.sensitivity import Unknown, unknowns
from cartlayout.build import Build
from cartlayout.build.file import encode, load
from cartlayout.data import sample_builds

SAMPLES = sorted(sample_builds().glob("*.cart"))
Path = tuple[str, ...]
_PARTS = (("build", "items"), ("build", "runs"))


def _leaves(value: object, path: Path = ()) -> Iterator[tuple[Path, object]]:
    """Every plain value of a file, items and runs by their ids."""
    if isinstance(value, dict):
        for key, one in value.items():
            yield from _leaves(one, (*path, key))
    elif isinstance(value, list):
        for at, one in enumerate(value):
            named = path in _PARTS and isinstance(one, dict)
            yield from _leaves(one, (*path, one["id"] if named else str(at)))
    else:
        yield path, value


def _written(build: Build) -> dict[Path, object]:
    return dict(_leaves(json.loads(encode(build))))


def _copies(unknown: Unknown) -> list[Build]:
    if unknown.choices:
        return [one.put() for one in unknown.choices]
    return [unknown.put(unknown.least), unknown.put(unknown.greatest)]


def _beside(unknown: Unknown, path: Path) -> bool:
    """Whether a value belongs to the struct in which the figure is a field."""
    start: Path = ("build",)
    if unknown.item or unknown.run:
        start = ("build", "items" if unknown.item else "runs", unknown.item or unknown.run)
    around = (*start, *unknown.path[:-1])
    return path[: len(around)] == around


def check(build: Build) -> int:
    """Every figure of a build, put as low and as high as it may be; how many there are."""
    before = _written(build)
    found = unknowns(build)
    for unknown in found:
        for copy in _copies(unknown):
            after = _written(copy)
            other = {
                path for path in before.keys() | after.keys() if before.get(path) != after.get(path)
            }
            assert all(_beside(unknown, path) for path in other), (unknown.key, other)
    return len(found)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_figure_of_a_sample_changes_itself_only(path) -> None:
    assert check(load(path)) > 20


def test_a_figure_of_one_inlet_leaves_the_other_alone() -> None:
    """A machine of two inlets whose valves nobody timed."""
    one = b.tap("machine", b.drawn("2 L/min"), required_flow="2 L/min")
    role = one.specification.water
    two = replace(role, inlets=(role.inlets[0], replace(role.inlets[0], port="second")))
    made = b.build(replace(one, specification=replace(one.specification, water=two)))
    closing = [one.key for one in unknowns(made) if one.key.endswith("/closing")]
    assert closing == ["machine/inlet/closing", "machine/second/closing"]
    check(made)


@pytest.mark.parametrize(
    ("breaker", "size"), [(15, "14 AWG"), (20, "12 AWG"), (30, "10 AWG"), (None, "14 AWG")]
)
def test_the_venue_s_wire_is_taken_as_thin_as_its_breaker_allows(breaker, size) -> None:
    """NEC 240.4(D): copper of 14 AWG on 15 A, 12 AWG on 20 A, 10 AWG on 30 A at the most."""
    made = b.build(b.outlet("wall", breaker=breaker))
    length = next(one for one in unknowns(made) if one.key == "wall/run length")
    for build in _copies(length):
        assert build.item("wall").specification.electrical.run_size.text == size


def test_a_main_that_stands_low_is_not_asked_for_a_least_above_it() -> None:
    """Where nobody measured it, it may stand from 20 to 80 psi (water utilities' advice)."""
    for usual, asked in (("10 psi", {"greatest"}), ("60 psi", {"least", "greatest"})):
        keys = {one.key for one in unknowns(b.build(b.mains("main", usual)))}
        assert {key.split("/")[1] for key in keys if key.startswith("main/")} >= asked
        assert ("main/least" in keys) is ("least" in asked)
    keys = {one.key for one in unknowns(b.build(b.mains("main", "95 psi")))}
    assert "main/greatest" not in keys
    assert "main/least" in keys
