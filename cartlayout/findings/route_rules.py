"""What to say about the ways that wires and tubes take."""

from collections.abc import Iterator

from ..build import Build, Item, TubeRun
from ..network import Network, tight_bends
from ..units import Phrase, Value
from .body_numbers import run_number
from .finding import Finding

_PRACTICE = "least bend radius of the tube as kept in the build; elbows: common practice, no source"


def rules(build: Build, network: Network) -> Iterator[Finding]:
    """Tubes that turn tighter than they bend, in one note: it is a matter of the parts list."""
    found: list[tuple[float, TubeRun, int]] = []
    for tube in build.tubes:
        route = network.routes.get(tube.id)
        radius = tube.tube.least_bend_radius
        if route is None or radius is None:
            continue
        count = tight_bends(tube, route)
        if count:
            found.append((min(route.bend_room_m) / radius.si, tube, count))
    if not found:
        return
    found.sort(key=lambda one: (one[0], one[1].id))
    _, tube, _ = found[0]
    least = tube.tube.least_bend_radius
    room_m = min(network.routes[tube.id].bend_room_m)
    bends = sum(count for _, _, count in found)
    tubes = "1 tube turns" if len(found) == 1 else f"{len(found)} tubes turn"
    limit = Value(least.si if least is not None else 0.0, "length")
    yield Finding(
        "note",
        "network.tight-bends",
        Phrase.of("{tubes} tighter than they bend", tubes=tubes)
        if len(found) > 1
        else Phrase.of("{tubes} tighter than it bends", tubes=tubes),
        Phrase.of(
            "Tightest at {item}: room for a radius of {room}, and it bends to {limit} without a "
            "kink. Fit elbows ({bends} in all), enter them with the tube, or lead it wider.",
            item=_name(build, tube),
            room=Value(room_m, "length"),
            limit=limit,
            bends=str(bends),
        ),
        tuple(dict.fromkeys(one.a.item for _, one, _ in found)),
        tuple(one.id for _, one, _ in found),
        value=Value(room_m, "length"),
        limit=limit,
        source=_PRACTICE,
        number=run_number(tube.id, "bend"),
    )


def _name(build: Build, tube: TubeRun) -> str:
    item: Item | None = build.item(tube.a.item)
    return item.name if item is not None else tube.a.item
