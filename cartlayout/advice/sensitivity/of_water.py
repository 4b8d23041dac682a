"""Figures of the water side that nobody has checked."""

from collections.abc import Callable, Iterator
from functools import partial

from msgspec.structs import replace

from ...build import (
    Accumulator,
    Appliance,
    Build,
    Drawn,
    Filter,
    FlowPoint,
    Inlet,
    Item,
    Mains,
    Pump,
    PumpPoint,
    Regulator,
)
from ...limits.unknown_ranges import unknown_ranges
from ...limits.water_practice import water_practice
from ...units import Pressure
from .model import Cause, Unknown
from .putting import at, times, with_water
from .ranges import around, basis_of, between, cause_of, is_read_off, is_typical, origin_of

_FLOW = ("needed flow", "inlet flow", "flow", "inlet")
_PRESSURE = ("inlet pressure", "pressure", "inlet")
_CURVE = ("curve", "open flow", "flow")
_WATER = ("specification", "water")


def of_water(build: Build, item: Item) -> Iterator[Unknown]:
    """Of one item."""
    role = item.specification.water
    if isinstance(role, Appliance):
        for index, inlet in enumerate(role.inlets):
            yield from _inlet(build, item, role, index, inlet)
    elif isinstance(role, Pump):
        yield from _pump(build, item, role)
    elif isinstance(role, Accumulator):
        yield from _accumulator(build, item, role)
    elif isinstance(role, Filter):
        yield from _filter(build, item, role)
    elif isinstance(role, Regulator):
        yield from _regulator(build, item, role)
    elif isinstance(role, Mains):
        yield from _mains(build, item, role)


# --- taps --------------------------------------------------------------------------------------


def _inlet(
    build: Build, item: Item, role: Appliance, index: int, inlet: Inlet
) -> Iterator[Unknown]:
    ranges = unknown_ranges()
    name = item.name if len(role.inlets) == 1 else f"{item.name} ({inlet.port})"
    path = (*_WATER, "inlets", str(index))
    behaviour = inlet.behaviour
    assumed = not isinstance(behaviour, Drawn) and behaviour.assumed

    def put(changed: Inlet) -> Build:
        inlets = (*role.inlets[:index], changed, *role.inlets[index + 1 :])
        return with_water(build, item, inlets=inlets)

    unsure = is_typical(item, *_FLOW) or (assumed and not is_read_off(item, _FLOW[0]))
    if inlet.required_flow.si > 0.0 and unsure:
        yield around(
            f"{item.id}/{inlet.port}/flow",
            f"the flow that {name} needs",
            inlet.required_flow,
            "flow",
            ranges.inlet_flow,
            lambda si: put(_needing(inlet, si)),
            cause=_cause(item, assumed, *_FLOW),
            item=item,
            path=(*path, "required_flow"),
            basis=basis_of(item, *_FLOW),
            of=_FLOW[0],
        )
    kinds = (
        ("least", inlet.least_pressure, ranges.least_pressure, "the least pressure that {} needs"),
        (
            "greatest",
            inlet.greatest_pressure,
            ranges.greatest_pressure,
            "the greatest pressure that {} may see",
        ),
    )
    for which, pressure, span, words in kinds:
        told = (f"{which} pressure", *_PRESSURE)
        if pressure.si > 0.0 and is_typical(item, *told):
            yield around(
                f"{item.id}/{inlet.port}/{which}",
                words.format(name),
                pressure,
                "pressure",
                span,
                partial(_other_pressure, put, inlet, which),
                item=item,
                path=(*path, f"{which}_pressure"),
                cause=cause_of(item, *told),
                basis=basis_of(item, *told),
                of=told[0],
            )


def _cause(item: Item, assumed: bool, *words: str) -> Cause:
    return "assumed" if assumed and not is_typical(item, *words) else cause_of(item, *words)


def _needing(inlet: Inlet, si: float) -> Inlet:
    """An inlet that needs another flow; its opening is as much wider, its pump as much stronger."""
    factor = si / inlet.required_flow.si
    needed = at(inlet.required_flow, si)
    behaviour = inlet.behaviour
    if isinstance(behaviour, Drawn):
        return replace(
            inlet, required_flow=needed, behaviour=Drawn(flow=times(behaviour.flow, factor))
        )
    rated = FlowPoint(flow=times(behaviour.rated.flow, factor), pressure=behaviour.rated.pressure)
    cap = getattr(behaviour, "cap", None)
    if cap is not None:
        return replace(
            inlet,
            required_flow=needed,
            behaviour=replace(behaviour, rated=rated, cap=times(cap, factor)),
        )
    return replace(inlet, required_flow=needed, behaviour=replace(behaviour, rated=rated))


def _other_pressure(put: Callable[[Inlet], Build], inlet: Inlet, which: str, si: float) -> Build:
    if which == "greatest":
        return put(replace(inlet, greatest_pressure=at(inlet.greatest_pressure, si)))
    return put(replace(inlet, least_pressure=at(inlet.least_pressure, si)))


# --- pumps and vessels -------------------------------------------------------------------------


