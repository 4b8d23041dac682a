"""The two sheets of diagrams: what they say of builds with little or nothing on them."""

import building as b
import pytest
from documents.packet.technical import job_of

from cartlayout.build import Build
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.packet.content import Content, Heading, Paragraph, Picture
from cartlayout.documents.packet.pages import lay_out
from cartlayout.documents.packet.sheets.one_line_power import one_line_power
from cartlayout.documents.packet.sheets.one_line_water import one_line_water
from cartlayout.documents.sheet.elements import SMALL

SAMPLES = sorted(sample_builds().glob("*.cart"))


def said(content: Content) -> list[str]:
    return [one.text for one in content.parts if isinstance(one, (Heading, Paragraph))
            and isinstance(one.text, str)]  # fmt: skip


def test_an_empty_build_says_that_there_is_nothing():
    job = job_of(b.build())
    power, water = one_line_power(job), one_line_water(job)
    assert "No outlet, generator or battery is on the plan." in said(power)
    assert "No tube is on the plan." in said(water)
    assert not power.applies
    assert not water.applies
    for content in (power, water):
        assert len(lay_out(content, job).poured) == 1


def test_what_hangs_free_is_listed_under_the_diagram():
    build = b.build(
        b.mains("mains"),
        b.tap("tap"),
        b.tap("other"),
        b.outlet("outlet"),
        b.load("lamp", watts=40),
        b.tube("mains", "tap"),
        b.tube("other.inlet", None, run_id="loose"),
    )
    job = job_of(build)
    assert any("loose" not in line and "hangs free" in line for line in said(one_line_water(job)))
    assert "lamp: no supply reaches it" in said(one_line_power(job))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda one: one.stem)
def test_no_letters_are_smaller_than_the_least(path):
    """Lettering of drawings is no less than 1.8 mm high (ISO 3098-1, from memory)."""
    job = job_of(load(path))
    for make in (one_line_power, one_line_water):
        content = make(job)
        assert any(isinstance(one, Picture) for one in content.parts)
        for page in lay_out(content, job).pages():
            assert min(text.size for text in page.texts) >= SMALL - 1e-9


def hall(count: int) -> Build:
    """One box whose every branch feeds two lamps: far too much for a page."""
    branches = [b.branch(str(at), 20, "L1", f"{at}a", f"{at}b") for at in range(count)]
    things = [b.outlet("feed", volts=240, breaker=50, receptacle="14-50R", ways=1,
                       electrical={"system": "split-phase"}),
              b.box("box", branches), b.wire("box", "feed.1")]  # fmt: skip
    for at in range(count):
        for side in "ab":
            things.append(b.load(f"lamp {at}{side}", watts=40))
            things.append(b.wire(f"lamp {at}{side}", f"box.{at}{side}"))
    return b.build(*things)


def test_a_build_too_large_goes_on_over_pages_with_every_load_once():
    job = job_of(hall(24))
    pages = lay_out(one_line_power(job), job).pages()
    assert len(pages) > 2
    words = [text.text for page in pages for text in page.texts]
    for at in range(24):
        for side in "ab":
            assert words.count(f"lamp {at}{side}") == 1
    for page in pages:
        assert min(text.size for text in page.texts) >= SMALL - 1e-9
        inside = page.area.grown(0.5)
        assert all(inside.holds(text.box) for text in page.texts if text.text.startswith("lamp"))
