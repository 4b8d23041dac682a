"""Reading the stock files once, strictly, and finding things in them."""

import json
from functools import cache
from pathlib import Path
from typing import Any

import msgspec
from msgspec.structs import replace

from ..build import Region, Run, Specification
from ..build.base import Part
from ..build.codec import decode_hook
from ..data import resources
from ..units import Length
from .entries import CATEGORIES, Placement, Stands, StockEntry, StockError


class _WrittenPlacement(Part, frozen=True):
    """A body of a module as it stands in a file: the stock entry it is, and its place."""

    id: str
    entry: str
    dx: Length
    dy: Length
    label: str = ""
    raised: Length = Length("0 in")
    rotation: float = 0.0


class _WrittenEntry(Part, frozen=True):
    """An entry as it stands in a file: one specification, or the bodies of a module."""

    key: str
    words: tuple[str, ...] = ()
    stands: Stands = "counter"
    regions: tuple[Region, ...] = ()
    raised: Length = Length("0 in")
    specification: Specification | None = None
    name: str = ""
    placements: tuple[_WrittenPlacement, ...] = ()
    runs: tuple[Run, ...] = ()


@cache
def stock() -> tuple[StockEntry, ...]:
    """Every entry, in the order of the categories and of their files.

    Raises:
        StockError: a stock file is broken.
    """
    return read_stock(resources() / "stock")


@cache
def _by_key() -> dict[str, StockEntry]:
    return {one.key: one for one in stock()}


def entry(key: str) -> StockEntry:
    """The entry of that key.

    Raises:
        KeyError: there is none.
    """
    return _by_key()[key]


def categories() -> tuple[str, ...]:
    """The categories that hold something, in order."""
    held = {one.category for one in stock()}
    return tuple(one for one in CATEGORIES if one in held)


def in_category(category: str) -> tuple[StockEntry, ...]:
    """The entries of one category, in the order of its file."""
    return tuple(one for one in stock() if one.category == category)


def search(text: str) -> tuple[StockEntry, ...]:
    """Entries in which every word of the text begins some word, those with it in the name first."""
    wanted = text.casefold().split()
    if not wanted:
        return stock()
    found = [
        (_rank(one.name.casefold().split(), wanted), at, one)
        for at, one in enumerate(stock())
        if _rank(_haystack(one), wanted) == 0
    ]
    return tuple(one for _, _, one in sorted(found, key=lambda each: each[:2]))


def _haystack(one: StockEntry) -> list[str]:
    kinds = [placement.specification.kind for placement in one.items]
    texts = (one.name, one.category, one.key.replace("-", " "), *kinds, *one.words)
    return " ".join(texts).casefold().replace(",", " ").split()


def _rank(words: list[str], wanted: list[str]) -> int:
    """How many of the wanted words begin no word."""
    return sum(1 for want in wanted if not any(word.startswith(want) for word in words))


def read_stock(folder: Path) -> tuple[StockEntry, ...]:
    """Read the stock files of a folder.

    Raises:
        StockError: a file cannot be read or something in it is wrong.
    """
    files = sorted(folder.glob("*.json"))
    if not files:
        raise StockError(f"{folder}: holds no stock files")
    written = [(path.name, *_read_file(path)) for path in files]
    written.sort(key=lambda one: CATEGORIES.index(one[1]))
    _check_keys(written)
    singles = {
        one.key: replace(one.specification, stock=one.key)
        for _, _, entries in written
        for one in entries
        if one.specification is not None
    }
    return tuple(
        _entry(f"{name}, entry '{one.key}'", category, one, singles)
        for name, category, entries in written
        for one in entries
    )


def _read_file(path: Path) -> tuple[str, tuple[_WrittenEntry, ...]]:
    try:
        raw = json.loads(path.read_bytes())
    except OSError as error:
        raise StockError(f"{path}: {error.strerror or error}") from error
    except (UnicodeDecodeError, json.JSONDecodeError, RecursionError) as error:
        raise StockError(f"{path.name}: is no JSON: {error}") from error
    if not isinstance(raw, dict) or set(raw) != {"category", "entries"}:
        raise StockError(f'{path.name}: must hold "category" and "entries" and nothing else')
    if raw["category"] not in CATEGORIES:
        known = ", ".join(CATEGORIES)
        raise StockError(f"{path.name}: category: {raw['category']!r} is none of: {known}")
    if not isinstance(raw["entries"], list):
        raise StockError(f"{path.name}: entries: must be a list")
    entries = tuple(_convert(path.name, at, one) for at, one in enumerate(raw["entries"]))
    return raw["category"], entries


def _convert(file_name: str, at: int, raw: Any) -> _WrittenEntry:
    key = raw.get("key", "") if isinstance(raw, dict) else ""
    place = f"{file_name}, entries[{at}]" + (f" '{key}'" if key else "")
    try:
        written = msgspec.convert(raw, _WrittenEntry, dec_hook=decode_hook)
    except (msgspec.ValidationError, RecursionError) as error:
        what, _, where = str(error).partition(" - at `$")
        raise StockError(f"{place}: {where.strip('`.') or 'entry'}: {what}") from error
    if not written.key:
        raise StockError(f"{place}: key: is empty")
    if (written.specification is None) == (not written.placements):
        raise StockError(f"{place}: must hold either a specification or placements")
    if written.specification is None and not written.name:
        raise StockError(f"{place}: name: a module needs one")
    if written.specification is not None and written.specification.stock:
        raise StockError(f"{place}: specification.stock: is taken from the key; leave it out")
    return written


def _check_keys(written: list[tuple[str, str, tuple[_WrittenEntry, ...]]]) -> None:
    seen: dict[str, str] = {}
    for name, _, entries in written:
        for one in entries:
            if one.key in seen:
                raise StockError(f"{name}: key: '{one.key}' is also in {seen[one.key]}")
            seen[one.key] = name


def _entry(
    place: str, category: str, written: _WrittenEntry, singles: dict[str, Specification]
) -> StockEntry:
    placements = tuple(
        _placement(f"{place}: placements[{at}]", one, singles)
        for at, one in enumerate(written.placements)
    )
    own = {one.id: one.specification for one in placements}
    if len(own) != len(placements):
        raise StockError(f"{place}: placements: an id stands twice")
    for at, run in enumerate(written.runs):
        for end in (run.a, run.b):
            known = end is not None and end.item in own
            if end is None or not known or own[end.item].port(end.port) is None:
                raise StockError(f"{place}: runs[{at}]: must join two ports of the module")
    if written.specification is not None:
        return StockEntry(
            key=written.key,
            category=category,
            name=written.specification.name,
            words=written.words,
            stands=written.stands,
            regions=written.regions,
            raised=written.raised,
            specification=singles[written.key],
        )
    return StockEntry(
        key=written.key,
        category=category,
        name=written.name,
        words=written.words,
        stands=written.stands,
        regions=written.regions,
        placements=placements,
        runs=written.runs,
    )


def _placement(
    place: str, written: _WrittenPlacement, singles: dict[str, Specification]
) -> Placement:
    specification = singles.get(written.entry)
    if specification is None:
        raise StockError(f"{place}: entry: there is no single entry '{written.entry}'")
    return Placement(
        id=written.id,
        specification=specification,
        dx=written.dx,
        dy=written.dy,
        label=written.label,
        raised=written.raised,
        rotation=written.rotation,
    )
