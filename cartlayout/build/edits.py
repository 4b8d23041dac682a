"""Edits: pure functions from a Build to a Build that shares what did not change."""

import json
from collections.abc import Collection, Iterable
from typing import Any

import msgspec
from msgspec.structs import replace

from ..units import Length
from .base import Part
from .codec import decode_hook, to_builtins
from .document import Build
from .geometry import bounds
from .item import VENUE, Item
from .runs import End, Run
from .specification import Specification


class EditError(ValueError):
    """An edit that cannot be made; the message says why, in words for people."""


def with_(build: Build, **fields: Any) -> Build:
    """Change fields of the build itself."""
    return replace(build, **fields)


def free_id(build: Build, stem: str, taken: Collection[str] = ()) -> str:
    """Make an id that nothing in the build has, such as "kettle-2"."""
    used = {one.id for one in (*build.items, *build.runs)} | set(taken)
    stem = "-".join("".join(c if c.isalnum() else " " for c in stem.lower()).split()) or "item"
    if stem not in used:
        return stem
    number = 2
    while f"{stem}-{number}" in used:
        number += 1
    return f"{stem}-{number}"


def place(
    build: Build,
    specification: Specification,
    level: str,
    x_m: float,
    y_m: float,
    label: str = "",
) -> tuple[Build, str]:
    """Put equipment on a level, its middle at (x, y). Returns the build and the new item's id."""
    _check_level(build, level)
    stem = label or specification.stock or specification.name
    item = Item(
        id=free_id(build, stem),
        specification=specification,
        level=level,
        x=_length(x_m, build),
        y=_length(y_m, build),
        label=label,
    )
    return with_(build, items=(*build.items, item)), item.id


def add_run(build: Build, run: Run) -> Build:
    """Add a wire or tube whose id is free."""
    if build.run(run.id) is not None:
        raise EditError(f"there is a run '{run.id}' already")
    return with_(build, runs=(*build.runs, run))


def replace_item(build: Build, item: Item) -> Build:
    """Put a changed item in the place of the one with the same id."""
    return _change_items(build, {item.id}, lambda _: item)


def replace_run(build: Build, run: Run) -> Build:
    """Put a changed wire or tube in the place of the one with the same id."""
    if build.run(run.id) is None:
        raise EditError(f"there is no run '{run.id}'")
    return with_(build, runs=tuple(run if one.id == run.id else one for one in build.runs))


def with_groups(build: Build, ids: Iterable[str]) -> tuple[str, ...]:
    """Add everything grouped with one of the items, in the build's order: modules move as one."""
    wanted = set(ids)
    groups = {item.group for item in build.items if item.id in wanted and item.group}
    return tuple(item.id for item in build.items if item.id in wanted or item.group in groups)


def move(build: Build, ids: Iterable[str], dx_m: float, dy_m: float) -> Build:
    """Move items by an offset; locked ones stay. Coordinates keep their authored unit.

    The bends of a run go along where both its ends do.
    """
    if dx_m == 0 and dy_m == 0:
        return build
    wanted = set(ids)

    def moved(item: Item) -> Item:
        if item.locked:
            return item
        return replace(item, x=_shift(item.x, dx_m), y=_shift(item.y, dy_m))

    after = _change_items(build, wanted, moved)
    if after is build:
        return build
    going = {item.id for item in build.items if item.id in wanted and not item.locked}
    runs = tuple(_bends_moved(run, dx_m, dy_m) if _joins(run, going) else run for run in build.runs)
    same = all(new is old for new, old in zip(runs, build.runs, strict=True))
    return after if same else with_(after, runs=runs)


def _joins(run: Run, ids: Collection[str]) -> bool:
    return run.b is not None and run.a.item in ids and run.b.item in ids


def _bends_moved(run: Run, dx_m: float, dy_m: float) -> Run:
    if not run.waypoints:
        return run
    bends = tuple(
        replace(point, x=_shift(point.x, dx_m), y=_shift(point.y, dy_m)) for point in run.waypoints
    )
    return replace(run, waypoints=bends)


