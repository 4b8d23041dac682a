"""What to say about bodies in each other's way."""

from collections.abc import Iterator

from ..body.results import BodyResult, Clash
from ..build import Build
from ..units import Phrase, Value
from .body_numbers import clash_numbers
from .body_weight import leaf_words
from .finding import Finding, Severity
from .number import Number

# code -> (severity, title, what to do)
_SAID: dict[str, tuple[Severity, str, str]] = {
    "overlap": (
        "stop",
        "{a} and {b} stand in each other",
        "They share {area} of the same height band; move one by {depth}.",
    ),
    "overhang": (
        "stop",
        "{a} hangs over the edge of the cart",
        "It reaches {depth} beyond the outline. Move it in or turn it.",
    ),
    "leaf-down": (
        "stop",
        "{a} stands where {detail} is folded down",
        "{depth} of it has nothing under it. Raise the leaf, or move it in.",
    ),
    "height": (
        "stop",
        "{a} is too tall for the {detail} level",
        "It sticks up {depth} into what is above. Lower it or take another level.",
    ),
    "level": (
        "stop",
        "{a} stands on a level the cart does not have",
        "There is no level '{detail}'. Put it on one of the cart's levels.",
    ),
    "leg": (
        "stop",
        "{a} stands in a leg of the cart",
        "They share {area}; move it by {depth}.",
    ),
    "panel": (
        "stop",
        "{a} stands in the {detail}",
        "It reaches {depth} into the board. Move it clear of the panel.",
    ),
    "no-panel": (
        "care",
        "{a} hangs on nothing",
        "It is mounted on a wall, and the cart has no panel to hang it on. Give the cart one, "
        "or let it stand.",
    ),
    "off-panel": (
        "care",
        "{a} hangs beside the {detail}",
        "It is {depth} away from where it could be fastened. Move it against the panel.",
    ),
    "panel-height": (
        "care",
        "{a} hangs over the edge of the {detail}",
        "It sticks out {depth} above or below the board. Hang it higher or lower, or make the "
        "panel taller.",
    ),
    "sunk": (
        "care",
        "{a} is let into the {detail}, where there is no hole",
        "It lies {depth} below the surface. Draw the hole that it hangs in; its rim has to cover "
        "the hole on every side.",
    ),
    "zone-opening": (
        "stop",
        "{a} stands over the opening {detail}",
        "It covers {depth} of the hole. Move it aside.",
    ),
    "zone-no-go": (
        "stop",
        "{a} stands where nothing may: {detail}",
        "It reaches {depth} into the zone. Move it out.",
    ),
    "zone-reserved": (
        "care",
        "{a} stands in space kept free for {detail}",
        "It reaches {depth} into the reserved zone.",
    ),
    "clearance": (
        "care",
        "{b} is too close to {a}",
        "{a} needs {need} free {side} {purpose}; {b} takes {depth} of it.",
    ),
    "clearance-top": (
        "care",
        "Too little room above {a}",
        "It needs {need} free above it {purpose}; on the {detail} level {depth} of that is "
        "missing.",
    ),
    "clearance-panel": (
        "care",
        "{a} is too close to the {detail}",
        "It needs {need} free {side} {purpose}; the board takes {depth} of it.",
    ),
}
PURPOSES = {
    "ventilation": "for air",
    "service": "for service",
    "hot": "because it is hot or steams there",
    "lid": "for a lid, a door or a hopper to open",
    "work": "for the hands that work there",
}
_SIDES = {
    "left": "on its left",
    "right": "on its right",
    "rear": "behind it",
    "front": "before it",
    "top": "above it",
}


def rules(build: Build, body: BodyResult) -> Iterator[Finding]:
    """Say every clash."""
    for number, clash in clash_numbers(body.clashes):
        yield _clash(build, clash, number)


def _clash(build: Build, clash: Clash, number: Number) -> Finding:
    severity, title, detail = _SAID[clash.code]
    items = [build.item(one) for one in clash.items]
    names = [item.name for item in items if item is not None]
    words: dict[str, Value | str] = {
        "a": names[0],
        "b": names[1] if len(names) > 1 else "",
        "depth": Value(clash.depth_m, "length"),
        "area": Value(clash.area_m2, "area"),
        "need": Value(clash.need_m, "length"),
        "side": _SIDES.get(clash.side, ""),
        "purpose": PURPOSES.get(clash.purpose, ""),
        "detail": leaf_words(clash.detail) if clash.code == "leaf-down" else clash.detail,
    }
    spaced = clash.need_m > 0
    return Finding(
        severity,
        f"body.{clash.code}",
        Phrase.of(title, **words),
        Phrase.of(detail, **words),
        clash.items,
        value=Value(clash.need_m - clash.depth_m if spaced else clash.depth_m, "length"),
        limit=Value(clash.need_m, "length") if spaced else None,
        source="the specification's clearances" if spaced else "",
        number=None if clash.code in _UNMEASURED else number,
    )


_UNMEASURED = ("level", "no-panel")
"""Nothing is so and so far in the way there."""
