"""Workings of the knock of a valve that shuts (Joukowsky, and a slower valve's share of it)."""

import math
from collections.abc import Iterator

from ..analysis import Analysis
from ..build import TubeRun
from ..limits.materials import material
from ..units import Phrase, Value
from ..water.parts import length_m
from ..water.pump_results import Surge
from ..water.stretch import BULK_MODULUS_PA, modulus_pa, wall_m
from ..water.surge import SLOW_PA_S2_M2
from .model import Held, Number, Step, Symbol, Working
from .water_parts import density, of_port, place_of, step, symbol, temperature_k
from .water_tubes import tube_name

_ALL_SHUT = "All shut"


def numbers(analysis: Analysis) -> Iterator[Number]:
    """The highest that each tap's knock brings about."""
    for surge in analysis.water.surges:
        yield Number("surge", of_port((surge.item, surge.port)), "peak")


def working(analysis: Analysis, number: Number) -> Working | None:
    """The knock of one tap."""
    surge = next(
        (one for one in analysis.water.surges if of_port((one.item, one.port)) == number.of), None
    )
    if surge is None or number.what != "peak":
        return None
    run = analysis.build.run(surge.run)
    place = place_of(analysis, surge.item, _ALL_SHUT)
    if not isinstance(run, TubeRun) or place is None:
        return None
    steps = (
        *_wave(analysis, run, surge),
        *_bound(analysis, run, surge),
        *_rise(analysis, surge),
        _peak(surge),
    )
    held: tuple[Held, ...] = ()
    if surge.rating_pa is not None:
        held = (
            Held(
                Value(surge.rating_pa, "pressure"),
                "working pressure of the tube at the temperature of its water",
                "of the tube",
                surge.peak_pa <= surge.rating_pa,
            ),
        )
    return Working(
        number,
        Phrase.of(
            "The highest in {tube} when {tap} shuts", tube=tube_name(analysis, run), tap=surge.name
        ),
        steps[-1].result,
        steps,
        held,
        tuple(_assumed(analysis, run, surge)),
        (
            Phrase.of(
                "Tees, changes of bore and vapour that collapses can exceed this: a warning, not "
                "a proof."
            ),
        ),
    )


def _assumed(analysis: Analysis, run: TubeRun, surge: Surge) -> Iterator[Phrase]:
    if surge.assumed:
        yield Phrase.of(
            "How fast the valve of {tap} shuts is typical of its kind; nobody has told.",
            tap=surge.name,
        )
    if run.tube.elastic_modulus is None:
        yield Phrase.of(
            "How stiff the wall of {tube} is goes by its material, {source}.",
            tube=run.tube.name,
            source=material(run.tube.material).source,
        )


def _wave(analysis: Analysis, run: TubeRun, surge: Surge) -> Iterator[Step]:
    fluid = place_of(analysis, surge.item, _ALL_SHUT)
    assert fluid is not None
    yield step(
        f"speed of a wave in {run.tube.name} (Korteweg)",
        "a",
        "1/sqrt(rho*(1/K_w + D/(E*t)))",
        (
            density(fluid.fluid, temperature_k(analysis)),
            symbol("K_w", "bulk modulus of water", BULK_MODULUS_PA, "modulus", "handbook"),
            symbol("D", "bore", max(run.tube.bore.si, 0.0), "bore"),
            symbol(
                "E",
                "stiffness of its wall",
                modulus_pa(run.tube),
                "modulus",
                run.tube.material,
                typical=run.tube.elastic_modulus is None,
            ),
            symbol("t", "thickness of its wall", wall_m(run.tube), "bore"),
        ),
        surge.wave_m_s,
        "velocity",
    )


def _bound(analysis: Analysis, run: TubeRun, surge: Surge) -> Iterator[Step]:
    place = place_of(analysis, surge.item, _ALL_SHUT)
    assert place is not None
    bore_m = run.tube.bore.si
    flow = surge.velocity_m_s * 0.25 * math.pi * bore_m * bore_m
    yield step(
        "velocity of the water that is stopped",
        "v",
        "Q/(pi*D**2/4)",
        (
            symbol("Q", "flow to the tap, at the top of the range", flow, "flow"),
            symbol("D", "bore", bore_m, "bore"),
        ),
        surge.velocity_m_s,
        "velocity",
    )
    yield step(
        "most that it can add, however quick the valve (Joukowsky 1898)",
        "p_J",
        "rho*a*v",
        (
            density(place.fluid, temperature_k(analysis)),
            symbol("a", "speed of the wave", surge.wave_m_s, "velocity"),
            symbol("v", "velocity", surge.velocity_m_s, "velocity"),
        ),
        surge.bound_pa,
        "pressure",
    )


