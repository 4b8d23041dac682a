"""Workings of a tap: how much pressure is left for it, what flows, what it sees shut."""

from collections.abc import Iterator

from ..analysis import Analysis
from ..build import Drawn, Fill, Item, Mains, Opening, Pump, Regulator, Tank
from ..units import Phrase, Value
from ..water.hydraulics import Characteristic, Key, Limiter, State
from ..water.model import TapPlace
from ..water.results import Tap, TapState
from . import water_elements, water_tubes
from .model import Held, Number, Step, Symbol, Working
from .water_parts import (
    Place,
    cited,
    of_port,
    origin,
    place_of,
    step,
    symbol,
    typical_phrase,
    weight,
    weight_step,
)
from .water_rest import rest_working, tank_step

_INLET = ("pressure", "inlet", "water")
_FLOW = ("flow", "inlet", "water")
_TRICKLE = 1e-8
"""m3/s below which nobody would say that water comes."""


def pressure_number(tap: Tap, case: str) -> Number:
    """What is left for a tap in a case."""
    return Number("tap", of_port((tap.item, tap.port)), "pressure", case)


def flow_number(tap: Tap, case: str) -> Number:
    """What a tap gets in a case."""
    return Number("tap", of_port((tap.item, tap.port)), "flow", case)


def static_number(tap: Tap) -> Number:
    """The highest a tap sees."""
    return Number("tap", of_port((tap.item, tap.port)), "static")


def numbers(analysis: Analysis) -> Iterator[Number]:
    """Each tap shut, and open in each case that opens it."""
    for tap in analysis.water.taps:
        if not tap.fed:
            continue
        yield static_number(tap)
        for case, state in tap.states.items():
            place = place_of(analysis, tap.item, case)
            if state.open and place is not None and place.low.converged and place.high.converged:
                yield pressure_number(tap, case)
                yield flow_number(tap, case)


def working(analysis: Analysis, number: Number) -> Working | None:
    """Pressure or flow in a case, or the highest with everything shut."""
    tap = next(
        (one for one in analysis.water.taps if of_port((one.item, one.port)) == number.of), None
    )
    if tap is None or not tap.fed:
        return None
    if number.what == "static":
        return _static(analysis, tap, number)
    place = place_of(analysis, tap.item, number.case)
    state = tap.states.get(number.case)
    if place is None:
        return None
    at = place.island.place(tap.item, tap.port)
    if at is None or at.node not in place.open_taps:
        return None
    if not (place.low.converged and place.high.converged):
        return None
    if state is None:  # two taps together are no case of their own
        from ..water.tap_state import tap_state

        state = tap_state(at, place.island.solved(place.open_taps), True)
    if number.what == "pressure":
        return _pressure(place, tap, at, state, number)
    return _flow(place, tap, at, state, number) if number.what == "flow" else None


def _window(analysis: Analysis, tap: Tap, pressure_pa: float, *, flowing: bool) -> Iterator[Held]:
    source = cited(analysis.build.item(tap.item), *_INLET)
    slack_pa = 20.0
    if flowing:
        yield Held(
            Value(tap.least_pa, "pressure"),
            "least pressure its maker asks while water flows",
            source,
            pressure_pa >= tap.least_pa - slack_pa,
            is_least=True,
        )
    yield Held(
        Value(tap.greatest_pa, "pressure"),
        "greatest pressure its maker allows at any time",
        source,
        pressure_pa <= tap.greatest_pa + slack_pa,
    )


def _static(analysis: Analysis, tap: Tap, number: Number) -> Working | None:
    title = Phrase.of("{tap} shut: the highest it sees", tap=tap.name)
    held = tuple(_window(analysis, tap, tap.static_pa, flowing=False))
    return rest_working(analysis, (tap.item, tap.port), number, title, held)


# --- pressure, from the source down ------------------------------------------------------------


