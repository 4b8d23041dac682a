"""Files of earlier versions, brought up to date step by step before they are read strictly.

Works on the raw JSON, because the structs know today's fields only. What is
not as it should be is left as it is: the strict reading names the place.
"""

from collections.abc import Callable
from typing import Any

from ..limits import TubeRow, tube_row

Raw = dict[str, Any]


def upgraded(raw: Raw) -> Raw:
    """The raw content of a file as the newest version would have written it."""
    version = raw["version"]
    while version in _STEPS:
        raw = _STEPS[version](raw)
        version += 1
        raw["version"] = version
    return raw


def _from_1(raw: Raw) -> Raw:
    """The door became the first of the venue's passages; clearances say what they are for."""
    build = raw.get("build")
    if not isinstance(build, dict):
        return raw
    cart, venue = build.get("cart"), build.setdefault("venue", {})
    if isinstance(cart, dict) and "door_width" in cart and isinstance(venue, dict):
        width = cart.pop("door_width")
        if width is not None:
            venue["passages"] = [{"name": "Door", "kind": "door", "width": width}]
    items = build.get("items")
    for item in items if isinstance(items, list) else ():
        specification = item.get("specification") if isinstance(item, dict) else None
        if isinstance(specification, dict) and "clearance" in specification:
            clearance = specification.pop("clearance")
            specification["clearances"] = [clearance] if clearance else []
    return raw


def _from_2(raw: Raw) -> Raw:
    """Tubes say what they bear when they are warm; all else that was added has a default.

    A tube that is as the table has it gets its warm rating from there: without one it would be
    taken for a tube that bears no water warmer than its rating's.
    """
    build = raw.get("build")
    runs = build.get("runs") if isinstance(build, dict) else None
    for run in runs if isinstance(runs, list) else ():
        tube = run.get("tube") if isinstance(run, dict) else None
        if isinstance(tube, dict) and isinstance(tube.get("name"), str):
            _add_warm_rating(tube, tube_row(tube["name"]))
    return raw


def _add_warm_rating(tube: Raw, row: TubeRow | None) -> None:
    if row is None or row.warm_rating is None or row.warm_rating_at is None or row.rating is None:
        return
    if tube.get("rating") == row.rating.text and tube.get("warm_rating") is None:
        tube["warm_rating"] = row.warm_rating.text
        tube["warm_rating_at"] = row.warm_rating_at.text


_COLD = ("fridge", "freezer")


def _from_3(raw: Raw) -> Raw:
    """Loads say whether they stay on overnight; what keeps things cold does."""
    build = raw.get("build")
    items = build.get("items") if isinstance(build, dict) else None
    for item in items if isinstance(items, list) else ():
        specification = item.get("specification") if isinstance(item, dict) else None
        if not isinstance(specification, dict) or specification.get("kind") not in _COLD:
            continue
        load = specification.get("electrical")
        if isinstance(load, dict) and load.get("role") == "load":
            load.setdefault("overnight", True)
    return raw


_STEPS: dict[int, Callable[[Raw], Raw]] = {1: _from_1, 2: _from_2, 3: _from_3}
"""From each earlier version to the next."""
