"""The tray that a lift-out module stands on."""

from collections.abc import Iterable

from msgspec.structs import replace

from ..build import Build, Item, Load, Pump, Specification
from ..build.edits import free_id, place, replace_item, with_
from ..build.geometry import bounds
from ..units import Length, Mass
from .catalogue import entry
from .labels import short_label

TRAY = "module-tray"
"""Key of the stock entry that a module stands on."""
_MARGIN_M = 0.0127
"""Of the tray around what stands on it: room for the rim."""


def is_tray(item: Item) -> bool:
    """Tell the tray of a module from what stands on it."""
    return item.specification.stock == TRAY


def on_a_tray(build: Build, ids: Iterable[str], group: str) -> tuple[Build, str]:
    """Put a tray under a set; it comes before them, so that they are drawn on it.

    Returns the build and the tray's id.
    """
    wanted = set(ids)
    items = [item for item in build.items if item.id in wanted]
    boxes = [bounds(item) for item in items]
    left = min(box[0] for box in boxes) - _MARGIN_M
    rear = min(box[1] for box in boxes) - _MARGIN_M
    right = max(box[2] for box in boxes) + _MARGIN_M
    front = max(box[3] for box in boxes) + _MARGIN_M
    specification = _tray(build, right - left, front - rear)
    pumps = any(isinstance(item.specification.water, Pump) for item in items)
    name = "Pump module" if pumps else "Power module" if _only_power(items) else "Lift-out module"
    level = items[0].level
    middle = (left + right) / 2, (rear + front) / 2
    placed, tray_id = place(build, specification, level, *middle, short_label(build, name))
    tray = placed.item(tray_id)
    if tray is None:  # it has just been placed
        raise KeyError(tray_id)
    tray = replace(tray, group=group, travels=False, id=free_id(build, group))
    first = min(at for at, item in enumerate(build.items) if item.id in wanted)
    ordered = (*build.items[:first], tray, *build.items[first:])
    after = with_(build, items=ordered)
    up_m = specification.size.height.si
    for item in items:
        stands = item.mount == "standing"
        raised = raised_by(item.raised, up_m) if stands else specification.size.height
        after = replace_item(after, replace(item, mount="standing", raised=raised))
    return after, tray.id


def _only_power(items: list[Item]) -> bool:
    roles = [item.specification.electrical for item in items]
    return all(role is not None and not isinstance(role, Load) for role in roles)


def _tray(build: Build, width_m: float, depth_m: float) -> Specification:
    """The tray of the stock in another size; its mass goes with its area."""
    usual = entry(TRAY).specification
    if usual is None:  # it is a single body
        raise KeyError(TRAY)
    size = usual.size
    share = width_m * depth_m / (size.width.si * size.depth.si)
    unit = "in" if build.units == "US" else "mm"
    return replace(
        usual,
        size=replace(
            size,
            width=Length.from_si(width_m, unit, 3),
            depth=Length.from_si(depth_m, unit, 3),
        ),
        mass=Mass.from_si(usual.mass.si * share, usual.mass.unit, 2),
    )


def raised_by(length: Length, by_m: float) -> Length:
    """A height that much further up, in its own unit."""
    moved = length.si + by_m
    return Length.from_si(0.0 if abs(moved) < 1e-9 else moved, length.unit)
