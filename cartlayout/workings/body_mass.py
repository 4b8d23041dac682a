"""Workings of mass and its centre, in any state of the vessels."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..analysis import Analysis
from ..body.balance import balance, cart_parts, gather, parts_on
from ..body.results import Balance, EdgeTilt
from ..body.solids import Solid
from ..body.travel import travellers
from ..body.weights import WATER_KG_M3
from ..build import Item, Tank
from ..findings.body_numbers import MOVED, balance_number, contents_number
from ..findings.body_weight import mix_words
from ..findings.number import Number
from ..units import Phrase, Value
from .making import Draft, plain
from .model import Symbol, Working
from .provenance import provenance

CASES = ("full", "empty", "now")
_AXES = ("x", "y", "z")
_FROM = {"x": "from the left", "y": "from the rear", "z": "above the floor"}


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing that has weight, at a place."""

    name: str
    kg: float
    at_m: tuple[float, float, float]
    item: Item | None = None
    of: tuple[str, ...] = ("mass",)
    number: Number | None = None


@dataclass(frozen=True, slots=True)
class State:
    """The cart with its vessels filled in one way, and all that has weight then."""

    balance: Balance
    pieces: tuple[Piece, ...]
    words: str
    """Which vessels are full."""


def state_of(analysis: Analysis, of: str, case: str) -> State | None:
    """The state that a number speaks of; None where there is none.

    Args:
        analysis: of the build.
        of: empty for the cart as it stands, "moved" for it as it travels, "edge 0" or "foot 0"
            for what is worst for one edge of the support or one foot.
        case: "full", "empty", "now", "worst", or "least" of a foot.
    """
    found = _balance(analysis, of, case)
    if found is None:
        return None
    moved = of == MOVED
    pieces = _pieces(analysis, found, moved)
    return State(found, tuple(pieces), mix_words(analysis.build, found))


def _balance(analysis: Analysis, of: str, case: str) -> Balance | None:
    body = analysis.body
    plain_states = {"full": body.full, "empty": body.empty, "now": body.now}
    if case in plain_states and of != MOVED:
        return plain_states[case]
    if of == "" and case == "worst":
        return body.worst
    if of == MOVED and case == "worst":
        tilt = body.travel.tilt if body.travel is not None else None
        return tilt.worst if tilt is not None else None
    sort, _, index = of.partition(" ")
    if sort == "edge" and case == "worst":
        edge_tilt = tilt_over(analysis, of)
        return edge_tilt.worst if edge_tilt is not None else None
    if sort == "foot" and case in ("worst", "least") and index.isdigit():
        return _foot_mix(analysis, int(index), case == "worst")
    return None


def tilt_over(analysis: Analysis, of: str) -> EdgeTilt | None:
    """The tilt over an edge of the support, by "edge 0" or "moved"."""
    body = analysis.body
    if of == MOVED:
        return body.travel.tilt if body.travel is not None else None
    edges = body.support.edges if body.support is not None else ()
    _, _, index = of.partition(" ")
    if not index.isdigit() or int(index) >= len(edges):
        return None
    edge = edges[int(index)]
    return next((one for one in body.tilts if (one.a, one.b) == (edge.a, edge.b)), None)


def _foot_mix(analysis: Analysis, index: int, most: bool) -> Balance | None:
    """The mix of vessels that loads one foot most, or least."""
    body = analysis.body
    if body.support is None or body.frame is None or index >= len(body.support.planes):
        return None
    masses = gather(analysis.build, body.frame, body.solids.values())
    parts = parts_on(masses, body.support.planes[index])
    return balance(
        masses, body.support, tuple(float((part > 0) == most and part != 0) for part in parts)
    )


def _pieces(analysis: Analysis, state: Balance, moved: bool) -> Iterator[Piece]:
    """Everything that has weight in a state."""
    body, build = analysis.body, analysis.build
    if body.frame is None:
        return
    for name, kg, x, y, z in cart_parts(build, body.frame, moved):
        yield Piece(name, kg, (x, y, z))
    solids: Sequence[Solid] = list(body.solids.values())
    if moved:
        solids = travellers(body.frame, solids)
    shares: Mapping[str, float] = {fill.item: fill.share for fill in state.fills}
    for solid in solids:
        load, item = solid.load, solid.item
        if load.empty_kg > 0.0:
            yield Piece(item.name, load.empty_kg, (load.x_m, load.y_m, load.z_m), item)
        contents = load.contents
        share = shares.get(item.id, 0.0)
        if contents is None or share <= 0.0:
            continue
        filled = "" if share == 1.0 else f", {share:.0%} of it"
        yield Piece(
            f"what is in {item.name}{filled}",
            contents.full_kg * share,
            (contents.x_m, contents.y_m, contents.z_m(share)),
            item,
            ("volume", "mass"),
            contents_number(item.id) if share == 1.0 else None,
        )


