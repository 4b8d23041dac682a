"""Regulators that open the window of a supply: put in before a tap, or set anew."""

from collections.abc import Iterable

from msgspec.structs import replace

from ..build import Build, End, Regulator
from ..build.edits import EditError, replace_item
from ..stock import StockEntry, stock
from ..units import Pressure
from ..water.supply_results import SetPoint
from .inserting import insert


def regulators(build: Build) -> tuple[StockEntry, ...]:
    """The regulators of the stock that are sold where the build is."""
    return tuple(
        one
        for one in stock()
        if one.specification is not None
        and isinstance(one.specification.water, Regulator)
        and (not one.regions or build.region in one.regions)
    )


def with_regulators(build: Build, points: Iterable[SetPoint]) -> tuple[Build, tuple[str, ...]]:
    """Give each tap the regulator that its supply's window asks for.

    Returns:
        The build and the ids of the regulators.

    Raises:
        EditError: the stock has none that goes into the tube, or there is no room for it.
    """
    ids = []
    for point in points:
        item_id = point.regulator
        if not item_id:
            build, item_id = _inserted(build, End(point.item, point.port), point.name)
        build = _set(build, item_id, point.set_point_pa)
        ids.append(item_id)
    return build, tuple(ids)


def _inserted(build: Build, end: End, name: str) -> tuple[Build, str]:
    reason = "the stock has no regulator for this region"
    for entry in regulators(build):
        try:
            return insert(build, end, entry)
        except EditError as error:
            reason = str(error)
    raise EditError(f"no regulator can be put before {name}: {reason}")


def _set(build: Build, item_id: str, set_point_pa: float) -> Build:
    item = build.item(item_id)
    role = item.specification.water if item is not None else None
    if item is None or not isinstance(role, Regulator):
        raise EditError(f"'{item_id}' is no regulator")
    water = replace(role, set_point=set_to(build, set_point_pa))
    specification = replace(item.specification, water=water)
    return replace_item(build, replace(item, specification=specification))


def set_to(build: Build, set_point_pa: float) -> Pressure:
    """A set point as a person can set it: whole psi, or tenths of a bar."""
    unit = "psi" if build.units == "US" else "bar"
    return Pressure.from_si(set_point_pa, unit, 0 if unit == "psi" else 1)
