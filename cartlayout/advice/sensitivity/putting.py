"""Writes a number into a copy of the build, as an ordinary edit would."""

from collections.abc import Callable
from typing import Any, TypeVar

import msgspec
from msgspec.structs import replace

from ...build import Build, Item, TubeRun
from ...build.edits import replace_item, replace_run
from ...units import Quantity

Q = TypeVar("Q", bound=Quantity)
_DIGITS = 6
"""Decimals of the unit that its author wrote in."""


def at(old: Q, si: float) -> Q:
    """The same quantity with another number, in the unit it was written in."""
    return type(old).from_si(si, old.unit or None, _DIGITS)


def times(old: Q, factor: float) -> Q:
    """The same quantity so many times."""
    return at(old, old.si * factor)


def with_water(build: Build, item: Item, **fields: Any) -> Build:
    """The build with other fields of an item's water side."""
    role = item.specification.water
    assert isinstance(role, msgspec.Struct)
    return with_spec(build, item, water=replace(role, **fields))


def with_electrical(build: Build, item: Item, **fields: Any) -> Build:
    """The build with other fields of an item's power side."""
    role = item.specification.electrical
    assert isinstance(role, msgspec.Struct)
    return with_spec(build, item, electrical=replace(role, **fields))


def with_spec(build: Build, item: Item, **fields: Any) -> Build:
    """The build with other fields of an item's specification."""
    return replace_item(build, replace(item, specification=replace(item.specification, **fields)))


def with_run(build: Build, run: TubeRun, **fields: Any) -> Build:
    """The build with other fields of a tube."""
    return replace_run(build, replace(run, **fields))


def with_service(build: Build, **fields: Any) -> Build:
    """The build with another service plan."""
    return replace(build, service=replace(build.service, **fields))


Put = Callable[[float], Build]
