"""Parts list and cut list, from the ways that tubes and cords take on the plan."""

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from ....build import Build, Cord, End, Item, Port, Run, TubeRun, Wire
from ....limits import end_fitting, power_connector
from ....network import tight_bends
from ....units import Phrase, Value
from ....water.parts import length_m
from ..cart_parts import cart_table, closures
from ..content import Cell, Column, Content, Job, Paragraph, Part, Table
from ..marks import marks

_CUT_SHARE = 0.1
"""Added to the sum of a size for cuts that go wrong and ends trimmed square: common practice, no
source."""


def parts(job: Job) -> Content:
    """The sheet for whoever buys and cuts."""
    pieces = list(_pieces(job))
    made: list[Part] = [
        _equipment(job),
        cart_table(job.build.cart),
        _tubes(pieces),
        _cuts(job, pieces),
        _fittings(job, pieces),
        _cords(job),
        _leads(job),
        Paragraph(
            "Lengths follow the ways on the plan, uprights included. Measure on the cart before "
            "cutting: a length entered as measured is taken as it is.",
            "muted",
        ),
    ]
    return Content("parts", "Parts list and cut list", "builder", tuple(made))


# --- equipment ---------------------------------------------------------------------------------


def _equipment(job: Job) -> Table:
    """What is on the cart, equal pieces counted; the venue's own is left out."""
    groups: dict[tuple[str, ...], list[Item]] = {}
    for item in job.build.items:
        if item.level == "venue":
            continue
        spec = item.specification
        key = (spec.name, spec.size.width.text, spec.size.depth.text, spec.size.height.text)
        groups.setdefault(key, []).append(item)
    rows: list[tuple[Cell, ...]] = []
    for number, found in enumerate(groups.values(), 1):
        spec = found[0].specification
        rows.append(
            (
                str(number),
                Value(len(found), "count"),
                spec.name,
                spec.kind,
                Value(spec.size.width.si, "tape"),
                Value(spec.size.depth.si, "tape"),
                Value(spec.size.height.si, "tape"),
                Value(spec.mass.si, "mass", 1),
                ", ".join(_connections(spec.ports)),
                ", ".join(dict.fromkeys(one.name for one in found if one.label)),
            )
        )
    return Table(
        "parts-equipment",
        "Equipment",
        (
            Column("No.", share=0.3),
            Column("Count", "count", "right", 0.4),
            Column("Name", share=1.6),
            Column("Kind", share=1.0),
            Column("Width", "tape", "right", 0.6),
            Column("Depth", "tape", "right", 0.6),
            Column("Height", "tape", "right", 0.6),
            Column("Mass, empty", "mass", "right", 0.7),
            Column("Connections", share=1.6),
            Column("On the plan", share=1.0),
        ),
        tuple(rows),
        empty="Nothing stands on the cart.",
    )


def _connections(ports: tuple[Port, ...]) -> Iterator[str]:
    for connector, number in Counter(port.connector for port in ports).items():
        yield connector if number == 1 else f"{number} × {connector}"


# --- tubes -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Piece:
    """One tube to be cut."""

    mark: str
    """As on its label: "T1"."""
    run: TubeRun
    way_m: float | None
    """Along its route; None while an end is free."""
    cut_m: float
    ends: tuple[Port | None, Port | None]
    drains: bool


def _pieces(job: Job) -> Iterator[_Piece]:
    routes = job.analysis.network.routes
    named = marks(job.build)
    for run in job.build.tubes:
        route = routes.get(run.id)
        ends = _port(job.build, run.a), _port(job.build, run.b)
        drains = any(port is not None and port.medium == "drain" for port in ends)
        way_m = route.length_m if route is not None else None
        yield _Piece(named[run.id], run, way_m, length_m(run, route), ends, drains)


def _port(build: Build, end: End | None) -> Port | None:
    item = build.item(end.item) if end is not None else None
    return item.specification.port(end.port) if item is not None and end is not None else None


