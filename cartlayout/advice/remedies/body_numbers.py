"""Which number of the body a finding is about, read from any analysis of the same cart."""

from collections.abc import Callable

from ...analysis import Analysis
from ...body.results import BodyResult, Clash
from ...body.travel import push_limits
from ...findings import Finding
from ...units import Value
from .model import Probe, Reader


def _clash_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    """How far two are in each other's way; of a space that is asked for, what is free of it."""
    code = finding.code.removeprefix("body.")
    mine = next(
        (one for one in analysis.body.clashes if _is_said(one, code, finding)),
        None,
    )
    if mine is None or code == "level":
        return None

    def read(of: Analysis) -> Value | None:
        if any(one not in of.body.solids for one in mine.items):
            return None
        found = [one for one in of.body.clashes if _alike(one, mine)]
        worst_m = max((one.depth_m for one in found), default=0.0)
        return Value(mine.need_m - worst_m if mine.need_m > 0 else worst_m, "length")

    return read


def _is_said(clash: Clash, code: str, finding: Finding) -> bool:
    if clash.code != code or clash.items != finding.items or finding.value is None:
        return False
    said_m = clash.need_m - clash.depth_m if clash.need_m > 0 else clash.depth_m
    return abs(said_m - finding.value.si) < 1e-9


def _alike(clash: Clash, other: Clash) -> bool:
    return (clash.code, clash.items, clash.purpose) == (other.code, other.items, other.purpose)


def _tilt_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    if finding.value is None:
        return None
    standing, moving = _standing(analysis.body), _moving(analysis.body)
    as_moved = moving is not None and moving == finding.value.si and standing != moving

    def read(of: Analysis) -> Value | None:
        found = _moving(of.body) if as_moved else _standing(of.body)
        return None if found is None else Value(found, "angle")

    return read


def _standing(body: BodyResult) -> float | None:
    return body.tilts[0].worst_deg if body.tilts else None


def _moving(body: BodyResult) -> float | None:
    tilt = body.travel.tilt if body.travel is not None else None
    return tilt.worst_deg if tilt is not None else None


def _of_body(read_si: Callable[[BodyResult], float | None], dimension: str) -> Reader:
    """Reads one number of the whole cart."""

    def reader(analysis: Analysis, finding: Finding) -> Probe | None:
        def read(of: Analysis) -> Value | None:
            found = read_si(of.body)
            return None if found is None else Value(found, dimension)

        return read if finding.value is not None else None

    return reader


def _reach_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    item_id = finding.items[0] if finding.items else ""

    def read(of: Analysis) -> Value | None:
        found = next((one for one in of.body.reaches if one.item == item_id), None)
        return None if found is None else Value(found.depth_m, "length")

    return read


def _leaf_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    name = next(
        (
            one.leaf
            for one in analysis.body.leaves
            if finding.value is not None and one.mass_kg == finding.value.si
        ),
        None,
    )
    if name is None:
        return None

    def read(of: Analysis) -> Value | None:
        found = next((one for one in of.body.leaves if one.leaf == name), None)
        return Value(found.mass_kg if found is not None else 0.0, "mass")

    return read


def _passage_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    """The check of the passage that the finding speaks of."""
    for passage in analysis.body.passages:
        for check in passage.checks:
            value = finding.value
            if value is None or (check.value, check.dimension) != (value.si, value.dimension):
                continue
            if finding.code.startswith(f"body.{passage.kind}"):
                return _check(passage.name, passage.kind, check.what, check.dimension)
    return None


def _check(name: str, kind: str, what: str, dimension: str) -> Probe:
    def read(of: Analysis) -> Value | None:
        for passage in of.body.passages:
            if (passage.name, passage.kind) == (name, kind):
                for check in passage.checks:
                    if check.what == what:
                        return Value(check.value, dimension)
        return None

    return read


def _push_reader(analysis: Analysis, finding: Finding) -> Probe | None:
    """The force of the way, and of starting or rolling, that the finding speaks of."""
    if finding.value is None:
        return None
    for at, push in enumerate(analysis.body.pushes):
        for what, value, _ in push_limits(push):
            if value == finding.value.si:
                return _force(at, what)
    return None


def _force(at: int, what: str) -> Probe:
    def read(of: Analysis) -> Value | None:
        if at >= len(of.body.pushes):
            return None
        limits = push_limits(of.body.pushes[at])
        return next((Value(value, "force") for name, value, _ in limits if name == what), None)

    return read


_CLASHES = (
    "overlap",
    "overhang",
    "leaf-down",
    "height",
    "leg",
    "panel",
    "off-panel",
    "panel-height",
    "sunk",
    "zone-opening",
    "zone-no-go",
    "zone-reserved",
    "clearance",
    "clearance-top",
    "clearance-panel",
)

READERS: dict[str, Reader] = {
    **{f"body.{code}": _clash_reader for code in _CLASHES},
    "body.tilt": _tilt_reader,
    "body.tilt-heated": _tilt_reader,
    "body.reach": _reach_reader,
    "body.leaf-load": _leaf_reader,
    "body.push": _push_reader,
    "body.counter-height": _of_body(lambda body: body.counter_m, "length"),
    "body.door*": _passage_reader,
    "body.lift": _passage_reader,
    "body.ramp*": _passage_reader,
    "body.vehicle*": _passage_reader,
}

WORDS: dict[str, str] = {
    "body.overlap": "Clear of each other instead of {before} in each other",
    "body.overhang": "On the cart instead of {before} over its edge",
    "body.leaf-down": "Something under all of it instead of {before} of nothing",
    "body.height": "It fits instead of sticking up {before} too far",
    "body.leg": "Clear of the leg instead of {before} in it",
    "body.panel": "Clear of the board instead of {before} in it",
    "body.off-panel": "On the panel instead of {before} beside it",
    "body.panel-height": "On the panel instead of {before} over its edge",
    "body.sunk": "It rests on something instead of hanging {before} deep in nothing",
    "body.zone-opening": "Clear of the hole instead of {before} over it",
    "body.zone-no-go": "Clear of the zone instead of {before} in it",
    "body.zone-reserved": "Clear of the zone instead of {before} in it",
}
"""How to say that none is left of what was in the way; the number of before stays beside it."""
