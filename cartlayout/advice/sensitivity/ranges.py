"""Makes an unknown from a figure, its origin and its stated range."""

from ...build import Item
from ...build.specification import Origin
from ...limits.profiles import Setting
from ...limits.unknown_ranges import Span
from ...units import Quantity
from .model import Cause, Unknown
from .putting import Put

_SURE = ("nameplate", "maker's sheet", "measured")
_USUAL = ("typical", "handbook")
"""Bases of figures that are those of the kind; a nameplate, a maker's sheet, a measurement and a
standard are about the thing itself."""


def origin_of(item: Item, *words: str) -> Origin | None:
    """Where the figures of a part of an item are from; the first of the words that is told."""
    for word in words:
        for one in item.specification.origins:
            if word in one.of.lower():
                return one
    return None


def is_typical(item: Item, *words: str) -> bool:
    """Whether a part of an item's figures is usual for its kind, not read off this one."""
    origin = origin_of(item, *words)
    return origin is not None and origin.basis in _USUAL


def is_read_off(item: Item, word: str) -> bool:
    """Whether somebody read these very figures off the thing itself, or measured them."""
    origin = origin_of(item, word)
    return origin is not None and origin.basis in _SURE


def cause_of(item: Item, *words: str) -> Cause:
    """Why such a figure is not sure."""
    origin = origin_of(item, *words)
    return "handbook" if origin is not None and origin.basis == "handbook" else "typical"


def basis_of(item: Item, *words: str) -> str:
    """What a part of an item's figures rests on, with what was noted about it."""
    origin = origin_of(item, *words)
    if origin is None:
        return ""
    return f"{origin.basis}, {origin.note}" if origin.note else origin.basis


def around(
    key: str,
    name: str,
    quantity: Quantity,
    dimension: str,
    span: Setting[Span],
    put: Put,
    *,
    cause: Cause = "typical",
    item: Item | None = None,
    run: str = "",
    path: tuple[str, ...] = (),
    basis: str = "",
    of: str = "",
) -> Unknown:
    """An unknown whose range is so many times what is taken."""
    return Unknown(
        key=key,
        name=name,
        cause=cause,
        dimension=dimension,
        taken=quantity.si,
        least=quantity.si * span.value.least,
        greatest=quantity.si * span.value.greatest,
        rule=span.rule,
        source=span.citation,
        put=put,
        item=item.id if item is not None else "",
        run=run,
        path=path,
        basis=basis,
        of=of,
    )


def between(
    key: str,
    name: str,
    least: float,
    greatest: float,
    dimension: str,
    rule: str,
    source: str,
    put: Put,
    *,
    taken: float | None = None,
    item: Item | None = None,
    path: tuple[str, ...] = (),
) -> Unknown:
    """An unknown that nobody entered, between two values [SI]."""
    return Unknown(
        key=key,
        name=name,
        cause="not known",
        dimension=dimension,
        taken=taken,
        least=least,
        greatest=greatest,
        rule=rule,
        source=source,
        put=put,
        item=item.id if item is not None else "",
        path=path,
    )