def _tubes(pieces: list[_Piece]) -> Table:
    """By size: how many pieces, how much of it, how much to buy."""
    sizes: dict[tuple[str, bool], list[_Piece]] = {}
    for piece in pieces:
        sizes.setdefault((piece.run.tube.name, piece.drains), []).append(piece)
    rows: list[tuple[Cell, ...]] = []
    for (name, drains), found in sizes.items():
        tube = found[0].run.tube
        whole_m = sum(piece.cut_m for piece in found)
        spare_m = sum(piece.run.spare.si for piece in found if piece.run.length is None)
        rows.append(
            (
                name,
                "drain" if drains else "supply",
                tube.material,
                Value(tube.outer.si, "bore"),
                Value(tube.bore.si, "bore"),
                "yes" if tube.potable else "no",
                Value(len(found), "count"),
                Value(whole_m, "distance"),
                Value(spare_m, "distance"),
                Value(whole_m * (1.0 + _CUT_SHARE), "distance"),
            )
        )
    return Table(
        "parts-tubes",
        "Tube by size",
        (
            Column("Size", share=1.2),
            Column("For", share=0.7),
            Column("Material", share=1.2),
            Column("Outside", "bore", "right", 0.7),
            Column("Bore", "bore", "right", 0.7),
            Column("For drinking water", share=0.8),
            Column("Pieces", "count", "right", 0.5),
            Column("Cut length", "distance", "right", 0.8),
            Column("Spare in it", "distance", "right", 0.8),
            Column("To buy", "distance", "right", 0.8),
        ),
        tuple(rows),
        note=f"To buy: {_CUT_SHARE:.0%} more than is cut (common practice, no source).",
        empty="No tube is on the plan.",
    )


def _cuts(job: Job, pieces: list[_Piece]) -> Table:
    """The cut list: piece by piece, in the order of their marks."""
    rows: list[tuple[Cell, ...]] = []
    for piece in pieces:
        run = piece.run
        rows.append(
            (
                piece.mark,
                run.tube.name,
                _end(job.build, run.a),
                _end(job.build, run.b),
                None if piece.way_m is None else Value(piece.way_m, "tape"),
                Value(run.spare.si, "tape") if run.length is None else None,
                Value(piece.cut_m, "tape") if piece.cut_m > 0.0 else None,
                "as measured" if run.length is not None else "from the plan",
                _bends(job, run),
            )
        )
    whole_m = math.fsum(piece.cut_m for piece in pieces)
    return Table(
        "cut-list-tubes",
        "Cut list",
        (
            Column("Mark", share=0.4),
            Column("Tube", share=1.0),
            Column("From", share=1.5),
            Column("To", share=1.5),
            Column("Way", "tape", "right", 0.7),
            Column("Spare", "tape", "right", 0.6),
            Column("Cut to", "tape", "right", 0.7),
            Column("Length is", share=0.8),
            Column("Bends", share=1.2),
        ),
        tuple(rows),
        totals=(
            "All", None, None, None, None, None, Value(whole_m, "tape"), None, None
        ) if len(rows) > 1 else (),
        empty="No tube is on the plan.",
    )  # fmt: skip


def _end(build: Build, end: End | None) -> str:
    if end is None:
        return "free end"
    item = build.item(end.item)
    name = item.name if item is not None else end.item
    ports = item.specification.ports if item is not None else ()
    alike = [port for port in ports if port.medium in ("water", "drain")]
    return f"{name}, {end.port}" if len(alike) > 1 else name


def _bends(job: Job, run: TubeRun) -> str:
    route = job.analysis.network.routes.get(run.id)
    if route is None or not route.bends:
        return "–"
    tight = tight_bends(run, route)
    if not tight:
        return str(route.bends)
    return f"{route.bends}, {tight} too tight to bend: elbow or more room"


def _fittings(job: Job, pieces: list[_Piece]) -> Table:
    """Counted: those along tubes, and those that fasten a tube to a port."""
    along: Counter[tuple[str, str]] = Counter()
    at_ends: Counter[tuple[str, str]] = Counter()
    unknown: Counter[tuple[str, str]] = Counter()
    for piece in pieces:
        tube = piece.run.tube.name
        for fitting in piece.run.fittings:
            along[fitting.name, tube] += fitting.count
        for port in piece.ends:
            if port is None:
                continue
            made = end_fitting(tube, port.connector)
            if made is None:
                unknown[port.connector, tube] += 1
            else:
                at_ends[made.name, tube] += 1
    rows: list[tuple[Cell, ...]] = []
    for where, found in (("along the tube", along), ("at a port", at_ends)):
        rows += [
            (name, tube, where, Value(number, "count")) for (name, tube), number in found.items()
        ]
    rows += [
        (f"something that joins {tube} to {connector}", tube, "at a port", Value(number, "count"))
        for (connector, tube), number in unknown.items()
    ]
    rows += [
        (f"plug for {connector}", name, "at a free port", Value(number, "count"))
        for (connector, name), number in closures(job.build).items()
    ]
    return Table(
        "parts-fittings",
        "Fittings",
        (
            Column("Fitting", share=2.0),
            Column("For", share=1.0),
            Column("Where", share=1.0),
            Column("Count", "count", "right", 0.5),
        ),
        tuple(rows),
        note="Tees, manifolds, valves and filters are equipment and stand above. A free port is "
        "thought of as closed.",
        empty="No fitting is needed.",
    )


