"""Which figures of a build nobody has checked: typical, assumed, planned, or not entered at all."""

from collections.abc import Iterator

from ...build import Build
from .model import Unknown
from .of_plan import of_plan
from .of_power import of_power
from .of_water import of_water


def unknowns(build: Build) -> tuple[Unknown, ...]:
    """All of a build, in the order of its items; never raises on a build that loads."""
    return tuple(_all(build))


def _all(build: Build) -> Iterator[Unknown]:
    for item in build.items:
        yield from of_water(build, item)
        yield from of_power(build, item)
    yield from of_plan(build)
