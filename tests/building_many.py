"""Large builds: a hall of carts on one floor, each with its own outlets, wires, tubes and drains.

Every stand is a whole sample cart, so wires, tubes and cases are those that a
person drew, and nothing is simpler than it is on one cart.
"""

import math

from msgspec.structs import replace

from cartlayout.build import Build, Item, Run
from cartlayout.build.cart import Zone
from cartlayout.build.file import load
from cartlayout.build.runs import WayPoint
from cartlayout.data import sample_builds
from cartlayout.units import Length

SPACE_M = 1.2
"""Between two stands, where the venue's outlets are."""


def hall(items: int, sample: str = "market_cart") -> Build:
    """About so many items: as many whole stands as come nearest."""
    stand = load(sample_builds() / f"{sample}.cart")
    count = max(1, round(items / len(stand.items)))
    columns = math.ceil(math.sqrt(count * 0.8))
    step_x = stand.cart.width.si + SPACE_M
    step_y = stand.cart.depth.si + SPACE_M
    all_items: list[Item] = []
    all_runs: list[Run] = []
    for number in range(count):
        dx, dy = number % columns * step_x, number // columns * step_y
        tail = f"-{number}" if number else ""
        all_items += [_item(item, tail, dx, dy) for item in stand.items]
        all_runs += [_run(run, tail, dx, dy) for run in stand.runs]
    cart = replace(
        stand.cart,
        width=_m((columns - 1) * step_x + stand.cart.width.si),
        depth=_m((math.ceil(count / columns) - 1) * step_y + stand.cart.depth.si),
        outline=(),
        zones=tuple(
            zone
            for number in range(count)
            for zone in _rear_gaps(stand, number % columns * step_x, number // columns * step_y)
        ),
    )
    return replace(stand, cart=cart, items=tuple(all_items), runs=tuple(all_runs))


def _rear_gaps(stand: Build, dx: float, dy: float) -> list[Zone]:
    """Where the runs of one stand pass its boards: along its rear edge, as on a cart of its own."""
    return [
        Zone(
            name=f"gap {dx:.2f} {dy:.2f} {level.name}",
            kind="opening",
            level=level.name,
            x=_m(dx),
            y=_m(dy),
            width=stand.cart.width,
            depth=_m(0.05),
        )
        for level in stand.cart.levels
    ]


def _m(metres: float) -> Length:
    return Length(f"{metres:.6f} m")


def _item(item: Item, tail: str, dx: float, dy: float) -> Item:
    if not tail:
        return item
    return replace(
        item,
        id=item.id + tail,
        label=f"{item.name} {tail[1:]}",
        x=_m(item.x.si + dx),
        y=_m(item.y.si + dy),
        group=item.group + tail if item.group else None,
        specification=_with_circuit(item, tail),
    )


def _with_circuit(item: Item, tail: str):
    """A venue outlet of another stand is on another circuit."""
    role = item.specification.electrical
    circuit = getattr(role, "circuit", None)
    if not circuit:
        return item.specification
    return replace(item.specification, electrical=replace(role, circuit=circuit + tail))


def _run(run: Run, tail: str, dx: float, dy: float) -> Run:
    if not tail:
        return run
    return replace(
        run,
        id=run.id + tail,
        a=replace(run.a, item=run.a.item + tail),
        b=replace(run.b, item=run.b.item + tail) if run.b is not None else None,
        waypoints=tuple(
            WayPoint(x=_m(point.x.si + dx), y=_m(point.y.si + dy)) for point in run.waypoints
        ),
    )
