"""What the circuits board shows, prepared as plain values before anything is painted."""

from dataclasses import dataclass

from ...analysis import Analysis
from ...power.results import EVERYTHING_ON, Circuit, Limit
from ...units import UnitSystem, show, show_pair, show_plain

LEAST_SCALE = 1.25
"""The bars reach to at least this share of a rating."""


@dataclass(frozen=True, slots=True)
class Segment:
    """One load on a bar, from and to as shares of the circuit's rating."""

    item: str
    name: str
    text: str
    start: float
    end: float
    tip: str


@dataclass(frozen=True, slots=True)
class LegBar:
    """One leg of a circuit between two legs."""

    text: str
    share: float


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

    @property
    def spoken(self) -> str:
        """The row as one sentence, for screen readers."""
        return f"Circuit {self.letter}, {self.title}: {self.numbers}, {self.verdict}"


def circuit_rows(analysis: Analysis, case: str, system: UnitSystem) -> tuple[CircuitRow, ...]:
    """One row a circuit, in the order of their letters."""
    return tuple(_row(analysis, circuit, case, system) for circuit in analysis.power.circuits)


def scale_of(rows: tuple[CircuitRow, ...]) -> float:
    """Share of a rating that the right end of every bar stands for."""
    return max([LEAST_SCALE, *(row.share * 1.06 for row in rows)])


def _row(analysis: Analysis, circuit: Circuit, case: str, system: UnitSystem) -> CircuitRow:
    amps = circuit.amps.get(case, circuit.amps.get(EVERYTHING_ON, 0.0))
    verdict, state = _verdict(circuit, system)
    legs = _legs(circuit, case, system)
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
    )


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
            )
        )
        at += share
    return tuple(made)


def _legs(circuit: Circuit, case: str, system: UnitSystem) -> tuple[LegBar, ...]:
    if len(circuit.legs) < 2 or not circuit.rating_a:
        return ()
    amps = circuit.leg_amps.get(case, circuit.leg_amps.get(EVERYTHING_ON, {}))
    return tuple(
        LegBar(f"{leg} {show(amps[leg], 'current', system)}", amps[leg] / circuit.rating_a)
        for leg in circuit.legs
        if leg in amps
    )


def _verdict(circuit: Circuit, system: UnitSystem) -> tuple[str, str]:
    broken = {limit.name: limit for limit in circuit.limits if not limit.holds}
    if "total" in broken:
        limit = broken["total"]
        return f"over by {show(limit.value - limit.limit, limit.dimension, system)}", "stop"
    if "continuous" in broken:
        return "over 80 % for hours", "stop"
    if broken:
        name, limit = next(iter(broken.items()))
        over = show(limit.value - limit.limit, limit.dimension, system)
        return f"{name} over by {over}", "stop"
    if not circuit.loads:
        return "nothing on it", "note"
    return f"room for {show(_room_a(circuit), 'current', system)}", "ok"


def _room_a(circuit: Circuit) -> float:
    left = [
        limit.limit - limit.value
        for limit in circuit.limits
        if limit.name in ("total", "continuous") and limit.dimension == "current"
    ]
    spare = circuit.rating_a - circuit.amps.get(EVERYTHING_ON, 0.0)
    return max(0.0, min([spare, *left]))


def _tip(circuit: Circuit, system: UnitSystem) -> str:
    lines = [f"Circuit {circuit.letter}, {circuit.name}"]
    if circuit.rating_assumed:
        lines.append("Its breaker is not known: the least that fits the receptacle is assumed.")
    lines += [_limit_line(limit, system) for limit in circuit.limits]
    return "\n".join(lines)


def _limit_line(limit: Limit, system: UnitSystem) -> str:
    pair = show_pair(limit.value, limit.limit, limit.dimension, system)
    return f"{'holds' if limit.holds else 'OVER'}  {limit.name}: {pair}. {limit.source}"
