"""Setting out: where everything stands on each level, which holes to cut, where ports are."""

from ....build import VENUE, Build, Item, Level
from ....build.cart_geometry import extent
from ....build.geometry import bounds, port_position, underside_m
from ....units import Value
from ..content import Cell, Column, Content, Job, Paragraph, Part, Table

_HOW = (
    "From the left: from the cart's left edge to the left edge of what stands there, seen from the "
    "front. From the rear: from the cart's rear edge to its rear edge. A minus sign means outside "
    "of the cart. Heights are above the floor. Mark and measure on the cart "
    "itself before you drill or cut."
)
_KINDS = {"opening": "hole", "no-go": "nothing may stand", "reserved": "kept free"}


def set_out(job: Job) -> Content:
    """Bodies, holes and other places, and the ports of what is joined up."""
    parts: list[Part] = [Paragraph(_HOW), _bodies(job.build), _zones(job.build), _ports(job.build)]
    return Content("set-out", "Setting out", "builder", tuple(parts))


def _length(length_m: float) -> Value:
    return Value(length_m, "length")


def _levels(build: Build) -> list[Level]:
    return sorted(build.cart.levels, key=lambda level: -level.height.si)


def _on(build: Build, level: str) -> list[Item]:
    """What is on a level, from the left to the right, from the rear to the front."""
    return sorted(
        (item for item in build.items if item.level == level), key=lambda item: bounds(item)[:2]
    )


def _bodies(build: Build) -> Table:
    names = dict.fromkeys(level.name for level in _levels(build))
    elsewhere = dict.fromkeys(item.level for item in build.items if item.level not in names)
    rows = [_body(build, item) for level in (*names, *elsewhere) for item in _on(build, level)]
    return Table(
        "set-out",
        "Where everything stands",
        (
            Column("Level", share=1.2),
            Column("What", share=2.6),
            *(
                Column(title, "length", "right")
                for title in (
                    "From the left",
                    "From the rear",
                    "Wide",
                    "Deep",
                    "High",
                    "Underside at",
                    "Top at",
                )
            ),
            Column("Turned", "angle", "right", 0.8),
            Column("How", share=1.1),
        ),
        tuple(rows),
        note="Wide and deep are as it stands, turned; a body askew takes the room around it.",
        empty="Nothing is on the cart yet.",
    )


def _body(build: Build, item: Item) -> tuple[Cell, ...]:
    left, rear, right, front = bounds(item)
    whole = extent(build.cart)
    bottom, height = underside_m(build.cart, item), item.specification.size.height.si
    turned = item.rotation % 360.0
    return (
        item.level,
        item.name,
        _length(left - whole.left),
        _length(rear - whole.rear),
        _length(right - left),
        _length(front - rear),
        _length(height),
        _length(bottom),
        _length(bottom + height),
        Value(turned, "angle") if turned else None,
        "of the venue" if item.level == VENUE else item.mount,
    )


def _zones(build: Build) -> Table:
    rows: list[tuple[Cell, ...]] = []
    whole = extent(build.cart)
    for level in _levels(build):
        for zone in build.cart.zones:
            if zone.level == level.name:
                x, y = zone.x.si - whole.left, zone.y.si - whole.rear
                wide, deep = zone.width.si, zone.depth.si
                rows.append(
                    (
                        level.name,
                        zone.name,
                        _KINDS[zone.kind],
                        "round" if zone.round else "rectangle",
                        *(_length(one) for one in (x, y, wide, deep, x + wide / 2, y + deep / 2)),
                    )
                )
    return Table(
        "holes",
        "Holes, and places kept free",
        (
            Column("Level"),
            Column("Name", share=1.6),
            Column("What", share=1.4),
            Column("Shape"),
            *(
                Column(title, "length", "right")
                for title in (
                    "From the left",
                    "From the rear",
                    "Wide",
                    "Deep",
                    "Middle from left",
                    "Middle from rear",
                )
            ),
        ),
        tuple(rows),
        empty="No hole is to be cut, and no place is kept free.",
    )


def _ports(build: Build) -> Table:
    """Where cords and tubes end: a hole for one is bored there."""
    rows: list[tuple[Cell, ...]] = []
    whole = extent(build.cart)
    joined = {
        (end.item, end.port) for run in build.runs for end in (run.a, run.b) if end is not None
    }
    for item in build.items:
        for port in item.specification.ports:
            if (item.id, port.id) in joined:
                x, y, z = port_position(build.cart, item, port)
                rows.append(
                    (
                        item.level,
                        item.name,
                        port.id,
                        port.medium,
                        port.connector,
                        _length(x - whole.left),
                        _length(y - whole.rear),
                        _length(z),
                    )
                )
    return Table(
        "ports",
        "Where cords and tubes are joined",
        (
            Column("Level"),
            Column("What", share=2.2),
            Column("Port"),
            Column("Medium"),
            Column("Connector", share=1.3),
            *(
                Column(title, "length", "right")
                for title in ("From the left", "From the rear", "Height")
            ),
        ),
        tuple(rows),
        empty="Nothing is joined by a cord or a tube yet.",
    )
