"""A frame is asked by several threads at once: the window's and those that try remedies."""

import threading

import pytest
import shapely

from cartlayout.body.frame import make_frame
from cartlayout.body.solve import solve_body
from cartlayout.build.edits import move
from cartlayout.build.file import load
from cartlayout.data import sample_builds

SAMPLES = sorted(sample_builds().glob("*.cart"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_no_shape_of_a_frame_is_prepared(path) -> None:
    """GEOS makes the index of a prepared shape when it is first asked, without a lock."""
    frame = make_frame(load(path).cart)
    shapes = [*frame.surfaces.values(), *frame.reached.values(), frame.outline]
    assert shapes
    assert not any(shapely.is_prepared(one) for one in shapes if one is not None)


def test_threads_that_share_a_frame_find_what_one_finds_alone() -> None:
    build = load(sample_builds() / "market_cart_first_try.cart")
    loose = [one.id for one in build.items if one.level != "venue"][:6]
    moved = [move(build, (one,), 0.3, 0.1) for one in loose]
    alone = [solve_body(one).clashes for one in moved]
    for _ in range(10):
        base = solve_body(build)
        found: list[list[object]] = []

        def ask(base=base, found=found) -> None:
            found.append([solve_body(one, base).clashes for one in moved])

        threads = [threading.Thread(target=ask) for _ in range(3)]
        for one in threads:
            one.start()
        for one in threads:
            one.join()
        assert found == [alone] * 3
