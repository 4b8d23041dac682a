"""The note on tubes that turn tighter than they bend."""

import building as b
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Build, PipeFitting, TubeRun
from cartlayout.build.edits import replace_run
from cartlayout.units import Length, UnitSystem

CODE = "network.tight-bends"


def bent(radius: str, elbows: int = 0) -> Build:
    """From a jug on the base to a pump on the counter: three bends at least."""
    build = b.build(
        b.tank("jug", at=("15 in", "10 in")),
        b.pump("pump", level="counter", at=("50 in", "20 in")),
        b.tube("jug", "pump", None),
    )
    (run,) = build.tubes
    fittings = (PipeFitting(name="90° elbow", loss_coefficient=0.9, count=elbows),)
    tube = replace(run.tube, least_bend_radius=Length(radius))
    return replace_run(build, replace(run, tube=tube, fittings=fittings if elbows else ()))


def notes(build: Build) -> list[str]:
    analysis = analyse(build)
    return [one.text(UnitSystem.METRIC) for one in analysis.findings if one.code == CODE]


def test_a_supple_tube_has_room() -> None:
    assert notes(bent("2 mm")) == []


def test_a_stiff_tube_is_named_with_its_room_and_its_radius() -> None:
    # The ports are 15 in from the rear edge, where the tube goes up: no bend there has more room.
    (text,) = notes(bent("20 in"))
    assert "1 tube turns tighter than it bends" in text
    assert "508 mm" in text
    assert "jug" in text


def test_elbows_take_the_tight_bends_off() -> None:
    build = bent("20 in")
    assert notes(bent("20 in", elbows=9)) == []
    (finding,) = (one for one in analyse(build).findings if one.code == CODE)
    assert finding.severity == "note"
    assert finding.value is not None
    assert finding.limit is not None
    assert finding.value.si < finding.limit.si
    assert isinstance(build.run(finding.runs[0]), TubeRun)