# --- cords -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Lead:
    mark: str
    wire: Wire
    plug: str
    cord: Cord | None
    way_m: float | None


def _leads_of(job: Job) -> Iterator[_Lead]:
    routes = job.analysis.network.routes
    named = marks(job.build)
    for wire in job.build.wires:
        port = _plug_port(job.build, wire)
        route = routes.get(wire.id)
        yield _Lead(
            named[wire.id],
            wire,
            port.connector if port is not None else "–",
            wire.cord or (port.cord if port is not None else None),
            route.length_m if route is not None else None,
        )


def _plug_port(build: Build, run: Run) -> Port | None:
    """The end of a wire that is a plug, or terminals: where power goes in."""
    ports = (_port(build, run.a), _port(build, run.b))
    return next((port for port in ports if port is not None and port.direction == "in"), ports[0])


def _cords(job: Job) -> Table:
    """By gauge and plug."""
    sorts: dict[tuple[float, str, int, str], list[_Lead]] = {}
    for lead in _leads_of(job):
        if lead.cord is not None:
            size = lead.cord.size
            key = (-size.si, size.text, lead.cord.loaded_conductors, lead.plug)
            sorts.setdefault(key, []).append(lead)
    rows: list[tuple[Cell, ...]] = [
        (
            size,
            _wires(plug),
            Value(loaded, "count"),
            plug,
            Value(len(found), "count"),
            Value(sum(lead.cord.length.si for lead in found if lead.cord), "distance"),
        )
        for (_, size, loaded, plug), found in sorted(sorts.items())
    ]
    return Table(
        "parts-cords",
        "Cord by gauge and plug",
        (
            Column("Size", share=1.0),
            Column("Conductors", share=1.4),
            Column("Of them loaded", "count", "right", 0.8),
            Column("Plug", share=1.2),
            Column("Count", "count", "right", 0.6),
            Column("Length together", "distance", "right", 1.0),
        ),
        tuple(rows),
        note="Conductors as the plug has poles: L line, N neutral, G earth. A neutral that carries "
        "only what its lines differ by does not count as loaded.",
        empty="No cord of known size is on the plan.",
    )


def _wires(plug: str) -> str:
    """How many conductors a cord has to have for its plug: "4: L1, L2, N, G"."""
    connector = power_connector(plug)
    poles = connector.poles if connector is not None else ()
    return f"{len(poles)}: {', '.join(poles)}" if poles else "as its plug asks"


def _leads(job: Job) -> Table:
    """Every plug that goes somewhere, and whether its cord reaches."""
    rows: list[tuple[Cell, ...]] = []
    marks: list[str] = []
    for lead in _leads_of(job):
        cord = lead.cord
        left_m = None if cord is None or lead.way_m is None else cord.length.si - lead.way_m
        rows.append(
            (
                lead.mark,
                _item(job.build, lead.wire.a),
                _item(job.build, lead.wire.b),
                lead.plug,
                cord.size.text if cord is not None else "size not known",
                None if cord is None else Value(cord.length.si, "distance"),
                None if lead.way_m is None else Value(lead.way_m, "distance"),
                _reach(left_m),
            )
        )
        marks.append("" if left_m is None else "ok" if left_m >= 0.0 else "stop")
    return Table(
        "cut-list-cords",
        "Cords",
        (
            Column("Mark", share=0.4),
            Column("From", share=1.4),
            Column("To", share=1.4),
            Column("Plug", share=0.8),
            Column("Size", share=0.8),
            Column("Cord", "distance", "right", 0.7),
            Column("Way", "distance", "right", 0.7),
            Column("So", share=1.0),
        ),
        tuple(rows),
        tuple(marks),
        empty="Nothing is plugged in.",
    )


def _item(build: Build, end: End | None) -> str:
    item = build.item(end.item) if end is not None else None
    if item is None:
        return "free end" if end is None else end.item
    return item.name


def _reach(left_m: float | None) -> Cell:
    if left_m is None:
        return "length not known"
    words = "{length} to spare" if left_m >= 0.0 else "{length} too short"
    return Phrase.of(words, length=Value(abs(left_m), "distance"))
