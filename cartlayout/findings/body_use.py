"""What to say about work at the cart: reach, water over outlets, the height of the counter."""

from collections.abc import Iterator

from ..body.results import BodyResult, Drip, Reach
from ..build import Build
from ..limits import Setting, body_practice
from ..units import Phrase, Value
from .body_numbers import reach_number
from .finding import Finding, Severity

ACCESS_REGIONS = ("US",)
"""Where the counter's height comes from the standard in the table."""


def rules(build: Build, body: BodyResult) -> Iterator[Finding]:
    """Reach from the operator's side, the way of a drip, the counter's height."""
    practice = body_practice()
    for one in body.reaches:
        if one.depth_m > practice.reach_limit_m.value:
            yield _reach(build, one, practice.reach_limit_m, "care")
        elif one.depth_m > practice.reach_easy_m.value:
            yield _reach(build, one, practice.reach_easy_m, "note")
    yield from _drips(build, body)
    yield from _counter(build, body)


def _name(build: Build, item_id: str) -> str:
    item = build.item(item_id)
    return item.name if item is not None else item_id


def _reach(build: Build, one: Reach, limit: Setting[float], severity: Severity) -> Finding:
    far = severity == "care"
    return Finding(
        severity,
        "body.reach",
        Phrase.of(
            "{item} is out of reach" if far else "{item} is a long reach",
            item=_name(build, one.item),
        ),
        Phrase.of(
            "Hands go {depth} in from the operator's edge, {limit} is "
            + ("the most" if far else "comfortable")
            + ". Move it nearer, or turn its front to the operator.",
            depth=Value(one.depth_m, "length"),
            limit=Value(limit.value, "length"),
        ),
        (one.item,),
        value=Value(one.depth_m, "length"),
        limit=Value(limit.value, "length"),
        source=limit.citation,
        number=reach_number(one.item),
    )


def _drips(build: Build, body: BodyResult) -> Iterator[Finding]:
    """One finding for each thing under water; what boards shield is one thing worth knowing."""
    bare: dict[str, list[Drip]] = {}
    shielded: dict[str, list[Drip]] = {}
    for one in body.drips:
        if one.shield:
            shielded.setdefault(one.shield, []).append(one)
        else:
            bare.setdefault(one.live, []).append(one)
    for live, found in bare.items():
        yield _drip(build, live, found)
    for shield, found in shielded.items():
        yield _shielded(build, shield, found)


def _drip(build: Build, live: str, found: list[Drip]) -> Finding:
    margin = body_practice().drip_margin_m
    name = _name(build, live)
    return Finding(
        "care",
        "body.drip",
        Phrase.of(
            "{live} is under {wet}",
            live=name,
            wet=_listed([_name(build, one.wet) for one in found]),
        ),
        Phrase.of(
            "A leak, a spill or a loose joint drips on it. Move it aside by more than {margin}, "
            "raise it above the water, or put a board without a hole between.",
            margin=Value(margin.value, "length"),
        ),
        (live, *(one.wet for one in found)),
        source=margin.citation,
    )


def _shielded(build: Build, shield: str, found: list[Drip]) -> Finding:
    live = tuple(dict.fromkeys(one.live for one in found))
    wet = tuple(dict.fromkeys(one.wet for one in found))
    names = _listed([_name(build, one) for one in live])
    return Finding(
        "note",
        "body.drip-shielded",
        Phrase.of(
            "The {shield} keeps water off {live}",
            shield=shield,
            live=names,
        ),
        Phrase.of(
            "{wet} {stand} above. Keep the {shield} without a hole there, for tubes as well.",
            wet=_listed([_name(build, one) for one in wet]),
            stand="stands" if len(wet) == 1 else "stand",
            shield=shield,
        ),
        (*live, *wet),
        source=body_practice().drip_margin_m.citation,
    )


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _counter(build: Build, body: BodyResult) -> Iterator[Finding]:
    limit = body_practice().counter_height_m
    if build.region not in ACCESS_REGIONS or body.counter_m <= limit.value + 1e-4:
        return
    yield Finding(
        "note",
        "body.counter-height",
        Phrase.of("The counter is {height} high", height=Value(body.counter_m, "length")),
        Phrase.of(
            "People in a wheelchair are served at {limit} or lower. The rule is written for "
            "fixed counters; ask the venue whether it wants a part of the cart at that height.",
            limit=Value(limit.value, "length"),
        ),
        value=Value(body.counter_m, "length"),
        limit=Value(limit.value, "length"),
        source=limit.citation,
    )
