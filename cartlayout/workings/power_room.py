"""Working of what can still be plugged into a circuit: the least that any of its limits leaves."""

from ..analysis import Analysis
from ..findings.number import Number
from ..power.results import Circuit
from ..power.room import Room, rooms
from ..power.trace import PowerTrace
from ..units import Phrase, Value
from .making import Draft
from .model import Symbol, Working
from .power_parts import amperes, volts, watts

_SAYS = {
    "total": "left under the rating of the breaker",
    "continuous": "left for something that runs for hours",
    "venue limit": "left of what the venue allows",
    "generator": "left of the generator",
    "inverter": "left of the inverter",
    "discharge": "left of what the battery gives",
    "main": "left under the main breaker",
    "leg": "left on the leg of the generator",
}


def room_working(
    analysis: Analysis, trace: PowerTrace, circuit: Circuit, number: Number
) -> Working:
    """Amps left on a circuit by whichever limit binds."""
    draft = Draft(number, Phrase.of("What can be added to circuit {letter}", letter=circuit.letter))
    left = rooms(circuit, trace.rules, analysis.power)
    found = [
        _room(draft, analysis, trace, circuit, room, f"R_{at}" if len(left) > 1 else "R")
        for at, room in enumerate(left, 1)
    ]
    result = amperes(min(room.amps for room in left))
    if len(found) > 1:
        draft.step(
            "the least of these binds",
            "R",
            f"min({', '.join(symbol.name for symbol in found)})",
            result,
            *found,
        )
    draft.assume("what is added draws in step with the rest, on the fullest leg")
    if any(room.binding == "continuous" for room in left):
        draft.assume("what is added runs for hours")
    draft.note("Everything starting at once is left out: it depends on the type of the breaker.")
    return draft.done(result)


def _room(
    draft: Draft, analysis: Analysis, trace: PowerTrace, circuit: Circuit, room: Room, name: str
) -> Symbol:
    sub = name[1:]
    says = _SAYS.get(room.binding, f"left on {room.binding}, which feeds this one's box")
    result = amperes(room.amps)
    if room.binding in ("total", "main", "leg"):
        limit_a, there_a = room.of
        total = Number("circuit", circuit.key, "total") if room.binding == "total" else None
        limit = Symbol(f"I_r{sub}", "its limit", amperes(limit_a))
        there = Symbol(f"I{sub}", "amps there with everything on", amperes(there_a), number=total)
        return draft.step(says, name, f"max(I_r{sub} - I{sub}, 0)", result, limit, there)
    if room.binding == "continuous":
        return _continuous(draft, circuit, room, name)
    if len(room.of) == 4:
        limit_w, taken_w, supply_v, grows = room.of
        symbols = [
            Symbol(f"P_l{sub}", "what is allowed or given", watts(limit_w)),
            Symbol(f"P{sub}", "what is taken with everything on", watts(taken_w)),
            Symbol(f"V{sub}", "volts of the circuit", volts(supply_v)),
        ]
        expression = f"max((P_l{sub} - P{sub}) / V{sub}, 0)"
        if grows != 1.0:
            says_grows = "watts of the battery for one behind its inverter"
            symbols.append(Symbol(f"k{sub}", says_grows, Value(grows, "number")))
            expression = f"max((P_l{sub} - P{sub}) / k{sub} / V{sub}, 0)"
        return draft.step(says, name, expression, result, *symbols)
    feeding = next(
        (one for one in analysis.power.circuits if f"circuit {one.letter}" == room.binding), None
    )
    there_is = None
    if feeding is not None and _least(feeding, trace, analysis) == room.amps:
        there_is = Number("circuit", feeding.key, "room")
    symbol = draft.step(says, name, "", result)
    return Symbol(symbol.name, symbol.meaning, symbol.value, number=there_is)


def _least(circuit: Circuit, trace: PowerTrace, analysis: Analysis) -> float:
    return min(one.amps for one in rooms(circuit, trace.rules, analysis.power))


def _continuous(draft: Draft, circuit: Circuit, room: Room, name: str) -> Symbol:
    sub = name[1:]
    rating_a, counted_a, factor, total_a, *known = room.of
    times = Symbol("F", "factor for what runs for hours", Value(factor, "number"))
    there = Symbol(
        f"I_t{sub}",
        "amps with everything on",
        amperes(total_a),
        number=Number("circuit", circuit.key, "total"),
    )
    counted = Symbol(f"I_k{sub}", "amps with everything on; none runs for hours", there.value)
    if known:
        used_a, longer_a = known
        used = Symbol(
            f"I_u{sub}",
            "what runs for hours counted with its factor",
            amperes(used_a),
            number=Number("circuit", circuit.key, "continuous"),
        )
        longer = Symbol(f"I_h{sub}", "amps that run for hours", amperes(longer_a))
        counted = draft.step(
            "counted on the fullest leg",
            f"I_k{sub}",
            f"min(I_u{sub}, F * I_t{sub}, I_t{sub} + (F - 1) * I_h{sub})",
            amperes(counted_a),
            used,
            times,
            there,
            longer,
        )
    rating = Symbol(f"I_r{sub}", "rating of the breaker", amperes(rating_a))
    return draft.step(
        _SAYS["continuous"],
        name,
        f"max((I_r{sub} - I_k{sub}) / F, 0)",
        amperes(room.amps),
        rating,
        counted,
        times,
    )
