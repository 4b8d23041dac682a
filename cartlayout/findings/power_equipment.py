"""What to say about cords, strips, plugs, boxes, supplies and the voltage at appliances."""

from collections.abc import Callable, Iterator

from ..build import End, Load
from ..power.loads import load_model
from ..power.results import EVERYTHING_ON, Limit
from ..units import Phrase, UnitSystem, Value, capitalised, show
from . import power_cord_protection, power_starts
from .finding import Finding, Severity
from .power_legs import better_leg
from .power_words import PowerWords, amps_text, pair

_RATED_PARTS = ("strip", "extension", "main")
_BURNS_ABOVE = 1.25
"""Times rated voltage: a wrong supply, no tolerance of one; a heater would give 156 %."""
_FAILS_BELOW = 0.75
"""Times rated voltage: a heater gives 56 % and a motor may not start."""


def rules(words: PowerWords) -> Iterator[Finding]:
    """Everything there is to say about equipment, in the order of the limits."""
    drops: list[tuple[str, Limit]] = []
    for key, limit in words.power.limits:
        if limit.holds or _said_already(words, key, limit):
            continue
        if limit.name == "drop":
            drops.append((key, limit))
            continue
        said = _SAID[limit.name](words, key, limit)
        if said is not None:
            yield said
    yield from _drops(words, drops)


def _said_already(words: PowerWords, key: str, limit: Limit) -> bool:
    """Leave out what a smaller rating, or a wrong voltage, on the same way says already."""
    if limit.name not in ("plug", "cord", "receptacle"):
        return False
    if limit.name == "receptacle":
        plugged, names = _plugged_into(words, key), {*_RATED_PARTS, "plug"}
    else:
        item_id = limit.items[0] if limit.name == "cord" and limit.items else key
        if _burns(words, item_id):
            return True
        plugged, names = {item_id}, set(_RATED_PARTS)
    return any(
        other in plugged
        and one.name in names
        and not one.holds
        and one.limit <= limit.limit
        and abs(one.value - limit.value) < 1e-6
        for other, one in words.power.limits
    )


def _burns(words: PowerWords, item_id: str) -> bool:
    role = words.role(item_id)
    return role is not None and _supply_v(words, item_id) > _BURNS_ABOVE * role.voltage.si


def _supply_v(words: PowerWords, item_id: str) -> float:
    """Volts at an appliance if nothing were lost on the way."""
    state = words.power.appliances.get(item_id, {}).get(EVERYTHING_ON)
    if state is None or not state.fed or state.drop_share >= 1.0:
        return 0.0
    return state.volts / (1.0 - state.drop_share)


def _plugged_into(words: PowerWords, host: str) -> set[str]:
    return {item for item, other in words.power.fed_from.items() if other == host}


def _behind(words: PowerWords, item_id: str) -> tuple[str, ...]:
    """Loads behind a strip, cord or box, the heaviest first."""
    found: list[str] = []
    ahead = [item_id]
    while ahead:
        host = ahead.pop(0)
        for item in _plugged_into(words, host):
            if item not in found:
                found.append(item)
                ahead.append(item)
    loads = [item for item in found if words.role(item) is not None]
    return tuple(sorted(loads, key=lambda item: (-_amps(words, item), item)))


def _amps(words: PowerWords, item_id: str) -> float:
    state = words.power.appliances.get(item_id, {}).get(EVERYTHING_ON)
    return state.amps if state is not None else 0.0


def _part(words: PowerWords, key: str, limit: Limit) -> Finding:
    loads = _behind(words, key)
    what = {
        "strip": "A strip has one rating for all of its receptacles together.",
        "extension": "An extension cord is rated for all that hangs on it.",
        "main": "Its main breaker carries all branches together.",
    }[limit.name]
    return words.finding(
        "stop",
        limit.name,
        Phrase.of("{item} carries {pair}", item=words.name(key), pair=pair(limit)),
        Phrase.of(
            what + " On it: {loads}. Move one of them to a receptacle of its own.",
            loads=words.names(loads),
        ),
        (key, *loads),
        limit,
    )


def _plug(words: PowerWords, key: str, limit: Limit) -> Finding:
    return words.finding(
        "stop",
        "plug",
        Phrase.of("The plug of {item} carries {pair}", item=words.name(key), pair=pair(limit)),
        Phrase.of("{rule}. It would overheat; take load off it.", rule=capitalised(limit.rule)),
        (key,),
        limit,
    )


def _receptacle(words: PowerWords, key: str, limit: Limit) -> Finding:
    return words.finding(
        "stop",
        "receptacle",
        Phrase.of("A receptacle of {item} carries {pair}", item=words.name(key), pair=pair(limit)),
        Phrase.of(
            "Behind it: {loads}. {rule}. Move one of them to another receptacle.",
            loads=words.names(limit.items),
            rule=capitalised(limit.rule),
        ),
        (*limit.items, key),
        limit,
    )