def move_to(build: Build, item_id: str, x_m: float, y_m: float) -> Build:
    """Put an item's middle at (x, y)."""
    item = _item(build, item_id)
    return move(build, (item_id,), x_m - item.x.si, y_m - item.y.si)


def rotate(build: Build, ids: Iterable[str], degrees: float) -> Build:
    """Turn items clockwise, each about its own middle; locked ones stay."""

    def rotated(item: Item) -> Item:
        if item.locked:
            return item
        return replace(item, rotation=round((item.rotation + degrees) % 360.0, 3) % 360.0)

    return _change_items(build, set(ids), rotated)


def set_level(build: Build, ids: Iterable[str], level: str) -> Build:
    """Put items on another level."""
    _check_level(build, level)
    return _change_items(build, set(ids), lambda item: replace(item, level=level))


def remove(build: Build, item_ids: Iterable[str] = (), run_ids: Iterable[str] = ()) -> Build:
    """Take items and runs away, with every run that ended on one of the items.

    Operating cases forget the items too. Locked items stay.
    """
    gone = {i for i in item_ids if (found := build.item(i)) is not None and not found.locked}
    runs_gone = set(run_ids)

    def stays(run: Run) -> bool:
        ends = {run.a.item} | ({run.b.item} if run.b is not None else set())
        return run.id not in runs_gone and not ends & gone

    items = tuple(item for item in build.items if item.id not in gone)
    runs = tuple(run for run in build.runs if stays(run))
    cases = tuple(
        case
        if not gone & {*case.loads, *case.taps}
        else replace(
            case,
            loads=tuple(one for one in case.loads if one not in gone),
            taps=tuple(one for one in case.taps if one not in gone),
        )
        for case in build.cases
    )
    if len(items) == len(build.items) and len(runs) == len(build.runs):
        return build
    return with_(build, items=items, runs=runs, cases=cases)


class _Fragment(Part, frozen=True):
    """What copy puts on the clipboard."""

    cartlayout_items: int
    items: tuple[Item, ...]
    runs: tuple[Run, ...] = ()


def copy(build: Build, ids: Iterable[str]) -> str:
    """Write items, and the runs that join them to each other, as text for the clipboard."""
    wanted = set(ids)
    items = tuple(item for item in build.items if item.id in wanted)
    runs = tuple(run for run in build.runs if _joins(run, wanted))
    fragment = _Fragment(cartlayout_items=1, items=items, runs=runs)
    return json.dumps(to_builtins(fragment), ensure_ascii=False)


def paste(
    build: Build, text: str, dx_m: float, dy_m: float, level: str = ""
) -> tuple[Build, tuple[str, ...]]:
    """Add what `copy` wrote, shifted, under new ids. Returns the build and the new items' ids.

    Args:
        build: what is added to; need not be the build that was copied from.
        text: from the clipboard.
        dx_m: shift to the right.
        dy_m: shift to the front.
        level: for items whose own level this cart does not have; else its first one.

    Raises:
        EditError: the text is not from `copy`.
    """
    fragment = _fragment(text)
    return _add_copies(build, fragment.items, fragment.runs, dx_m, dy_m, level)


def paste_at(
    build: Build, text: str, x_m: float, y_m: float, level: str = ""
) -> tuple[Build, tuple[str, ...]]:
    """The same with the middle of all that is added at a place."""
    boxes = [bounds(item) for item in _fragment(text).items]
    if not boxes:
        raise EditError("the clipboard holds no equipment")
    left, right = min(box[0] for box in boxes), max(box[2] for box in boxes)
    rear, front = min(box[1] for box in boxes), max(box[3] for box in boxes)
    return paste(build, text, x_m - (left + right) / 2, y_m - (rear + front) / 2, level)


