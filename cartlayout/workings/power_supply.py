"""Workings of generators and batteries on board: watts, starts, legs, fuel and energy."""

from collections.abc import Callable, Iterator

from ..analysis import Analysis
from ..build import Battery, Generator, Item
from ..findings.number import Number
from ..findings.power_numbers import other_number
from ..limits.derating import derating
from ..power.loads import start_watts
from ..power.placed import PlacedLoad
from ..power.results import EVERYTHING_ON, Limit
from ..power.supplies import derated_share
from ..power.totals import with_cords_w
from ..power.trace import PowerTrace
from ..units import Phrase, Value
from .making import Draft, Term, phasor_sum
from .model import Step, Symbol, Working
from .power_circuit import conductor_steps, power_terms
from .power_parts import amperes, take_over, trace_of, typical_loads, volts, watts
from .provenance import provenance

_TITLES = {
    "generator": "Running watts on {item}",
    "inverter": "Running watts on {item}",
    "surge": "Watts on {item} at the largest start",
    "starts together": "Watts on {item} with every start at once",
    "leg": "Amps on the fullest leg of {item}",
    "fuel": "How long the fuel of {item} has to last",
    "discharge": "Watts that the battery of {item} gives",
    "battery energy": "Energy that {item} has to give",
    "battery hours": "How long {item} lasts",
    "fuel hours": "How long the fuel of {item} lasts",
}


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Of every generator and battery: its limits, and how long it lasts."""
    if trace_of(analysis) is None:
        return
    for owner, limit in analysis.power.limits:
        number = other_number(owner, limit)
        if number.subject == "power supply":
            yield number
    for item_id in analysis.power.battery_hours:
        yield Number("power supply", item_id, "battery hours")
    for item_id in analysis.power.fuel_hours:
        yield Number("power supply", item_id, "fuel hours")


def working(analysis: Analysis, number: Number) -> Working | None:
    """The working of a number of a generator or a battery."""
    trace = trace_of(analysis)
    item = analysis.build.item(number.of)
    make = _MAKERS.get(number.what)
    if trace is None or item is None or make is None:
        return None
    meter = next(
        (
            index
            for index, each in enumerate(trace.tree.meters)
            if each.kind == "supply" and each.key == number.of
        ),
        None,
    )
    if meter is None:
        return None
    one = _On(analysis, trace, item, meter)
    limit = one.limit(number.what)
    if limit is None and not number.what.endswith("hours"):
        return None
    draft = Draft(number, Phrase.of(_TITLES[number.what], item=item.name))
    return draft.done(make(one, draft))


class _On:
    """A supply with everything that hangs on it."""

    def __init__(self, analysis: Analysis, trace: PowerTrace, item: Item, meter: int) -> None:
        self.analysis = analysis
        self.trace = trace
        self.item = item
        self.meter = meter

    @property
    def role(self) -> Generator | Battery:
        """What it is."""
        role = self.item.specification.electrical
        assert isinstance(role, (Generator, Battery))
        return role

    @property
    def behind(self) -> list[PlacedLoad]:
        """All loads on it."""
        return self.trace.tree.behind(self.meter)

    def limit(self, name: str) -> Limit | None:
        """One of its limits."""
        found = (
            limit
            for owner, limit in self.analysis.power.limits
            if owner == self.item.id and limit.name == name
        )
        return next(found, None)

    def known(self, name: str) -> Limit:
        """One of its limits, which there is."""
        limit = self.limit(name)
        assert limit is not None
        return limit

    def figure(self, symbol: str, says: str, value: Value, *of: str) -> Symbol:
        """A number of its nameplate."""
        return Symbol(symbol, says, value, *provenance(self.item, *of, "electrical"))


# --- watts ------------------------------------------------------------------------------------


def _running(one: _On, draft: Draft) -> Value:
    limit = one.known("generator" if isinstance(one.role, Generator) else "inverter")
    power_terms(draft, one.trace, one.meter, "running watts together")
    take_over(draft, limit, *_derated(one, one.role.running.si, "P_r", limit.limit))
    return watts(limit.value)


def _surge(one: _On, draft: Draft) -> Value:
    limit = one.known("surge")
    running = power_terms(draft, one.trace, one.meter, "running watts together")
    starter = next((load for load in one.behind if load.item.id in limit.items), None)
    if starter is None:
        draft.step(
            "nothing starts with more than it runs on", "P_s", "P", watts(limit.value), running
        )
    else:
        more = _start(draft, starter, "X")
        draft.step("the largest start on top", "P_s", "P + X", watts(limit.value), running, more)
        draft.assume("one motor starts at a time")
    take_over(draft, limit, *_derated(one, one.role.surge.si, "P_p", limit.limit))
    return watts(limit.value)


def _starts(one: _On, draft: Draft) -> Value:
    limit = one.known("starts together")
    running = power_terms(draft, one.trace, one.meter, "running watts together")
    firsts = {load.item.id: load for load in one.behind if load.part == 0}
    more = [_start(draft, firsts[item_id], f"X_{at}") for at, item_id in enumerate(limit.items, 1)]
    names = " + ".join(("P", *(symbol.name for symbol in more)))
    value = watts(limit.value)
    draft.step("every start at once on top", "P_s", names, value, running, *more)
    take_over(draft, limit, *_derated(one, one.role.surge.si, "P_p", limit.limit))
    return value


def _start(draft: Draft, load: PlacedLoad, name: str) -> Symbol:
    """Watts that one start asks for on top of running."""
    sub = name[1:]
    rated_w = load.parts * load.model.rated_w
    extra_w = load.parts * (start_watts(load.load, load.model) - load.model.rated_w)
    source, is_typical = provenance(load.item, "start", "electrical")
    multiple = Symbol(
        f"m{sub}",
        "watts at its start, against running",
        Value(max(load.load.start_multiple, 1.0), "number"),
        source,
        is_typical,
    )
    rated = Symbol(
        f"P_n{sub}",
        f"watts of {load.item.name}",
        watts(rated_w),
        *provenance(load.item, "electrical"),
    )
    return draft.step(
        f"{load.item.name} starts: more than it runs on",
        name,
        f"P_n{sub} * (m{sub} - 1)",
        watts(extra_w),
        rated,
        multiple,
    )


def _derated(one: _On, rated_w: float, name: str, limit_w: float) -> Iterator[Step]:
    """What is left of an engine's rating where it stands."""
    role, venue = one.role, one.analysis.build.venue
    if not isinstance(role, Generator) or limit_w == rated_w:
        return
    yield from _share_left(role, venue.altitude_m, venue.ambient.si)
    share = Value(derated_share(role, venue)[0], "percent")
    left = Symbol("k", "left of the rating where it stands", share)
    rated = one.figure(name, "its rating", watts(rated_w))
    yield Step("the limit", "P_max", f"k * {name}", (left, rated), watts(limit_w))