def _pressure(
    place: Place, tap: Tap, at: TapPlace, told: TapState, number: Number
) -> Working | None:
    is_top = told.pressure_pa != told.lowest_pa
    state = place.high if is_top else place.low
    way = place.island.way(at, state)
    item = place.item(tap.item)
    title = Phrase.of("Pressure at {tap} with water running, {case}", tap=tap.name, case=place.case)
    held = tuple(_window(place.analysis, tap, told.pressure_pa, flowing=True))
    result = Value(told.pressure_pa, "pressure")
    assumed = (*_assumed(tap), *typical_phrase("inlet pressures", item, *_INLET))
    if not way or at.outlet_pa == told.pressure_pa:
        read = Step("no water comes: what is left is that of its outlet", "p", "", (), result)
        return Working(number, title, result, (read,), held, assumed)
    ladder = Ladder(place, state, at_top=is_top)
    steps = tuple(ladder.steps(way))
    return Working(
        number,
        title,
        result,
        steps,
        held,
        (*assumed, *dict.fromkeys(ladder.assumed)),
        tuple(_range_notes(place, is_top)),
    )


def _assumed(tap: Tap) -> Iterator[Phrase]:
    if tap.assumed:
        yield Phrase.of("For {tap} {what}.", tap=tap.name, what=tap.assumed)


def _range_notes(place: Place, is_top: bool) -> Iterator[Phrase]:
    if place.low is not place.high:
        yield Phrase.of(
            "A pump that goes on and off swings between cut-in and cut-out, a main between its "
            "least and its greatest: this is at the {end} of the range, the end that is worse for "
            "this tap.",
            end="top" if is_top else "bottom",
        )
    if place.island.model.warm_nodes_k:
        yield Phrase.of(
            "Behind a heater water is lighter: heights there are counted as those of a column of "
            "cold water that weighs as much."
        )