def _cord(words: PowerWords, key: str, limit: Limit) -> Finding:
    return words.finding(
        "stop",
        "cord",
        Phrase.of(
            "The cord of {item} carries {pair}",
            item=words.names(limit.items),
            pair=pair(limit),
        ),
        Phrase.of(
            "It would overheat. Use a cord with thicker conductors, or take load off it: {rule}.",
            rule=limit.rule,
        ),
        limit.items,
        limit,
        runs=(key,),
    )


def _leg(words: PowerWords, key: str, limit: Limit) -> Finding:
    share = limit.value / limit.limit if limit.limit else 0.0
    hint = better_leg(words, key)
    return words.finding(
        "stop",
        "leg",
        Phrase.of("A leg of {item} carries {pair}", item=words.name(key), pair=pair(limit)),
        Phrase.of(
            "That is {share} of what a leg may carry, whatever the other leg does. {hint}",
            share=f"{share * 100:.0f} %",
            hint=hint or "Take a load off it.",
        ),
        (*limit.items, key),
        limit,
    )


def _supply(words: PowerWords, key: str, limit: Limit) -> Finding:
    what = {
        "generator": "It runs too hot or stalls when more than its running watts are on.",
        "inverter": "It shuts down when more than its running watts are on.",
        "surge": "When {starter} starts while the rest is on, it is asked for more than its surge.",
    }[limit.name]
    return words.finding(
        "care" if limit.name == "surge" else "stop",
        limit.name,
        Phrase.of(
            "{item} gives {pair}" + (" at a start" if limit.name == "surge" else ""),
            item=words.name(key),
            pair=pair(limit),
        ),
        Phrase.of(what, starter=words.names(limit.items)),
        (*limit.items, key),
        limit,
    )


def _energy(words: PowerWords, key: str, limit: Limit) -> Finding:
    hours = words.power.battery_hours.get(key, 0.0)
    return words.finding(
        "care",
        "battery-energy",
        Phrase.of(
            "{item} lasts {hours} of {service}",
            item=words.name(key),
            hours=Value(hours * 3600.0, "duration"),
            service=Value(words.build.service.hours.si, "duration"),
        ),
        Phrase.of(
            "With everything on all the time the service needs {needed} and the battery gives "
            "{usable}. Thermostats that rest make it last longer.",
            needed=Value(limit.value, "energy"),
            usable=Value(limit.limit, "energy"),
        ),
        (key, *_behind(words, key)),
        limit,
    )


def _fuel(words: PowerWords, key: str, limit: Limit) -> Finding:
    return words.finding(
        "care",
        "fuel",
        Phrase.of(
            "The fuel of {item} lasts {hours} of {service}",
            item=words.name(key),
            hours=Value(limit.limit, "duration"),
            service=Value(limit.value, "duration"),
        ),
        Phrase("With everything on. Bring more, and let it cool before it is filled."),
        (key,),
        limit,
    )


def _discharge(words: PowerWords, key: str, limit: Limit) -> Finding:
    return words.finding(
        "stop",
        "discharge",
        Phrase.of("{item} itself gives {pair}", item=words.name(key), pair=pair(limit)),
        Phrase(
            "Its inverter would carry it, the battery behind does not: it shuts down. Take loads "
            "off, or a battery of a higher discharge."
        ),
        (key, *_behind(words, key)),
        limit,
    )


def _voltage(words: PowerWords, key: str, limit: Limit) -> Finding | None:
    state = words.power.appliances.get(key, {}).get(EVERYTHING_ON)
    role = words.role(key)
    if state is None or role is None or not state.fed or role.voltage.si <= 0:
        return None
    supply = _supply_v(words, key)
    rated = role.voltage.si
    wrong = supply > limit.limit if limit.value > rated else supply < limit.limit
    if not wrong:
        return _sagging(words, key, limit, supply)
    severity: Severity = "care"
    if supply > _BURNS_ABOVE * rated or supply < _FAILS_BELOW * rated:
        severity = "stop"
    return words.finding(
        severity,
        "wrong-voltage",
        Phrase.of(
            "{item} is made for {rated} and gets {supply}",
            item=words.name(key),
            rated=role.voltage.text,
            supply=show(supply, "voltage", UnitSystem.US, 0),
        ),
        _what_it_does(role, supply, supply / rated),
        (key,),
        limit,
    )


