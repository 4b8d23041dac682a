"""Figures of the whole build: the service plan, the venue's water, how long tubes are."""

from collections.abc import Iterator
from functools import partial

from msgspec.structs import replace

from ...build import Appliance, Build, Item, TubeRun
from ...limits.unknown_ranges import unknown_ranges
from ...network import make_network
from ...network.results import Network
from ...units import Concentration, Duration, Length
from ...water.surge import closing_s
from .model import Unknown
from .putting import at, with_run, with_service, with_water
from .ranges import around, between


def of_plan(build: Build) -> Iterator[Unknown]:
    """Of the plan, the venue and the tubes."""
    if any(item.specification.water is not None for item in build.items):
        yield from _service(build)
        yield from _hardness(build)
        yield from _tubes(build, make_network(build))
        yield from _valves(build)


def _service(build: Build) -> Iterator[Unknown]:
    ranges, service = unknown_ranges(), build.service
    if service.drinks_per_hour > 0.0:
        span = ranges.drinks
        yield Unknown(
            key="service/drinks",
            name="the number of drinks an hour",
            cause="planned",
            dimension="count",
            taken=service.drinks_per_hour,
            least=service.drinks_per_hour * span.value.least,
            greatest=service.drinks_per_hour * span.value.greatest,
            rule=span.rule,
            source=span.citation,
            put=lambda si: with_service(build, drinks_per_hour=round(si, 3)),
            path=("service", "drinks_per_hour"),
        )
    kinds = (
        (
            "water_per_drink",
            "the water that a drink takes",
            service.water_per_drink,
            ranges.per_drink,
        ),
        (
            "rinse_per_drink",
            "the water for rinsing after a drink",
            service.rinse_per_drink,
            ranges.rinse,
        ),
    )
    for field, name, volume, span in kinds:
        if volume.si > 0.0:
            yield around(
                f"service/{field}",
                name,
                volume,
                "small volume",
                span,
                partial(_planned, build, field),
                cause="planned",
                path=("service", field),
            )


def _planned(build: Build, field: str, si: float) -> Build:
    return with_service(build, **{field: at(getattr(build.service, field), si)})


def _hardness(build: Build) -> Iterator[Unknown]:
    if build.venue.hardness is not None:
        return
    span = unknown_ranges().hardness_kg_m3
    yield between(
        "venue/hardness",
        "the hardness of the venue's water",
        span.value.least,
        span.value.greatest,
        "concentration",
        span.rule,
        span.citation,
        lambda si: _with_hardness(build, si),
        path=("venue", "hardness"),
    )


def _with_hardness(build: Build, si: float) -> Build:
    venue = replace(build.venue, hardness=Concentration.from_si(si, "mg/L", 3))
    return replace(build, venue=venue)


def _tubes(build: Build, network: Network) -> Iterator[Unknown]:
    """Supply tubes whose length nobody entered: they go by their way on the plan."""
    span = unknown_ranges().tube_length
    for run in build.tubes:
        route = network.routes.get(run.id)
        is_supply = run.b is not None and network.supply.has_edge(
            (run.a.item, run.a.port), (run.b.item, run.b.port), run.id
        )
        if run.length is not None or route is None or not is_supply:
            continue
        long_m = route.length_m + run.spare.si
        if long_m <= 0.0:
            continue
        yield around(
            f"{run.id}/length",
            f"the length of the {_tube_name(build, run)}",
            Length.from_si(long_m, "m", 6),
            "distance",
            span,
            partial(_as_long_as, build, run),
            cause="assumed",
            run=run.id,
            path=("length",),
        )


def _as_long_as(build: Build, run: TubeRun, si: float) -> Build:
    return with_run(build, run, length=Length.from_si(si, "m", 6))


def _tube_name(build: Build, run: TubeRun) -> str:
    ends = [build.item(end.item) for end in (run.a, run.b) if end is not None]
    return f"tube from {' to '.join(item.name for item in ends if item is not None)}"


def _valves(build: Build) -> Iterator[Unknown]:
    """How fast valves shut whose makers say nothing of it."""
    span = unknown_ranges().closing_time
    for item in build.items:
        role = item.specification.water
        if not isinstance(role, Appliance):
            continue
        for index, inlet in enumerate(role.inlets):
            takes_s, assumed = closing_s(inlet)
            if not assumed:
                continue

            yield around(
                f"{item.id}/{inlet.port}/closing",
                f"the time that the valve of {item.name} takes to shut",
                Duration.from_si(takes_s, "s", 6),
                "short time",
                span,
                partial(_shutting, build, item, role, index),
                item=item,
                path=("specification", "water", "inlets", str(index), "closing_time"),
            )


def _shutting(build: Build, item: Item, role: Appliance, index: int, si: float) -> Build:
    changed = replace(role.inlets[index], closing_time=Duration.from_si(si, "s", 6))
    inlets = (*role.inlets[:index], changed, *role.inlets[index + 1 :])
    return with_water(build, item, inlets=inlets)
