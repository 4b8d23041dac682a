"""Lines and fills of an elevation: the cart and the bodies, then cords and tubes."""

from collections.abc import Iterator

from ..plan.lines import DRAIN_DASH, HOT_DASH, HOT_PT
from ..sheet.elements import Element, LineItem, PathItem, RoundItem
from ..theme import LIGHT
from .layout import Place
from .model import Elevation, Piece, RunPiece

FLOOR_PT, EDGE_PT, PART_PT, HIDDEN_PT = 1.4, 0.8, 0.7, 0.5
HIDDEN_DASH = (4.0, 3.0)
WIRE_PT, TUBE_PT, BORE_PT, DRAIN_PT = 1.3, 2.0, 0.9, 1.5
PORT_MM = 0.55
_FILLS = {
    "board": "track",
    "panel": "paper",
    "leg": "track",
    "caster": "track",
    "handle": "track",
    "leaf": "track",
    "body": "body",
    "venue": "panel_raised",
}


def body_strokes(drawn: Elevation, place: Place) -> Iterator[Element]:
    """What is behind first, so that what is before it covers it; then every edge."""
    yield from _envelope(drawn, place)
    for piece in reversed(drawn.pieces):
        if piece.kind in _FILLS:
            points = tuple(place.on_sheet(at) for at in piece.outline)
            yield PathItem(points, True, _FILLS[piece.kind], "")
    for piece in drawn.pieces:
        yield from _hidden(piece, place)
    for piece in drawn.pieces:
        yield from _edges(piece, place)


def _envelope(drawn: Elevation, place: Place) -> Iterator[Element]:
    """The two sides of the cart between its lowest and its highest board."""
    boards = [one for one in drawn.pieces if one.kind == "board"]
    if len(boards) < 2:
        return
    bottom = min(one.top_m for one in boards)
    for u in (0.0, drawn.width_m):
        points = tuple(place.on_sheet((u, z)) for z in (bottom, drawn.counter_m))
        yield PathItem(points, False, "", "line_strong", HIDDEN_PT)


def _edges(piece: Piece, place: Place) -> Iterator[Element]:
    if piece.kind == "opening":
        return
    width = EDGE_PT if piece.kind in ("body", "venue") else PART_PT
    colour = "body_edge" if piece.kind != "venue" else "ink_muted"
    for line in piece.seen:
        yield PathItem(tuple(place.on_sheet(at) for at in line), False, "", colour, width)


def _hidden(piece: Piece, place: Place) -> Iterator[Element]:
    """Dashed: what stands behind, and the edges of holes; hidden parts of the cart are left out."""
    if piece.kind not in ("body", "venue", "opening"):
        return
    lines = piece.unseen if piece.kind != "opening" else (*piece.seen, *piece.unseen)
    for line in lines:
        points = tuple(place.on_sheet(at) for at in line)
        yield PathItem(points, False, "", "ghost", HIDDEN_PT, HIDDEN_DASH)


def run_strokes(drawn: Elevation, place: Place) -> Iterator[Element]:
    """Drains, then supply, then cords; what is behind something is drawn thin."""
    for medium in ("drain", "water", "power"):
        for run in drawn.runs:
            if run.medium == medium:
                yield from _run(run, place)
    for run in drawn.runs:
        colour = run_colour(run)
        for at, is_seen in run.ends:
            x, y = place.on_sheet(at)
            fill = colour if is_seen else "panel"
            yield RoundItem(x, y, PORT_MM, PORT_MM, fill, colour, 0.6)


def run_colour(run: RunPiece) -> str:
    """Name of the colour a run is drawn in."""
    if run.medium == "power":
        return f"circuit {run.letter}" if run.letter else "ink_muted"
    return run.medium


def _run(run: RunPiece, place: Place) -> Iterator[Element]:
    colour = run_colour(run)
    dash = LIGHT.circuit(run.letter).dash if run.medium == "power" and run.letter else ()
    for line in run.unseen:
        points = tuple(place.on_sheet(at) for at in line)
        yield PathItem(points, False, "", colour, HIDDEN_PT, (1.5, 2.5))
    for line in run.seen:
        points = tuple(place.on_sheet(at) for at in line)
        if run.medium == "water":
            yield PathItem(points, False, "", colour, TUBE_PT)
            yield PathItem(points, False, "", "water_fill", BORE_PT)
            if run.is_hot:
                yield PathItem(points, False, "", "water_ink", HOT_PT, HOT_DASH)
        elif run.medium == "drain":
            yield PathItem(points, False, "", colour, DRAIN_PT, DRAIN_DASH)
        else:
            yield PathItem(points, False, "", colour, WIRE_PT, dash)


def floor_line(drawn: Elevation, place: Place) -> LineItem:
    """The floor, a little wider than what stands on it."""
    left, right, _, _ = drawn.bounds
    (ax, y), (bx, _) = place.on_sheet((left, 0.0)), place.on_sheet((right, 0.0))
    return LineItem(ax - 3.0, y, bx + 3.0, y, FLOOR_PT, "ink")
