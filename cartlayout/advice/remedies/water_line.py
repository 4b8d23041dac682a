"""The line as a whole: set points for a window, suction tubes, copper behind what carbonates."""

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...analysis import Analysis
from ...build import Appliance, Build, Inlet, Item, TubeRun
from ...build.edits import EditError
from ...findings import Finding
from ...units import Duration, Phrase, Value
from ...water.results import LadderStep
from ...water.supply_results import SetPoint
from ..regulating import set_to, with_regulators
from .model import Candidate
from .water_kit import PLUMBER, place, with_role
from .water_places import suctions_of
from .water_tubes import all_of, by_steps, fitting_rows, off, one_tube, shorter, wider_rows

_MOST_SLOW_S = 2.0
"""Nobody waits longer for a tap to shut."""


# --- the window of a supply ----------------------------------------------------------------------


def opened_window(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """The regulators with which one pressure does for all, as the window itself found them."""
    for item_id in finding.items:
        supply = analysis.water.supply(item_id)
        if supply is None:
            continue
        empty = supply.emptiness
        if empty is not None and empty.set_points:
            yield _with_points(analysis, empty.set_points)


def _with_points(analysis: Analysis, points: tuple[SetPoint, ...]) -> Candidate:
    names = place(analysis)
    told, values = [], dict[str, Value | str]()
    for at, point in enumerate(points):
        values[f"set{at}"] = Value(set_to(analysis.build, point.set_point_pa).si, "pressure")
        values[f"what{at}"] = names.name(point.regulator) if point.regulator else point.name
        verb = "set {{what{at}}} to {{set{at}}}"
        if not point.regulator:
            verb = "put a regulator before {{what{at}}}, set to {{set{at}}}"
        told.append(verb.format(at=at))
    text = " and ".join(told)
    return Candidate(
        "set points",
        Phrase.of(text[0].upper() + text[1:], **values),
        3 if any(not point.regulator for point in points) else 0,
        partial(_regulated, analysis.build, points),
        tuple(dict.fromkeys(point.item for point in points)),
    )


def _regulated(build: Build, points: tuple[SetPoint, ...]) -> Build:
    return with_regulators(build, points)[0]


def wider_to_needy(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Wider tubes to the taps that a window is too narrow for, the whole way."""
    for tap in analysis.water.taps:
        if tap.item not in finding.items or not tap.fed:
            continue
        runs = [
            run for step in tap.ladder if isinstance(run := analysis.build.run(step.id), TubeRun)
        ]
        greedy = sorted(runs, key=lambda run: -_loss(tap.ladder, run.id))
        for run in greedy[:1]:
            for row in wider_rows(analysis, run)[:2]:
                yield one_tube(analysis, run, row)
        yield from by_steps(analysis, runs, 1, "all the way to {tap}", tap=tap.name)


def _loss(ladder: tuple[LadderStep, ...], run_id: str) -> float:
    return next((step.loss_pa for step in ladder if step.id == run_id), 0.0)


# --- suction -------------------------------------------------------------------------------------


def _suction_tubes(analysis: Analysis, finding: Finding) -> list[TubeRun]:
    return [
        run
        for suction in suctions_of(analysis, finding)[:1]
        for one in suction.tubes
        if isinstance(run := analysis.build.run(one), TubeRun)
    ]


def wider_suction(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Wider suction tube: one tube, or all of them."""
    runs = _suction_tubes(analysis, finding)
    if len(runs) == 1:
        for row in wider_rows(analysis, runs[0])[:3]:
            yield one_tube(analysis, runs[0], row)
        return
    yield from by_steps(analysis, runs, 2, "on the suction side")


def shorter_suction(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Suction tube led the short way, or cut to what its way takes."""
    yield from shorter(analysis, _suction_tubes(analysis, finding))


# --- other --------------------------------------------------------------------------------------


def no_copper(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """Plastic or stainless tube in the place of copper."""
    runs = [run for one in finding.runs if isinstance(run := analysis.build.run(one), TubeRun)]
    chosen = []
    for run in runs:
        rows = [row for row in fitting_rows(analysis, run) if not _is_copper(row.material)]
        if rows:
            chosen.append((run, min(rows, key=partial(off, run))))
    if len(chosen) == 1:
        yield one_tube(analysis, *chosen[0], "tube kind")
    elif chosen:
        best = {run.id: row for run, row in chosen}
        made = all_of(analysis, runs, lambda run: best.get(run.id), "there", "plastic")
        if made is not None:
            yield made


def _is_copper(material: str) -> bool:
    return any(metal in material.casefold() for metal in ("copper", "brass"))


def slower_valve(analysis: Analysis, finding: Finding) -> Iterator[Candidate]:
    """A valve that takes as long to shut as the tube stands."""
    build = analysis.build
    for surge in analysis.water.surges:
        item = build.item(surge.item)
        if surge.item not in finding.items or item is None:
            continue
        slow_s = max(surge.slow_enough_s, surge.back_s) * 1.2
        if 0.0 < slow_s < _MOST_SLOW_S:
            slow = Duration.from_si(slow_s, "s", 2)
            yield Candidate(
                "slower valve",
                Phrase.of(
                    "Have a valve fitted to {tap} that takes {time} to shut",
                    tap=surge.name,
                    time=Value(slow.si, "seconds", 2),
                ),
                5,
                partial(_slower, build, item, surge.port, slow),
                (item.id,),
                ("Ask its maker whether another valve may be fitted.", PLUMBER),
            )


def _slower(build: Build, item: Item, port: str, slow: Duration) -> Build:
    role = item.specification.water
    if not isinstance(role, Appliance):
        raise EditError(f"{item.name} has no valve of its own")
    inlets: tuple[Inlet, ...] = tuple(
        replace(one, closing_time=slow) if one.port == port else one for one in role.inlets
    )
    return with_role(build, item.id, inlets=inlets)