def _pump(build: Build, item: Item, role: Pump) -> Iterator[Unknown]:
    ranges = unknown_ranges()
    greatest = max((row.flow for row in role.curve), key=lambda one: one.si, default=None)
    if greatest is not None and greatest.si > 0.0 and is_typical(item, *_CURVE):

        def stronger(si: float) -> Build:
            return with_water(build, item, curve=_curve(role, si / greatest.si))

        yield around(
            f"{item.id}/curve",
            f"what {item.name} gives with nothing to push against",
            greatest,
            "flow",
            ranges.pump_flow,
            stronger,
            item=item,
            path=(*_WATER, "curve"),
            cause=cause_of(item, *_CURVE),
            basis=basis_of(item, *_CURVE),
            of=_CURVE[0],
        )
    if role.cut_in.si > 0.0 and is_typical(item, "cut-in", "cut-out"):

        def switched(si: float) -> Build:
            factor = si / role.cut_in.si
            return with_water(
                build, item, cut_in=at(role.cut_in, si), cut_out=times(role.cut_out, factor)
            )

        yield around(
            f"{item.id}/switch",
            f"the cut-in of {item.name}, with its cut-out,",
            role.cut_in,
            "pressure",
            ranges.switch,
            switched,
            item=item,
            path=(*_WATER, "cut_in"),
            cause=cause_of(item, "cut-in", "cut-out"),
            basis=basis_of(item, "cut-in", "cut-out"),
            of="cut-in",
        )


def _curve(role: Pump, factor: float) -> tuple[PumpPoint, ...]:
    return tuple(replace(row, flow=times(row.flow, factor)) for row in role.curve)


def _accumulator(build: Build, item: Item, role: Accumulator) -> Iterator[Unknown]:
    """Its air: pumped up by rule, and nobody may have looked since."""
    if role.pre_charge.si <= 0.0:
        return
    origin = origin_of(item, "pre-charge")
    if origin is not None and origin.basis in ("measured", "nameplate"):
        return
    yield around(
        f"{item.id}/pre-charge",
        f"the pre-charge of {item.name}",
        role.pre_charge,
        "pressure",
        unknown_ranges().pre_charge,
        lambda si: with_water(build, item, pre_charge=at(role.pre_charge, si)),
        cause="typical" if origin is not None else "assumed",
        item=item,
        path=(*_WATER, "pre_charge"),
        basis=basis_of(item, "pre-charge"),
        of="pre-charge",
    )


# --- what stands in the line -------------------------------------------------------------------


def _filter(build: Build, item: Item, role: Filter) -> Iterator[Unknown]:
    last = max(role.loss, key=lambda one: one.flow.si, default=None)
    if last is None or last.pressure.si <= 0.0 or not is_typical(item, "loss", "pressure"):
        return

    def put(si: float) -> Build:
        factor = si / last.pressure.si
        loss = tuple(replace(one, pressure=times(one.pressure, factor)) for one in role.loss)
        return with_water(build, item, loss=loss)

    at_flow = last.flow.text
    yield around(
        f"{item.id}/loss",
        f"what {item.name} takes at {at_flow}",
        last.pressure,
        "pressure",
        unknown_ranges().filter_loss,
        put,
        item=item,
        path=(*_WATER, "loss"),
        cause=cause_of(item, "loss", "pressure"),
        basis=basis_of(item, "loss", "pressure"),
        of="loss",
    )


def _regulator(build: Build, item: Item, role: Regulator) -> Iterator[Unknown]:
    ranges = unknown_ranges()
    droop = role.droop
    if droop is not None and droop.pressure.si > 0.0 and is_typical(item, "droop"):
        yield around(
            f"{item.id}/droop",
            f"the droop of {item.name} at {droop.flow.text}",
            droop.pressure,
            "pressure",
            ranges.droop,
            lambda si: with_water(
                build, item, droop=FlowPoint(flow=droop.flow, pressure=at(droop.pressure, si))
            ),
            item=item,
            path=(*_WATER, "droop"),
            cause=cause_of(item, "droop"),
            basis=basis_of(item, "droop"),
            of="droop",
        )
    if role.creep.si > 0.0 and is_typical(item, "creep"):
        yield around(
            f"{item.id}/creep",
            f"the creep of {item.name}",
            role.creep,
            "pressure",
            ranges.droop,
            lambda si: with_water(build, item, creep=at(role.creep, si)),
            item=item,
            path=(*_WATER, "creep"),
            cause=cause_of(item, "creep"),
            basis=basis_of(item, "creep"),
            of="creep",
        )


def _mains(build: Build, item: Item, role: Mains) -> Iterator[Unknown]:
    """Mains that nobody measured may stand anywhere between the usual ends."""
    practice = water_practice()
    usual_pa = role.usual.si
    if role.least is None and practice.mains_least_pa.value < usual_pa:
        low = practice.mains_least_pa
        yield between(
            f"{item.id}/least",
            f"the least pressure of {item.name}",
            low.value,
            usual_pa,
            "pressure",
            low.rule,
            low.citation,
            lambda si: with_water(build, item, least=Pressure.from_si(si, role.usual.unit, 6)),
            taken=usual_pa,
            item=item,
            path=(*_WATER, "least"),
        )
    if role.greatest is None and practice.mains_greatest_pa.value > usual_pa:
        high = practice.mains_greatest_pa
        yield between(
            f"{item.id}/greatest",
            f"the greatest pressure of {item.name}",
            usual_pa,
            high.value,
            "pressure",
            high.rule,
            high.citation,
            lambda si: with_water(build, item, greatest=Pressure.from_si(si, role.usual.unit, 6)),
            taken=usual_pa,
            item=item,
            path=(*_WATER, "greatest"),
        )
