"""What the circuits board shows, prepared as plain values before anything is painted."""

from dataclasses import dataclass

from ...analysis import Analysis
from ...findings.number import Number
from ...findings.power_numbers import circuit_number
from ...findings.power_trip import trip_sentence
from ...limits import profile
from ...power import room
from ...power.results import EVERYTHING_ON, Circuit, Limit
from ...units import Phrase, UnitSystem, show, show_pair, show_plain
from ...workings.power_circuit import conductor_number, room_number, total_number
from ...workings.power_parts import counted_number, drawn_number

LEAST_SCALE = 1.25
"""The bars reach to at least this share of a rating."""


_LEAST_ROOM_A = 0.05
_LEAST_NEUTRAL_A = 0.05
_WORDS = {
    "total": ("over by {over}", "stop"),
    "continuous": ("too much for hours on end", "stop"),
    "one appliance": ("one appliance too large", "care"),
    "own circuit": ("not alone, as asked for", "care"),
    "fastened": ("too much fastened in place", "care"),
    "receptacle for circuit": ("receptacle too small", "stop"),
    "starts together": ("may trip when all starts at once", "care"),
}
"""What a limit that does not hold is called in a few words, and how bad it is."""
_WEIGHT = {name: at for at, name in enumerate(("total", "venue limit", "continuous", "neutral"))}


@dataclass(frozen=True, slots=True)
class Segment:
    """One load on a bar, from and to as shares of the circuit's rating."""

    item: str
    name: str
    text: str
    start: float
    end: float
    tip: str
    told: tuple[Number, ...] = ()
    """What its amps are, for whoever asks how they came about."""


@dataclass(frozen=True, slots=True)
class LegBar:
    """One leg of a circuit between two legs."""

    text: str
    share: float
    neutral: bool = False


@dataclass(frozen=True, slots=True)
class CircuitRow:
    """One circuit as the board shows it."""

    key: str
    letter: str
    title: str
    numbers: str
    verdict: str
    state: str
    """"ok", "care", "stop" or "note" (nothing on it)."""
    segments: tuple[Segment, ...]
    legs: tuple[LegBar, ...]
    share: float
    items: tuple[str, ...]
    tip: str
    tail: str = ""
    """The end of the title that is never cut: which breaker of a box it is."""
    leg: str = ""
    """Which leg it sits on, where its supply has several, to be put after the title."""
    told: tuple[Number, ...] = ()
    """What its amps are, for whoever asks how they came about."""
    judged: tuple[Number, ...] = ()
    """The number that its verdict speaks of."""
    about: tuple[str, ...] = ()
    """Typical figures that its numbers rest on."""

    @property
    def spoken(self) -> str:
        """The row as one sentence, for screen readers."""
        if not self.letter:
            pairs = ", ".join(leg.text for leg in self.legs)
            return f"{self.title}: {pairs}, {self.verdict}"
        return f"Circuit {self.letter}, {self.title}{self.leg}: {self.numbers}, {self.verdict}"


def circuit_rows(analysis: Analysis, case: str, system: UnitSystem) -> tuple[CircuitRow, ...]:
    """One row a circuit, in the order of their letters."""
    return tuple(_row(analysis, circuit, case, system) for circuit in analysis.power.circuits)


def scale_of(rows: tuple[CircuitRow, ...]) -> float:
    """Share of a rating that the right end of every bar stands for."""
    return max([LEAST_SCALE, *(row.share * 1.06 for row in rows)])


def _row(analysis: Analysis, circuit: Circuit, case: str, system: UnitSystem) -> CircuitRow:
    amps = circuit.amps.get(case, circuit.amps.get(EVERYTHING_ON, 0.0))
    verdict, state = _verdict(analysis, circuit, system)
    legs = _legs(circuit, case, system)
    conductors = (*circuit.legs, "N") if legs else ()
    return CircuitRow(
        key=circuit.key,
        letter=circuit.letter,
        title=circuit.name,
        numbers=show_pair(amps, circuit.rating_a, "current", system),
        verdict=verdict,
        state=state,
        segments=() if legs else _segments(analysis, circuit, case, system),
        legs=legs,
        share=amps / circuit.rating_a if circuit.rating_a else 0.0,
        items=circuit.items,
        tip=_tip(circuit, system),
        tail=_tail(circuit),
        leg=_leg(circuit),
        told=(
            total_number(circuit, case),
            *(conductor_number(circuit, conductor, case) for conductor in conductors),
        ),
        judged=_judged(circuit),
    )


