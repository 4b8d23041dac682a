"""What two analyses differ in, prepared as plain values: no widgets."""

from dataclasses import dataclass

from ...analysis import Analysis
from ...body.results import Balance
from ...findings.finding import SEVERITIES, Finding, Severity
from ...power.results import EVERYTHING_ON
from ...units import UnitSystem, show
from ...water.results import ALL_OPEN
from ..boards.circuit_rows import circuit_rows
from ..boards.tap_rows import tap_rows
from ..details.facts import Fact

ARROW = " → "
_Key = tuple[str, str, tuple[str, ...], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Comparison:
    """What is said and measured before and after an edit."""

    counts: tuple[tuple[Severity, int, int], ...]
    """Severity, how many before, how many after."""
    come: tuple[Finding, ...]
    gone: tuple[Finding, ...]
    facts: tuple[Fact, ...]
    """Numbers that change, before and after in one text."""

    @property
    def worst(self) -> Severity | None:
        """The worst of what comes; None where nothing but notes does."""
        found = [one.severity for one in self.come if one.severity != "note"]
        return min(found, key=SEVERITIES.index, default=None)

    @property
    def short(self) -> str:
        """In two or three words: "1 stop more", "2 care fewer", "as before"."""
        for severity, before, after in self.counts[:2]:
            if after != before:
                more = "more" if after > before else "fewer"
                return f"{abs(after - before)} {severity} {more}"
        return "as good" if self.worst is None else "other findings"


def compare(before: Analysis, after: Analysis, system: UnitSystem) -> Comparison:
    """Hold an analysis of a trial against that of what is there."""
    old, new = _by_key(before), _by_key(after)
    return Comparison(
        counts=tuple((one, before.count(one), after.count(one)) for one in SEVERITIES),
        come=tuple(finding for key, finding in new.items() if key not in old),
        gone=tuple(finding for key, finding in old.items() if key not in new),
        facts=(
            *_circuits(before, after, system),
            *_taps(before, after, system),
            *_body(before, after, system),
        ),
    )


def _by_key(analysis: Analysis) -> dict[_Key, Finding]:
    """A finding is the same as long as it says the same of the same, with whatever numbers."""
    return {(one.severity, one.code, one.items, one.runs): one for one in analysis.findings}


def _circuits(before: Analysis, after: Analysis, system: UnitSystem) -> list[Fact]:
    was = {row.key: row for row in circuit_rows(before, EVERYTHING_ON, system)}
    facts = []
    for row in circuit_rows(after, EVERYTHING_ON, system):
        old = was.get(row.key)
        if old is None or (old.numbers, old.state) != (row.numbers, row.state):
            value = row.numbers if old is None else _from_to(old.numbers, row.numbers)
            state = row.state if row.state in ("stop", "care", "ok") else ""
            facts.append(Fact(f"Circuit {row.letter}", value, state, f"{row.title}: {row.verdict}"))
    return facts


def _taps(before: Analysis, after: Analysis, system: UnitSystem) -> list[Fact]:
    was = {row.key: row for row in tap_rows(before, ALL_OPEN, system)}
    facts = []
    for row in tap_rows(after, ALL_OPEN, system):
        old = was.get(row.key)
        if old is None or (old.numbers, old.state) != (row.numbers, row.state):
            value = row.numbers if old is None else _both(old.numbers, row.numbers)
            facts.append(Fact(row.name, value, row.state, row.tip))
    return facts


def _both(old: str, new: str) -> str:
    """Pressure and flow of a tap, each before and after."""
    pairs = zip(old.split("   "), new.split("   "), strict=False)
    return " · ".join(_from_to(was, now) for was, now in pairs)


def _from_to(old: str, new: str) -> str:
    """Two texts in one; what they end in alike, such as a unit or a limit, is said once."""
    if old == new:
        return new
    first, second = old.split(" "), new.split(" ")
    alike = 0
    while alike < min(len(first), len(second)) - 1 and first[-1 - alike] == second[-1 - alike]:
        alike += 1
    return f"{' '.join(first[: len(first) - alike])}{ARROW}{new}"


def _body(before: Analysis, after: Analysis, system: UnitSystem) -> list[Fact]:
    old, new = before.body.full, after.body.full
    if old is None or new is None:
        return []
    pairs = (
        ("Mass, tanks full", _mass(old, system), _mass(new, system)),
        ("Tips at", _tilt(old, system), _tilt(new, system)),
    )
    return [Fact(name, _from_to(was, now)) for name, was, now in pairs if was != now]


def _mass(balance: Balance, system: UnitSystem) -> str:
    return show(balance.mass_kg, "mass", system)


def _tilt(balance: Balance, system: UnitSystem) -> str:
    return "never" if balance.tilt_deg is None else show(balance.tilt_deg, "angle", system)
