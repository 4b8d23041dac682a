"""The few decisive numbers: amperes against rating at the outlet, pressure at the tap."""

from functools import partial

from ...analysis import Analysis
from ...build import Build, Cart, Item, Port
from ...build.geometry import port_position
from ...power.results import EVERYTHING_ON, Circuit
from ...units import UnitSystem, show, show_plain
from ...water.results import ALL_OPEN, Tap, TapState, alone
from .kept import Kept, once
from .paths import at_share, flattened, length, near_part
from .picture import XY, BodyShape, Box, Note, PlanOptions, RunShape, State

_TAGGED_MM = 120.0
"""A wire shorter than this is a stub beside others; a letter would hide it."""
_TAG_SHARES = (0.72, 0.6, 0.8, 0.5, 0.66, 0.86, 0.42, 0.34, 0.92, 0.25, 0.16)


def circuit_notes(analysis: Analysis, bodies: dict[str, BodyShape], kept: Kept) -> list[Note]:
    """One for every circuit that nothing on the cart feeds, and every one that does not hold.

    The circuits of a box on the cart are on the board and in the legend; their letters are
    on the wires.
    """
    notes = []
    for circuit in analysis.power.circuits:
        body = next((bodies[one] for one in circuit.items if one in bodies), None)
        if body is None or not (circuit.loads or body.venue):
            continue
        key = f"circuit {circuit.key}"
        note = kept.get(key, (circuit, body), partial(_circuit_note, key, circuit, body))
        if note is not None:
            notes.append(note)
    return notes


def _circuit_note(key: str, circuit: Circuit, body: BodyShape) -> Note | None:
    if circuit.parent is not None and circuit_state(circuit) == "ok":
        return None
    x, _ = body.centre
    return Note(
        key=key,
        kind="circuit",
        text=circuit_text(circuit),
        anchor=(x, body.box.bottom),
        target=body.box,
        item=body.id,
        letter=circuit.letter,
        state=circuit_state(circuit),
    )


def circuit_text(circuit: Circuit) -> str:
    """Such as "A 13.8 / 20 A": the heaviest conductor with everything on, against the breaker."""
    amps = circuit.amps.get(EVERYTHING_ON, 0.0)
    return f"{circuit.letter} {amps:.1f} / {circuit.rating_a:g} A"


def circuit_state(circuit: Circuit) -> State:
    """Stop where any of its limits does not hold."""
    return "ok" if all(limit.holds for limit in circuit.limits) else "stop"


def tap_notes(
    build: Build, analysis: Analysis, options: PlanOptions, bodies: dict[str, BodyShape], kept: Kept
) -> list[Note]:
    """One for every water inlet."""
    notes = []
    for tap in analysis.water.taps:
        item, body = build.item(tap.item), bodies.get(tap.item)
        port = item.specification.port(tap.port) if item is not None else None
        if item is None or body is None or port is None:
            continue
        key = f"tap {tap.item} {tap.port}"
        make = partial(_tap_note, key, tap, body, options, build.cart, item, port)
        notes.append(kept.get(key, (tap, body, build.cart, item), make))
    return notes


def _tap_note(
    key: str,
    tap: Tap,
    body: BodyShape,
    options: PlanOptions,
    cart: Cart,
    item: Item,
    port: Port,
) -> Note:
    x, y, _ = port_position(cart, item, port)
    text, state = tap_text(tap, options)
    return Note(
        key=key,
        kind="tap",
        text=text,
        anchor=(x * 1000.0, y * 1000.0),
        target=body.box,
        item=tap.item,
        state=state,
    )


def tap_text(tap: Tap, options: PlanOptions) -> tuple[str, State]:
    """What stands at a tap in the case shown, and how that is against its window."""
    system = options.system
    if not tap.fed:
        return "no water", "stop"
    state = tap.states.get(options.case) or open_state(tap)
    if state is None:
        return _pressure(tap.static_pa, system), ""
    text = _pressure(state.pressure_pa, system)
    word, verdict = tap_verdict(tap, state)
    if word == "short":
        return f"{text} · {_flows(tap, state, system)}", verdict
    return f"{text} {word}", verdict


def open_state(tap: Tap) -> TapState | None:
    """The tap with everything open; where it is the only tap there is no such case: alone."""
    named = tap.states.get(ALL_OPEN) or tap.states.get(alone(tap.name))
    return named or next((state for state in tap.states.values() if state.open), None)


def tap_verdict(tap: Tap, state: TapState) -> tuple[str, State]:
    """In one word: ok, low, high (pressure) or short (flow)."""
    if not state.pressure_ok:
        return ("low" if state.pressure_pa < tap.least_pa else "high"), "stop"
    if not state.flow_ok:
        return "short", "stop"
    return "ok", "ok"


def _pressure(pressure_pa: float, system: UnitSystem) -> str:
    return show(pressure_pa, "pressure", system)


def _flows(tap: Tap, state: TapState, system: UnitSystem) -> str:
    got = show_plain(state.flow, "flow", system)
    return f"{got} of {show(tap.required_flow, 'flow', system)}"


def tags(runs: tuple[RunShape, ...]) -> list[Note]:
    """A letter on every wire, so that a circuit is known without its colour."""
    return [note for run in runs if (note := _tag(run)) is not None]


@once
def _tag(run: RunShape) -> Note | None:
    if run.medium != "power" or not run.letter:
        return None
    places = _tag_places(run)
    if not places:
        return None
    return Note(
        key=f"tag {run.id}",
        kind="tag",
        text=run.letter,
        anchor=places[0],
        target=Box(places[0][0], places[0][1], 0.0, 0.0),
        run=run.id,
        letter=run.letter,
        along=places,
    )


def _tag_places(run: RunShape) -> tuple[XY, ...]:
    """Good places for a wire's letter, best first; asked for again at every step of a drag."""
    points = flattened(near_part(run))[::-1]  # a wire starts at its plug; count from the receptacle
    if run.near and length(points) < _TAGGED_MM:
        points = flattened(run)[::-1]
    if length(points) < _TAGGED_MM:
        return ()
    return tuple(at_share(points, share)[0] for share in _TAG_SHARES)
