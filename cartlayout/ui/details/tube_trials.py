"""The tubes that fit a run, and what is said of each."""

from typing import cast

from ...advice.tube_sizes import TubeChoice, try_tube, tube_names, with_tube
from ...analysis import Analysis
from ...build import Build, TubeRun
from ...units import UnitSystem, show
from ..session import Session
from .trials import AnyRun, Choice, Sizes


class Tubes(Sizes):
    """Tubes of the catalogue that go onto both ends."""

    sort = TubeRun
    step = "Change tube to {name}"
    intro = (
        "The tap behind it with least to spare, and the fastest flow. Point at one to see it "
        "on the plan; a click or Enter takes it."
    )
    none = "No tube of the catalogue goes onto both of its ends."

    def names(self, build: Build, run: AnyRun) -> tuple[str, ...]:
        return tube_names(build, cast(TubeRun, run))

    def now(self, build: Build, run: AnyRun) -> str:
        return cast(TubeRun, run).tube.name

    def taken(self, session: Session, run: AnyRun, name: str) -> Build:
        return with_tube(session.build, cast(TubeRun, run), name)

    def tried(self, before: Analysis, run: AnyRun, name: str) -> Choice:
        return try_tube(before, cast(TubeRun, run), name)

    def numbers(self, choice: Choice, system: UnitSystem) -> str:
        return choice_numbers(cast(TubeChoice, choice), system)

    def words(self, choice: Choice, system: UnitSystem) -> str:
        return choice_words(cast(TubeChoice, choice), system)


TUBES = Tubes()


def choice_numbers(choice: TubeChoice, system: UnitSystem) -> str:
    """Such as "36.1 psi · 2.1 ft/s"; for a drain what it carries."""
    if choice.tap:
        pressure = show(choice.pressure_pa, "pressure", system)
        return f"{pressure} · {show(choice.velocity_m_s, 'velocity', system)}"
    if choice.half_full > 0.0:
        return f"carries {show(choice.half_full, 'flow', system)}"
    return ""


def choice_words(choice: TubeChoice, system: UnitSystem) -> str:
    """The whole of it in a sentence or two."""
    verdict = choice.reason.shown(system) if choice.reason is not None else "holds"
    if not choice.tap:
        numbers = choice_numbers(choice, system)
        return f"{choice.name}: {numbers + ', ' if numbers else ''}{verdict}"
    return (
        f"{choice.name}: {choice.tap} has {show(choice.pressure_pa, 'pressure', system)} and "
        f"{show(choice.flow, 'flow', system)} ({choice.case}), "
        f"{show(choice.velocity_m_s, 'velocity', system)} in the tube; {verdict}"
    )
