"""What hangs on the panel, what is let into the counter, and what a leaf has to carry."""

from collections.abc import Iterator

from ..limits import body_practice
from .frame import TOLERANCE_M, Frame, Prism
from .results import Clash, LeafLoad
from .solids import Solid


def hanging(frame: Frame, bodies: list[Solid]) -> Iterator[Clash]:
    """Wall-mounted gear beside the panel, and bodies let into a surface without a hole."""
    for body in bodies:
        if body.item.mount == "wall":
            yield from _on_panel(frame.panel, body)
        elif body.item.mount == "standing" and body.item.raised.si < -TOLERANCE_M:
            yield from _let_in(frame, body)


def _on_panel(panel: Prism | None, body: Solid) -> Iterator[Clash]:
    ids = (body.item.id,)
    if panel is None:
        yield Clash("no-panel", ids, 0.0, 0.0)
        return
    over_m = max(panel.bottom_m - body.bottom_m, body.top_m - panel.top_m)
    if over_m > TOLERANCE_M:
        yield Clash("panel-height", ids, 0.0, over_m, panel.name)
    away_m = _away(panel, body)
    if away_m > TOLERANCE_M:
        yield Clash("off-panel", ids, 0.0, away_m, panel.name)


def _away(panel: Prism, body: Solid) -> float:
    """How far a body would have to move to hang on either face of the panel, within its length."""
    px1, py1, px2, py2 = panel.bounds
    x1, y1, x2, y2 = body.bounds
    gap_m = body_practice().wall_gap_m.value
    if px2 - px1 >= py2 - py1:  # the panel runs from left to right
        along = max(px1 - x1, x2 - px2)
        gap = max(y1 - py2, py1 - y2)
    else:
        along = max(py1 - y1, y2 - py2)
        gap = max(x1 - px2, px1 - x2)
    return max(along, gap - gap_m, 0.0)


def _let_in(frame: Frame, body: Solid) -> Iterator[Clash]:
    """A rim holds a body in a hole that is smaller than the body: the hole lies within it."""
    rim = body.shape.buffer(TOLERANCE_M, join_style="mitre")
    if not any(rim.covers(hole) for hole in frame.openings(body.item.level)):
        sunk_m = -body.item.raised.si
        yield Clash("sunk", (body.item.id,), body.area_m2, sunk_m, body.item.level)


def leaf_loads(frame: Frame, bodies: list[Solid]) -> tuple[LeafLoad, ...]:
    """What stands on each raised leaf, full; a body that stands half on it counts half."""
    found = []
    for flap in frame.flaps:
        if not flap.leaf.up:
            continue
        kg, ids = 0.0, []
        for body in bodies:
            if body.item.level != frame.counter or body.item.mount != "standing":
                continue
            share = (
                float(body.shape.intersection(flap.shape).area) / body.area_m2
                if body.area_m2 > 0 and body.shape.intersects(flap.shape)
                else 0.0
            )
            if share > 1e-6:
                kg += share * body.load.full_kg
                ids.append(body.item.id)
        rating = flap.leaf.rating.si if flap.leaf.rating is not None else None
        found.append(LeafLoad(flap.leaf.name, kg, rating, tuple(ids)))
    return tuple(found)
