"""What the workings of the power side share: the trace, numbers of loads, limits as `Held`."""

from collections.abc import Iterable

from ..analysis import Analysis
from ..build import Item
from ..findings.number import Number
from ..power.placed import PlacedLoad
from ..power.results import EVERYTHING_ON, Limit
from ..power.trace import PowerTrace
from ..units import Value
from .making import Draft, Term
from .model import Held, Step
from .provenance import provenance


def trace_of(analysis: Analysis) -> PowerTrace | None:
    """What the solver had at hand; None for a result that was not solved."""
    return analysis.power.trace


def counted_number(item_id: str, case: str = EVERYTHING_ON) -> Number:
    """Of the amps that a load counts with against a breaker."""
    return Number("appliance", item_id, "counted", case_key(case))


def drawn_number(item_id: str, case: str = EVERYTHING_ON) -> Number:
    """Of the amps that a load takes behind its cords."""
    return Number("appliance", item_id, "amps", case_key(case))


def case_key(case: str) -> str:
    """How a number names its case: with everything on it names none."""
    return "" if case == EVERYTHING_ON else case


def amperes(value: float) -> Value:
    """A current [A]."""
    return Value(value, "current")


def volts(value: float) -> Value:
    """A voltage [V]."""
    return Value(value, "voltage")


def watts(value: float) -> Value:
    """A power [W]."""
    return Value(value, "power")


def take_over(draft: Draft, limit: Limit, *steps: Step, is_least: bool = False) -> Value:
    """Put a limit and what was assumed for it into a working; the answer is its value.

    Args:
        draft: where it goes.
        limit: of the solver.
        steps: how the limit itself came about, where it is no plain figure.
        is_least: the number has to reach it.
    """
    held = Held(
        Value(limit.limit, limit.dimension),
        limit.rule,
        limit.source,
        limit.holds,
        is_least,
        steps,
    )
    draft.held.append(held)
    draft.assume(limit.assumed)
    return Value(limit.value, limit.dimension)


def typical_loads(draft: Draft, items: Iterable[Item]) -> None:
    """Say whose numbers are typical figures and not read off a nameplate."""
    names = [
        item.name
        for item in {item.id: item for item in items}.values()
        if provenance(item, "electrical").is_typical
    ]
    if names:
        draft.assume(f"typical figures, to be read off the nameplate: {', '.join(names)}")


def load_terms(
    loads: Iterable[tuple[PlacedLoad, complex]], case: str, *, drawn: bool = False
) -> list[Term]:
    """Loads as terms of a sum, the thirds of a three-phase load put together.

    Args:
        loads: with what each adds to a conductor, as a phasor [A].
        case: in which they draw.
        drawn: as found behind their cords, instead of as counted against a breaker.
    """
    found: dict[str, Term] = {}
    for placed, current in loads:
        item = placed.item
        old = found.get(item.id)
        source, is_typical = provenance(item, "electrical")
        number = drawn_number(item.id, case) if drawn else counted_number(item.id, case)
        total = current + (old.value if old is not None else 0j)
        found[item.id] = Term(item.name, total, number, source, is_typical)
    return [term for term in found.values() if abs(term.value) > 0.0]
