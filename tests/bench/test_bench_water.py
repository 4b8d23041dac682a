"""How long the water side takes: the bare solver, a cart's cases, whole samples; and EPANET.

Run with: python -m pytest tests/bench/test_bench_water.py --benchmark-enable --benchmark-only
"""

import os
import random
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from cartlayout.build import Build
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.network import make_network
from cartlayout.water import solve_water
from cartlayout.water.hydraulics import (
    Conditions,
    Limiter,
    PumpCurve,
    Sketch,
    System,
    at_point,
    drawn,
    line_and_square,
    opening,
    pipe,
    solve,
)
from cartlayout.water.properties import water

FLUID = water(293.15)
L_MIN = 1.0 / 60_000.0
BAR = 1e5
NAMES = [path.stem for path in sorted(sample_builds().glob("*.cart"))]


def tree(tubes: int, loops: int = 0) -> tuple[Sketch, list[tuple[str, str, str]]]:
    """A source, so many tubes, a tap at every end and at some places between."""
    chance = random.Random(tubes)
    sketch = Sketch(FLUID)
    sketch.fix("S", 0.0, 4 * BAR)
    nodes, links = ["S"], []
    for number in range(tubes - loops):
        name = f"n{number}"
        sketch.node(name, chance.uniform(0, 1))
        links.append((f"l{number}", chance.choice(nodes[-4:]), name))
        nodes.append(name)
    for number in range(loops):
        links.append((f"loop{number}", nodes[-1 - number], nodes[2 + number]))
    for key, a, b in links:
        sketch.line(key, a, b, pipe(FLUID, 1.0, chance.choice([0.00635, 0.009]), 1.5e-6, 2.0))
    starts = {a for _, a, _ in links}
    for name in nodes[1:]:
        if name not in starts or chance.random() < 0.2:
            sketch.tap(("tap", name), name, opening(4 * L_MIN, 1.5 * BAR))
    return sketch, links


@pytest.mark.parametrize("tubes", [12, 60])
@pytest.mark.parametrize("loops", [0, 3])
def test_solver_cold(benchmark: Any, tubes: int, loops: int) -> None:
    system = System(tree(tubes, loops)[0])
    everything = Conditions(set(system.sketch.taps))
    state = benchmark(solve, system, everything)
    assert state.converged
    benchmark.extra_info["iterations"] = state.iterations


@pytest.mark.parametrize("tubes", [12, 60])
def test_solver_with_making_the_system(benchmark: Any, tubes: int) -> None:
    sketch = tree(tubes)[0]
    everything = Conditions(set(sketch.taps))
    state = benchmark(lambda: solve(System(sketch), everything))
    assert state.converged


@pytest.mark.parametrize("tubes", [12, 60])
def test_solver_warm(benchmark: Any, tubes: int) -> None:
    """From the state with one tap less."""
    system = System(tree(tubes)[0])
    taps = list(system.sketch.taps)
    start = solve(system, Conditions(set(taps[1:]))).start
    state = benchmark(solve, system, Conditions(set(taps)), start)
    assert state.converged


def six_taps() -> tuple[System, list[object]]:
    """Tank, pump, filter, a line with six taps."""
    sketch = Sketch(FLUID)
    sketch.fix("tank", 0.2)
    for name in (
        "in",
        "out",
        "filtered",
        *(f"tap{n}" for n in range(6)),
        *(f"m{n}" for n in range(6)),
    ):
        sketch.node(name, 0.9 if name.startswith("tap") else 0.2)
    rows = [(0.0, 12 * L_MIN), (2 * BAR, 9 * L_MIN), (4 * BAR, 6 * L_MIN)]
    sketch.line("suction", "tank", "in", pipe(FLUID, 0.4, 0.0095))
    sketch.limiter(
        "pump", "in", "out", Limiter(PumpCurve(rows), 4 * BAR, passing=at_point(12 * L_MIN, 3e4))
    )
    sketch.line("filter", "out", "filtered", line_and_square([(6 * L_MIN, 5e4)]))
    before = "filtered"
    for number in range(6):
        sketch.line(f"main {number}", before, f"m{number}", pipe(FLUID, 0.4, 0.0095))
        sketch.line(f"drop {number}", f"m{number}", f"tap{number}", pipe(FLUID, 1.0, 0.00635))
        before = f"m{number}"
        behaviour = drawn(2 * L_MIN) if number % 2 else opening(4 * L_MIN, 1.5 * BAR)
        sketch.tap(("tap", number), f"tap{number}", behaviour)
    return System(sketch), list(sketch.taps)


def open_sets(taps: list[object], pairs: bool) -> list[set[object]]:
    """Shut, each alone, everything; and every pair."""
    sets = [set(), *({tap} for tap in taps), set(taps)]
    return [*sets, *(set(two) for two in combinations(taps, 2))] if pairs else sets


