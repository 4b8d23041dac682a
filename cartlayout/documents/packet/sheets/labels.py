"""Labels for plugs, receptacles and tubes: what it is, where it goes, how much it carries."""

from collections.abc import Iterator
from typing import Literal

from ....build import VENUE, End, Item, TubeRun, Wire
from ....power.results import Circuit
from ....units import Phrase, Value
from ....water.parts import length_m
from ..content import Cell, Column, Content, Job, Label, Labels, Paragraph, Table
from ..marks import marks

_OPENING = (
    "Print at full size (100 %, not “fit to page”) on label sheets or paper, cut along the dashed "
    "lines. Round a cord or a tube: tape one on as a flag. Both ends of a "
    "tube have a label each."
)


def labels(job: Job) -> Content:
    """Labels in three grids, and the same as a table for a label printer."""
    plugs = tuple(label for wire in job.build.wires for label in _plug(job, wire))
    receptacles = tuple(label for wire in job.build.wires for label in _receptacle(job, wire))
    tubes = tuple(label for run in job.build.tubes for label in _tube(job, run))
    return Content(
        "labels",
        "Labels",
        "builder",
        (
            Paragraph(_OPENING, "muted"),
            Labels(plugs, "Plugs", "No plug is in anything on this plan."),
            Labels(receptacles, "Receptacles", "No receptacle is used on this plan."),
            Labels(tubes, "Tubes", "No tube is on this plan."),
        ),
        is_wide=False,
        applies=bool(job.build.runs),
        file_tables=(_table(plugs, receptacles, tubes),),
    )


def _table(*groups: tuple[Label, ...]) -> Table:
    rows: list[tuple[Cell, ...]] = []
    names = ("plug", "receptacle", "tube")
    for kind, group in zip(names, groups, strict=True):
        for label in group:
            lines = [*label.lines, "", "", ""][:4]
            rows.append((kind, label.letter, label.headline, *lines))
    return Table(
        "labels",
        "Labels",
        (
            Column("For"),
            Column("Circuit"),
            Column("Headline"),
            *(Column(f"Line {number}") for number in range(1, 5)),
        ),
        tuple(rows),
    )


# --- power --------------------------------------------------------------------------------------


def _circuit(job: Job, wire: Wire) -> Circuit | None:
    state = job.analysis.power.wires.get(wire.id)
    key = state.circuit if state is not None else None
    return next((one for one in job.analysis.power.circuits if one.key == key), None)


def _plug(job: Job, wire: Wire) -> Iterator[Label]:
    item = job.build.item(wire.a.item)
    if item is None:
        return
    circuit = _circuit(job, wire)
    lines = [f"into {_port_name(job, wire.b)}" if wire.b is not None else "into nothing yet"]
    yield Label(
        item.name,
        (*lines, *_carries(job, wire, circuit), *_cord(job, wire, item)),
        "power",
        circuit.letter if circuit is not None else "",
    )


def _receptacle(job: Job, wire: Wire) -> Iterator[Label]:
    if wire.b is None or job.build.item(wire.b.item) is None:
        return
    circuit = _circuit(job, wire)
    plugged = job.build.item(wire.a.item)
    name = plugged.name if plugged is not None else wire.a.item
    whose = job.build.item(wire.b.item)
    more = ("the venue's: take the label off again",) if whose and whose.level == VENUE else ()
    yield Label(
        _port_name(job, wire.b),
        (f"for {name} only", *_carries(job, wire, circuit), *more),
        "power",
        circuit.letter if circuit is not None else "",
    )


def _carries(job: Job, wire: Wire, circuit: Circuit | None) -> Iterator[Phrase | str]:
    state = job.analysis.power.wires.get(wire.id)
    if circuit is None or state is None:
        yield "on no circuit as drawn"
        return
    assumed = " (assumed)" if circuit.rating_assumed else ""
    yield Phrase.of(
        "Circuit {letter}, {rating} breaker{assumed}, {volts}; carries {amps}",
        letter=circuit.letter,
        rating=Value(circuit.rating_a, "current", 0),
        assumed=assumed,
        volts=Value(circuit.voltage_v, "voltage", 0),
        amps=Value(state.amps, "current"),
    )


def _cord(job: Job, wire: Wire, item: Item) -> Iterator[Phrase]:
    port = item.specification.port(wire.a.port)
    cord = wire.cord or (port.cord if port is not None else None)
    if cord is not None and port is not None:
        yield Phrase.of(
            "{mark} · {plug}, {size}, {length}",
            mark=marks(job.build)[wire.id],
            plug=port.connector,
            size=cord.size.text,
            length=Value(cord.length.si, "distance"),
        )


def _port_name(job: Job, end: End) -> str:
    """Such as "Strip, 4"; the port alone says nothing where there is only one."""
    item = job.build.item(end.item)
    if item is None:
        return end.item
    same = [port for port in item.specification.ports if port.medium == "power"
            and port.direction != "in"]  # fmt: skip
    return f"{item.name}, {end.port}" if len(same) > 1 else item.name


# --- tubes --------------------------------------------------------------------------------------


def _tube(job: Job, run: TubeRun) -> Iterator[Label]:
    """One for each end, in the direction the water runs."""
    first, last = _direction(job, run)
    names = [_item_name(job, end) for end in (first, last)]
    medium = _medium(job, run)
    what = {"drain": "waste water, not for drinking", "hot": "hot water", "water": "supply water"}
    for here in (first, last):
        if here is None:
            continue
        yield Label(
            f"{names[0]} → {names[1]}",
            (f"this end: {_item_name(job, here)}, {here.port}", _size(job, run), what[medium]),
            medium,
        )


def _direction(job: Job, run: TubeRun) -> tuple[End | None, End | None]:
    drain = next((one for one in job.analysis.water.drains if one.run == run.id), None)
    if drain is not None:
        return (run.a, run.b) if drain.start == (run.a.item, run.a.port) else (run.b, run.a)
    flows = [
        case.runs[run.id].flow for case in job.analysis.water.cases.values() if run.id in case.runs
    ]
    # In a loop it may run either way: then as it does where it runs hardest.
    backwards = max(flows, key=abs, default=0.0) < 0.0
    return (run.b, run.a) if backwards else (run.a, run.b)


def _item_name(job: Job, end: End | None) -> str:
    if end is None:
        return "free end"
    item = job.build.item(end.item)
    return item.name if item is not None else end.item


def _medium(job: Job, run: TubeRun) -> Literal["water", "hot", "drain"]:
    item = job.build.item(run.a.item)
    port = item.specification.port(run.a.port) if item is not None else None
    if port is not None and port.medium == "drain":
        return "drain"
    return "hot" if run.id in job.analysis.water.temperatures_k else "water"


def _size(job: Job, run: TubeRun) -> Phrase | str:
    """As in the cut list: mark, tube, and what it is cut to."""
    mark = marks(job.build)[run.id]
    length = length_m(run, job.analysis.network.routes.get(run.id))
    if length <= 0.0:
        return f"{mark} · {run.tube.name}"
    return Phrase.of(
        "{mark} · {tube}, {length}", mark=mark, tube=run.tube.name, length=Value(length, "tape")
    )
