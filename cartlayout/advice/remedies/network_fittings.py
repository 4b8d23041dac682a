"""What goes between runs: tees where two tubes share a port, elbows, quick-connects."""

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Build, End, PipeFitting, Port, Run, TubeRun
from ...build.edits import EditError, place, replace_item, replace_run, with_
from ...build.groups import lift_outs
from ...findings import Finding
from ...limits.fittings import loss_coefficient
from ...limits.joints import QUICK_CONNECT, quick_connect_loss
from ...network import connect, tight_bends
from ...network.connect import best_tube, tube_from
from ...network.room import nearest_free
from ...stock import StockEntry, stock
from ...stock.labels import short_label
from ...stock.modules import mount
from ...units import Phrase
from .body_moves import name_of
from .model import Candidate, Source

_ELBOW = "90 degree elbow, push-fit"
_BRANCHES = 3


# --- a branch where several tubes share a port ------------------------------------------------


def branch(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A tee, manifold or drain manifold before a port that several tubes are on."""
    build = analysis.build
    runs = [run for one in finding.runs if (run := build.run(one)) is not None]
    shared = _shared_end(runs)
    if shared is None or not all(isinstance(run, TubeRun) for run in runs):
        return
    port = _port(build, shared)
    for entry in _branches(build, port.medium, len(runs))[:_BRANCHES]:
        yield Candidate(
            "add branch",
            Phrase.of(
                "Put a {branch} before {item} and lead the {count} tubes to it",
                branch=_short(entry),
                item=name_of(build, shared.item),
                count=str(len(runs)),
            ),
            3,
            partial(_with_branch, build, entry, shared, tuple(run.id for run in runs)),
            (shared.item,),
            told=lambda _: Phrase("Every port then has one tube"),
        )


def _short(entry: StockEntry) -> str:
    return entry.name.split(",")[0].strip().lower()


def _shared_end(runs: list[Run]) -> End | None:
    """The end that all of them have."""
    if len(runs) < 2:
        return None
    ends = [{(end.item, end.port) for end in (run.a, run.b) if end is not None} for run in runs]
    common = set.intersection(*ends)
    return End(*min(common)) if common else None


def _branches(build: Build, medium: str, tubes: int) -> list[StockEntry]:
    """Fittings of the stock with a port for each tube and one more, the smallest first."""
    found = []
    for one in stock():
        spec = one.specification
        if spec is None or spec.electrical is not None:
            continue
        if one.regions and build.region not in one.regions:
            continue
        kinds = {"water": ("tee", "manifold"), "drain": ("drain manifold", "drain wye")}
        ports = [port for port in spec.ports if port.medium == medium]
        if spec.kind in kinds.get(medium, ()) and len(ports) > tubes:
            found.append((len(ports), one.name, one))
    return [one for _, _, one in sorted(found, key=lambda each: each[:2])]


def _with_branch(build: Build, entry: StockEntry, shared: End, run_ids: tuple[str, ...]) -> Build:
    host = build.item(shared.item)
    spec = entry.specification
    if host is None or spec is None:
        raise EditError(f"there is no item '{shared.item}'")
    after, new_id = place(
        build, spec, host.level, host.x.si, host.y.si, short_label(build, spec.name)
    )
    item = after.item(new_id)
    assert item is not None
    after = replace_item(after, nearest_free(build, item))
    trunk, *ways = _ways(spec.ports, _port(build, shared))
    for run_id, way in zip(run_ids, ways, strict=False):
        after = _led(after, run_id, shared, End(item=new_id, port=way.id))
    return connect(after, End(item=new_id, port=trunk.id), shared)[0]


def _ways(ports: tuple[Port, ...], shared: Port) -> list[Port]:
    """The port that goes on to the shared one, then the others."""
    medium = [port for port in ports if port.medium == shared.medium]
    outlets = [port for port in medium if port.direction == "out"]
    trunk = outlets[0] if outlets else medium[0]
    return [trunk, *(port for port in medium if port.id != trunk.id)]


def _led(build: Build, run_id: str, old: End, new: End) -> Build:
    run = build.run(run_id)
    if not isinstance(run, TubeRun) or run.b is None:
        raise EditError("only a tube that joins two ports can be led to a branch")
    far = run.b if run.a == old else run.a
    one, other = _port(build, new), _port(build, far)
    row = best_tube(build, one.connector, other.connector, one.medium)
    ends = (far, new) if run.b == old else (new, far)
    return replace_run(
        build,
        replace(run, a=ends[0], b=ends[1], tube=tube_from(row), waypoints=(), length=None),
    )


def _port(build: Build, end: End) -> Port:
    item = build.item(end.item)
    port = item.specification.port(end.port) if item is not None else None
    if port is None:
        raise EditError(f"there is no port '{end.port}' on '{end.item}'")
    return port


# --- elbows ----------------------------------------------------------------------------------


def elbows(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """An elbow at every bend that is tighter than the tube bends."""
    build = analysis.build
    needed = []
    for run_id in finding.runs:
        run, route = build.run(run_id), analysis.network.routes.get(run_id)
        if isinstance(run, TubeRun) and route is not None and tight_bends(run, route):
            needed.append((run.id, tight_bends(run, route)))
    count = sum(each for _, each in needed)
    if not needed:
        return
    yield Candidate(
        "elbows",
        Phrase.of(
            "Fit {count} {noun} where tubes turn too tightly",
            count=str(count),
            noun="elbow" if count == 1 else "elbows",
        ),
        3,
        partial(_with_elbows, build, tuple(needed)),
        finding.items,
        told=lambda _: Phrase("No bend is then tighter than its tube; the elbows' loss is counted"),
    )


def _with_elbows(build: Build, needed: tuple[tuple[str, int], ...]) -> Build:
    loss = loss_coefficient(_ELBOW)
    changed = {}
    for run_id, count in needed:
        run = build.run(run_id)
        assert isinstance(run, TubeRun)
        fitting = PipeFitting(name=_ELBOW, loss_coefficient=loss, count=count)
        changed[run_id] = replace(run, fittings=(*run.fittings, fitting))
    return with_(build, runs=tuple(changed.get(run.id, run) for run in build.runs))


# --- modules ---------------------------------------------------------------------------------


def quick_connect(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A coupling that closes itself, on the tube that leaves a module."""
    build = analysis.build
    for run_id in finding.runs[:1]:
        run = build.run(run_id)
        if not isinstance(run, TubeRun):
            continue
        joint = PipeFitting(name=QUICK_CONNECT, loss_coefficient=quick_connect_loss())
        ends = [end.item for end in (run.a, run.b) if end is not None]
        yield Candidate(
            "quick-connect",
            Phrase.of(
                "Put a quick-connect into the tube from {a} to {b}",
                a=name_of(build, ends[0]),
                b=name_of(build, ends[-1]),
            ),
            3,
            partial(replace_run, build, replace(run, fittings=(*run.fittings, joint))),
            tuple(ends),
            told=lambda _: Phrase("It then comes apart by hand, and what it takes is counted"),
        )
    for items in lift_outs(build).values():
        if any(item.id in finding.items for item in items):
            yield Candidate(
                "mount module",
                Phrase.of("Mount the module of {item} in the cart", item=items[0].name),
                2,
                partial(mount, build, tuple(item.id for item in items)),
                tuple(item.id for item in items),
                told=lambda _: Phrase("It is then no longer lifted out"),
            )


SOURCES: dict[str, tuple[Source, ...]] = {
    "network.water.port-shared": (branch,),
    "network.drain.port-shared": (branch,),
    "network.tight-bends": (elbows,),
    "module.joint": (quick_connect,),
}
