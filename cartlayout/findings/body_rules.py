"""What to say about bodies in each other's way, and about balance."""

from collections.abc import Iterator

from ..body.results import BodyResult, Clash
from ..build import Build
from ..limits import profile
from ..units import Phrase, Value
from .finding import Finding, Severity

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
        "{a} needs {depth} more free space on that side, for air, service or a lid.",
    ),
    "clearance-top": (
        "care",
        "Too little room above {a}",
        "It needs {depth} more free height on the {detail} level.",
    ),
}


def rules(build: Build, body: BodyResult) -> Iterator[Finding]:
    """Say every clash, and what is wrong with the balance."""
    for clash in body.clashes:
        yield _clash(build, clash)
    yield from _tilt(build, body)
    yield from _door(build, body)


def _clash(build: Build, clash: Clash) -> Finding:
    severity, title, detail = _SAID[clash.code]
    items = [build.item(one) for one in clash.items]
    names = [item.name for item in items if item is not None]
    words: dict[str, Value | str] = {
        "a": names[0],
        "b": names[1] if len(names) > 1 else "",
        "depth": Value(clash.depth_m, "length"),
        "area": Value(clash.area_m2, "area"),
        "detail": clash.detail,
    }
    source = "the specification's clearances" if "clearance" in clash.code else ""
    return Finding(
        severity,
        f"body.{clash.code}",
        Phrase.of(title, **words),
        Phrase.of(detail, **words),
        clash.items,
        value=Value(clash.depth_m, "length"),
        source=source,
    )


def _tilt(build: Build, body: BodyResult) -> Iterator[Finding]:
    least = profile(build.region).tilt_degrees
    for state, balance in (("full", body.full), ("empty", body.empty)):
        if balance is None or balance.tilt_deg is None:
            continue
        tilt = balance.tilt_deg
        if tilt >= least.value:
            continue
        tips = tilt <= 0
        title = (
            "The cart falls over to the {edge}" if tips else "The cart tips to the {edge} at {tilt}"
        )
        yield Finding(
            "stop",
            "body.tilt",
            Phrase.of(title, edge=balance.edge, tilt=Value(tilt, "angle")),
            Phrase.of(
                "With tanks {state} its centre of mass is {height} above the floor; it should "
                "stand a lean of {limit}. Move heavy things down and to the middle, or widen the "
                "wheels.",
                state=state,
                height=Value(balance.z_m, "length"),
                limit=Value(least.value, "angle"),
            ),
            value=Value(tilt, "angle"),
            limit=Value(least.value, "angle"),
            source=least.source,
        )
        return  # one state is enough to stop for


def _door(build: Build, body: BodyResult) -> Iterator[Finding]:
    doors = [one.width.si for one in build.venue.passages if one.kind == "door"]
    if not doors or body.passes_door is not False:
        return
    narrow = Value(min(body.width_m, body.depth_m), "length")
    limit = Value(min(doors), "length")
    yield Finding(
        "stop",
        "body.door",
        Phrase.of("The cart does not go through the {door} door", door=limit),
        Phrase.of("Its narrow side is {narrow}. Fold it, or find another way in.", narrow=narrow),
        value=narrow,
        limit=limit,
        source="the venue's door as entered",
    )
