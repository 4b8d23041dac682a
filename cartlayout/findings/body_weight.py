"""What to say about balance, casters, pushing and lifting."""

from collections.abc import Iterator

from ..body.results import Balance, BodyResult, EdgeTilt, Lift, Push
from ..body.travel import push_limits
from ..build import Build, Load
from ..limits import body_practice, profile
from ..units import Phrase, Value
from .body_numbers import (
    MOVED_TILT,
    caster_rule_number,
    foot_number,
    leaf_number,
    lift_number,
    push_number,
    tilt_number,
)
from .finding import Finding
from .number import Number


def rules(build: Build, body: BodyResult) -> Iterator[Finding]:
    """Tilt, what the casters and leaves bear, the force to push, the heaviest lift."""
    yield from _tilt(build, body)
    yield from _casters(body)
    yield from _leaves(body)
    yield from _push(body)
    yield from _lift(body)


def mix_words(build: Build, state: Balance) -> str:
    """Which vessels are full in a state, in words."""
    names = {item.id: item.name for item in build.items}
    full = [names.get(one.item, one.item) for one in state.fills if one.share > 0.5]
    if not state.fills:
        return "with everything on it"
    if not full:
        return "with every vessel empty"
    if len(full) == len(state.fills):
        return "with every vessel full"
    return f"with {' and '.join(full)} full and the rest empty"


def _tilt(build: Build, body: BodyResult) -> Iterator[Finding]:
    worst = body.tilts[0] if body.tilts else None
    moving = body.travel.tilt if body.travel is not None else None
    if worst is None:
        return
    least = profile(build.region).tilt_degrees
    if worst.worst_deg >= least.value and moving is not None and moving.worst_deg < least.value:
        yield _tips(build, moving, "That is as it is moved,", MOVED_TILT)
        return
    if worst.worst_deg < least.value:
        yield _tips(build, worst, "", tilt_number(body, worst))
        return
    heated = body_practice().tilt_heated_degrees
    if worst.worst_deg < heated.value and _heats(build):
        yield Finding(
            "note",
            "body.tilt-heated",
            Phrase.of(
                "The cart stands {tilt}, but not {limit}",
                tilt=Value(worst.worst_deg, "angle"),
                limit=Value(heated.value, "angle"),
            ),
            Phrase.of(
                "With heating elements on it the test is repeated at {limit}; it goes over to the "
                "{edge} {mix}.",
                limit=Value(heated.value, "angle"),
                edge=worst.edge,
                mix=mix_words(build, worst.worst),
            ),
            value=Value(worst.worst_deg, "angle"),
            limit=Value(heated.value, "angle"),
            source=heated.citation,
            working=_tilt_working(worst),
            number=tilt_number(body, worst),
        )


def _tips(build: Build, tilt: EdgeTilt, when: str, number: Number) -> Finding:
    least = profile(build.region).tilt_degrees
    falls = tilt.worst_deg <= 0
    title = (
        "The cart falls over to the {edge}" if falls else "The cart tips to the {edge} at {tilt}"
    )
    return Finding(
        "stop",
        "body.tilt",
        Phrase.of(title, edge=tilt.edge, tilt=Value(tilt.worst_deg, "angle")),
        Phrase.of(
            "{when} {mix}: the centre of gravity is then {height} above the floor. It should "
            "stand a lean of {limit}. Move heavy things down and to the middle, or set the "
            "wheels wider.",
            when=when or "That is",
            mix=mix_words(build, tilt.worst),
            height=Value(tilt.worst.z_m, "length"),
            limit=Value(least.value, "angle"),
        ),
        value=Value(tilt.worst_deg, "angle"),
        limit=Value(least.value, "angle"),
        source=least.citation,
        working=_tilt_working(tilt),
        number=number,
    )