def _what_it_does(role: Load, supply_v: float, ratio: float) -> Phrase:
    if ratio > _BURNS_ABOVE:
        return Phrase.of(
            "It would burn out at once. It needs a {rated} outlet.", rated=role.voltage.text
        )
    if role.resistive_share < 0.5:
        side = "less" if ratio < 1 else "more"
        return Phrase.of(
            "That is {share} of its rated voltage, {side} than it allows: it may not start, run "
            "hot or fail. It needs a {rated} outlet.",
            share=f"{ratio * 100:.0f} %",
            side=side,
            rated=role.voltage.text,
        )
    heat = ratio * ratio
    model = load_model(role)
    values = {
        "watts": f"{model.watts(complex(supply_v)):,.0f} W",
        "amps": amps_text(abs(model.current(complex(supply_v)))),
        "heat": f"{heat * 100:.0f} %",
        "time": f"{abs(1 / heat - 1) * 100:.0f} %",
        "rated": role.voltage.text,
    }
    if ratio < 1:
        return Phrase.of(
            "A heater gives less there: {watts} ({heat} of its heat) at {amps}, so warming up "
            "takes {time} longer. No breaker minds; ask whether {rated} is to be had.",
            **values,
        )
    return Phrase.of(
        "A heater gives more there than it is built for: {watts} ({heat} of its heat) at {amps}. "
        "It needs a {rated} outlet.",
        **values,
    )


def _sagging(words: PowerWords, key: str, limit: Limit, supply: float) -> Finding:
    return words.finding(
        "care",
        "voltage",
        Phrase.of("{item} gets {pair} it needs", item=words.name(key), pair=pair(limit)),
        Phrase.of(
            "Of {supply} at the supply {lost} is lost in the cords on the way, out and back. Use "
            "a thicker or shorter cord.",
            supply=Value(supply, "voltage"),
            lost=Value(supply - limit.value, "voltage"),
        ),
        (key,),
        limit,
        runs=_cords_to(words, key),
    )


def _drops(words: PowerWords, drops: list[tuple[str, Limit]]) -> Iterator[Finding]:
    """One finding for all that lose most of it in the same cord, the worst first."""
    by_cord: dict[str, list[tuple[str, Limit]]] = {}
    for key, limit in drops:
        state = words.power.appliances.get(key, {}).get(EVERYTHING_ON)
        if state is not None and state.fed:
            runs = _cords_to(words, key)
            by_cord.setdefault(runs[0] if runs else key, []).append((key, limit))
    for found in by_cord.values():
        found.sort(key=lambda one: (-one[1].value, one[0]))
        yield _drop(words, [key for key, _ in found], found[0][1])


def _drop(words: PowerWords, keys: list[str], limit: Limit) -> Finding:
    worst = keys[0]
    state = words.power.appliances[worst][EVERYTHING_ON]
    others = f" On the same way: {words.names(keys[1:])}." if len(keys) > 1 else ""
    return words.finding(
        "care",
        "drop",
        Phrase.of("{item} loses {pair} of its voltage", item=words.name(worst), pair=pair(limit)),
        Phrase.of(
            "It gets {volts} and {watts}.{others} This is advice: {rule}. Use a thicker or "
            "shorter cord.",
            volts=Value(state.volts, "voltage"),
            watts=Value(state.watts, "power"),
            others=others,
            rule=limit.rule,
        ),
        keys,
        limit,
        runs=_cords_to(words, worst),
    )


def _cords_to(words: PowerWords, item_id: str) -> tuple[str, ...]:
    """Wires on the way to an item, the one that loses most first."""
    by_item: dict[str, list[str]] = {}
    for wire in words.build.wires:
        for end in (wire.a, wire.b):
            if isinstance(end, End) and wire.id in words.power.wires:
                by_item.setdefault(end.item, []).append(wire.id)
    runs: list[str] = []
    at: str | None = item_id
    seen: set[str] = set()
    while at is not None and at not in seen:
        seen.add(at)
        host = words.power.fed_from.get(at)
        if host is not None:
            both = set(by_item.get(host, ()))
            runs += [one for one in by_item.get(at, ()) if one in both]
        at = host
    return tuple(sorted(dict.fromkeys(runs), key=lambda one: -words.power.wires[one].drop_v))


_SAID: dict[str, Callable[[PowerWords, str, Limit], Finding | None]] = {
    "strip": _part,
    "extension": _part,
    "main": _part,
    "plug": _plug,
    "receptacle": _receptacle,
    "cord": _cord,
    "cord protection": power_cord_protection.of_cord,
    "leg": _leg,
    "generator": _supply,
    "inverter": _supply,
    "surge": _supply,
    "starts together": power_starts.of_supply,
    "battery energy": _energy,
    "fuel": _fuel,
    "discharge": _discharge,
    "voltage": _voltage,
}
