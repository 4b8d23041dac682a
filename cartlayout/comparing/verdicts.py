"""How what is said of one build differs from what is said of another."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from ..analysis import Analysis
from ..body.results import Balance
from ..findings import SEVERITIES, Finding, Severity
from ..power.results import EVERYTHING_ON, Circuit
from ..units import UnitSystem, Value
from ..water.results import ALL_OPEN, Tap

FindingKey = tuple[str, tuple[str, ...], tuple[str, ...]]
"""What a finding is about: its code, items and runs."""
Way = Literal["come", "gone", "worse", "better", "other number"]


def finding_key(finding: Finding) -> FindingKey:
    """Two findings with one key say the same of the same, with whatever numbers."""
    return (finding.code, finding.items, finding.runs)


@dataclass(frozen=True, slots=True)
class Turn:
    """A finding that is not the same in both."""

    way: Way
    before: Finding | None
    after: Finding | None

    @property
    def severity(self) -> Severity:
        """Of what is said now; of one that has gone, what it was."""
        said = self.after or self.before
        assert said is not None
        return said.severity


@dataclass(frozen=True, slots=True)
class Figure:
    """A number that both analyses have, or only one, held against its limit."""

    subject: Literal["circuit", "tap", "body", "tank"]
    of: str
    """Key of a circuit, item of a tap."""
    name: str
    what: str
    before: Value | None
    after: Value | None
    held_before: bool | None = None
    """Whether everything held that it is held against; None: it was not there."""
    held_after: bool | None = None

    @property
    def turned(self) -> bool:
        """It holds now and did not, or the other way round."""
        return (
            self.held_before is not None
            and self.held_after is not None
            and self.held_before != self.held_after
        )


@dataclass(frozen=True, slots=True)
class Verdicts:
    """Findings and numbers before and after."""

    counts: tuple[tuple[Severity, int, int], ...]
    """Severity, how many before, how many after."""
    turns: tuple[Turn, ...]
    """The worst first; those with only another number last."""
    figures: tuple[Figure, ...]
    """Only those that read otherwise, or hold otherwise."""

    def of(self, *ways: Way) -> tuple[Turn, ...]:
        """Those that turned in one of these ways."""
        return tuple(one for one in self.turns if one.way in ways)


def verdicts(before: Analysis, after: Analysis) -> Verdicts:
    """Hold two analyses against each other."""
    return Verdicts(
        counts=tuple((one, before.count(one), after.count(one)) for one in SEVERITIES),
        turns=turns(before.findings, after.findings),
        figures=tuple(one for one in _figures(before, after) if _differs(one)),
    )


def turns(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> tuple[Turn, ...]:
    """How findings differ; several with one key are taken in order, the worst first."""
    old, new = _by_key(before), _by_key(after)
    found = []
    for key in dict.fromkeys((*new, *old)):
        was, now = old.get(key, ()), new.get(key, ())
        for at in range(max(len(was), len(now))):
            a = was[at] if at < len(was) else None
            b = now[at] if at < len(now) else None
            way = _way(a, b)
            if way is not None:
                found.append(Turn(way, a, b))
    order: tuple[Way, ...] = ("come", "worse", "gone", "better", "other number")
    return tuple(
        sorted(found, key=lambda one: (order.index(one.way), SEVERITIES.index(one.severity)))
    )


def _by_key(findings: tuple[Finding, ...]) -> Mapping[FindingKey, tuple[Finding, ...]]:
    found: dict[FindingKey, tuple[Finding, ...]] = {}
    for one in findings:
        key = finding_key(one)
        found[key] = (*found.get(key, ()), one)
    return found


def _way(was: Finding | None, now: Finding | None) -> Way | None:
    if was is None:
        return "come"
    if now is None:
        return "gone"
    if was.severity != now.severity:
        worse = SEVERITIES.index(now.severity) < SEVERITIES.index(was.severity)
        return "worse" if worse else "better"
    same = (was.value, was.limit, was.title) == (now.value, now.limit, now.title)
    return None if same else "other number"


def _differs(one: Figure) -> bool:
    if one.held_before != one.held_after or (one.before is None) != (one.after is None):
        return True
    return any(_reads(one.before, system) != _reads(one.after, system) for system in UnitSystem)


def _reads(value: Value | None, system: UnitSystem) -> str:
    return "" if value is None else value.shown(system)


def _figures(before: Analysis, after: Analysis) -> Iterator[Figure]:
    yield from _circuits(before, after)
    yield from _taps(before, after)
    yield from _body(before, after)
    yield from _tanks(before, after)


def _circuits(before: Analysis, after: Analysis) -> Iterator[Figure]:
    old = {one.key: one for one in before.power.circuits}
    new = {one.key: one for one in after.power.circuits}
    for key in dict.fromkeys((*old, *new)):
        was, now = old.get(key), new.get(key)
        some = now or was
        assert some is not None
        yield Figure(
            "circuit",
            key,
            f"Circuit {some.letter}, {some.name}",
            "with everything on",
            _amps(was),
            _amps(now),
            _holds(was),
            _holds(now),
        )


def _amps(circuit: Circuit | None) -> Value | None:
    return None if circuit is None else Value(circuit.amps.get(EVERYTHING_ON, 0.0), "current")


def _holds(circuit: Circuit | None) -> bool | None:
    return None if circuit is None else all(one.holds for one in circuit.limits)


def _taps(before: Analysis, after: Analysis) -> Iterator[Figure]:
    old = {(one.item, one.port): one for one in before.water.taps}
    new = {(one.item, one.port): one for one in after.water.taps}
    for key in dict.fromkeys((*old, *new)):
        was, now = _tap_figures(old.get(key)), _tap_figures(new.get(key))
        some = new.get(key) or old.get(key)
        assert some is not None
        for what in dict.fromkeys((*was, *now)):
            a, b = was.get(what), now.get(what)
            yield Figure(
                "tap",
                key[0],
                some.name,
                what,
                a[0] if a is not None else None,
                b[0] if b is not None else None,
                a[1] if a is not None else None,
                b[1] if b is not None else None,
            )


def _tap_figures(tap: Tap | None) -> dict[str, tuple[Value, bool]]:
    """What is told of a tap, each number with whether it holds; nothing of one that is not fed."""
    if tap is None or not tap.fed:
        return {}
    found = {"shut": (Value(tap.static_pa, "pressure"), tap.static_pa <= tap.greatest_pa)}
    state = tap.states.get(ALL_OPEN)
    if state is not None:
        found["pressure, everything open"] = (
            Value(state.pressure_pa, "pressure"),
            state.pressure_ok,
        )
        found["flow, everything open"] = (Value(state.flow, "flow"), state.flow_ok)
    return found


def _body(before: Analysis, after: Analysis) -> Iterator[Figure]:
    kinds = (("mass, tanks full", _mass), ("tips at", _tilt))
    for what, read in kinds:
        was, now = read(before.body.full), read(after.body.full)
        if was is not None or now is not None:
            yield Figure("body", "", "Cart", what, was, now)


def _mass(balance: Balance | None) -> Value | None:
    return None if balance is None else Value(balance.mass_kg, "mass")


def _tilt(balance: Balance | None) -> Value | None:
    if balance is None or balance.tilt_deg is None:
        return None
    return Value(balance.tilt_deg, "angle")


def _tanks(before: Analysis, after: Analysis) -> Iterator[Figure]:
    old, new = before.water.balance, after.water.balance
    for what in ("fresh", "waste", "fresh_per_day", "waste_per_day"):
        was = Value(getattr(old, what), "volume") if old is not None else None
        now = Value(getattr(new, what), "volume") if new is not None else None
        if was is not None or now is not None:
            yield Figure("tank", what, _TANKS[what][0], _TANKS[what][1], was, now)


_TANKS = {
    "fresh": ("Fresh water", "on board"),
    "waste": ("Waste tank", "holds"),
    "fresh_per_day": ("Fresh water", "used in a day"),
    "waste_per_day": ("Waste", "in a day"),
}
