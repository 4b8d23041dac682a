"""Putting stock on a cart."""

from msgspec.structs import replace

from ..build import VENUE, Build, End, Run
from ..build.edits import add_run, free_id, place, replace_item
from .entries import StockEntry


def placed(
    build: Build, entry: StockEntry, level: str, x_m: float, y_m: float
) -> tuple[Build, tuple[str, ...]]:
    """Put an entry on a level, its middle at (x, y); a module as one group with its runs.

    What belongs to the venue goes to the venue, whatever level is asked for.
    Returns the build and the ids of the new items, in the order of the entry.

    Raises:
        EditError: the cart has no such level.
    """
    if entry.stands == "venue":
        level = VENUE
    new_ids: dict[str, str] = {}
    group = free_id(build, entry.key, _groups(build)) if entry.is_module else None
    for one in entry.items:
        build, item_id = place(
            build, one.specification, level, x_m + one.dx.si, y_m + one.dy.si, one.label
        )
        new_ids[one.id] = item_id
        item = build.item(item_id)
        if item is None:  # it has just been placed
            raise KeyError(item_id)
        item = replace(item, rotation=one.rotation, raised=one.raised, group=group)
        build = replace_item(build, item)
    for run in entry.runs:
        build = add_run(build, _renamed(build, run, new_ids))
    return build, tuple(new_ids.values())


def _renamed(build: Build, run: Run, new_ids: dict[str, str]) -> Run:
    return replace(
        run,
        id=free_id(build, run.id),
        a=_end(run.a, new_ids),
        b=_end(run.b, new_ids) if run.b is not None else None,
    )


def _end(end: End, new_ids: dict[str, str]) -> End:
    return End(item=new_ids[end.item], port=end.port)


def _groups(build: Build) -> set[str]:
    return {item.group for item in build.items if item.group is not None}