def _share_left(role: Generator, altitude_m: float, ambient_k: float) -> Iterator[Step]:
    losses = derating()
    high = (
        Symbol(
            "a",
            losses.altitude.rule,
            Value(losses.altitude.per_m, "by metre"),
            losses.altitude.citation,
        ),
        Symbol("h", "height of the place", Value(altitude_m, "distance")),
        Symbol("h_0", "height it is rated up to", Value(role.rated_altitude.si, "distance")),
    )
    thin = max(1.0 - losses.altitude.per_m * max(altitude_m - role.rated_altitude.si, 0.0), 0.0)
    yield Step(
        "left in thin air",
        "k_h",
        "max(1 - a * max(h - h_0, 0), 0)",
        high,
        Value(thin, "percent"),
    )
    hot = (
        Symbol("b", losses.heat.rule, Value(losses.heat.per_k, "by kelvin"), losses.heat.citation),
        Symbol("T", "air around it", Value(ambient_k, "temperature")),
        Symbol("T_0", "air it is rated up to", Value(role.rated_ambient.si, "temperature")),
    )
    warm = max(1.0 - losses.heat.per_k * max(ambient_k - role.rated_ambient.si, 0.0), 0.0)
    yield Step(
        "left in warm air",
        "k_t",
        "max(1 - b * max(T - T_0, 0), 0)",
        hot,
        Value(warm, "percent"),
    )
    yield Step(
        "left where it stands",
        "k",
        "k_h * k_t",
        (
            Symbol("k_h", "left in thin air", Value(thin, "percent")),
            Symbol("k_t", "left in warm air", Value(warm, "percent")),
        ),
        Value(thin * warm, "percent"),
    )