def _line(analysis: Analysis, surge: Surge) -> list[tuple[TubeRun, float]]:
    """The tubes that the wave runs along, each with its length."""
    found = []
    for run_id in surge.tubes:
        run = analysis.build.run(run_id)
        if isinstance(run, TubeRun):
            found.append((run, length_m(run, analysis.network.routes.get(run_id))))
    return found


def _rise(analysis: Analysis, surge: Surge) -> Iterator[Step]:
    """What it adds at the pace of its valve."""
    closes = symbol(
        "t_v", "the valve takes to shut", surge.closing_s, "short time", typical=surge.assumed
    )
    yield _back(analysis, surge)
    bound = symbol("p_J", "most that it can add", surge.bound_pa, "pressure")
    if surge.closing_s <= surge.back_s:
        says = "it shuts before the wave is back: all of that"
        yield step(says, "p_r", "p_J", (bound,), surge.rise_pa, "pressure")
        return
    flow = _tap_flow(analysis, surge)
    line = _line(analysis, surge)
    terms, used = [], []
    for at, (run, long_m) in enumerate(line, 1):
        terms.append(f"L_{at}/(pi*D_{at}**2/4)")
        used.append(symbol(f"L_{at}", f"length of {tube_name(analysis, run)}", long_m, "distance"))
        used.append(symbol(f"D_{at}", "its bore", run.tube.bore.si, "bore"))
    yield step(
        "it shuts more slowly: a valve of one second would add 0.070 v L / t "
        "(psi; ft/s, ft, s: handbook estimate)",
        "S",
        f"k*Q*({' + '.join(terms)})",
        (
            symbol("k", "0.070 in SI", SLOW_PA_S2_M2, "density", "handbook estimate"),
            symbol("Q", "flow to the tap", flow, "flow"),
            *used,
        ),
        surge.slow_pa_s,
        "pressure for a time",
    )
    yield step(
        "so it adds",
        "p_r",
        "min(p_J, S/t_v)",
        (bound, symbol("S", "in one second", surge.slow_pa_s, "pressure for a time"), closes),
        surge.rise_pa,
        "pressure",
    )


def _back(analysis: Analysis, surge: Surge) -> Step:
    """When the wave is back: twice through every tube, each at its own speed."""
    used: list[Symbol] = []
    line = _line(analysis, surge)
    for at, ((run, long_m), wave) in enumerate(zip(line, surge.waves_m_s, strict=True), 1):
        name = tube_name(analysis, run)
        used.append(symbol(f"L_{at}", f"length of {name}", long_m, "distance"))
        used.append(symbol(f"a_{at}", "speed of a wave in it (Korteweg)", wave, "velocity"))
    return Step(
        "the wave is back at the valve after twice the length of each tube over its speed there",
        "t_b",
        " + ".join(f"2*L_{at}/a_{at}" for at in range(1, len(line) + 1)),
        tuple(used),
        Value(surge.back_s, "short time", 2),
    )


def _tap_flow(analysis: Analysis, surge: Surge) -> float:
    run = analysis.build.run(surge.run)
    bore_m = run.tube.bore.si if isinstance(run, TubeRun) else 0.0
    return surge.velocity_m_s * 0.25 * math.pi * bore_m * bore_m


def _peak(surge: Surge) -> Step:
    return step(
        "on top of what the line stands at",
        "p",
        "p_s + p_r",
        (
            symbol(
                "p_s",
                "at rest",
                surge.static_pa,
                "pressure",
                number=Number("tube", surge.run, "static"),
            ),
            symbol("p_r", "knock", surge.rise_pa, "pressure"),
        ),
        surge.peak_pa,
        "pressure",
    )
