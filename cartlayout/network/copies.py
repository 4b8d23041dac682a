"""Copies that are joined to the same things as their originals."""

from collections.abc import Iterable

from msgspec.structs import replace

from ..build import Build, End, TubeRun
from ..build.edits import EditError, duplicate, replace_run
from ..limits import end_fitting
from .connect import connect
from .fit import Fitter


def duplicate_joined(
    build: Build, ids: Iterable[str], dx_m: float, dy_m: float
) -> tuple[Build, tuple[str, ...], tuple[str, ...]]:
    """Add copies of items and join each to what its original is joined to.

    A copy's plug goes into a free receptacle of the same outlet, strip or box,
    its tube to a free port of the same tank, tee or pump; a tube is of the same
    sort where that fits.

    Returns:
        The build, the ids of the copies, and the names of what has no free
        fitting port left, so that a copy stays apart from it.
    """
    chosen = set(ids)
    originals = tuple(item.id for item in build.items if item.id in chosen)
    made, new = duplicate(build, originals, dx_m, dy_m)
    copy_of = dict(zip(originals, new, strict=True))
    missed: list[str] = []
    for run in build.runs:
        for near, far in ((run.a, run.b), (run.b, run.a)):
            if near is None or far is None or near.item not in copy_of or far.item in copy_of:
                continue
            joined = _joined(made, replace(near, item=copy_of[near.item]), far)
            if joined is None:
                source = build.item(far.item)
                missed.append(source.name if source is not None else far.item)
                continue
            made, run_id = joined
            if isinstance(run, TubeRun):
                made = _same_sort(made, run_id, run)
    return made, new, tuple(dict.fromkeys(missed))


def _joined(build: Build, end: End, far: End) -> tuple[Build, str] | None:
    """Join a copy's port to the first free fitting port of what its original is on."""
    fitter = Fitter(build)
    source = build.item(far.item)
    ports = source.specification.ports if source is not None else ()
    for port in ports:
        target = End(item=far.item, port=port.id)
        if fitter.fits(end, target).ok:
            try:
                return connect(build, end, target)
            except EditError:
                continue
    return None


def _same_sort(build: Build, run_id: str, model: TubeRun) -> Build:
    """Make a new tube the sort of another, where it can be fitted to both ports."""
    run = build.run(run_id)
    if not isinstance(run, TubeRun):
        return build
    for end in (run.a, run.b):
        item = build.item(end.item) if end is not None else None
        port = item.specification.port(end.port) if item is not None and end is not None else None
        if port is None or end_fitting(model.tube.name, port.connector) is None:
            return build
    return replace_run(build, replace(run, tube=model.tube, spare=model.spare))