def _leg(one: _On, draft: Draft) -> Value:
    limit, role = one.known("leg"), one.role
    row = one.trace.totals[EVERYTHING_ON].conductors[one.meter][:-1]
    worst = max(range(len(row)), key=lambda leg: row[leg])
    value = conductor_steps(draft, one.trace, one.meter, worst, EVERYTHING_ON)
    take_over(draft, limit, *_leg_limit(one, role, limit.limit))
    return value


def _leg_limit(one: _On, role: Generator | Battery, limit_a: float) -> Iterator[Step]:
    if not isinstance(role, Generator):
        return
    venue = one.analysis.build.venue
    share = derated_share(role, venue)[0]
    yield from _share_left(role, venue.altitude_m, venue.ambient.si)
    left = Symbol("k", "left of the rating where it stands", Value(share, "percent"))
    if role.leg_current is not None:
        own = one.figure("I_l", "amps of a leg", amperes(role.leg_current.si))
        yield Step("the limit", "I_max", "k * I_l", (left, own), amperes(limit_a))
    elif role.voltage.si > 0.0:
        rated = one.figure("P_r", "its running watts", watts(role.running.si))
        across = one.figure("V_l", "volts between its legs", volts(role.voltage.si))
        yield Step("the limit", "I_max", "k * P_r / V_l", (left, rated, across), amperes(limit_a))


# --- fuel and energy --------------------------------------------------------------------------


def _taken(one: _On, draft: Draft) -> Symbol:
    """Watts that everything takes, with what its cords take."""
    flow = one.trace.flows[EVERYTHING_ON]
    terms: dict[str, Term] = {}
    for index in one.trace.tree.loads_behind.get(one.meter, ()):
        placed = one.trace.loads[EVERYTHING_ON][index]
        if not abs(placed.volts):
            continue
        old = terms[placed.item.id].value if placed.item.id in terms else 0j
        terms[placed.item.id] = Term(
            f"{placed.item.name}, with its cords",
            old + with_cords_w(placed, flow.load_a[index]),
            None,
            *provenance(placed.item, "electrical"),
        )
    typical_loads(draft, [placed.item for placed in one.behind])
    says = "watts of everything on"
    return phasor_sum(draft, says, "P", list(terms.values()), 1.0, "power", "P")


def _fuel(one: _On, draft: Draft) -> Value:
    limit = one.known("fuel")
    value = Value(limit.value, "duration")
    draft.step("hours of the service, as entered", "t", "", value)
    inner = Draft(draft.number, draft.title)
    _fuel_steps(one, inner)
    take_over(draft, limit, *inner.steps)
    draft.assumptions += inner.assumptions
    return value


def _fuel_hours(one: _On, draft: Draft) -> Value:
    _fuel_steps(one, draft)
    draft.assume("everything is taken to be on all the time")
    return Value(one.analysis.power.fuel_hours[one.item.id] * 3600.0, "duration")


