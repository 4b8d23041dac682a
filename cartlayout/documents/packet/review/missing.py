"""What the build does not say yet, and where to enter it; what no drawing program can know."""

from collections.abc import Iterator

from ....build import Battery, Generator, Item, Mains, Outlet
from ..content import Blanks, Column, Job, Table

_DETAILS = "Details of {name}"
_CART = "Details of the cart"


def missing_table(job: Job) -> Table:
    """Fields that are empty, with where they are filled in."""
    rows = tuple(missing(job))
    return Table(
        "review-missing",
        "Missing from the build",
        (Column("What is not known", share=1.6), Column("Where to enter it")),
        rows,
        empty="Nothing that this sheet needs is missing.",
    )


def missing(job: Job) -> Iterator[tuple[str, str]]:
    """(what, where to enter it)."""
    build = job.build
    for value, what in (
        (build.name, "Name of the cart"),
        (build.designer, "Who designed it"),
        (build.revision, "Revision of the drawing"),
        (build.venue.name, "Where it is used"),
    ):
        if not value.strip():
            yield what, _CART
    if build.cart.empty_mass.si <= 0.0:
        yield "Mass of the bare cart", _CART
    for item in build.items:
        yield from _of_item(item)
    for gap in job.analysis.water.air_gaps:
        held = build.item(gap.item)
        if gap.given_m is None and held is not None:
            yield f"Air gap of {held.name}", _DETAILS.format(name=held.name)
    for tap in job.analysis.water.taps:
        if tap.assumed:
            yield f"{tap.name}: {tap.assumed}", _DETAILS.format(name=tap.name)


def _of_item(item: Item) -> Iterator[tuple[str, str]]:
    where = _DETAILS.format(name=item.name)
    electrical, water = item.specification.electrical, item.specification.water
    if isinstance(electrical, Outlet):
        if electrical.breaker is None:
            yield f"Breaker behind {item.name}", where
        if electrical.circuit is None:
            yield f"Circuit that {item.name} is on", where
        if electrical.gfci is None:
            yield f"Earth-leakage protection of {item.name}", where
    if isinstance(water, Mains) and (water.least is None or water.greatest is None):
        yield f"Least and greatest pressure of {item.name}", where
    passes = isinstance(electrical, Generator | Battery | Outlet) or item.specification.water
    if item.specification.mass.si <= 0.0 and not passes:
        yield f"Mass of {item.name}", where


BY_HAND = (
    "Marks of tested equipment (makers' sheets attached)",
    "Finishes of counter, walls and floor of the cart",
    "Where the cart is cleaned, filled and emptied, and where it is kept",
    "Food and drinks that are served",
    "Lighting at the work places; cover over them outdoors",
    "Who is on the cart, and who answers for it",
)


def by_hand() -> Blanks:
    """Lines to be filled in with a pen: the build has no place for them."""
    return Blanks(
        BY_HAND,
        "To be written in by hand",
        "Commonly asked besides (common practice, no source): each place has its own form.",
    )
