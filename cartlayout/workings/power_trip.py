"""Working of a trip time: current against rating, and the tests of the standard on either side."""

import math

from ..findings.number import Number
from ..findings.power_trip import span
from ..power.results import EVERYTHING_ON, Circuit
from ..units import Phrase, Value
from .making import Draft
from .model import Symbol, Working
from .power_parts import amperes


def trip_working(circuit: Circuit, number: Number, total: Number) -> Working | None:
    """When a breaker trips with everything on; the result is current over rating."""
    bound = circuit.trip
    if bound is None:
        return None
    draft = Draft(
        number, Phrase.of("Load of the breaker of circuit {letter}", letter=circuit.letter)
    )
    current = Symbol(
        "I", "amps with everything on", amperes(circuit.amps[EVERYTHING_ON]), number=total
    )
    rating = Symbol(
        "I_r",
        "rating of the breaker",
        amperes(circuit.rating_a),
        "assumed" if circuit.rating_assumed else "as entered",
    )
    result = Value(bound.multiple, "number")
    draft.step("current against rating", "n", "I / I_r", result, current, rating)
    if circuit.rating_assumed:
        draft.assume("the breaker is not known, so the least that its receptacles may be behind")
    if bound.never_sooner_s == math.inf:
        draft.note("At this current a breaker to the standard does not trip.")
    elif bound.never_sooner_s > 0.0:
        draft.notes.append(
            Phrase.of("It trips after {time} at the soonest.", time=span(bound.never_sooner_s))
        )
    else:
        draft.note("Nothing is promised of how long it holds.")
    if bound.at_latest_s < math.inf:
        draft.notes.append(Phrase.of("It has tripped after {time}.", time=span(bound.at_latest_s)))
    elif bound.never_sooner_s < math.inf:
        draft.note("No test says that it must trip.")
    for what, (rule, source) in (("not before", bound.holds), ("by then", bound.trips)):
        if rule:
            draft.notes.append(
                Phrase.of("{what}: {rule} ({source})", what=what, rule=rule, source=source)
            )
    return draft.done(result)