def _fragment(text: str) -> _Fragment:
    try:
        return msgspec.json.decode(text, type=_Fragment, dec_hook=decode_hook)
    except (msgspec.DecodeError, UnicodeError) as error:
        raise EditError("the clipboard holds no equipment") from error


def duplicate(
    build: Build, ids: Iterable[str], dx_m: float, dy_m: float
) -> tuple[Build, tuple[str, ...]]:
    """Add copies of items, and of the runs that join them to each other, shifted."""
    return paste(build, copy(build, ids), dx_m, dy_m)


def _add_copies(
    build: Build,
    items: tuple[Item, ...],
    runs: tuple[Run, ...],
    dx_m: float,
    dy_m: float,
    level: str = "",
) -> tuple[Build, tuple[str, ...]]:
    names: dict[str, str] = {}
    groups: dict[str, str] = {}
    known_groups = {item.group for item in build.items if item.group}
    added: list[Item] = []
    fallback = build.cart.levels[0].name if build.cart.levels else VENUE
    if build.cart.level(level) is not None:
        fallback = level
    for item in items:
        names[item.id] = free_id(build, _stem(item.id), names.values())
        group = item.group
        if group is not None:
            if group not in groups:
                groups[group] = free_name(_stem(group), known_groups | set(groups.values()))
            group = groups[group]
        has_level = item.level == VENUE or build.cart.level(item.level) is not None
        added.append(
            replace(
                item,
                id=names[item.id],
                level=item.level if has_level else fallback,
                x=_shift(item.x, dx_m),
                y=_shift(item.y, dy_m),
                group=group,
                locked=False,
            )
        )
    new_runs: list[Run] = []
    for run in runs:
        if not _joins(run, names):
            continue  # only a text that somebody has changed by hand has such a run
        taken = {*names.values(), *(one.id for one in new_runs)}
        new_runs.append(
            replace(
                _bends_moved(run, dx_m, dy_m),
                id=free_id(build, _stem(run.id), taken),
                a=_renamed(run.a, names),
                b=_renamed(run.b, names) if run.b is not None else None,
            )
        )
    whole = with_(build, items=(*build.items, *added), runs=(*build.runs, *new_runs))
    return whole, tuple(names.values())


def _renamed(end: End, names: dict[str, str]) -> End:
    return replace(end, item=names[end.item])


def _stem(name: str) -> str:
    head, _, tail = name.rpartition("-")
    return head if head and tail.isdigit() else name


def free_name(stem: str, taken: Collection[str]) -> str:
    """A name that is not taken, such as "group" or "group-2"."""
    number = 2
    name = stem
    while name in taken:
        name = f"{stem}-{number}"
        number += 1
    return name


def _change_items(build: Build, ids: set[str], change: Any) -> Build:
    missing = ids - {item.id for item in build.items}
    if missing:
        raise EditError(f"there is no item '{min(missing)}'")
    items = tuple(change(item) if item.id in ids else item for item in build.items)
    same = all(new is old for new, old in zip(items, build.items, strict=True))
    return build if same else with_(build, items=items)


def _item(build: Build, item_id: str) -> Item:
    found = build.item(item_id)
    if found is None:
        raise EditError(f"there is no item '{item_id}'")
    return found


def _check_level(build: Build, level: str) -> None:
    if level != VENUE and build.cart.level(level) is None:
        names = ", ".join(one.name for one in build.cart.levels) or "none"
        raise EditError(f"the cart has no level '{level}' (its levels: {names})")


def _length(si_m: float, build: Build) -> Length:
    return Length.from_si(si_m, "in" if build.units == "US" else "mm", 3)


def _shift(length: Length, by_m: float) -> Length:
    return Length.from_si(length.si + by_m, length.unit) if by_m else length


__all__ = [
    "EditError",
    "add_run",
    "copy",
    "duplicate",
    "free_id",
    "free_name",
    "move",
    "move_to",
    "paste",
    "paste_at",
    "place",
    "remove",
    "replace_item",
    "replace_run",
    "rotate",
    "set_level",
    "with_",
    "with_groups",
]