def _tilt_working(tilt: EdgeTilt) -> tuple[Phrase, ...]:
    state = tilt.worst
    (ax, ay), (bx, by) = tilt.a, tilt.b
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    away = ((bx - ax) * (state.y_m - ay) - (by - ay) * (state.x_m - ax)) / length
    return (
        Phrase.of(
            "angle = arctan(distance of the centre of gravity from the {edge} edge / its height) "
            "= arctan({away} / {height}) = {angle}",
            edge=tilt.edge,
            away=Value(away, "length"),
            height=Value(state.z_m, "length"),
            angle=Value(tilt.worst_deg, "angle", 1),
        ),
    )


def _heats(build: Build) -> bool:
    return any(
        isinstance(item.specification.electrical, Load)
        and item.specification.electrical.resistive_share > 0
        and item.level != "venue"
        for item in build.items
    )


def _casters(body: BodyResult) -> Iterator[Finding]:
    feet = body.feet
    if feet is None or not feet.casters:
        return
    rated = [(at, one) for at, one in enumerate(feet.loads) if one.rating_kg is not None]
    if not rated:
        return
    practice = body_practice()
    index, worst = max(rated, key=lambda one: one[1].worst_kg / max(one[1].rating_kg or 0.0, 1e-9))
    rating = Value(worst.rating_kg or 0.0, "mass")
    give = practice.caster_rule("equal give")
    if worst.worst_kg > rating.si:
        yield Finding(
            "stop",
            "body.caster",
            Phrase.of(
                "A caster bears {load}, rated for {rating}",
                load=Value(worst.worst_kg, "mass"),
                rating=rating,
            ),
            Phrase.of(
                "The one at {x} from the left and {y} from the rear, in the worst mix of full and "
                "empty vessels. Take stronger casters, or move weight away from it.",
                x=Value(worst.x_m, "length"),
                y=Value(worst.y_m, "length"),
            ),
            value=Value(worst.worst_kg, "mass"),
            limit=rating,
            source=f"the caster's rating; load by {give.citation}",
            number=foot_number(index),
        )
        return
    weakest = Value(min(one.rating_kg or 0.0 for _, one in rated), "mass")
    for key, asked in (("thirds", feet.thirds_kg), ("one less", feet.one_less_kg)):
        rule = practice.caster_rule(key)
        if asked > weakest.si:
            yield Finding(
                "care",
                "body.caster-rule",
                Phrase.of(
                    "Casters of {rating} are weak for this cart",
                    rating=weakest,
                ),
                Phrase.of(
                    "The {rule} asks for {asked} each, because on an uneven floor fewer wheels "
                    "carry it all. By equal give the worst bears {even}.",
                    rule=rule.name,
                    asked=Value(asked, "mass"),
                    even=Value(worst.worst_kg, "mass"),
                ),
                value=Value(asked, "mass"),
                limit=weakest,
                source=rule.citation,
                number=caster_rule_number(key),
            )
            return


def leaf_words(name: str) -> str:
    """A leaf by its name, called a leaf once."""
    return name if "leaf" in name.casefold() else f"Leaf {name}"


def _leaves(body: BodyResult) -> Iterator[Finding]:
    for one in body.leaves:
        if one.rating_kg is not None and one.mass_kg > one.rating_kg:
            yield Finding(
                "stop",
                "body.leaf-load",
                Phrase.of(
                    "{leaf} carries {load}, rated for {rating}",
                    leaf=leaf_words(one.leaf),
                    load=Value(one.mass_kg, "mass"),
                    rating=Value(one.rating_kg, "mass"),
                ),
                Phrase.of("Put something lighter on it, or move it onto the counter itself."),
                one.items,
                value=Value(one.mass_kg, "mass"),
                limit=Value(one.rating_kg, "mass"),
                source="the leaf's rating as entered",
                number=leaf_number(one.leaf),
            )
        elif one.rating_kg is None and one.items:
            yield Finding(
                "note",
                "body.leaf-unrated",
                Phrase.of(
                    "{leaf} carries {load}, and nobody has said what it is good for",
                    leaf=leaf_words(one.leaf),
                    load=Value(one.mass_kg, "mass"),
                ),
                Phrase.of("Enter the load that its maker or builder allows on it."),
                one.items,
                value=Value(one.mass_kg, "mass"),
                number=leaf_number(one.leaf),
            )


