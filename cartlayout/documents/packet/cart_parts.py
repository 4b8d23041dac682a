"""What the cart itself is made of, and what closes the ports that nothing is on."""

from collections import Counter
from collections.abc import Iterator

from ...build import Build, Cart, Item
from ...build.cart_geometry import extent, side_span
from ...units import Phrase, Value
from ..elevation.things import board_thickness_m
from .content import Cell, Column, Table

_Row = tuple[Cell, ...]
_PLANKS = "A board's thickness is the room between a level and the top of the one below."


def cart_table(cart: Cart) -> Table:
    """Boards, panel, leaves, posts, wheels and handle, with their outer measures."""
    rows = [*_boards(cart), *_panel(cart), *_leaves(cart), *_posts(cart), *_wheels(cart),
            *_handle(cart)]  # fmt: skip
    return Table(
        "parts-cart",
        "The cart itself",
        (
            Column("Part", share=1.4),
            Column("Count", "count", "right", 0.4),
            Column("Wide", "tape", "right", 0.6),
            Column("Deep", "tape", "right", 0.6),
            Column("Thick or high", "tape", "right", 0.8),
            Column("Top at", "tape", "right", 0.6),
            Column("What to know", share=2.6),
        ),
        tuple(rows),
        note=_PLANKS,
        empty="The cart has no level and no wheel yet.",
    )


def _tape(length_m: float) -> Value:
    return Value(length_m, "tape")


def _row(
    name: str, count: int, sides: tuple[float | None, ...], top_m: float | None, note: Cell = None
) -> _Row:
    wide, deep, high, top = (
        None if one is None else _tape(one) for one in (*sides, top_m)
    )  # fmt: skip
    return name, Value(count, "count"), wide, deep, high, top, note


def _boards(cart: Cart) -> Iterator[_Row]:
    whole = extent(cart)
    corners = (
        f"{len(cart.outline)} corners: see the plan; measures are those around it"
        if cart.outline
        else ""
    )
    radius = cart.corner_radius.si
    note: Cell = (
        Phrase.of("{corners}corners rounded {radius}", radius=_tape(radius),
                  corners=f"{corners}; " if corners else "")
        if radius > 0.0
        else corners
    )  # fmt: skip
    for level in sorted(cart.levels, key=lambda one: -one.height.si):
        top = level.height.si
        thick = board_thickness_m(cart, top) or None
        yield _row(f"board, {level.name}", 1, (whole.width, whole.depth, thick), top, note)


def _panel(cart: Cart) -> Iterator[_Row]:
    panel = cart.rear_panel
    if panel is None:
        return
    span = side_span(cart, panel.side)
    wide = span.end - span.start if span is not None else None
    high = panel.top.si - panel.bottom.si
    note = Phrase.of("{thick} thick, at the {side} edge", thick=_tape(panel.thickness.si),
                     side=panel.side)  # fmt: skip
    yield _row("upright panel", 1, (wide, None, high), panel.top.si, note)


def _leaves(cart: Cart) -> Iterator[_Row]:
    counter = max((level.height.si for level in cart.levels), default=0.0)
    for leaf in cart.leaves:
        along, out = leaf.length.si, leaf.depth.si
        wide, deep = (along, out) if leaf.side in ("rear", "front") else (out, along)
        start = Phrase.of("hinged at the {side} edge, begins {start} from its {end} end",
                          side=leaf.side, start=_tape(leaf.start.si),
                          end="left" if leaf.side in ("rear", "front") else "rear")  # fmt: skip
        if leaf.rating is not None:
            start = Phrase(
                start.template + "; brackets for {load}",
                (*start.values, ("load", Value(leaf.rating.si, "mass"))),
            )
        yield _row(f"leaf, {leaf.name}", 1, (wide, deep, leaf.thickness.si), counter, start)


def _posts(cart: Cart) -> Iterator[_Row]:
    counter = max((level.height.si for level in cart.levels), default=0.0)
    sorts = Counter((leg.width.si, leg.carries) for leg in cart.legs)
    for (wide, carries), count in sorts.items():
        note = "stands on the floor" if carries else "between wheels, does not reach the floor"
        yield _row("post", count, (wide, wide, None), counter, note)


def _wheels(cart: Cart) -> Iterator[_Row]:
    for rating, count in Counter(wheel.rating.si for wheel in cart.casters).items():
        note = Phrase.of(
            "rated {load} each; with its plate as high as the underside of the lowest board",
            load=Value(rating, "mass"),
        )
        yield _row("caster", count, (None, None, None), None, note)


def _handle(cart: Cart) -> Iterator[_Row]:
    if (handle := cart.handle) is not None:
        note = Phrase.of("on the {side} side, stands out {reach}", side=handle.side,
                         reach=_tape(handle.reach.si))  # fmt: skip
        yield _row("handle", 1, (None, None, None), handle.height.si, note)


# --- what closes a port ------------------------------------------------------------------------


def closures(build: Build) -> Counter[tuple[str, str]]:
    """Plugs for ports that water stands behind and nothing is on: (connector, item) counted.

    Of what has water: where something else of the same medium is joined to it.
    """
    joined = {(end.item, end.port) for run in build.runs for end in (run.a, run.b) if end}
    found: Counter[tuple[str, str]] = Counter()
    for item in build.items:
        for medium in ("water", "drain"):
            found.update(_open(item, medium, joined))
    return found


def _open(item: Item, medium: str, joined: set[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    ports = [port for port in item.specification.ports if port.medium == medium]
    free = [port for port in ports if (item.id, port.id) not in joined]
    if len(free) < len(ports):
        yield from ((port.connector, item.name) for port in free)
