"""Whatever number a finding tells, somebody can check it by hand."""

from pathlib import Path

import pytest
from building import build, cart, item

from cartlayout.analysis import analyse
from cartlayout.build import CartLeg
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.units import Length, UnitSystem
from cartlayout.workings.find import working

SAMPLES = sorted(sample_builds().glob("*.cart"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_finding_with_a_number_has_its_working(path: Path):
    analysis = analyse(load(path))
    told = [one for one in analysis.findings if one.value is not None]
    assert told
    for one in told:
        assert one.number is not None, one.code
        assert working(analysis, one.number) is not None, one.code


def test_what_stands_in_two_legs_has_a_working_for_each():
    """A box from 12 to 24 in; posts 10 to 14, 20 to 26: 2 and 4 in overlap, by hand."""
    posts = [("12 in", "20 in", "4 in"), ("23 in", "20 in", "6 in")]
    legs = tuple(CartLeg(Length(x), Length(y), Length(width)) for x, y, width in posts)
    box = item("box", at=("18 in", "20 in"), size=("12 in", "12 in", "12 in"), level="base")
    analysis = analyse(build(box, cart=cart(legs=legs)))
    found = [one for one in analysis.findings if one.code == "body.leg"]
    assert len({one.number for one in found}) == 2
    shown = set()
    for one in found:
        made = working(analysis, one.number)
        assert made is not None
        assert made.result.si == pytest.approx(one.value.si)
        shown.add(made.result.shown(UnitSystem.US))
    assert shown == {"2.0 in", "4.0 in"}
