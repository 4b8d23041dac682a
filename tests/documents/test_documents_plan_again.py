"""A picture made with the help of the one before is the one that is made from nothing."""

import random

import pytest
from building_many import hall
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Build, edits
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.plan import PlanOptions, plan_picture
from cartlayout.documents.plan.lanes import lay

SAMPLES = [path.stem for path in sorted(sample_builds().glob("*.cart"))]


def some_step(chance: random.Random, build: Build) -> Build:
    """A thing is moved, turned or taken away, or a run is."""
    what = chance.random()
    item = chance.choice(build.items)
    if what < 0.7:
        return edits.move(build, [item.id], chance.uniform(-0.2, 0.2), chance.uniform(-0.1, 0.1))
    if what < 0.8:
        return edits.rotate(build, [item.id], 90.0)
    if what < 0.9 and build.runs:
        return edits.remove(build, run_ids=[chance.choice(build.runs).id])
    return edits.replace_item(build, replace(item, label=f"Thing {chance.randrange(9)}"))


@pytest.mark.parametrize("name", [*SAMPLES, "hall"])
def test_a_picture_with_and_without_the_one_before(name: str) -> None:
    chance = random.Random(name)
    build = hall(60) if name == "hall" else load(sample_builds() / f"{name}.cart")
    analysis, picture = analyse(build), None
    for step in range(40):
        options = PlanOptions(level=build.cart.levels[step // 15 % len(build.cart.levels)].name)
        picture = plan_picture(build, analysis, options, picture)
        assert picture == plan_picture(build, analysis, options)
        build = some_step(chance, build)
        analysis = analyse(build, analysis)


def test_what_is_as_it_was_is_the_same_object() -> None:
    build = load(sample_builds() / "market_cart.cart")
    analysis = analyse(build)
    first = plan_picture(build, analysis)
    moved = edits.move(build, ["kettle"], 0.01, 0.0)
    second = plan_picture(moved, analyse(moved, analysis), None, first)
    known = {body.id: body for body in first.bodies}
    anew = {body.id for body in second.bodies if body is not known[body.id]}
    assert "kettle" in anew
    assert len(anew) <= 3, "the kettle, and what now has something to say about it"


def test_lanes_with_and_without_those_before() -> None:
    """Square lines that come and go among others that stay."""
    chance = random.Random(5)

    def line() -> tuple[tuple[float, float], ...]:
        x, y = chance.randrange(0, 900, 10), chance.randrange(0, 600, 10)
        across, down = chance.randrange(-300, 300, 10), chance.randrange(-300, 300, 10)
        return ((x, y), (x + across, y), (x + across, y + down), (x, y + down))

    lines = {f"run{n}": line() for n in range(24)}
    before = None
    for _ in range(150):
        before = lay(lines, 22.0, 8.0, 64.0, before)
        assert before.drawn == lay(lines, 22.0, 8.0, 64.0).drawn
        lines = dict(lines)
        key = chance.choice(list(lines))
        if chance.random() < 0.15 and len(lines) > 6:
            del lines[key]
        elif chance.random() < 0.15:
            lines = {**lines, f"new{chance.random()}": line()}
        else:
            lines[key] = line()
