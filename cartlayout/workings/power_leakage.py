"""Workings of what leaks to earth behind a device."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..findings.number import Number
from ..findings.power_numbers import leakage_number
from ..limits import Setting
from ..power.leakage_results import Leakage
from ..units import Phrase, Value
from .making import Draft, Term, phasor_sum
from .model import Held, Working
from .power_parts import trace_of
from .provenance import provenance


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Of every device that watches leakage."""
    if trace_of(analysis) is None:
        return
    for leakage in analysis.power.leakages:
        if any(leak.known for leak in leakage.leaks):
            yield leakage_number(leakage, "known")
        yield leakage_number(leakage, "most")


def working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a sum of leakages."""
    trace = trace_of(analysis)
    leakage = next(
        (one for one in analysis.power.leakages if leakage_number(one, number.what) == number),
        None,
    )
    if trace is None or leakage is None or number.what not in ("known", "most"):
        return None
    items = trace.tree.items
    device = items.get(leakage.key)
    name = device.name if device is not None else leakage.key
    title = (
        "Leakage to earth behind {item}"
        if number.what == "known"
        else ("The most that may leak to earth behind {item}")
    )
    draft = Draft(number, Phrase.of(title, item=name))
    terms = []
    for leak in leakage.leaks:
        if not leak.known and number.what == "known":
            continue
        item = items.get(leak.item)
        own = item.name if item is not None else leak.item
        if leak.known:
            terms.append(Term(own, complex(leak.amps), None, *provenance(item, "electrical")))
        else:
            meaning = f"{own}, at most: {leak.rule}"
            terms.append(Term(meaning, complex(leak.amps), None, "not stated", True))
            draft.assume(f"{own}: nobody states it, so the most that its product standard allows")
    value = Value(leakage.known_a if number.what == "known" else leakage.most_a, "leakage")
    says = "added as numbers, not as phasors, which can only be too much"
    phasor_sum(draft, says, "I", terms, 1.0, "leakage")
    draft.held += _held(value.si, leakage, trace.rules.standing_leakage_a)
    draft.notes.append(
        Phrase.of(
            "The device never trips below {hold} and trips for certain at {trip}.",
            hold=Value(leakage.hold_a, "leakage"),
            trip=Value(leakage.trip_a, "leakage"),
        )
    )
    return draft.done(value)


def _held(value_a: float, leakage: Leakage, rule: Setting[float]) -> Iterator[Held]:
    yield Held(
        Value(leakage.budget_a, "leakage"),
        rule.rule,
        rule.citation,
        value_a <= leakage.budget_a + 1e-9,
    )
