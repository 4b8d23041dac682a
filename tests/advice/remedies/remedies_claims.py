"""What a remedy claims, held against a fresh analysis of the build that it hands out.

Logic, so no reference from outside: what has to hold of every remedy. The numbers in its words
are read a second time here, by ways of their own wherever the results allow it.
"""

import math

import shapely
from shapely import Polygon

from cartlayout.advice.remedies import Mended, Remedy, key_of
from cartlayout.analysis import Analysis, analyse
from cartlayout.build.file import decode, encode
from cartlayout.build.geometry import corners
from cartlayout.findings import SEVERITIES, Finding
from cartlayout.power.results import EVERYTHING_ON
from cartlayout.units import UnitSystem, Value


def check_remedy(before: Analysis, remedy: Remedy) -> None:
    """Apply it as the window would: the build alone, analysed from nothing."""
    finding = next(one for one in before.findings if key_of(one) == remedy.finding)
    fresh = analyse(decode(encode(remedy.build)))
    assert _said(fresh) == _said(remedy.analysis), "the analysis that comes along is another"
    _is_gone(finding, fresh, remedy)
    _no_new_stop(before, fresh, remedy)
    _tells_its_numbers(remedy)
    again = _read_again(before, finding, fresh)
    if again is not None and remedy.value is not None:
        assert math.isclose(again, remedy.value.si, rel_tol=1e-6, abs_tol=1e-6), (
            remedy.title.shown(UnitSystem.US),
            again,
            remedy.value,
        )


def _said(analysis: Analysis) -> list[tuple[str, str, tuple[str, ...], tuple[str, ...]]]:
    return [(one.severity, *key_of(one)) for one in analysis.findings]


def _is_gone(finding: Finding, fresh: Analysis, remedy: Remedy) -> None:
    left = [one for one in fresh.findings if key_of(one) == key_of(finding)]
    if not remedy.partly:
        assert not left, f"{remedy.title.shown(UnitSystem.US)} leaves {finding.code}"
        return
    graver = [one for one in left if _rank(one) <= _rank(finding)]
    assert not graver


def _rank(finding: Finding) -> int:
    return SEVERITIES.index(finding.severity)


def _no_new_stop(before: Analysis, fresh: Analysis, remedy: Remedy) -> None:
    """Every stop there is now was one before: of the same sort, about one of the same things."""
    old = [one for one in before.findings if one.severity == "stop"]
    for now in (one for one in fresh.findings if one.severity == "stop"):
        about = {*now.items, *now.runs}
        same = [
            one
            for one in old
            if one.code == now.code and (about & {*one.items, *one.runs} or not about)
        ]
        assert same, f"{remedy.title.shown(UnitSystem.US)} brings {now.title.shown(UnitSystem.US)}"
    assert fresh.count("stop") <= before.count("stop")


def _tells_its_numbers(remedy: Remedy) -> None:
    """The words say the number of the analysis, in both unit systems, and never an empty brace."""
    for system in UnitSystem:
        title, outcome = remedy.title.shown(system), remedy.outcome.shown(system)
        assert title, "no title"
        assert outcome, "no outcome"
        assert "{" not in title + outcome
        values = dict(remedy.outcome.values)
        told = "{after}" in remedy.outcome.template
        if told and isinstance(values.get("after"), Value) and remedy.value is not None:
            shown = values["after"]
            assert isinstance(shown, Value)
            assert (shown.si, shown.dimension) == (remedy.value.si, remedy.value.dimension)
            assert shown.shown(system) in outcome


# --- the number, read again by another way ----------------------------------------------------


def _read_again(before: Analysis, finding: Finding, fresh: Analysis) -> float | None:
    """The number that the finding is about, in SI; None where only one place knows it."""
    if finding.code in ("power.total", "power.two-circuits"):
        return _circuit_amps(before, finding, fresh)
    if finding.code == "power.drop":
        state = fresh.power.appliances.get(finding.items[0], {}).get(EVERYTHING_ON)
        return None if state is None or not state.fed else state.drop_share
    if finding.code == "body.overlap":
        return _shared_depth(fresh, *finding.items)
    if finding.code in ("body.tilt", "body.tilt-heated"):
        return _tilt_deg(before, finding, fresh)
    if finding.code == "water.flow":
        return None
    return None


def _circuit_amps(before: Analysis, finding: Finding, fresh: Analysis) -> float | None:
    """The heaviest conductor, not the limit it is held against."""
    letter = dict(finding.title.values)["letter"]
    key = next(one.key for one in before.power.circuits if one.letter == letter)
    circuit = fresh.power.circuit(key)
    return None if circuit is None else circuit.amps.get(EVERYTHING_ON, 0.0)


def _shared_depth(fresh: Analysis, one: str, other: str) -> float | None:
    """How far two bodies stand in each other on the plan, by polygons of their corners."""
    a, b = fresh.build.item(one), fresh.build.item(other)
    if a is None or b is None or a.level != b.level:
        return None
    both = shapely.intersection(Polygon(corners(a)), Polygon(corners(b)))
    if both.is_empty:
        return 0.0
    x1, y1, x2, y2 = both.bounds
    depth = min(x2 - x1, y2 - y1)
    return 0.0 if depth < 0.0006 else None


def _tilt_deg(before: Analysis, finding: Finding, fresh: Analysis) -> float | None:
    """arctan of the distance to the edge over the height of the centre of gravity (statics)."""
    standing = before.body.tilts[0]
    if finding.value is None or finding.value.si != standing.worst_deg:
        return None
    worst = fresh.body.tilts[0]
    (ax, ay), (bx, by), at = worst.a, worst.b, worst.worst
    length = math.hypot(bx - ax, by - ay)
    away = ((bx - ax) * (at.y_m - ay) - (by - ay) * (at.x_m - ax)) / length
    return math.degrees(math.atan2(away, at.z_m))


# --- mending ---------------------------------------------------------------------------------


def check_mended(before: Analysis, mended: Mended) -> None:
    """The end of it is a build on its own, with as many stops as are told."""
    fresh = analyse(decode(encode(mended.after.build)))
    stops = [one for one in fresh.findings if one.severity == "stop"]
    assert [key_of(one) for one in stops] == [key_of(one.finding) for one in mended.remaining]
    assert all(one.reason for one in mended.remaining)
    assert mended.cleared == before.count("stop") - len(stops)
    assert all(one.severity != "stop" for one in mended.come)
    last = before
    for step in mended.steps:
        assert step.analysis.count("stop") <= last.count("stop")
        last = step.analysis
    assert (mended.after.build == before.build) == (not mended.steps)
