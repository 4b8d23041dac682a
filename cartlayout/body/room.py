"""What is left of each level when everything stands on it."""

import shapely
from shapely.geometry.base import BaseGeometry

from ..build import Level
from .frame import Frame
from .results import LevelRoom
from .solids import Solid


def band(level: Level, bodies: list[Solid]) -> tuple[Solid, ...]:
    """Bodies that take room of a level: those on it, and what hangs or rises into it."""
    bottom_m = level.height.si
    top_m = bottom_m + level.clear_height.si
    return tuple(
        body for body in bodies if body.top_m > bottom_m + 1e-6 and body.bottom_m < top_m - 1e-6
    )


def level_room(frame: Frame, level: Level, bodies: tuple[Solid, ...]) -> LevelRoom:
    """Area and volume of a level, what is taken and what is kept free."""
    surface = frame.surfaces.get(level.name)
    bottom_m, clear_m = level.height.si, level.clear_height.si
    if surface is None:
        return LevelRoom(level.name, 0.0, 0.0, 0.0, 0.0, 0.0)
    area_m2 = float(surface.area)
    parts = [part for part in _fixed(frame) if part[2] > bottom_m and part[1] < bottom_m + clear_m]
    here = [(zone, shape) for zone, shape in frame.zones if zone.level == level.name]
    shut = [shape for zone, shape in here if zone.kind != "reserved"]
    within = _within(surface, frame.reached[level.name], bodies)
    taken_m2, reserved_m2 = _areas(
        surface,
        within,
        bodies,
        [*(part[0] for part in parts), *shut],
        [shape for zone, shape in here if zone.kind == "reserved"],
    )
    filled_m3 = sum(
        within[body.item.id] * _high(body.bottom_m, body.top_m, bottom_m, clear_m)
        for body in bodies
    )
    filled_m3 += sum(
        float(shape.area) * _high(low, high, bottom_m, clear_m) for shape, low, high in parts
    )
    filled_m3 += sum(float(shape.area) * clear_m for zone, shape in here if zone.kind == "no-go")
    volume_m3 = area_m2 * clear_m
    return LevelRoom(
        level=level.name,
        area_m2=area_m2,
        taken_m2=taken_m2,
        reserved_m2=reserved_m2,
        volume_m3=volume_m3,
        free_m3=max(0.0, volume_m3 - filled_m3),
    )


def _fixed(frame: Frame) -> list[tuple[BaseGeometry, float, float]]:
    parts = [*frame.legs, *((frame.panel,) if frame.panel is not None else ())]
    return [(part.shape, part.bottom_m, part.top_m) for part in parts]


def _areas(
    surface: BaseGeometry,
    within: dict[str, float],
    bodies: tuple[Solid, ...],
    fixed: list[BaseGeometry],
    kept: list[BaseGeometry],
) -> tuple[float, float]:
    """Area that is taken, and area that is kept free and not taken.

    Bodies that nothing lies on are added up; only the rest are laid together,
    which takes a hundred times as long.
    """
    alone, crowded = _sorted_out(bodies, [shape.bounds for shape in (*fixed, *kept)])
    area_m2 = sum(within[body.item.id] for body in alone)
    shapes = [*(body.shape for body in crowded), *fixed]
    if not shapes and not kept:
        return area_m2, 0.0
    taken_m2 = _area_within(surface, shapes)
    both_m2 = _area_within(surface, [*shapes, *kept]) if kept else taken_m2
    return area_m2 + taken_m2, both_m2 - taken_m2


def _area_within(surface: BaseGeometry, shapes: list[BaseGeometry]) -> float:
    """Area that shapes cover together.

    Nothing more is laid over the common shape: where bodies only touch an edge
    it has lines in it, which GEOS refuses.
    """
    return float(shapely.union_all(shapes).intersection(surface).area) if shapes else 0.0


def _sorted_out(
    bodies: tuple[Solid, ...], parts: list[tuple[float, ...]]
) -> tuple[list[Solid], list[Solid]]:
    """Bodies whose bounds meet no other's and none of the parts' bounds, and the others."""
    order: list[tuple[tuple[float, ...], Solid | None]] = [(body.bounds, body) for body in bodies]
    order += [(bounds, None) for bounds in parts]
    order.sort(key=lambda one: one[0][0])
    crowded: set[int] = set()
    for at, ((_, rear, right, front), _) in enumerate(order):
        for other_at in range(at + 1, len(order)):
            x1, y1, _, y2 = order[other_at][0]
            if x1 >= right:
                break
            if y1 < front and rear < y2:
                crowded.update((at, other_at))
    alone = [body for at, (_, body) in enumerate(order) if body is not None and at not in crowded]
    close = [body for at, (_, body) in enumerate(order) if body is not None and at in crowded]
    return alone, close


def _within(
    surface: BaseGeometry, near: BaseGeometry, bodies: tuple[Solid, ...]
) -> dict[str, float]:
    """Item id to the area of it that lies on the level; `near` is prepared, so asked first."""
    if not bodies:
        return {}
    inside = shapely.covers(near, [body.shape for body in bodies]).tolist()
    return {
        body.item.id: body.area_m2 if is_inside else float(body.shape.intersection(surface).area)
        for body, is_inside in zip(bodies, inside, strict=True)
    }


def _high(low_m: float, high_m: float, bottom_m: float, clear_m: float) -> float:
    return max(0.0, min(high_m, bottom_m + clear_m) - max(low_m, bottom_m))
