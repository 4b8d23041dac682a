"""Gear that hangs on the panel of the cart: hung on it, stood beside it, the panel made to suit."""

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...body.frame import make_frame
from ...body.solids import solids
from ...build import VENUE, Build, Item, RearPanel
from ...build.cart_edits import add, change, new_panel
from ...build.edits import EditError, move, replace_item
from ...build.geometry import underside_m
from ...findings import Finding
from ...units import Phrase, Value
from .body_cart import BUILDER, like
from .body_spots import spots
from .model import Candidate, Source

_LEAST_M = 1e-4


def stand_it(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Gear that hangs on nothing, stood on its level; then a panel for it."""
    build = analysis.build
    for item_id in finding.items[:1]:
        item = build.item(item_id)
        if item is None or item.locked or item.level == VENUE:
            continue
        stood = replace(item, mount="standing", raised=like(item.raised, 0.0))
        after = replace_item(build, stood)
        found = spots(analysis, after, (item_id,))
        if found:
            yield Candidate(
                "stand",
                Phrase.of("Stand {item} on the {level}", item=item.name, level=item.level),
                1,
                partial(_at, after, item_id, *found[0]),
                (item_id,),
            )
        if build.cart.rear_panel is None:
            panel = new_panel(build, "rear")
            yield Candidate(
                "panel",
                Phrase.of("Give the cart a panel at its rear for {item}", item=item.name),
                3,
                partial(_with_panel, build, panel, item),
                (item_id,),
                (BUILDER,),
            )


def _at(build: Build, item_id: str, dx_m: float, dy_m: float) -> Build:
    return move(build, (item_id,), dx_m, dy_m)


def _with_panel(build: Build, panel: RearPanel, item: Item) -> Build:
    after = add(build, panel)[0]
    return to_panel(after, item.id)


def hang_it(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Against the panel, within its length and height."""
    for item_id in finding.items[:1]:
        item = analysis.build.item(item_id)
        if item is not None and not item.locked:
            yield Candidate(
                "hang",
                Phrase.of("Hang {item} on the panel", item=item.name),
                1,
                partial(to_panel, analysis.build, item_id),
                (item_id,),
            )
    yield from _taller_panel(analysis, finding)


def to_panel(build: Build, item_id: str) -> Build:
    """The build with an item flat on the panel's face, moved no further than it has to be.

    Raises:
        EditError: there is no panel, or the item is larger than it.
    """
    panel = make_frame(build.cart).panel
    body = next((one for one in solids(build, {}) if one.item.id == item_id), None)
    if panel is None or body is None:
        raise EditError("there is no panel to hang it on")
    left, rear, right, front = body.bounds
    px1, py1, px2, py2 = panel.bounds
    across = px2 - px1 >= py2 - py1
    low, high = (left, right) if across else (rear, front)
    plow, phigh = (px1, px2) if across else (py1, py2)
    if high - low > phigh - plow + _LEAST_M:
        raise EditError(f"{body.item.name} is longer than the panel")
    along = max(plow - low, 0.0) + min(phigh - high, 0.0)
    near, far = (rear, front) if across else (left, right)
    face1, face2 = (py1, py2) if across else (px1, px2)
    away = face2 - near if abs(face2 - near) <= abs(face1 - far) else face1 - far
    dx_m, dy_m = (along, away) if across else (away, along)
    after = move(build, (item_id,), dx_m, dy_m)
    return _within_height(after, item_id, panel.bottom_m, panel.top_m)


def _within_height(build: Build, item_id: str, bottom_m: float, top_m: float) -> Build:
    item = build.item(item_id)
    if item is None:
        raise EditError(f"there is no item '{item_id}'")
    low_m = underside_m(build.cart, item)
    high_m = low_m + item.specification.size.height.si
    if high_m - low_m > top_m - bottom_m + _LEAST_M:
        raise EditError(f"{item.name} is taller than the panel")
    by_m = max(bottom_m - low_m, 0.0) + min(top_m - high_m, 0.0)
    if abs(by_m) < _LEAST_M:
        return build
    return replace_item(build, replace(item, raised=like(item.raised, item.raised.si + by_m)))


def _taller_panel(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    build = analysis.build
    panel = build.cart.rear_panel
    item = build.item(finding.items[0]) if finding.items else None
    if panel is None or item is None or finding.code != "body.panel-height":
        return
    low_m = underside_m(build.cart, item)
    high_m = low_m + item.specification.size.height.si
    bottom = like(panel.bottom, min(panel.bottom.si, low_m))
    top = like(panel.top, max(panel.top.si, high_m))
    yield Candidate(
        "panel",
        Phrase.of(
            "Make the panel reach from {low} to {high} above the floor",
            low=Value(bottom.si, "length"),
            high=Value(top.si, "length"),
        ),
        3,
        partial(change, build, "panel", replace(panel, bottom=bottom, top=top)),
        (item.id,),
        (BUILDER,),
    )


SOURCES: dict[str, tuple[Source, ...]] = {
    "body.no-panel": (stand_it,),
    "body.off-panel": (hang_it, stand_it),
    "body.panel-height": (hang_it,),
}
