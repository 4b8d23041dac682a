"""What tests of the packet share: jobs, tables of any sort, what a reader finds on a page."""

import datetime
import itertools
from functools import cache

import building as b
from hypothesis import strategies as st

from cartlayout.advice.sensitivity import all_found, keep
from cartlayout.analysis import analyse
from cartlayout.build import Build
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.packet.content import Column, Content, Job, Part, Table
from cartlayout.documents.packet.pages import Page
from cartlayout.documents.plan.picture import Box
from cartlayout.documents.sheet.elements import TextItem
from cartlayout.units import UnitSystem, Value

SAMPLES = sorted(path.stem for path in sample_builds().glob("*.cart"))
DATE = datetime.date(2026, 3, 1)


@cache
def _analysed(name: str):
    return analyse(load(sample_builds() / f"{name}.cart"))


@cache
def _unknowns(name: str):
    return all_found(_analysed(name))


def job_of(build: Build, system: UnitSystem = UnitSystem.US, paper: str = "letter") -> Job:
    return Job(build, analyse(build), system, paper, DATE, "trial.cart")


def sample_job(name: str, system: UnitSystem = UnitSystem.US, paper: str = "letter") -> Job:
    analysis = _analysed(name)
    keep(analysis, _unknowns(name))  # takes seconds, and is the same for every test
    return Job(analysis.build, analysis, system, paper, DATE, f"{name}.cart")


def plain_job(system: UnitSystem = UnitSystem.US, paper: str = "letter") -> Job:
    """About a cart with nothing on it."""
    return job_of(b.build(), system, paper)


def content(*parts: Part, **more) -> Content:
    return Content("trial", "A sheet", "builder", parts, **more)


# Two characters each with one glyph in the font: a PDF names only one of the two.
_SAME_GLYPH = str.maketrans({"\u02ee": "\u201d", "\u02bc": "\u2019"})


def packed(text: str) -> str:
    """Without blanks: where lines are broken does not matter."""
    return "".join(text.translate(_SAME_GLYPH).split())


def read(page: Page) -> str:
    """All text of a page in the order it is written, without blanks."""
    return packed(" ".join(one.text for one in page.texts))


def boxes_apart(page: Page) -> None:
    """No text lies on another, none is outside the printable part of the paper."""
    texts = [(one.text, _box(one)) for one in page.texts if one.text]
    texts.sort(key=lambda one: one[1].y)
    for place, (one, a) in enumerate(texts):
        for other, c in itertools.islice(texts, place + 1, None):
            if c.y > a.bottom:
                break
            wide = min(a.right, c.right) - max(a.x, c.x)
            high = min(a.bottom, c.bottom) - max(a.y, c.y)
            assert wide <= 0.02 or high <= 0.02, f"'{one}' lies on '{other}'"
    for text, box in texts:
        # Office printers leave about a quarter of an inch blank (common practice, no source).
        assert box.x >= 6.35, text
        assert box.y >= 6.35, text
        assert box.right <= page.width - 6.35, text
        assert box.bottom <= page.height - 6.35, text


def _box(item: TextItem) -> Box:
    """Of a text that may be turned by a quarter."""
    box, x, y = item.box, item.x, item.baseline
    if not item.turn:
        return box
    assert abs(item.turn) == 90.0, item
    way = 1.0 if item.turn > 0 else -1.0
    corners = [(x - way * (cy - y), y + way * (cx - x)) for cx in (box.x, box.right)
               for cy in (box.y, box.bottom)]  # fmt: skip
    return Box.around(corners)


words = st.text(st.sampled_from("abcdefg AB-/=+0123456789é°"), max_size=60).map(str.strip)
long_words = st.text(st.sampled_from("abcdefgh"), min_size=60, max_size=400)
cells = st.one_of(
    st.none(),
    words,
    words,
    long_words,
    st.floats(-1e5, 1e5).map(lambda number: Value(number, "current")),
    st.floats(0, 1e7).map(lambda number: Value(number, "pressure")),
)


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """Any table: rows too short, words wider than the page, many columns."""
    count = draw(st.integers(1, 14))
    columns = tuple(
        Column(
            draw(words),
            draw(st.sampled_from(["", "current", "pressure"])),
            draw(st.sampled_from(["left", "right"])),
            draw(st.floats(0.1, 3.0)),
        )
        for _ in range(count)
    )
    rows = draw(st.lists(st.lists(cells, max_size=count).map(tuple), max_size=30))
    marks = draw(st.lists(st.sampled_from(["", "ok", "care", "stop"]), max_size=len(rows)))
    return Table(
        "trial",
        draw(words),
        columns,
        tuple(rows),
        tuple(marks),
        totals=draw(st.one_of(st.just(()), st.lists(cells, max_size=count).map(tuple))),
        note=draw(words),
        has_boxes=draw(st.booleans()),
    )
