"""Other tubes in the place of those that are there: wider, stronger, for warm water, shorter."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Build, TubeRun
from ...build.edits import EditError, replace_run
from ...findings import Finding
from ...limits import TubeRow, tubes_between
from ...units import Phrase, Value
from ..tube_sizes import with_tube
from .model import Candidate
from .water_kit import bears, greedy_first, place, tap_of, tubes_on_way

_WIDER = 1.03
"""Bores that differ by less are one."""
_NEXT = 1.12
"""Of sizes that differ by less, such as 1/4 in and 6 mm, only the better one is tried."""


def rows_between(build: Build, run: TubeRun) -> list[TubeRow]:
    """Tubes that go onto both ends of one and may carry what it carries, the best first."""
    ends = [
        item.specification.port(end.port)
        for end in (run.a, run.b)
        if end is not None and (item := build.item(end.item)) is not None
    ]
    ports = [port for port in ends if port is not None]
    if len(ports) != 2:
        return []
    rows = tubes_between(ports[0].connector, ports[1].connector, ports[0].medium)
    return [row for row in rows if row.potable or ports[0].medium != "water"]


def fitting_rows(analysis: Analysis, run: TubeRun) -> list[TubeRow]:
    """The same, for its warmth as well; of its own material first."""
    warm_k = analysis.water.temperatures_k.get(run.id)
    kept = (
        row
        for row in rows_between(analysis.build, run)
        if (warm_k is None or bears(row, warm_k))
        and (not row.seldom or warm_k is not None or row.material == run.tube.material)
    )
    return sorted(kept, key=lambda row: (row.material != run.tube.material, row.seldom))


def wider_rows(analysis: Analysis, run: TubeRun) -> list[TubeRow]:
    """The next sizes up, one of each bore."""
    found: list[TubeRow] = []
    rows = [one for one in fitting_rows(analysis, run) if one.bore.si > run.tube.bore.si * _WIDER]
    for row in sorted(rows, key=lambda one: one.bore.si):
        alike = next((at for at, one in enumerate(found) if _alike(one, row)), None)
        if alike is None:
            found.append(row)
        elif rows.index(row) < rows.index(found[alike]):
            found[alike] = row
    return found


def _alike(one: TubeRow, other: TubeRow) -> bool:
    return other.bore.si <= one.bore.si * _NEXT


def exchange(build: Build, names: Iterable[tuple[str, str]]) -> Build:
    """Take other tubes: ids of runs with the names of their tubes.

    Raises:
        EditError: a run is not there, or nothing would change.
    """
    after = build
    for run_id, name in names:
        run = after.run(run_id)
        if not isinstance(run, TubeRun):
            raise EditError(f"there is no tube '{run_id}'")
        after = with_tube(after, run, name)
    if after is build:
        raise EditError("that is the tube that is there")
    return after


def one_tube(analysis: Analysis, run: TubeRun, row: TubeRow, kind: str = "tube size") -> Candidate:
    """Another tube in the place of one."""
    build = analysis.build
    return Candidate(
        kind,
        Phrase.of(
            "Take {tube} in the place of the {old}",
            tube=row.name,
            old=place(analysis).tube_name(run.id),
        ),
        2,
        partial(exchange, build, ((run.id, row.name),)),
        _ends(run),
    )


def all_of(
    analysis: Analysis,
    runs: Sequence[TubeRun],
    pick: Callable[[TubeRun], TubeRow | None],
    where: str,
    word: str = "wider",
    **names: str,
) -> Candidate | None:
    """Other tubes for several runs at once; None where fewer than two change."""
    chosen = [(run, row) for run in runs if (row := pick(run)) is not None]
    if len(chosen) < 2:
        return None
    build = analysis.build
    sizes = ", ".join(dict.fromkeys(row.name for _, row in chosen))
    return Candidate(
        "tube size",
        Phrase.of(
            f"Take {word} tube {where}: {{sizes}} for {{count}} of its tubes",
            sizes=sizes,
            count=str(len(chosen)),
            **names,
        ),
        2,
        partial(exchange, build, tuple((run.id, row.name) for run, row in chosen)),
        tuple(dict.fromkeys(end for run, _ in chosen for end in _ends(run))),
    )


def _ends(run: TubeRun) -> tuple[str, ...]:
    return tuple(end.item for end in (run.a, run.b) if end is not None)


# --- what loses too much -------------------------------------------------------------------------


def wider_way(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A wider tube on the way to a tap, where most is lost first."""
    tap = tap_of(analysis, finding)
    if tap is None:
        return
    on_way = {run.id: run for run in tubes_on_way(analysis, tap)}
    greedy = [on_way[one] for one in greedy_first(tap) if one in on_way]
    for run in greedy[:2]:
        for row in wider_rows(analysis, run)[: 3 if run is greedy[0] else 1]:
            yield one_tube(analysis, run, row)


