"""Figures of the power side that nobody has checked, and of an item's mass."""

from collections.abc import Iterator
from functools import partial

from ...build import Battery, Build, Item, Load, Outlet
from ...limits import profile
from ...limits.unknown_ranges import unknown_ranges
from ...units import ConductorSize, Current, Duration, Length
from .model import Choice, Unknown
from .putting import at, times, with_electrical, with_spec
from .ranges import around, basis_of, between, cause_of, is_typical

_WATTS = ("watts", "electrical", "rating")
_START = ("start", "running, surge", "electrical", "rating")
_POWER = ("specification", "electrical")
_LIGHT_KG = 2.0
"""What weighs less is not worth weighing: no cart tips by it."""
_USUAL_SIZE = "2.5 mm2"
"""Of a venue's wire whose breaker no rule of the region names: common practice, no source."""


def of_power(build: Build, item: Item) -> Iterator[Unknown]:
    """Of one item."""
    role = item.specification.electrical
    if isinstance(role, Load):
        yield from _load(build, item, role)
    elif isinstance(role, Outlet):
        yield from _outlet(build, item, role)
    elif isinstance(role, Battery):
        yield from _battery(build, item, role)
    yield from _mass(build, item)


# --- loads -------------------------------------------------------------------------------------


def _load(build: Build, item: Item, role: Load) -> Iterator[Unknown]:
    ranges = unknown_ranges()
    if is_typical(item, *_WATTS):
        yield from _watts(build, item, role)
    if role.start_multiple > 1.0 and is_typical(item, *_START):
        span = ranges.start_multiple
        low, high = span.value.least, span.value.greatest
        yield Unknown(
            key=f"{item.id}/start",
            name=f"the starting current of {item.name}, against its running current,",
            cause=cause_of(item, *_START),
            dimension="number",
            taken=role.start_multiple,
            least=max(role.start_multiple * low, 1.0),
            greatest=role.start_multiple * high,
            rule=span.rule,
            source=span.citation,
            put=lambda si: with_electrical(build, item, start_multiple=round(si, 6)),
            item=item.id,
            path=(*_POWER, "start_multiple"),
            basis=basis_of(item, *_START),
            of=_START[0],
        )
    if role.longest_run is None:
        run = ranges.longest_run_s
        yield between(
            f"{item.id}/longest run",
            f"the longest time that {item.name} is on without a break",
            run.value.least,
            run.value.greatest,
            "duration",
            run.rule,
            run.citation,
            lambda si: with_electrical(build, item, longest_run=Duration.from_si(si, "h", 6)),
            item=item,
            path=(*_POWER, "longest_run"),
        )


def _watts(build: Build, item: Item, role: Load) -> Iterator[Unknown]:
    """Its watts, and its amps with them where both are stated."""
    span = unknown_ranges().watts
    if role.power is not None and role.power.si > 0.0:
        power = role.power

        def put(si: float) -> Build:
            current = times(role.current, si / power.si) if role.current is not None else None
            return with_electrical(build, item, power=at(power, si), current=current)

        yield around(
            f"{item.id}/watts",
            f"what {item.name} takes",
            power,
            "power",
            span,
            put,
            item=item,
            path=(*_POWER, "power"),
            cause=cause_of(item, *_WATTS),
            basis=basis_of(item, *_WATTS),
            of=_WATTS[0],
        )
    elif role.current is not None and role.current.si > 0.0:
        current = role.current
        yield around(
            f"{item.id}/amps",
            f"what {item.name} draws",
            current,
            "current",
            span,
            lambda si: with_electrical(build, item, current=at(current, si)),
            item=item,
            path=(*_POWER, "current"),
            cause=cause_of(item, *_WATTS),
            basis=basis_of(item, *_WATTS),
            of=_WATTS[0],
        )


# --- supplies ----------------------------------------------------------------------------------


def _outlet(build: Build, item: Item, role: Outlet) -> Iterator[Unknown]:
    if role.run_length is None:
        span = unknown_ranges().run_length_m
        size = role.run_size or _size_for(build, role)
        yield between(
            f"{item.id}/run length",
            f"the length of the venue's wire to {item.name}",
            span.value.least,
            span.value.greatest,
            "distance",
            span.rule,
            span.citation,
            lambda si: with_electrical(
                build, item, run_length=Length.from_si(si, "m", 6), run_size=size
            ),
            item=item,
            path=(*_POWER, "run_length"),
        )
    if role.breaker is None:
        yield from _breakers(build, item)
    if role.circuit is None:
        yield from _own_circuit(build, item)
    if role.gfci is None:
        yield Unknown(
            key=f"{item.id}/gfci",
            name=f"whether {item.name} is protected against earth leakage",
            cause="not known",
            dimension="count",
            taken=None,
            least=0.0,
            greatest=1.0,
            rule="it is, or it is not",
            source="",
            put=lambda si: with_electrical(build, item, gfci=si > 0.5),
            item=item.id,
            path=(*_POWER, "gfci"),
            choices=(
                Choice(
                    f"{item.name} is not protected against earth leakage",
                    lambda: with_electrical(build, item, gfci=False),
                ),
                Choice(
                    f"{item.name} is protected against earth leakage",
                    lambda: with_electrical(build, item, gfci=True),
                ),
            ),
        )