def solve_all(system: System, sets: list[set[object]]) -> int:
    """All of them, those in which the pump cycles at both ends of its switch."""
    iterations = 0
    for taps_open in sets:
        high = solve(system, Conditions(taps_open))
        iterations += high.iterations
        if taps_open and high.modes["pump"] == "holding":
            low = solve(system, Conditions(taps_open, {"pump": 3 * BAR}), high.start)
            iterations += low.iterations
    return iterations


@pytest.mark.parametrize("pairs", [False, True])
def test_all_cases_of_six_taps(benchmark: Any, pairs: bool) -> None:
    """Eight cases, and 15 pairs; the network made beforehand."""
    system, taps = six_taps()
    assert benchmark(solve_all, system, open_sets(taps, pairs)) > 0


def test_all_cases_of_six_taps_from_the_sketch(benchmark: Any) -> None:
    """The same 23 with the network made solvable first."""
    system, taps = six_taps()
    sketch, sets = system.sketch, open_sets(taps, pairs=True)
    assert benchmark(lambda: solve_all(System(sketch), sets)) > 0


@pytest.mark.parametrize("name", NAMES)
def test_sample_cold(benchmark: Any, name: str) -> None:
    build: Build = load(sample_builds() / f"{name}.cart")
    network = make_network(build)
    result = benchmark(solve_water, build, network)
    benchmark.extra_info["cases"] = len(result.cases)
    assert all(case.converged for case in result.cases.values())


@pytest.mark.parametrize("name", NAMES)
def test_sample_where_nothing_changed(benchmark: Any, name: str) -> None:
    build: Build = load(sample_builds() / f"{name}.cart")
    network = make_network(build)
    first = solve_water(build, network)
    assert benchmark(solve_water, build, network, first) is first


def epanet_of(tubes: int) -> tuple[Any, Sketch, list[tuple[str, str, str]]]:
    """The other engine's project of the same tree."""
    pytest.importorskip(
        "epanet", reason="owa-epanet has wheels for Linux and Python below 3.13 only"
    )
    from epanet import toolkit as en

    sketch, links = tree(tubes)
    project = en.createproject()
    en.init(project, os.devnull, "", en.CMH, en.DW)
    en.setoption(project, en.EMITEXPON, 0.5)
    source = en.addnode(project, "S", en.RESERVOIR)
    en.setnodevalue(project, source, en.ELEVATION, 4 * BAR / FLUID.head_pa(1.0))
    for name, height in sketch.heights_m.items():
        if name != "S":
            at = en.addnode(project, name, en.JUNCTION)
            en.setjuncdata(project, at, height, 0.0, "")
    for _, name in sketch.taps:
        at = en.getnodeindex(project, name)
        head = 1.5 * BAR / FLUID.head_pa(1.0)
        en.setnodevalue(project, at, en.EMITTER, 4 * L_MIN * 3600 / head**0.5)
    for key, a, b in links:
        bore = sketch.lines[key][2].tubes[0].bore_m
        at = en.addlink(project, key, en.PIPE, a, b)
        en.setpipedata(project, at, 1.0, bore * 1e3, 1.5e-3, 2.0)
    return project, sketch, links


def same_flow(flow_m3_h: float, sketch: Sketch, links: list[tuple[str, str, str]]) -> None:
    state = solve(System(sketch), Conditions(set(sketch.taps)))
    assert flow_m3_h / 3600 == pytest.approx(state.flows[links[0][0]], rel=0.01)


@pytest.mark.parametrize("tubes", [12, 60])
def test_epanet_in_memory(benchmark: Any, tubes: int) -> None:
    """The other engine on the same tree: one hydraulic run, the network made beforehand."""
    project, sketch, links = epanet_of(tubes)
    from epanet import toolkit as en

    def run() -> float:
        en.openH(project)
        en.initH(project, en.NOSAVE)
        en.runH(project)
        en.closeH(project)
        return float(en.getlinkvalue(project, 1, en.FLOW))

    same_flow(benchmark(run), sketch, links)
    en.deleteproject(project)


@pytest.mark.parametrize("tubes", [12, 60])
def test_epanet_by_way_of_files(benchmark: Any, tubes: int, tmp_path: Path) -> None:
    """The other engine as a program is used: its file written, run, the report read back."""
    project, sketch, links = epanet_of(tubes)
    from epanet import toolkit as en

    made, report, out = (str(tmp_path / name) for name in ("net.inp", "net.rpt", "net.out"))

    def run() -> float:
        en.saveinpfile(project, made)
        other = en.createproject()
        en.open(other, made, report, out)
        en.setstatusreport(other, en.NO_REPORT)
        en.solveH(other)
        en.saveH(other)
        flow = float(en.getlinkvalue(other, 1, en.FLOW))
        en.close(other)
        en.deleteproject(other)
        Path(out).read_bytes()
        return flow

    same_flow(benchmark(run), sketch, links)
    en.deleteproject(project)