class Ladder:
    """The steps from a source to a tap."""

    def __init__(self, place: Place, state: State, *, at_top: bool) -> None:
        self.place, self.state, self.at_top = place, state, at_top
        self.assumed: list[Phrase] = []

    def steps(self, way: list[tuple[Key, Key, Key]]) -> Iterator[Step]:
        """One for where it starts, then one for each thing on the way."""
        start = way[0][1]
        yield weight_step(self.place)
        yield self._source(start)
        before = start
        for at, (link, _, after) in enumerate(way, 1):
            yield self._link(at, link, before, after)
            before = after

    def _source(self, start: Key) -> Step:
        sketch = self.place.island.model.sketch
        key = next((one for one in sketch.fixed_pa if sketch.root(one) == sketch.root(start)), None)
        item = self.place.item(start[0]) if isinstance(start, tuple) else None
        role = item.specification.water if item is not None else None
        result = Value(self.state.pressures_pa[start], "pressure")
        name = item.name if item is not None else "the source"
        if isinstance(role, Tank) and key == start:
            return tank_step(self.place, start)
        if isinstance(role, Mains):
            given = role.greatest if self.at_top else role.least
            end = "greatest" if self.at_top else "least"
            says = f"{name} at its {end}" if given else f"{name} at its usual pressure"
            if given is None:
                self.assumed.append(
                    Phrase.of("Nobody told the {end} pressure of {name}.", end=end, name=name)
                )
            self.assumed += typical_phrase("pressure", item, "pressure", "residual")
            return Step(f"{says} ({origin(item, 'pressure')[0]})", "p_0", "", (), result)
        return Step(f"at {name}", "p_0", "", (), result)

    def _link(self, at: int, link: Key, before: Key, after: Key) -> Step:
        model = self.place.island.model
        kind, of = model.links[link]
        name = self.place.island.name(of)
        if kind == "run" and isinstance(after, tuple):
            name = f"{name} to {self.place.island.name(str(after[0]))}"
        after_pa = self.state.pressures_pa[after]
        start = symbol(f"p_{at - 1}", "before it", self.state.pressures_pa[before], "pressure")
        if link in model.sketch.limiters:
            return self._limited(at, link, start, before, after)
        characteristic = model.sketch.lines[link][2]
        flow = self.state.flows[link]
        forward = characteristic if flow > 0.0 else characteristic.reversed()
        number = None
        if not self.at_top:
            number = (
                water_tubes.loss_number(of, self.place.case)
                if kind == "run"
                else water_elements.loss_number(link, self.place.case)
            )
        loss = symbol(
            "Delta_p",
            "what it takes",
            forward.parts(abs(flow)).loss_pa,
            "pressure",
            number=number,
        )
        climb = self._climb(before, after)
        return step(
            name,
            f"p_{at}",
            f"p_{at - 1} - Delta_p{' - gamma*h' if climb else ''}",
            (start, loss, *climb),
            after_pa,
            "pressure",
        )

    def _climb(self, before: Key, after: Key) -> tuple[Symbol, ...]:
        """How much higher its end stands; nothing where both stand alike."""
        height_m = self.place.height_m(after) - self.place.height_m(before)
        if not height_m:
            return ()
        return (
            weight(self.place),
            symbol("h", "how much higher its end stands", height_m, "distance"),
        )

    # --- what holds the pressure down ----------------------------------------------------------

    def _limited(self, at: int, key: Key, start: Symbol, before: Key, after: Key) -> Step:
        model = self.place.island.model
        limiter = model.sketch.limiters[key][2]
        item = self.place.item(str(key))
        name = item.name if item is not None else str(key)
        role = item.specification.water if item is not None else None
        flow, mode = self.state.flows[key], self.state.modes[key]
        after_pa = self.state.pressures_pa[after]
        if mode == "holding":
            return self._holding(at, str(key), name, role, limiter, flow, after_pa)
        climb = self._climb(before, after)
        tail = " - gamma*h" if climb else ""
        if mode == "wide open" and isinstance(role, Pump):
            return self._pumped(at, str(key), start, climb, after_pa, name)
        passing = limiter.passing if mode == "passing" else limiter.wide_open
        square = passing.square if isinstance(passing, Characteristic) else 0.0
        how = "stands, and is pushed through" if mode == "passing" else "is open all the way"
        return step(
            f"{name} {how}",
            f"p_{at}",
            f"p_{at - 1} - b*Q**2{tail}",
            (
                start,
                symbol("b", "its loss grows squarely", square, "square of loss"),
                symbol("Q", "flow through it", flow, "flow"),
                *climb,
            ),
            after_pa,
            "pressure",
        )

    def _holding(
        self,
        at: int,
        pump_id: str,
        name: str,
        role: object,
        limiter: Limiter,
        flow: float,
        after_pa: float,
    ) -> Step:
        if isinstance(role, Regulator):
            basis = "droop at the flow that its maker states"
            return step(
                f"{name} holds",
                f"p_{at}",
                "p_set - R*Q",
                (
                    symbol("p_set", "set point", limiter.set_pa, "pressure", "as set"),
                    symbol("R", "droop", limiter.droop, "slope of loss", basis),
                    symbol("Q", "flow through it", flow, "flow"),
                ),
                after_pa,
                "pressure",
            )
        end = "cut-out" if self.at_top else "cut-in"
        item = "its switch starts it" if end == "cut-in" else "its switch stops it"
        says = f"{name} at {end}, where {item}; it gives more than is drawn"
        pump = self.place.item(pump_id)
        source, typical = origin(pump, "cut-in", "cut-out", "pressure")
        given = symbol("p_s", f"{end} of {name}", after_pa, "pressure", source, typical=typical)
        return Step(says, f"p_{at}", "", (given,), Value(after_pa, "pressure"))

    def _pumped(
        self,
        at: int,
        pump_id: str,
        start: Symbol,
        climb: tuple[Symbol, ...],
        after_pa: float,
        name: str,
    ) -> Step:
        added_pa = after_pa - start.value.si
        if climb:
            added_pa += self.place.fluid.head_pa(climb[-1].value.si)
        said = Number("pump", pump_id, "added", self.place.case)
        added = symbol(
            "H",
            "what it adds at this flow, by its table",
            added_pa,
            "pressure",
            number=None if self.at_top else said,
        )
        return step(
            f"{name} runs on and on",
            f"p_{at}",
            f"p_{at - 1} + H{' - gamma*h' if climb else ''}",
            (start, added, *climb),
            after_pa,
            "pressure",
        )


# --- flow ----------------------------------------------------------------------------------------


