"""Looking at a build from one side."""

import shapely
from shapely.geometry.base import BaseGeometry

from ...analysis import Analysis
from ...build import Build
from .heights import heights
from .hiding import Scene, Sight
from .model import SEEN_SHARE, Area, Elevation, Piece, Ring
from .runs import Limits, run_pieces
from .things import things
from .view import Facing, View, elevation_title


def elevation(build: Build, analysis: Analysis, view: View) -> Elevation:
    """Look at a build from one side.

    Args:
        build: any build that loads.
        analysis: of that build: its routes are drawn.
        view: the side the eye is on.
    """
    facing = Facing.of(build.cart, view)
    width_m = facing.width_m(build.cart)
    present = things(build, facing)
    limits = Limits.of(present, width_m)
    drawn = [one for one in present if limits.hold(one)]
    scene = Scene(drawn)
    return Elevation(
        view=view,
        title=elevation_title(view, build.cart.operator_side),
        width_m=width_m,
        counter_m=max((level.height.si for level in build.cart.levels), default=0.0),
        pieces=tuple(_piece(sight) for sight in scene.sights()),
        runs=run_pieces(build, analysis, facing, scene, {one.key for one in present}, limits),
        heights=heights(build, present, limits),
    )


def _piece(sight: Sight) -> Piece:
    thing = sight.thing
    whole = max(thing.shape.area, 1e-12)
    share, through = sight.area.area / whole, sight.through.area / whole
    behind = share < SEEN_SHARE <= through
    return Piece(
        key=thing.key,
        name=thing.name,
        kind=thing.kind,
        level=thing.level,
        outline=_ring(thing.shape),
        areas=tuple(
            _area(part)
            for part in shapely.get_parts(sight.through if behind else sight.area)
            if part.area > 0.0
        ),
        seen=sight.seen,
        unseen=sight.unseen,
        bottom_m=thing.bottom_m,
        top_m=thing.top_m,
        seen_share=share,
        is_behind_panel=behind,
    )


def _area(shape: BaseGeometry) -> Area:
    holes = (tuple((float(u), float(z)) for u, z in hole.coords[:-1]) for hole in shape.interiors)
    return (_ring(shape), *holes)


def _ring(shape: BaseGeometry) -> Ring:
    return tuple((float(u), float(z)) for u, z in shape.exterior.coords[:-1])
