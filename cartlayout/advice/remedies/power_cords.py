"""Cords: thicker, shorter, long enough, led the short way."""

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Box, Build, Cord, Extension, Item, Strip, Wire
from ...build.edits import EditError, replace_run
from ...findings import Finding
from ...units import ConductorSize, Length, Phrase, Value
from ..cord_sizes import cord_names, cord_of, same_size, with_cord
from .model import Candidate, Source
from .plugs import plug_port, straight, wire_of

_LENGTHS_FT = (3.0, 6.0, 8.0, 10.0, 15.0, 25.0, 50.0, 100.0)
_LENGTHS_M = (1.0, 1.5, 2.0, 3.0, 5.0, 10.0, 15.0, 25.0, 50.0)
"""Lengths that cords are sold in (common practice, no source)."""
_SPARE = 1.05
"""A cord lies in curves: so much longer than its way at least (common practice, no source)."""
_SIZES = 3
_WIRES = 3
_FIXED = "Only the maker's service or a licensed electrician changes a cord that is fixed."


def _wires(analysis: Analysis, finding: Finding) -> list[Wire]:
    """Wires that a finding is about, in the order in which it names them."""
    build = analysis.build
    found: dict[str, Wire] = {}
    for run_id in finding.runs:
        run = build.run(run_id)
        if isinstance(run, Wire):
            found[run.id] = run
    for item_id in finding.items if not found else ():
        item = build.item(item_id)
        wire = wire_of(build, item) if item is not None else None
        if wire is not None:
            found[wire.id] = wire
    return list(found.values())[:_WIRES]


def _owner(build: Build, wire: Wire) -> Item | None:
    """The item whose plug a wire holds."""
    for end in (wire.a, wire.b):
        item = build.item(end.item) if end is not None else None
        plug = plug_port(item) if item is not None else None
        if item is not None and end is not None and plug is not None and plug.id == end.port:
            return item
    return None


def _is_loose(item: Item) -> bool:
    """It is bought with its cord, so another one is simply taken."""
    return isinstance(item.specification.electrical, (Extension, Strip))


def _cautions(item: Item) -> tuple[str, ...]:
    return () if _is_loose(item) else (_FIXED,)