def whole_way(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Wider tubes all the way to a tap."""
    tap = tap_of(analysis, finding)
    if tap is None:
        return
    runs, name = tubes_on_way(analysis, tap), tap.name
    yield from by_steps(analysis, runs, 3, "all the way to {tap}", tap=name)
    long = [run for run in runs if _is_long(analysis, run)]
    rows = {run.id: row for run in runs if (row := step_up(analysis, 1, run)) is not None}
    if long and rows:
        yield Candidate(
            "tube size",
            Phrase.of(
                "Take wider tube all the way to {tap}, each cut to what its way takes", tap=name
            ),
            2,
            partial(_wider_and_cut, analysis.build, long, rows),
            tuple(dict.fromkeys(end for run in runs for end in _ends(run))),
        )


def _wider_and_cut(build: Build, long: Sequence[TubeRun], rows: Mapping[str, TubeRow]) -> Build:
    for run in long:
        build = replace_run(build, replace(run, length=None))
    return exchange(build, tuple((run_id, row.name) for run_id, row in rows.items()))


def _is_long(analysis: Analysis, run: TubeRun) -> bool:
    """Whether a tube was given more length than its way takes."""
    route = analysis.network.routes.get(run.id)
    return run.length is not None and route is not None and run.length.si > route.length_m * 1.02


def by_steps(
    analysis: Analysis, runs: Sequence[TubeRun], most: int, where: str, **names: str
) -> Iterator[Candidate]:
    """All of some tubes one size wider, then two, and so on for as long as that is wider."""
    told = set()
    for at in range(most):
        made = all_of(analysis, runs, partial(step_up, analysis, at), where, **names)
        if made is not None and made.title not in told:
            told.add(made.title)
            yield made


def step_up(analysis: Analysis, steps: int, run: TubeRun) -> TubeRow | None:
    """The tube so many sizes above the next one; the widest where there are fewer."""
    rows = wider_rows(analysis, run)
    return rows[min(steps, len(rows) - 1)] if rows else None


def wider_named(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Wider tubes in the place of those that a finding names, one by one, then all at once."""
    runs = [run for one in finding.runs if isinstance(run := analysis.build.run(one), TubeRun)]
    if len(runs) == 1:
        for row in wider_rows(analysis, runs[0])[:4]:
            yield one_tube(analysis, runs[0], row)
        return
    yield from by_steps(analysis, runs, 3, "there")


def shorter(analysis: Analysis, runs: Iterable[TubeRun]) -> Iterator[Candidate]:
    """Tubes led or cut longer than they have to be."""
    build, names = analysis.build, place(analysis)
    for run in runs:
        route = analysis.network.routes.get(run.id)
        if route is not None and _is_long(analysis, run):
            yield Candidate(
                "shorter tube",
                Phrase.of(
                    "Cut the {tube} to the {length} that its way takes",
                    tube=names.tube_name(run.id),
                    length=Value(route.length_m, "distance"),
                ),
                2,
                partial(replace_run, build, replace(run, length=None)),
                _ends(run),
            )
        if run.waypoints:
            yield Candidate(
                "shorter tube",
                Phrase.of("Lead the {tube} the short way", tube=names.tube_name(run.id)),
                1,
                partial(replace_run, build, replace(run, waypoints=(), length=None)),
                _ends(run),
            )


def shorter_way(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Shorter tubes on the way to a tap, what takes most first."""
    tap = tap_of(analysis, finding)
    if tap is not None:
        on_way = {run.id: run for run in tubes_on_way(analysis, tap)}
        yield from shorter(
            analysis, [on_way[one] for one in greedy_first(tap)[:4] if one in on_way]
        )


# --- what is not made for it ---------------------------------------------------------------------


def made_for_it(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Tubes of about the same bore that bear what the named ones do not."""
    runs = [run for one in finding.runs if isinstance(run := analysis.build.run(one), TubeRun)]
    highest = {one.run: one.highest_pa for one in analysis.water.statics}
    peaks = {one.run: one.peak_pa for one in analysis.water.surges}
    chosen: list[tuple[TubeRun, list[TubeRow]]] = []
    for run in runs:
        asked_pa = max(highest.get(run.id, 0.0), peaks.get(run.id, 0.0) if len(runs) == 1 else 0.0)
        warm_k = analysis.water.temperatures_k.get(
            run.id, analysis.build.venue.water_temperature.si
        )
        rows = [
            row
            for row in fitting_rows(analysis, run)
            if row.name != run.tube.name and (row.rated_pa(warm_k) or 0.0) >= asked_pa
        ]
        rows.sort(key=lambda row, run=run: round(off(run, row) / 1e-3))  # type: ignore[misc]
        if rows:
            chosen.append((run, rows))
    if len(runs) == 1 and chosen:
        run, rows = chosen[0]
        for row in rows[:3]:
            yield one_tube(analysis, run, row, "tube kind")
    elif len(chosen) == len(runs) > 1:
        best = {run.id: rows[0] for run, rows in chosen}
        made = all_of(analysis, runs, lambda run: best.get(run.id), "there", "other")
        if made is not None:
            yield made


def off(run: TubeRun, row: TubeRow) -> float:
    """How far the bore of a tube is from that of the one that is there."""
    return abs(row.bore.si - run.tube.bore.si)