def _flow(place: Place, tap: Tap, at: TapPlace, told: TapState, number: Number) -> Working:
    item = place.item(tap.item)
    basis = cited(item, *_FLOW)
    result = Value(told.flow, "flow")
    steps = tuple(_flow_steps(place, tap, at, told))
    held = Held(
        Value(tap.required_flow, "flow"),
        "flow its maker asks for",
        basis,
        told.flow_ok,
        is_least=True,
    )
    return Working(
        number,
        Phrase.of("Flow to {tap}, {case}", tap=tap.name, case=place.case),
        result,
        steps,
        (held,),
        (*_assumed(tap), *typical_phrase("flow", item, *_FLOW)),
    )


def _flow_steps(place: Place, tap: Tap, at: TapPlace, told: TapState) -> Iterator[Step]:
    part = place.island.model.sketch.taps[at.node][1]
    behaviour = at.inlet.behaviour
    state = place.low
    pressure_pa = state.pressures_pa[at.node]
    result = Value(told.flow, "flow")
    if not part.square or told.flow <= _TRICKLE:
        yield _drawn_step(tap, place.item(tap.item), part, told)
        return
    square = part.square
    opening = square**-0.5
    yield _opening_step(at, opening)
    same = pressure_pa == told.pressure_pa
    number = pressure_number(tap, place.case) if same else None
    given = [
        symbol("C", "its opening", opening, "opening"),
        symbol("p", "pressure at its inlet", pressure_pa, "pressure", number=number),
    ]
    expression = "C*sqrt(p)"
    if isinstance(behaviour, Fill) and part.cracking_pa:
        expression = "C*sqrt(p - p_back)"
        given.append(symbol("p_back", "back pressure of its vessel", part.cracking_pa, "pressure"))
    if isinstance(behaviour, Opening) and behaviour.cap is not None:
        expression = f"min({expression}, Q_cap)"
        given.append(symbol("Q_cap", "its restrictor lets no more by", part.greatest, "flow"))
    yield Step("flow, with the root of the pressure", "Q", expression, tuple(given), result)


def _opening_step(at: TapPlace, opening: float) -> Step:
    """Its constant, from a flow and a pressure that go together."""
    behaviour = at.inlet.behaviour
    assert not isinstance(behaviour, Drawn)
    flow, pressure = behaviour.rated.flow.si, behaviour.rated.pressure.si
    if flow <= 0.0 or pressure <= 0.0:
        flow, pressure = at.inlet.required_flow.si, at.inlet.least_pressure.si
    basis, typical = origin(at.item, *_FLOW)
    typical = typical or behaviour.assumed
    stated = (
        symbol("Q_r", "flow that is stated", flow, "flow", basis, typical=typical),
        symbol("p_r", "at this pressure", pressure, "pressure", basis, typical=typical),
    )
    back_pa = max(behaviour.back_pressure.si, 0.0) if isinstance(behaviour, Fill) else 0.0
    if back_pa and pressure > back_pa:
        back = symbol("p_back", "back pressure of its vessel", back_pa, "pressure")
        expression = "Q_r/sqrt(p_r - p_back)"
        return step("its opening", "C", expression, (*stated, back), opening, "opening")
    return step("its opening", "C", "Q_r/sqrt(p_r)", stated, opening, "opening")


def _drawn_step(tap: Tap, item: Item | None, part: Characteristic, told: TapState) -> Step:
    """What a pump of its own draws, or as much as comes."""
    if told.flow <= _TRICKLE:
        return Step("next to nothing comes out", "Q", "", (), Value(told.flow, "flow"))
    wanted = part.greatest if part.greatest < float("inf") else told.flow
    if told.flow < wanted * (1.0 - 1e-3):
        says = "its own pump would draw more; the line brings this"
    else:
        says = "its own pump draws this"
    return Step(
        says,
        "Q",
        "",
        (
            symbol(
                "Q_w",
                f"what {tap.name} draws where there is enough",
                wanted,
                "flow",
                *origin(item, *_FLOW)[:1],
                typical=origin(item, *_FLOW)[1],
            ),
        ),
        Value(told.flow, "flow"),
    )
