"""Files of earlier versions, brought up to date step by step before they are read strictly.

Works on the raw JSON, because the structs know today's fields only. What is
not as it should be is left as it is: the strict reading names the place.
"""

from collections.abc import Callable
from typing import Any

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
    """Only fields with defaults were added: ways of feeding, readings, heights of way-points."""
    return raw


_STEPS: dict[int, Callable[[Raw], Raw]] = {1: _from_1, 2: _from_2}
"""From each earlier version to the next."""
