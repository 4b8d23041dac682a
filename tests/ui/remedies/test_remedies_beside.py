"""The window and a search for remedies at the same time, over one analysis.

Both take over from the settled analysis what still holds. What either says must be the same as
when it is alone: an analysis follows from its build, whoever else asks meanwhile.
"""

import math
import random
import threading

from ui_samples import sample

from cartlayout.advice.remedies import mended
from cartlayout.analysis import Analysis, analyse
from cartlayout.build import edits

ROUNDS = 40


def _same(one: Analysis, other: Analysis) -> bool:
    """The same is said of the same; where solving starts makes the last digits differ."""
    if [a.sort_key() for a in one.findings] != [b.sort_key() for b in other.findings]:
        return False
    pairs = zip(one.findings, other.findings, strict=True)
    return all(
        math.isclose(a.value.si, b.value.si, rel_tol=1e-5, abs_tol=1e-9)
        for a, b in pairs
        if a.value is not None and b.value is not None
    )


def test_edits_beside_a_search_say_what_they_say_alone() -> None:
    build = sample("market_cart_first_try")
    settled = analyse(build)
    dice = random.Random(11)
    loose = [item.id for item in build.items if item.level != "venue"]
    failed: list[BaseException] = []
    found = []

    def search() -> None:
        try:
            found.append(mended(settled))
        except BaseException as error:
            failed.append(error)

    thread = threading.Thread(target=search)
    thread.start()
    tried = []
    while thread.is_alive() or len(tried) < ROUNDS:
        moved = edits.move(
            build, (dice.choice(loose),), dice.uniform(-0.2, 0.2), dice.uniform(-0.2, 0.2)
        )
        tried.append(analyse(moved, settled))
        if len(tried) >= 5 * ROUNDS:
            break
    thread.join()
    assert not failed
    for one in tried[:ROUNDS]:
        assert _same(one, analyse(one.build))
    assert _same(found[0].after, analyse(found[0].after.build))
    assert [one.title for one in found[0].steps] == [one.title for one in mended(settled).steps]
