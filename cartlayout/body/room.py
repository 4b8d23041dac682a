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
        body for body in bodies if min(body.top_m, top_m) - max(body.bottom_m, bottom_m) > 1e-6
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
    taken_m2, reserved_m2 = _areas(
        surface,
        bodies,
        [*(part[0] for part in parts), *shut],
        [shape for zone, shape in here if zone.kind == "reserved"],
    )
    filled_m3 = sum(
        _part_within(surface, body) * _high(body.bottom_m, body.top_m, bottom_m, clear_m)
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
    bodies: tuple[Solid, ...],
    fixed: list[BaseGeometry],
    kept: list[BaseGeometry],
) -> tuple[float, float]:
    """Area that is taken, and area that is kept free and not taken.

    Bodies that nothing lies on are added up; only the rest are laid together,
    which takes a hundred times as long.
    """
    alone, crowded = _sorted_out(bodies)
    if fixed or kept:
        alone, crowded = [], list(bodies)
    area_m2 = sum(_part_within(surface, body) for body in alone)
    shapes = [*(body.shape for body in crowded), *fixed]
    if not shapes and not kept:
        return area_m2, 0.0
    taken_m2 = _area_within(surface, shapes)
    both_m2 = _area_within(surface, [*shapes, *kept]) if kept else taken_m2
    return area_m2 + taken_m2, both_m2 - taken_m2


def _area_within(surface: BaseGeometry, shapes: list[BaseGeometry]) -> float:
    """Area that shapes cover together. Nothing more is laid over the common shape: where
    bodies only touch an edge it has lines in it, which GEOS refuses."""
    return float(shapely.union_all(shapes).intersection(surface).area) if shapes else 0.0


def _sorted_out(bodies: tuple[Solid, ...]) -> tuple[list[Solid], list[Solid]]:
    """Bodies whose bounds meet no other's, and the others."""
    order = sorted(bodies, key=lambda body: body.bounds[0])
    crowded: set[int] = set()
    for at, body in enumerate(order):
        _, rear, right, front = body.bounds
        for other_at in range(at + 1, len(order)):
            x1, y1, _, y2 = order[other_at].bounds
            if x1 >= right:
                break
            if y1 < front and rear < y2:
                crowded.update((at, other_at))
    return (
        [body for at, body in enumerate(order) if at not in crowded],
        [body for at, body in enumerate(order) if at in crowded],
    )


def _part_within(surface: BaseGeometry, body: Solid) -> float:
    if surface.covers(body.shape):
        return body.area_m2
    return float(body.shape.intersection(surface).area)


def _high(low_m: float, high_m: float, bottom_m: float, clear_m: float) -> float:
    return max(0.0, min(high_m, bottom_m + clear_m) - max(low_m, bottom_m))
