"""Where the pressure goes on the way to a tap, in any case it is open in: prepared values."""

from dataclasses import dataclass

from ...analysis import Analysis
from ...units import UnitSystem, show
from ...water.results import LadderStep, Tap, WaterResult, alone

Node = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Rung:
    """One step of the way the pressure goes."""

    name: str
    id: str
    value: str
    share: float
    """What is left after it, of the highest on the way."""
    loss: str
    state: str = ""
    took: float = 0.0
    """What it took, of the highest on the way; negative where it added."""


@dataclass(frozen=True, slots=True)
class Ladder:
    """Where the pressure goes on the way to one tap."""

    title: str
    rungs: tuple[Rung, ...]
    node: Node = ("", "")
    case: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    """Cases it can be looked at in, and how each is called here."""


def ladders(
    analysis: Analysis,
    item_id: str,
    system: UnitSystem,
    chosen: dict[Node, str] | None = None,
) -> tuple[Ladder, ...]:
    """Where the pressure goes, for every tap of an item that is fed.

    Args:
        analysis: of the build.
        item_id: the appliance.
        system: units to show.
        chosen: case that each tap is looked at in; alone where none is chosen.
    """
    water = analysis.water
    taps = [tap for tap in water.taps if tap.item == item_id and tap.ladder]
    return tuple(
        _ladder(water, tap, (chosen or {}).get((tap.item, tap.port), ""), len(taps) > 1, system)
        for tap in taps
    )


def _ladder(water: WaterResult, tap: Tap, case: str, several: bool, system: UnitSystem) -> Ladder:
    choices = _choices(water, tap)
    by_itself = alone(tap.name)
    if case not in dict(choices):
        case = by_itself
    steps = tap.ladder if case == by_itself else water.ladder(tap, case)
    return Ladder(
        "Where the pressure goes" + (f", {tap.port}" if several else ""),
        _rungs(tap, steps, system),
        (tap.item, tap.port),
        case,
        choices,
    )


def _choices(water: WaterResult, tap: Tap) -> tuple[tuple[str, str], ...]:
    """Alone, everything and the person's cases, then with every other tap of its line."""
    node = (tap.item, tap.port)
    by_itself = alone(tap.name)
    names = {(one.item, one.port): one.name for one in water.taps}
    found = [(by_itself, "This tap alone")]
    found += [(case, case) for case, opened in water.opened if node in opened and case != by_itself]
    for case, opened in water.pairs.items():
        if node in opened:
            others = [names.get(one, "") for one in names if one in opened and one != node]
            found.append((case, f"With {' and '.join(others)}"))
    return tuple(found)


def _rungs(tap: Tap, steps: tuple[LadderStep, ...], system: UnitSystem) -> tuple[Rung, ...]:
    top_pa = max([1.0, *(step.pressure_pa for step in steps)])
    last = len(steps) - 1
    return tuple(
        Rung(
            name=step.name,
            id=step.id,
            value=show(step.pressure_pa, "pressure", system),
            share=max(0.0, step.pressure_pa / top_pa),
            loss=_loss(step.loss_pa, system) if at else "source",
            state=("" if at < last else "ok" if step.pressure_pa >= tap.least_pa else "stop"),
            took=step.loss_pa / top_pa,
        )
        for at, step in enumerate(steps)
    )


def _loss(loss_pa: float, system: UnitSystem) -> str:
    if loss_pa >= 0:
        return f"takes {show(loss_pa, 'pressure', system)}"
    return f"adds {show(-loss_pa, 'pressure', system)}"