def _fuel_steps(one: _On, draft: Draft) -> None:
    """Fuel over what is burnt at this load."""
    role = one.role
    assert isinstance(role, Generator)
    assert role.fuel is not None
    running = _taken(one, draft)
    full, half = role.burn_full, role.burn_half
    hours_s = one.analysis.power.fuel_hours[one.item.id] * 3600.0
    burn = Value(role.fuel.si / hours_s, "burn")
    rated = one.figure("P_r", "its running watts", watts(role.running.si))
    if full is not None and half is not None:
        at_full = one.figure("B_1", "fuel burnt at full load", Value(full.si, "burn"), "fuel")
        at_half = one.figure("B_2", "fuel burnt at half load", Value(half.si, "burn"), "fuel")
        burnt = draft.step(
            "on the straight line through both",
            "B",
            "B_2 + (B_1 - B_2) * (P / P_r - 0.5) / 0.5",
            burn,
            at_full,
            at_half,
            running,
            rated,
        )
    else:
        says = "fuel burnt, at the only load it is known for"
        burnt = draft.step(says, "B", "", burn)
    tank = one.figure("F", "fuel in its tank", Value(role.fuel.si, "volume"), "fuel")
    draft.step("until it is empty", "t_f", "F / B", Value(hours_s, "duration"), tank, burnt)


def _discharge(one: _On, draft: Draft) -> Value:
    limit, role = one.known("discharge"), one.role
    assert isinstance(role, Battery)
    load = _taken(one, draft)
    efficiency = one.figure(
        "eta", "efficiency of its inverter", Value(role.efficiency or 1.0, "share")
    )
    idle = one.figure("P_0", "what it takes with nothing on", watts(role.idle.si))
    value = watts(limit.value)
    draft.step("from the battery itself", "P_b", "P / eta + P_0", value, load, efficiency, idle)
    take_over(draft, limit)
    return value


def _energy(one: _On, draft: Draft) -> Value:
    limit, role = one.known("battery energy"), one.role
    assert isinstance(role, Battery)
    load = _taken(one, draft)
    idle = one.figure("P_0", "what its inverter takes with nothing on", watts(role.idle.si))
    hours = Symbol(
        "t", "hours of the service", Value(one.analysis.build.service.hours.si, "duration")
    )
    value = Value(limit.value, "energy")
    draft.step("for the whole service", "W", "(P + P_0) * t", value, load, idle, hours)
    take_over(draft, limit, _usable(one, role))
    return value


def _usable(one: _On, role: Battery) -> Step:
    usable_j = role.energy.si * role.usable_share * role.efficiency
    return Step(
        "what it can give",
        "W_u",
        "W_n * k_u * eta",
        (
            one.figure("W_n", "its nominal energy", Value(role.energy.si, "energy")),
            one.figure("k_u", "share that may be used", Value(role.usable_share, "share")),
            one.figure("eta", "efficiency of its inverter", Value(role.efficiency, "share")),
        ),
        Value(usable_j, "energy"),
    )


def _battery_hours(one: _On, draft: Draft) -> Value:
    role = one.role
    assert isinstance(role, Battery)
    value = Value(one.analysis.power.battery_hours[one.item.id] * 3600.0, "duration")
    load = _taken(one, draft)
    usable = _usable(one, role)
    draft.steps.append(usable)
    draft.assume("everything is taken to be on all the time")
    if load.value.si + role.idle.si <= 0.0:
        draft.step("nothing draws, so it lasts", "t_b", "", value)
        return value
    idle = one.figure("P_0", "what its inverter takes with nothing on", watts(role.idle.si))
    given = Symbol("W_u", usable.says, usable.result)
    draft.step("until it is empty", "t_b", "W_u / (P + P_0)", value, given, load, idle)
    return value


_MAKERS: dict[str, Callable[[_On, Draft], Value]] = {
    "generator": _running,
    "inverter": _running,
    "surge": _surge,
    "starts together": _starts,
    "leg": _leg,
    "fuel": _fuel,
    "fuel hours": _fuel_hours,
    "discharge": _discharge,
    "battery energy": _energy,
    "battery hours": _battery_hours,
}
