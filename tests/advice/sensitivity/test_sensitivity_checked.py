"""A figure that was checked and is as it was taken turns nothing and is asked for no more."""

import pytest

from cartlayout.advice.sensitivity import can_be_checked, checked, unknowns
from cartlayout.analysis import analyse
from cartlayout.build.edits import EditError, remove
from cartlayout.build.file import load
from cartlayout.data import sample_builds

SAMPLES = sorted(sample_builds().glob("*.cart"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_what_was_checked_is_asked_for_no_more(path):
    build = load(path)
    before = unknowns(build)
    keys = {one.key for one in before}
    said = [(one.severity, one.code, one.items) for one in analyse(build).findings]
    some = [one for one in before if can_be_checked(one)]
    assert len(some) > 15
    for one in some:
        after = checked(build, one)
        assert {each.key for each in unknowns(after)} == keys - {one.key}, one.key
    for one in some:
        build = checked(build, one)
    assert not [one for one in unknowns(build) if can_be_checked(one)]
    assert [(one.severity, one.code, one.items) for one in analyse(build).findings] == said


def test_what_nobody_knows_cannot_be_as_taken():
    build = load(SAMPLES[0])
    unsure = [one for one in unknowns(build) if one.taken is None or one.cause == "planned"]
    assert unsure
    for one in unsure:
        assert not can_be_checked(one)
        with pytest.raises(EditError):
            checked(build, one)


def test_an_item_that_is_gone():
    build = load(SAMPLES[0])
    one = next(each for each in unknowns(build) if each.item and can_be_checked(each))
    with pytest.raises(EditError):
        checked(remove(build, (one.item,)), one)
