"""Which pump does this cart need? Every pump of the stock is put in, and the build solved anew."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from ..analysis import Analysis, analyse
from ..build import Build, End, Item, Mains, Pump, Tank
from ..build.edits import EditError
from ..network.replace import Replacement, replace_with
from ..stock import StockEntry, stock
from ..units import Phrase, Value
from ..water import pump_curve
from ..water.pump_results import Suction
from ..water.supply_results import SupplyWindow
from .cushions import Cushion, cushioned
from .inserting import insert
from .margins import Judged, Margin, judge

_NEAR = 1e-9


@dataclass(frozen=True, slots=True)
class PumpChoice:
    """A pump of the stock in the place of the supply, tried."""

    key: str
    """In the stock."""
    name: str
    fits: bool
    reason: Phrase | None
    """In a few words, why it does not; None where it does."""
    cut_in_pa: float
    cut_out_pa: float
    open_flow: float
    pressure: Margin | None = None
    """At its outlet where it gives least, over what the case needs there."""
    flow: Margin | None = None
    """What it gives at the pressure each case needs, over what the case draws there."""
    static: Margin | None = None
    """At rest, under what taps and tubes may see at most."""
    cushion: Cushion | None = None
    """None where none is wanted, or where none of the stock can be put in."""
    remarks: tuple[str, ...] = ()
    """What it brings besides, such as a plug that has to go elsewhere."""
    new_stops: tuple[Phrase, ...] = ()
    """Titles of stops in the whole analysis that were not there before."""
    build: Build | None = None
    """The copy in which it stands, to be taken over whole as one edit; None where it cannot be
    put in at all."""
    current: bool = False
    """It is the one that stands in the build now."""

    @property
    def worst_share(self) -> float:
        """The least of its margins: what the choices are sorted by."""
        margins = [one.share for one in (self.pressure, self.flow, self.static) if one is not None]
        return min(margins, default=-math.inf)


def candidates(build: Build) -> tuple[StockEntry, ...]:
    """The pumps of the stock that are sold where the build is."""
    return tuple(
        one
        for one in stock()
        if one.specification is not None
        and isinstance(one.specification.water, Pump)
        and (not one.regions or build.region in one.regions)
    )


def choose_pumps(build: Build, supply_id: str) -> Iterator[PumpChoice]:
    """Try every pump of the stock in the place of one supply, one at a time.

    A generator, so that whoever asks may show how far it is (of `len(candidates(build))`) and
    stop in between. Put what comes in order with `best_first`.

    Args:
        build: as it is.
        supply_id: of the pump to be replaced, or of the tank or mains tap that gets its first.

    Raises:
        EditError: there is nothing of the kind, or it feeds no taps.
    """
    item = build.item(supply_id)
    role = item.specification.water if item is not None else None
    if item is None or not isinstance(role, (Pump, Tank, Mains)):
        raise EditError("a pump is chosen for a pump, a tank or a mains tap")
    base = analyse(build)
    gives = isinstance(role, Pump) and pump_curve(role) is not None
    if gives and base.water.window(supply_id) is None:
        raise EditError(f"no tap gets its water from {item.name}")
    for entry in candidates(build):
        yield _tried(base, item, entry)


def best_first(choices: Iterable[PumpChoice]) -> list[PumpChoice]:
    """Those that fit first, those that bring new stops after those that do not, widest margin."""
    return sorted(
        choices,
        key=lambda one: (not one.fits, len(one.new_stops) * one.fits, -one.worst_share, one.key),
    )


def _tried(base: Analysis, item: Item, entry: StockEntry) -> PumpChoice:
    specification = entry.specification
    role = specification.water if specification is not None else None
    assert specification is not None
    assert isinstance(role, Pump)
    choice = PumpChoice(
        key=entry.key,
        name=entry.name,
        fits=False,
        reason=None,
        cut_in_pa=min(role.cut_in.si, role.cut_out.si),
        cut_out_pa=role.cut_out.si,
        open_flow=max((row.flow.si for row in role.curve), default=0.0),
        current=item.specification.stock == entry.key,
    )
    try:
        put, pump_id, remarks = _put(base.build, item, entry)
    except EditError as error:
        return replace(choice, reason=Phrase.of(_without_stop(str(error))))
    trial = analyse(put, base)
    window = trial.water.window(pump_id)
    if window is None:
        return replace(choice, reason=Phrase.of("no tap gets its water from it there"), build=put)
    judged = _judged(trial, window)
    choice = replace(
        choice,
        pressure=judged.pressure,
        flow=_flow_margin(trial, window, role, pump_id),
        static=judged.static,
        remarks=remarks,
    )
    reason = _fault(trial, pump_id) or judged.fault
    if reason is not None:
        return replace(choice, reason=reason, build=trial.build)
    trial, cushion = cushioned(trial, pump_id)
    stops = _new_stops(base, trial)
    return replace(choice, fits=True, build=trial.build, cushion=cushion, new_stops=stops)


def _put(build: Build, item: Item, entry: StockEntry) -> tuple[Build, str, tuple[str, ...]]:
    """A build with the pump in it, its id, and what to say about it.

    Raises:
        EditError: it cannot be put in.
    """
    if not isinstance(item.specification.water, Pump):
        outlet = next(
            (
                End(item.id, port.id)
                for port in item.specification.ports
                if port.medium == "water"
                and port.direction != "in"
                and any(End(item.id, port.id) in (run.a, run.b) for run in build.tubes)
            ),
            None,
        )
        if outlet is None:
            raise EditError(f"no tube leads away from {item.name}")
        put, pump_id = insert(build, outlet, entry)
        return put, pump_id, ("it has to be plugged in",)
    if item.specification.stock == entry.key:
        return build, item.id, ()
    replaced = replace_with(build, item.id, entry)
    lost = [one for one in replaced.of("dropped") if _is_tube(build, one.run)]
    if lost:
        raise EditError(f"its ports do not take what is there: {lost[0].text}")
    return replaced.build, item.id, _remarks(replaced)


def _is_tube(build: Build, run_id: str) -> bool:
    return any(run.id == run_id for run in build.tubes)


def _remarks(replaced: Replacement) -> tuple[str, ...]:
    changed = (*replaced.of("changed"), *replaced.of("moved"), *replaced.of("dropped"))
    return (*(one.text for one in changed), *replaced.remarks)


def _judged(trial: Analysis, window: SupplyWindow) -> Judged:
    tubes = {run.id: run.tube.name for run in trial.build.tubes}
    return judge(trial.water, window, tubes)


def _fault(trial: Analysis, pump_id: str) -> Phrase | None:
    """What is wrong with the pump itself where it stands."""
    for trouble in trial.water.troubles:
        if trouble.code == "starved" and pump_id in trouble.items:
            return Phrase.of("its suction side starves it")
        if trouble.code == "not converged":
            return Phrase.of("the line could not be solved with it")
    for one in trial.water.suctions:
        if one.pump == pump_id and (fault := _suction_fault(one)) is not None:
            return fault
    duty = next((one for one in trial.water.duties if one.item == pump_id), None)
    if duty is not None and not duty.reaches_cut_out:
        return Phrase.of("it never reaches its cut-out, and would not stop")
    return None


def _suction_fault(one: Suction) -> Phrase | None:
    if one.last_lift_m > one.greatest_lift_m + _NEAR:
        return Phrase.of(
            "it lifts {greatest}, the last water stands {lift} below it",
            greatest=Value(one.greatest_lift_m, "length"),
            lift=Value(one.last_lift_m, "length"),
        )
    return None


def _flow_margin(trial: Analysis, window: SupplyWindow, role: Pump, pump_id: str) -> Margin | None:
    """What the pump gives at the pressure that each case needs, over what is drawn at it."""
    curve = pump_curve(role)
    item = trial.build.item(pump_id)
    ports = item.specification.ports if item is not None else ()
    water = (port.id for port in ports if port.medium == "water")
    inlet = next((one for one in water if one != window.outlet[1]), None)
    if curve is None or inlet is None:
        return None
    found = []
    for need in window.needs:
        if not need.counts or not 0.0 <= need.least_pa < math.inf or need.flow <= 0.0:
            continue
        state = trial.water.cases.get(need.case)
        aid_pa = state.pressures_pa.get((pump_id, inlet), 0.0) if state is not None else 0.0
        given = max(curve.flow_at(need.least_pa - aid_pa), 0.0)
        found.append(Margin(given / need.flow - 1.0, given - need.flow, need.name, need.case))
    return min(found, key=lambda one: one.share, default=None)


def _new_stops(base: Analysis, trial: Analysis) -> tuple[Phrase, ...]:
    known = {(one.code, one.items[:1]) for one in base.findings if one.severity == "stop"}
    return tuple(
        one.title
        for one in trial.findings
        if one.severity == "stop" and (one.code, one.items[:1]) not in known
    )


def _without_stop(text: str) -> str:
    return text.rstrip(".").replace("{", "(").replace("}", ")")
