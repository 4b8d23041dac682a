"""What two builds differ in: what moved, what was added, exchanged, joined otherwise, changed."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from ..build import Build, End, Item, Run, TubeRun, Wire
from ..units import Phrase, Value
from .fields import differences

Kind = Literal["added", "removed", "moved", "changed"]
About = Literal["build", "cart", "venue", "service", "case", "item", "run"]

_OWN = frozenset(("name", "region", "units", "story", "designer", "revision"))
_LEAST_M = 5e-5
"""Two places read the same: less than a tenth of a millimetre."""
_PLACE = frozenset(("x", "y", "level", "rotation", "raised", "mount"))


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is not the same in the second build."""

    kind: Kind
    about: About
    id: str
    """Of the item or run; name of the case; empty for what there is only one of."""
    name: str
    """For people."""
    lines: tuple[Phrase, ...] = ()
    """What exactly, a line each."""


def changes(before: Build, after: Build) -> tuple[Change, ...]:
    """Everything in which a build differs from an earlier one.

    Items and runs are the same as long as their ids are.

    Args:
        before: the earlier one, or simply the other.
        after: the later one.

    Returns:
        Items first (moved, changed, added, removed), then runs, the cart, venue, service, cases
        and the build's own words; empty for equal builds.
    """
    if before == after:
        return ()
    return (*_items(before, after), *_runs(before, after), *_settings(before, after))


def _items(before: Build, after: Build) -> Iterator[Change]:
    old = {one.id: one for one in before.items}
    new = {one.id: one for one in after.items}
    for key, item in new.items():
        was = old.get(key)
        if was is None:
            yield Change("added", "item", key, item.name, (_at(item),))
            continue
        moved = tuple(_moved(was, item))
        if moved:
            yield Change("moved", "item", key, item.name, moved)
        found = (*_exchanged(was, item), *_fields(was, item, _PLACE))
        if found:
            yield Change("changed", "item", key, item.name, found)
    for key, item in old.items():
        if key not in new:
            yield Change("removed", "item", key, item.name, (_at(item),))


def _at(item: Item) -> Phrase:
    return Phrase.of(
        "on {level}, {x} from the left, {y} from the rear",
        level=item.level,
        x=Value(item.x.si, "length"),
        y=Value(item.y.si, "length"),
    )


def _moved(was: Item, now: Item) -> Iterator[Phrase]:
    ways = (
        (now.x.si - was.x.si, "right", "left"),
        (now.y.si - was.y.si, "to the front", "to the rear"),
    )
    for distance_m, onward, back in ways:
        if abs(distance_m) > _LEAST_M:
            way = onward if distance_m > 0 else back
            yield Phrase.of("{by} {way}", by=Value(abs(distance_m), "length"), way=way)
    if was.level != now.level:
        yield Phrase.of("from {a} to {b}", a=was.level, b=now.level)
    lifted_m = now.raised.si - was.raised.si
    if abs(lifted_m) > _LEAST_M:
        way = "up" if lifted_m > 0 else "down"
        yield Phrase.of("{by} {way}", by=Value(abs(lifted_m), "length"), way=way)
    turned = (now.rotation - was.rotation + 180.0) % 360.0 - 180.0
    if abs(turned) > 1e-6:
        way = "clockwise" if turned > 0 else "counter-clockwise"
        yield Phrase.of("turned by {by} {way}", by=Value(abs(turned), "angle"), way=way)
    if was.mount != now.mount:
        yield Phrase.of("{a} instead of {b}", a=now.mount, b=was.mount)


def _exchanged(was: Item, now: Item) -> Iterator[Phrase]:
    """Another piece of equipment under the same id."""
    a, b = was.specification, now.specification
    if a.name != b.name or a.stock != b.stock:
        yield Phrase.of("{a} exchanged for {b}", a=a.name, b=b.name)


_NOT_TOLD = frozenset(("name", "stock", "symbol", "origins"))
"""Of a specification: told as an exchange, or only how it is drawn and where numbers come from."""
_NOT_OF_ANOTHER = _NOT_TOLD | {"ports", "clearances", "kind"}
"""Of another piece of equipment these go without saying."""