def _judged(circuit: Circuit) -> tuple[Number, ...]:
    """What the verdict speaks of: the limit that does not hold, or what is left."""
    limit = _worst(circuit)
    if limit is not None:
        return (circuit_number(circuit, limit),)
    return (room_number(circuit),) if circuit.loads else ()


def _worst(circuit: Circuit) -> Limit | None:
    """The gravest of the limits that do not hold."""
    broken = [limit for limit in circuit.limits if not limit.holds]
    return min(broken, key=lambda limit: _WEIGHT.get(limit.name, len(_WEIGHT)), default=None)


def _tail(circuit: Circuit) -> str:
    branch = f", {circuit.key.rpartition('/')[2]}"
    return branch if circuit.name.endswith(branch) else ""


def _leg(circuit: Circuit) -> str:
    """Which leg a breaker sits on, where its supply has several."""
    return f" · {circuit.legs[0]}" if len(circuit.legs) == 1 and circuit.legs[0] != "L" else ""


def _segments(
    analysis: Analysis, circuit: Circuit, case: str, system: UnitSystem
) -> tuple[Segment, ...]:
    made: list[Segment] = []
    at = 0.0
    for load in circuit.loads:
        item = analysis.build.item(load.item)
        amps = load.amps
        if case != EVERYTHING_ON:
            state = analysis.power.appliances.get(load.item, {}).get(case)
            amps = state.amps if state is not None else 0.0
        if item is None or amps <= 0.0 or not circuit.rating_a:
            continue
        share = amps / circuit.rating_a
        hours = "continuous" if load.continuous else "not continuous"
        if load.assumed_continuous:
            hours = "continuous (assumed: its longest run is not known)"
        made.append(
            Segment(
                item=load.item,
                name=item.name,
                text=f"{item.name} {show_plain(amps, 'current', system)}",
                start=at,
                end=at + share,
                tip=f"{item.name}: {show(amps, 'current', system)}, {hours}. "
                "Drag it onto another circuit to see what that does.",
                told=(
                    (counted_number if case == EVERYTHING_ON else drawn_number)(load.item, case),
                ),
            )
        )
        at += share
    return tuple(made)


def _legs(circuit: Circuit, case: str, system: UnitSystem) -> tuple[LegBar, ...]:
    if len(circuit.legs) < 2 or not circuit.rating_a:
        return ()
    amps = circuit.leg_amps.get(case, circuit.leg_amps.get(EVERYTHING_ON, {}))
    names = [*circuit.legs]
    if amps.get("N", 0.0) >= _LEAST_NEUTRAL_A:
        names.append("N")
    return tuple(
        LegBar(
            f"{leg} {show(amps[leg], 'current', system)}",
            amps[leg] / circuit.rating_a,
            leg == "N",
        )
        for leg in names
        if leg in amps
    )


def _verdict(analysis: Analysis, circuit: Circuit, system: UnitSystem) -> tuple[str, str]:
    limit = _worst(circuit)
    if limit is not None:
        over = show(limit.value - limit.limit, limit.dimension, system)
        words, state = _WORDS.get(limit.name, (f"{limit.name} over by {{over}}", "stop"))
        return words.format(over=over), state
    if not circuit.loads:
        return "nothing on it", "note"
    left = room(circuit, profile(analysis.build.region), analysis.power)
    own = circuit.rating_a - circuit.amps.get(EVERYTHING_ON, 0.0)
    feed = left.binding not in ("total", "continuous", "venue limit") and left.amps < own
    if left.amps < _LEAST_ROOM_A:
        return ("nothing left on its feed", "care") if feed else ("full", "ok")
    amps = show(left.amps, "current", system)
    return f"{amps} left on its feed" if feed else f"room for {amps}", "ok"


def _tip(circuit: Circuit, system: UnitSystem) -> str:
    lines = [f"Circuit {circuit.letter}, {circuit.name}{_leg(circuit)}"]
    if circuit.rating_assumed:
        lines.append("Its breaker is not known: the least that fits the receptacle is assumed.")
    lines += [_limit_line(limit, system) for limit in circuit.limits]
    template, values = trip_sentence(circuit.trip)
    if template and circuit.trip is not None and circuit.trip.multiple > 1.0:
        lines.append(Phrase.of(template, **values).shown(system))
    return "\n".join(lines)


def _limit_line(limit: Limit, system: UnitSystem) -> str:
    pair = show_pair(limit.value, limit.limit, limit.dimension, system)
    return f"{'holds' if limit.holds else 'OVER'}  {limit.name}: {pair}. {limit.source}"
