"""What to say about the way in: doors, lifts, ramps, vehicles."""

from collections.abc import Iterator

from ..body.results import BodyResult, PassageCheck, PassageResult
from ..build import Build
from ..units import Phrase, Value
from .body_numbers import passage_number
from .body_weight import push_working
from .finding import Finding
from .number import Number

_WHAT = {
    "width": "It is {value} wide that way, the opening {limit}.",
    "height": "It is {value} high as it travels, the opening {limit}.",
    "inner width": "It is {value} wide, the room inside {limit}.",
    "length": "It is {value} long that way, the room inside {limit}.",
    "lean": "It leans {value} there and goes over at {limit}, in its worst mix of full and empty "
    "vessels.",
    "load": "It weighs {value} with its vessels full, allowed are {limit}.",
}
_TITLES = {
    "load": "{name} does not carry the cart",
    "lean": "The cart goes over on {name}",
}
_CARE = {
    "grade": (
        "The ramp {name} rises {value}, steeper than {limit}",
        "Ramps for people are no steeper than that. Go up with two, or find a longer ramp.",
    ),
    "force to start": (
        "It takes {value} to start the cart on {name}",
        "One person should not push more than {limit}. Go up with two, or lighten the cart first.",
    ),
    "force to keep going": (
        "It takes {value} to keep the cart moving up {name}",
        "One person should not push more than {limit} that far. Go up with two, or lighten the "
        "cart first.",
    ),
}


def rules(build: Build, body: BodyResult) -> Iterator[Finding]:
    """Every passage that the cart does not get through, or not easily."""
    for index, one in enumerate(body.passages):
        wrong = [check for check in one.checks if not check.holds]
        stops = [check for check in wrong if check.stops]
        if stops:
            yield _stop(build, body, one, stops[0], passage_number(index, stops[0]))
        grade = [check for check in wrong if check.what == "grade"]
        force = [check for check in wrong if check.dimension == "force"]
        for check in (*grade, *force[:1]):
            yield _care(one, check, passage_number(index, check))


def _stop(
    build: Build, body: BodyResult, one: PassageResult, check: PassageCheck, number: Number
) -> Finding:
    title = _TITLES.get(check.what, "The cart does not {verb} {name}")
    verb = {"ramp": "fit on", "lift": "fit in"}.get(one.kind, "go through")
    tallest = build.item(body.travel.tallest) if body.travel is not None else None
    culprits = (tallest.id,) if tallest is not None and check.what == "height" else ()
    more = f" {tallest.name} sticks up highest." if tallest is not None and culprits else ""
    return Finding(
        "stop",
        f"body.{one.kind}",
        Phrase.of(title, verb=verb, name=one.name or f"the {one.kind}"),
        Phrase.of(
            _WHAT[check.what]
            + "{more} Leaves are folded down and the handle counts. Only straight on is reckoned, "
            "no turn before or behind it. Find another way in, or take something off.",
            value=Value(check.value, check.dimension),
            limit=Value(check.limit, check.dimension),
            more=more,
        ),
        culprits,
        value=Value(check.value, check.dimension),
        limit=Value(check.limit, check.dimension),
        source=check.source,
        number=number,
    )


def _care(one: PassageResult, check: PassageCheck, number: Number) -> Finding:
    title, detail = _CARE[check.what]
    words: dict[str, Value | str] = {
        "name": one.name or f"the {one.kind}",
        "value": Value(check.value, check.dimension),
        "limit": Value(check.limit, check.dimension),
    }
    return Finding(
        "care",
        f"body.{one.kind}-{'grade' if check.what == 'grade' else 'push'}",
        Phrase.of(title, **words),
        Phrase.of(detail, **words),
        value=Value(check.value, check.dimension),
        limit=Value(check.limit, check.dimension),
        source=check.source,
        working=push_working(one.push) if one.push is not None else (),
        number=number,
    )
