"""Setting out: where everything stands on each level, which holes to cut, where ports are."""

from ....build import VENUE, Build, Item, Level, Run, TubeRun
from ....build.cart_geometry import extent
from ....build.geometry import bounds, port_position, underside_m
from ....network.routing.ground import GAP_M
from ....units import Phrase, Value
from ..content import Cell, Column, Content, Job, Paragraph, Part, Table
from ..marks import marks
from ..passages import passages

_HOW = (
    "From the left: from the cart's left edge to the left edge of what stands there, seen from the "
    "front. From the rear: from the cart's rear edge to its rear edge. A minus sign means outside "
    "of the cart. Heights are above the floor. Mark and measure on the cart "
    "itself before you drill or cut."
)
_GAPS = (
    "A gap: a strip of {gap} or so along the edge that is left open or notched for cords and tubes "
    "(an assumption of the plan). Bore wider than what goes through, and line the edge it could "
    "chafe on. Look under a board before you bore it."
)
_KINDS = {"opening": "hole", "no-go": "nothing may stand", "reserved": "kept free"}


def set_out(job: Job) -> Content:
    """Bodies, holes and other places, and the ports of what is joined up."""
    parts: list[Part] = [
        Paragraph(_HOW),
        _bodies(job.build),
        _zones(job.build),
        _passages(job),
        _ports(job.build),
    ]
    return Content("set-out", "Setting out", "builder", tuple(parts))


def _length(length_m: float) -> Value:
    return Value(length_m, "tape")


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
                Column(title, "tape", "right")
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
        "Holes as drawn, and places kept free",
        (
            Column("Level"),
            Column("Name", share=1.6),
            Column("What", share=1.4),
            Column("Shape"),
            *(
                Column(title, "tape", "right")
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
        empty="No hole and no place kept free is drawn.",
    )


def _passages(job: Job) -> Table:
    """Every run through every board: what is bored, notched, or left open."""
    whole, named = extent(job.build.cart), marks(job.build)
    rows: list[tuple[Cell, ...]] = []
    for one in passages(job.build, job.analysis.network):
        run = one.run
        rows.append(
            (
                one.level.name,
                named[run.id],
                run.tube.name if isinstance(run, TubeRun) else "cord",
                _from_to(job.build, run),
                one.how,
                _length(one.x_m - whole.left),
                _length(one.y_m - whole.rear),
                "its plug" if one.thick_m is None else _length(one.thick_m),
            )
        )
    return Table(
        "passages",
        "Where cords and tubes go through a board",
        (
            Column("Board", share=0.9),
            Column("Mark", share=0.5),
            Column("What", share=1.2),
            Column("From, to", share=2.4),
            Column("Through", share=1.9),
            Column("Middle from left", "tape", "right"),
            Column("Middle from rear", "tape", "right"),
            Column("Has to let by", "tape", "right", 0.9),
        ),
        tuple(rows),
        note=Phrase.of(_GAPS, gap=_length(GAP_M)),
        empty="No cord and no tube goes through a board.",
    )


def _from_to(build: Build, run: Run) -> str:
    names = []
    for end in (run.a, run.b):
        item = build.item(end.item) if end is not None else None
        names.append(item.name if item is not None else "free end" if end is None else end.item)
    return f"{names[0]} to {names[1]}"


def _ports(build: Build) -> Table:
    """Where cords and tubes end."""
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
                Column(title, "tape", "right")
                for title in ("From the left", "From the rear", "Height")
            ),
        ),
        tuple(rows),
        empty="Nothing is joined by a cord or a tube yet.",
    )