def thicker(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The next sizes up, cord by cord, then all of them together."""
    build = analysis.build
    wires = _wires(analysis, finding)
    for wire in wires:
        for name in _thicker_names(build, wire)[:_SIZES]:
            yield from _of_size(analysis, wire, name)
    if len(wires) > 1:
        yield from _all_thicker(analysis, wires)


def _thicker_names(build: Build, wire: Wire) -> list[str]:
    now = cord_of(build, wire)
    if now is None:
        return []
    names = list(cord_names(build, wire))
    at = next((at for at, name in enumerate(names) if same_size(_size(name), now.size)), None)
    return names[at + 1 :] if at is not None else []


def _size(name: str) -> ConductorSize:
    return ConductorSize(name)


def _of_size(analysis: Analysis, wire: Wire, name: str) -> Iterator[Candidate]:
    item = _owner(analysis.build, wire)
    if item is None:
        return
    yield Candidate(
        "thicker cord",
        Phrase.of("Give {item} a cord of {size}", item=item.name, size=name),
        2,
        partial(with_cord, analysis.build, wire, name),
        (item.id,),
        _cautions(item),
        told=partial(_told_ampacity, wire.id),
    )


def _told_ampacity(run_id: str, after: Analysis) -> Phrase:
    state = after.power.wires.get(run_id)
    if state is None:
        return Phrase("Nothing runs through it then")
    return Phrase.of(
        "It may carry {ampacity} and carries {amps}",
        ampacity=Value(state.ampacity_a, "current"),
        amps=Value(state.amps, "current"),
    )


def _all_thicker(analysis: Analysis, wires: list[Wire]) -> Iterator[Candidate]:
    build = analysis.build
    steps = [(wire, names[0]) for wire in wires if (names := _thicker_names(build, wire))]
    owners = [item for wire, _ in steps if (item := _owner(build, wire)) is not None]
    if len(steps) < 2 or len(owners) < len(steps):
        return
    told = " and ".join(
        f"{item.name} ({name})" for item, (_, name) in zip(owners, steps, strict=True)
    )
    yield Candidate(
        "thicker cord",
        Phrase.of("Give thicker cords to {told}", told=told),
        2,
        partial(_with_cords, build, steps),
        tuple(item.id for item in owners),
        tuple(dict.fromkeys(one for item in owners for one in _cautions(item))),
    )


def _with_cords(build: Build, steps: list[tuple[Wire, str]]) -> Build:
    for wire, name in steps:
        build = with_cord(build, wire, name)
    return build


def shorter(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Cords that are longer than their way: the next length that still reaches."""
    for wire in _wires(analysis, finding):
        item, cord = _owner(analysis.build, wire), cord_of(analysis.build, wire)
        route = analysis.network.routes.get(wire.id)
        if item is None or cord is None or route is None or not _is_loose(item):
            continue
        length = next(
            (one for one in _lengths(analysis.build) if one.si >= route.length_m * _SPARE), None
        )
        if length is not None and length.si < 0.95 * cord.length.si:
            yield _of_length(analysis, wire, item, cord, length)


def longer(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The next length that reaches."""
    for wire in _wires(analysis, finding):
        item, cord = _owner(analysis.build, wire), cord_of(analysis.build, wire)
        route = analysis.network.routes.get(wire.id)
        if item is None or cord is None or route is None:
            continue
        length = next(
            (one for one in _lengths(analysis.build) if one.si >= route.length_m * _SPARE), None
        )
        if length is not None and length.si > cord.length.si:
            yield _of_length(analysis, wire, item, cord, length)


def _lengths(build: Build) -> list[Length]:
    if build.units == "US":
        return [Length(f"{feet:g} ft") for feet in _LENGTHS_FT]
    return [Length(f"{metres:g} m") for metres in _LENGTHS_M]


def _of_length(analysis: Analysis, wire: Wire, item: Item, cord: Cord, length: Length) -> Candidate:
    kind = "shorter cord" if length.si < cord.length.si else "longer cord"
    route = analysis.network.routes[wire.id]

    def told(_: Analysis) -> Phrase:
        return Phrase.of(
            "{length} of cord for a way of {way}",
            length=Value(length.si, "distance"),
            way=Value(route.length_m, "distance"),
        )

    return Candidate(
        kind,
        Phrase.of(
            "Take a cord of {length} in the place of {item} ({now})"
            if isinstance(item.specification.electrical, Extension)
            else "Give {item} a cord of {length} instead of {now}",
            item=item.name,
            length=Value(length.si, "distance"),
            now=Value(cord.length.si, "distance"),
        ),
        2,
        partial(_with_length, analysis.build, wire, cord, length),
        (item.id,),
        _cautions(item),
        told=told,
    )


def _with_length(build: Build, wire: Wire, cord: Cord, length: Length) -> Build:
    return replace_run(build, replace(wire, cord=replace(cord, length=length)))


def straighter(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Without the bends that were drawn by hand."""
    for wire in _wires(analysis, finding):
        item = _owner(analysis.build, wire)
        if item is not None and wire.waypoints:
            yield Candidate(
                "shorter way",
                Phrase.of("Lead the cord of {item} the short way", item=item.name),
                1,
                partial(straight, analysis.build, wire.id),
                (item.id,),
                told=partial(_told_way, wire.id),
            )


def _told_way(run_id: str, after: Analysis) -> Phrase:
    route, run = after.network.routes.get(run_id), after.build.run(run_id)
    if route is None or not isinstance(run, Wire):
        raise EditError(f"there is no wire '{run_id}'")
    return Phrase.of("Its way is then {way}", way=Value(route.length_m, "distance"))


def _box_first(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Cords of boxes before cords of loads: many loads are helped by one."""
    build = analysis.build
    for wire in _wires(analysis, finding):
        item = _owner(build, wire)
        if item is not None and isinstance(item.specification.electrical, (Box, Extension, Strip)):
            for name in _thicker_names(build, wire)[:_SIZES]:
                yield from _of_size(analysis, wire, name)


SOURCES: dict[str, tuple[Source, ...]] = {
    "power.cord": (thicker,),
    "power.cord-protection": (thicker,),
    "power.voltage": (shorter, thicker),
    "power.drop": (shorter, _box_first, thicker),
    "power.cord-short": (straighter, longer),
    "power.not-converged": (thicker,),
}