# --- numbers ----------------------------------------------------------------------------------


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Mass and its centre with vessels full, empty and as drawn."""
    for case in (*CASES, "worst"):
        if state_of(analysis, "", case) is not None:
            for what in ("mass", *_AXES):
                yield balance_number(what, case)


def contents_numbers(analysis: Analysis) -> Iterator[Number]:
    """What is in each vessel."""
    for solid in analysis.body.solids.values():
        if solid.load.contents is not None:
            yield contents_number(solid.item.id)


def working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a mass, or of a coordinate of its centre."""
    state = state_of(analysis, number.of, number.case)
    if state is None or number.what not in ("mass", *_AXES):
        return None
    kg = Value(state.balance.mass_kg, "mass")
    if number.what == "mass":
        draft = Draft(number, Phrase.of("Mass {words}", words=state.words))
        mass_steps(draft, state)
        typical_masses(draft, state)
        return draft.done(kg)
    axis = _AXES.index(number.what)
    title = "Centre of gravity {where}, {words}"
    draft = Draft(number, Phrase.of(title, where=_FROM[number.what], words=state.words))
    value = centre_steps(draft, state, number.what, balance_number("mass", number.case, number.of))
    assert axis >= 0
    typical_masses(draft, state)
    draft.assume("each thing weighs in the middle of its body, water at half its depth")
    return draft.done(value)


def mass_steps(draft: Draft, state: State) -> Symbol:
    """Add all masses up."""
    symbols = [_mass(piece, at) for at, piece in enumerate(state.pieces, 1)]
    kg = Value(state.balance.mass_kg, "mass")
    return draft.step(
        "everything on it", "m", " + ".join(one.name for one in symbols), kg, *symbols
    )


def centre_steps(draft: Draft, state: State, axis: str, mass: Number) -> Value:
    """Add how one coordinate of the centre comes about: moments over mass."""
    index = _AXES.index(axis)
    symbols, products, moment = [], [], 0.0
    for at, piece in enumerate(state.pieces, 1):
        place_m = piece.at_m[index]
        symbols.append(_mass(piece, at))
        symbols.append(
            Symbol(f"{axis}_{at}", f"{piece.name}, {_FROM[axis]}", Value(place_m, "height"))
        )
        products.append(f"m_{at} * {axis}_{at}")
        moment += piece.kg * place_m
    result = Value(
        {"x": state.balance.x_m, "y": state.balance.y_m, "z": state.balance.z_m}[axis], "length"
    )
    sum_of = draft.step(
        "masses times their places",
        "M",
        " + ".join(products),
        Value(moment, "moment of mass"),
        *symbols,
    )
    total = Symbol("m", "everything on it", Value(state.balance.mass_kg, "mass"), number=mass)
    draft.step("over all the mass", axis, "M / m", result, sum_of, total)
    return result


def _mass(piece: Piece, at: int) -> Symbol:
    source, is_typical = "as entered", False
    if piece.item is not None:
        source, is_typical = provenance(piece.item, *piece.of)
    return Symbol(f"m_{at}", piece.name, Value(piece.kg, "mass"), source, is_typical, piece.number)


def typical_masses(draft: Draft, state: State) -> None:
    """Say how many masses are typical figures."""
    items = {
        piece.item.id: piece.item
        for piece in state.pieces
        if piece.item is not None and provenance(piece.item, "mass").is_typical
    }
    if items:
        names = ", ".join(item.name for item in items.values())
        draft.assumptions.append(plain(f"typical masses, to be weighed: {names}"))


def contents_working(analysis: Analysis, number: Number) -> Working | None:
    """Mass of what is in a vessel when it is full."""
    solid = analysis.body.solids.get(number.of)
    contents = solid.load.contents if solid is not None else None
    if solid is None or contents is None or number.what != "mass":
        return None
    item, specification = solid.item, solid.item.specification
    draft = Draft(number, Phrase.of("Mass of what is in {item}", item=item.name))
    value = Value(contents.full_kg, "mass")
    role = specification.water
    if isinstance(role, Tank):
        density = Symbol("rho", "water", Value(WATER_KG_M3, "density"), "IAPWS-95, at 20 °C")
        source, is_typical = provenance(item, "volume")
        volume = Symbol("V", "its volume", Value(role.volume.si, "volume"), source, is_typical)
        draft.step("water that fills it", "m", "rho * V", value, density, volume)
        return draft.done(value)
    full = specification.mass_full
    assert full is not None
    source, is_typical = provenance(item, "mass")
    with_it = Symbol("m_f", "with everything in it", Value(full.si, "mass"), source, is_typical)
    without = Symbol("m_e", "empty", Value(specification.mass.si, "mass"), source, is_typical)
    draft.step("what is in it", "m", "m_f - m_e", value, with_it, without)
    return draft.done(value)