def _size_for(build: Build, role: Outlet) -> ConductorSize:
    """The thinnest wire that a circuit of its rating may have."""
    rows = profile(build.region).branch_conductors
    rating = role.breaker.si if role.breaker is not None else 0.0
    fits = [row for row in rows if row.circuit_a >= rating]
    least = min(fits, key=lambda row: row.circuit_a, default=None)
    return least.size if least is not None else ConductorSize(_USUAL_SIZE)


def _breakers(build: Build, item: Item) -> Iterator[Unknown]:
    """A breaker that nobody looked at: any of the usual sizes."""
    rules = profile(build.region)
    sizes = [one for one in rules.breaker_sizes_a.value if one <= 32.0]
    yield Unknown(
        key=f"{item.id}/breaker",
        name=f"the breaker behind {item.name}",
        cause="not known",
        dimension="current",
        taken=None,
        least=min(sizes, default=10.0),
        greatest=max(sizes, default=32.0),
        rule=rules.breaker_sizes_a.rule,
        source=rules.breaker_sizes_a.citation,
        put=lambda si: with_electrical(build, item, breaker=Current.from_si(si, "A", 3)),
        item=item.id,
        path=(*_POWER, "breaker"),
        choices=tuple(
            Choice(
                f"the breaker behind {item.name} is of {size:g} A",
                partial(with_electrical, build, item, breaker=Current(f"{size:g} A")),
            )
            for size in sizes
        ),
    )


def _own_circuit(build: Build, item: Item) -> Iterator[Unknown]:
    """Outlets of circuits that nobody knows share one until somebody says otherwise."""
    others = [
        one.name
        for one in build.items
        if one.id != item.id
        and isinstance(one.specification.electrical, Outlet)
        and one.specification.electrical.circuit is None
    ]
    if not others:
        return
    taken = {
        one.specification.electrical.circuit
        for one in build.items
        if isinstance(one.specification.electrical, Outlet)
    }
    own = next(name for at in range(1, 999) if (name := f"own {at}") not in taken)
    words = f"{item.name} is on a circuit of its own, apart from {' and '.join(others)}"
    yield Unknown(
        key=f"{item.id}/circuit",
        name=f"which circuit {item.name} is on",
        cause="not known",
        dimension="count",
        taken=None,
        least=0.0,
        greatest=1.0,
        rule="outlets of circuits that nobody knows are taken to share one",
        source="common practice, no source",
        put=lambda _si: with_electrical(build, item, circuit=own),
        item=item.id,
        path=(*_POWER, "circuit"),
        choices=(Choice(words, lambda: with_electrical(build, item, circuit=own)),),
    )


def _battery(build: Build, item: Item, role: Battery) -> Iterator[Unknown]:
    span = unknown_ranges().battery_share
    kinds = (
        ("usable_share", "the share of its energy that {} gives", role.usable_share),
        ("efficiency", "the efficiency of {}", role.efficiency),
    )
    for field, words, share in kinds:
        told = (field.replace("_", " "), "usable share", "efficiency")
        if not 0.0 < share <= 1.0 or not is_typical(item, *told):
            continue
        yield Unknown(
            key=f"{item.id}/{field}",
            name=words.format(item.name),
            cause="typical",
            dimension="share",
            taken=share,
            least=share * span.value.least,
            greatest=min(share * span.value.greatest, 1.0),
            rule=span.rule,
            source=span.citation,
            put=partial(_sharing, build, item, field),
            item=item.id,
            path=(*_POWER, field),
            basis=basis_of(item, *told),
            of=told[0],
        )


def _sharing(build: Build, item: Item, field: str, si: float) -> Build:
    return with_electrical(build, item, **{field: round(si, 6)})


# --- mass --------------------------------------------------------------------------------------


def _mass(build: Build, item: Item) -> Iterator[Unknown]:
    spec = item.specification
    if item.level == "venue" or spec.mass.si < _LIGHT_KG or not is_typical(item, "mass"):
        return

    def put(si: float) -> Build:
        full = spec.mass_full
        heavier = at(full, max(full.si + si - spec.mass.si, si)) if full is not None else None
        return with_spec(build, item, mass=at(spec.mass, si), mass_full=heavier)

    yield around(
        f"{item.id}/mass",
        f"the mass of {item.name}",
        spec.mass,
        "mass",
        unknown_ranges().mass,
        put,
        item=item,
        path=("specification", "mass"),
        cause=cause_of(item, "mass"),
        basis=basis_of(item, "mass"),
        of="mass",
    )