def _fields(was: Any, now: Any, without: frozenset[str]) -> Iterator[Phrase]:
    exchanged = isinstance(was, Item) and any(_exchanged(was, now))
    for one in differences(was, now, without=without):
        path = one.path[1:] if one.path[0] == "specification" else one.path
        untold = _NOT_OF_ANOTHER if exchanged else _NOT_TOLD
        if one.path[0] == "specification" and path and path[0] in untold:
            continue
        yield _plain(_shortened(one.text, one.where, path))


def _shortened(text: str, where: str, path: tuple[str, ...]) -> str:
    """The line of a difference with a shorter way to it."""
    short = ", ".join(one.replace("_", " ") for one in path)
    return short + text.removeprefix(where)


def _plain(text: str) -> Phrase:
    return Phrase("{text}", (("text", text),))


def _runs(before: Build, after: Build) -> Iterator[Change]:
    old = {one.id: one for one in before.runs}
    new = {one.id: one for one in after.runs}
    for key, run in new.items():
        was = old.get(key)
        if type(was) is not type(run):
            was = None  # a tube under the id of a wire
        if was is None:
            yield Change("added", "run", key, run_name(after, run))
            continue
        lines = tuple(_run_lines(before, was, after, run))
        if lines:
            yield Change("changed", "run", key, run_name(after, run), lines)
    for key, run in old.items():
        if type(new.get(key)) is not type(run):
            yield Change("removed", "run", key, run_name(before, run))


def _run_lines(before: Build, was: Run, after: Build, now: Run) -> Iterator[Phrase]:
    for a, b in ((was.a, now.a), (was.b, now.b)):
        if a != b:
            texts = _end(before, a), _end(after, b)
            if texts[0] == texts[1]:
                texts = _port(before, a), _port(after, b)
            yield Phrase.of("led to {b} instead of {a}", a=texts[0], b=texts[1])
    if isinstance(was, TubeRun) and isinstance(now, TubeRun) and was.tube.name != now.tube.name:
        yield Phrase.of("{b} instead of {a}", a=was.tube.name, b=now.tube.name)
    if was.waypoints != now.waypoints:
        yield _plain("led another way")
    without = {"a", "b", "waypoints"}
    if isinstance(now, TubeRun) and isinstance(was, TubeRun) and was.tube.name != now.tube.name:
        without.add("tube")
    yield from _fields(was, now, frozenset(without))


def run_name(build: Build, run: Run) -> str:
    """A run by what it joins: "Tube from Pump to Rinser"."""
    kind = "Wire" if isinstance(run, Wire) else "Tube"
    return f"{kind} from {_end(build, run.a)} to {_end(build, run.b)}"


def _end(build: Build, end: End | None) -> str:
    if end is None:
        return "nothing"
    item = build.item(end.item)
    return item.name if item is not None else end.item


def _port(build: Build, end: End | None) -> str:
    """An end by its port, where the item alone says nothing."""
    return _end(build, end) if end is None else f"{_end(build, end)}, {end.port}"


def _settings(before: Build, after: Build) -> Iterator[Change]:
    parts: tuple[tuple[About, str], ...] = (
        ("cart", "Cart"),
        ("venue", "Venue"),
        ("service", "Day of service"),
    )
    for name, title in parts:
        lines = tuple(_fields(getattr(before, name), getattr(after, name), frozenset()))
        if lines:
            yield Change("changed", name, "", title, lines)
    yield from _cases(before, after)
    own = tuple(
        _plain(one.text)
        for name in before.__struct_fields__
        if name in _OWN
        for one in differences(getattr(before, name), getattr(after, name), (name,))
    )
    if own:
        yield Change("changed", "build", "", "Build", own)


def _cases(before: Build, after: Build) -> Iterator[Change]:
    old = {one.name: one for one in before.cases}
    new = {one.name: one for one in after.cases}
    for name, case in new.items():
        if name not in old:
            yield Change("added", "case", name, name)
            continue
        lines = []
        for field in ("loads", "taps"):
            was, now = set(getattr(old[name], field)), set(getattr(case, field))
            lines += [_of_case(after, one, "is on as well") for one in sorted(now - was)]
            lines += [_of_case(before, one, "is on no longer") for one in sorted(was - now)]
        if lines:
            yield Change("changed", "case", name, name, tuple(lines))
    for name in old:
        if name not in new:
            yield Change("removed", "case", name, name)


def _of_case(build: Build, item_id: str, words: str) -> Phrase:
    item = build.item(item_id)
    return Phrase.of("{name} {words}", name=item.name if item else item_id, words=words)