def _push(body: BodyResult) -> Iterator[Finding]:
    """On the level. What a ramp asks is said with the ramp."""
    if not body.pushes:
        return
    yield from _push_on(body.pushes[0], "care", "on the level", "level")
    steep = body.pushes[-1]
    if steep.length_m is None and steep.grade > 0:  # no ramp is known: only worth knowing
        yield from _push_on(steep, "note", f"up {steep.where}", "steep")


def _push_on(force: Push, severity: str, where: str, key: str) -> Iterator[Finding]:
    for what, value, limit in push_limits(force):
        if value <= limit.value:
            continue
        yield Finding(
            "care" if severity == "care" else "note",
            "body.push",
            Phrase.of(
                "It takes {force} to {what} the cart {where}",
                force=Value(value, "force"),
                what="start" if what.endswith("start") else "keep moving",
                where=where,
            ),
            Phrase.of(
                "One person should not push more than {limit}. Push it with two, carry heavy "
                "things and full jugs in separately, or take larger wheels.",
                limit=Value(limit.value, "force"),
            ),
            value=Value(value, "force"),
            limit=Value(limit.value, "force"),
            source=limit.citation,
            working=push_working(force),
            number=push_number(key, what),
        )
        return


def push_working(force: Push) -> tuple[Phrase, ...]:
    """How the force comes about."""
    practice = body_practice()
    return (
        Phrase.of(
            "along the slope: {mass} x 9.80665 m/s2 x {grade} = {slope}",
            mass=Value(force.mass_kg, "mass"),
            grade=Value(force.grade, "number", 3),
            slope=Value(force.slope_n, "force"),
        ),
        Phrase.of(
            "rolling resistance {roll} of the weight, {start} to start: {rolling} and {starting} "
            "in all ({basis})",
            roll=Value(practice.rolling_share.value, "percent"),
            start=Value(practice.starting_share.value, "percent"),
            rolling=Value(force.roll_n, "force"),
            starting=Value(force.start_n, "force"),
            basis=practice.rolling_share.citation,
        ),
    )


_WHEN = {
    "jug": "It can be carried half full, or by two.",
    "whole": "It is carried at every service. Lift it with two, or in parts.",
    "machine": "It is lifted when the cart is fitted out or mended. Lift it with two.",
}


def _lift(body: BodyResult) -> Iterator[Finding]:
    """The heaviest of each sort: only what is carried often and cannot be parted is a care."""
    limit = body_practice().lift_kg
    heavy: dict[str, list[Lift]] = {}
    for one in body.lifts:
        if one.mass_kg > limit.value:
            jug = one.full and len(one.items) == 1
            sort = "jug" if jug else "whole" if one.often else "machine"
            heavy.setdefault(sort, []).append(one)
    for sort, found in heavy.items():
        others = len(found) - 1
        more = {0: "", 1: " One other is over that."}.get(
            others, f" {others} others are over that."
        )
        yield Finding(
            "care" if sort == "whole" else "note",
            "body.lift",
            Phrase.of(
                "{name} is a lift of {mass}{full}",
                name=found[0].name,
                mass=Value(found[0].mass_kg, "mass"),
                full=", full" if found[0].full else "",
            ),
            Phrase.of(
                "Under the best conditions one person lifts {limit}; distance, height, twisting, "
                "grip and how often take off from that. {when}{more}",
                when=_WHEN[sort],
                limit=Value(limit.value, "mass"),
                more=more,
            ),
            tuple(item for one in found for item in one.items),
            value=Value(found[0].mass_kg, "mass"),
            limit=Value(limit.value, "mass"),
            source=limit.citation,
            number=lift_number(found[0]),
        )
