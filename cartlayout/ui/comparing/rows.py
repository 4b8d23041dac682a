"""What two builds differ in, as the rows of a list: prepared values, no widgets."""

from collections.abc import Iterator
from dataclasses import dataclass

from ...analysis import Analysis
from ...comparing import Change, Figure, Turn, Verdicts, Way, changes, verdicts
from ...units import UnitSystem, Value, capitalised

ARROW = " → "
_WAYS: tuple[tuple[Way, str, str], ...] = (
    ("come", "New findings", ""),
    ("worse", "Worse than before", ""),
    ("gone", "Gone", "ok"),
    ("better", "Better than before", "ok"),
    ("other number", "The same with another number", ""),
)
_KINDS = (("moved", "Moved"), ("changed", "Changed"), ("added", "Added"), ("removed", "Taken away"))


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that is not the same."""

    key: str
    mark: str
    """"stop", "care", "ok", "note"; empty: no verdict."""
    title: str
    words: str = ""
    """Under the title, in short."""
    lines: tuple[str, ...] = ()
    """All there is to say, for the report."""
    items: tuple[str, ...] = ()
    runs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """Rows under a heading."""

    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Differences:
    """Everything that is not the same in two analysed builds."""

    before: Analysis
    after: Analysis
    changes: tuple[Change, ...]
    verdicts: Verdicts

    @property
    def same(self) -> bool:
        """Whether the builds are equal."""
        return not self.changes


def differences(before: Analysis, after: Analysis) -> Differences:
    """Hold two analysed builds against each other."""
    return Differences(before, after, changes(before.build, after.build), verdicts(before, after))


def sections(found: Differences, system: UnitSystem) -> tuple[Section, ...]:
    """What differs, verdicts first, then numbers, then what was done to the build."""
    made = []
    for way, title, mark in _WAYS:
        turned = found.verdicts.of(way)
        made.append(
            Section(title, tuple(_turn_row(at, one, mark, system) for at, one in enumerate(turned)))
        )
    made.append(Section("Numbers", tuple(_figure_rows(found.verdicts.figures, system))))
    for kind, title in _KINDS:
        of_kind = [one for one in found.changes if one.kind == kind]
        made.append(Section(title, tuple(_change_row(one, system) for one in of_kind)))
    return tuple(one for one in made if one.rows)


def _turn_row(at: int, turn: Turn, mark: str, system: UnitSystem) -> Row:
    now, was = turn.after, turn.before
    some = now or was
    assert some is not None
    words, lines = "", [some.detail.shown(system)]
    if now is not None and was is not None:
        grave = "" if was.severity == now.severity else f"{was.severity}, "
        words = f"before: {grave}{was.title.shown(system)}"
        lines.insert(0, capitalised(words))
    return Row(
        key=f"turn {turn.way} {at} {some.code}",
        mark=mark or some.severity,
        title=some.title.shown(system),
        words=words,
        lines=tuple(lines),
        items=some.items,
        runs=some.runs,
    )


def _figure_rows(figures: tuple[Figure, ...], system: UnitSystem) -> Iterator[Row]:
    for one in figures:
        if one.what == "shut" and _shown(one.before, system) == _shown(one.after, system):
            continue  # the verdict on its tap stands beside the number that changed
        numbers = f"{_shown(one.before, system)}{ARROW}{_shown(one.after, system)}"
        state = ""
        if one.turned:
            state = "holds now" if one.held_after else "holds no longer"
        mark = "" if one.held_after is None else ("ok" if one.held_after else "stop")
        yield Row(
            key=f"figure {one.subject} {one.of} {one.what}",
            mark=mark,
            title=f"{one.name}, {one.what}",
            words=", ".join(part for part in (numbers, state) if part),
            lines=(f"{one.name}, {one.what}: {numbers}",),
            items=(one.of,) if one.subject == "tap" else (),
        )


def _shown(value: Value | None, system: UnitSystem) -> str:
    return "none" if value is None else value.shown(system)


def _change_row(change: Change, system: UnitSystem) -> Row:
    lines = tuple(line.shown(system) for line in change.lines)
    return Row(
        key=f"change {change.kind} {change.about} {change.id}",
        mark="",
        title=change.name,
        words="; ".join(lines),
        lines=tuple(capitalised(line) for line in lines),
        items=(change.id,) if change.about == "item" else (),
        runs=(change.id,) if change.about == "run" else (),
    )
