"""Runs that do not join up: led to a port that fits, made of a tube that fits, or taken away."""

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Build, End, Item, Port, Run, TubeRun, Wire
from ...build.edits import EditError, remove, replace_run
from ...findings import Finding
from ...limits import TubeRow, tubes_between
from ...network.connect import best_tube, free_receptacles, tube_from
from ...network.fit import Fitter
from ...units import Phrase
from .body_moves import name_of
from .model import Candidate, Source
from .plugs import plug_port, wire_of
from .power_moves import plug_in

_NEAREST = 4
_TUBES = 3


def _runs(analysis: Analysis, finding: Finding) -> list[Run]:
    return [run for one in finding.runs if (run := analysis.build.run(one)) is not None]


def _what(run: Run) -> str:
    return "wire" if isinstance(run, Wire) else "tube"


def _between(build: Build, run: Run) -> str:
    """Such as "from Tee to Pitcher rinser"."""
    if run.b is None:
        return f"that starts at {name_of(build, run.a.item)}"
    far = name_of(build, run.b.item)
    return f"from {name_of(build, run.a.item)} to {far}"


# --- taken away ------------------------------------------------------------------------------


def take_away(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Each of the runs, left out."""
    build = analysis.build
    for run in _runs(analysis, finding)[:_NEAREST]:
        ends = [end.item for end in (run.a, run.b) if end is not None]
        yield Candidate(
            "take away",
            Phrase.of(
                "Take away the {what} {between}", what=_what(run), between=_between(build, run)
            ),
            0,
            partial(remove, build, (), (run.id,)),
            tuple(one for one in ends if build.item(one) is not None),
            told=partial(_told_away, _what(run)),
        )


def _told_away(what: str, _: Analysis) -> Phrase:
    return Phrase.of("The {what} is gone then", what=what)


# --- led elsewhere ---------------------------------------------------------------------------


def lead_on(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Each end of the runs to the nearest free port that fits the other end."""
    for run in _runs(analysis, finding):
        for end, other in ((run.a, run.b), (run.b, run.a)):
            if end is not None:
                yield from _led_from(analysis, run, end, other)


def _led_from(analysis: Analysis, run: Run, stays: End, leaves: End | None) -> Iterator[Candidate]:
    """One end stays, the other goes to the nearest ports that fit, those of its own item first."""
    build = analysis.build
    fitter = Fitter(build)
    node = fitter.places.known(stays)
    if node is None:
        return
    here = fitter.places.positions[node]
    found = []
    for item_id, port_id in fitter.places.ports:
        end = End(item=item_id, port=port_id)
        if end == leaves or not fitter.fits(stays, end, moving=run.id).ok:
            continue
        if (fitter.places.ports[node].medium == "power") != isinstance(run, Wire):
            continue
        there = fitter.places.positions[item_id, port_id]
        away = sum(abs(p - q) for p, q in zip(here, there, strict=True))
        found.append((leaves is None or item_id != leaves.item, away, item_id, port_id))
    for _, _, item_id, port_id in sorted(found)[:_NEAREST]:
        to = End(item=item_id, port=port_id)
        yield Candidate(
            "lead elsewhere",
            Phrase.of(
                "Lead the {what} from {here} to {port} of {there}",
                what=_what(run),
                here=name_of(build, stays.item),
                port=port_id,
                there=name_of(build, item_id),
            ),
            1,
            partial(_with_ends, build, run.id, stays, to),
            (stays.item, item_id),
            told=partial(_told_joined, name_of(build, stays.item), name_of(build, item_id)),
        )


def _told_joined(one: str, other: str, _: Analysis) -> Phrase:
    return Phrase.of("{one} and {other} are then joined", one=one, other=other)


def _with_ends(build: Build, run_id: str, a: End, b: End) -> Build:
    run = build.run(run_id)
    if run is None:
        raise EditError(f"there is no run '{run_id}'")
    if isinstance(run, Wire):
        return replace_run(build, replace(run, a=a, b=b, waypoints=()))
    first, second = _port(build, a), _port(build, b)
    tube = run.tube
    rows = tubes_between(first.connector, second.connector, first.medium)
    if all(row.name != tube.name for row in rows):
        tube = tube_from(best_tube(build, first.connector, second.connector, first.medium))
    if first.direction == "in" or second.direction == "out":
        a, b = b, a
    return replace_run(build, replace(run, a=a, b=b, tube=tube, waypoints=(), length=None))


def _port(build: Build, end: End) -> Port:
    item = build.item(end.item)
    port = item.specification.port(end.port) if item is not None else None
    if port is None:
        raise EditError(f"there is no port '{end.port}' on '{end.item}'")
    return port


def plug_elsewhere(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Plugs of the items that are named, each into the nearest free receptacle that fits."""
    build = analysis.build
    for item_id in finding.items:
        item = build.item(item_id)
        wire = wire_of(build, item) if item is not None else None
        if item is None or wire is None or wire.id not in finding.runs:
            continue
        yield from _into_nearest(analysis, item)


def _into_nearest(analysis: Analysis, item: Item) -> Iterator[Candidate]:
    build, plug = analysis.build, plug_port(item)
    if plug is None:
        return
    for end in free_receptacles(build, End(item=item.id, port=plug.id))[:_NEAREST]:
        yield plug_in(analysis, item.id, (end.item, end.port))


# --- a tube that fits ------------------------------------------------------------------------


def fitting_tube(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Tubes with ends for both ports, the nearest in bore first."""
    build = analysis.build
    for run in _runs(analysis, finding):
        if not isinstance(run, TubeRun) or run.b is None:
            continue
        a, b = _port(build, run.a), _port(build, run.b)
        for row in _rows(a, b, run)[:_TUBES]:
            yield Candidate(
                "tube kind",
                Phrase.of("Take {tube} {between}", tube=row.name, between=_between(build, run)),
                2,
                partial(replace_run, build, replace(run, tube=tube_from(row))),
                (run.a.item, run.b.item),
                told=lambda _: Phrase("Its ends then fit both ports"),
            )


def _rows(a: Port, b: Port, run: TubeRun) -> list[TubeRow]:
    rows = tubes_between(a.connector, b.connector, a.medium)
    potable = [row for row in rows if row.potable or a.medium != "water"]
    return sorted(potable, key=lambda row: abs(row.bore.si - run.tube.bore.si))


_AWAY: tuple[Source, ...] = (take_away,)

SOURCES: dict[str, tuple[Source, ...]] = {
    "network.free-end": (lead_on, take_away),
    "network.end-missing": (lead_on, take_away),
    "network.same-item": (lead_on, take_away),
    "network.mixed-media": (lead_on, take_away),
    "network.power.ends-alike": (lead_on, take_away),
    "network.power.misfit": (plug_elsewhere, take_away),
    "network.power.receptacle-shared": (plug_elsewhere, take_away),
    "network.power.plug-twice": _AWAY,
    "network.power.loop": (plug_elsewhere, take_away),
    "network.power.two-supplies": _AWAY,
    "network.water.thread": (fitting_tube, lead_on),
    "network.water.ends-alike": (lead_on, take_away),
    "network.drain.ends-alike": (lead_on, take_away),
    "network.water.port-shared": (lead_on, take_away),
    "network.drain.port-shared": (lead_on, take_away),
    "network.drain.loop": (lead_on, take_away),
}
