"""Carts nobody would draw: every sheet of drawings and the DXF come out all the same."""

import datetime
import io

import building as b
import ezdxf
import pytest
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build.cart import Point
from cartlayout.documents.dxf import dxf_bytes
from cartlayout.documents.packet.content import Job
from cartlayout.documents.packet.pages import lay_out
from cartlayout.documents.packet.sheets.elevations import elevations
from cartlayout.documents.packet.sheets.plans import plans
from cartlayout.documents.packet.sheets.set_out import set_out
from cartlayout.units import Length, UnitSystem

pytestmark = pytest.mark.usefixtures("qapp")
CART = b.cart()
BARE = replace(CART, levels=())
TWINS = replace(CART, levels=(CART.levels[0], CART.levels[0]))
STRANGE = 'a/b:*?"<>|=`,;'
NAMED = replace(CART, levels=(replace(CART.levels[0], name=STRANGE),))
BOW_TIE = b.cart(
    outline=tuple(
        Point(x=Length(f"{x} in"), y=Length(f"{y} in"))
        for x, y in ((0, 0), (60, 30), (60, 0), (0, 30))
    )
)
BUILDS = {
    "no levels": b.build(cart=BARE),
    "things without a level": b.build(
        b.item("x"), b.load("k"), b.outlet("w"), b.wire("k", "w"), cart=BARE
    ),
    "two levels of one name": b.build(b.item("x"), cart=TWINS),
    "a name the format forbids": b.build(b.item("x", level=STRANGE), cart=NAMED),
    "as long as a bus": b.build(
        b.item("x", size=("400 in", "300 in", "200 in")), cart=b.cart("700 in", "300 in")
    ),
    "no height": b.build(b.item("x", size=("10 in", "10 in", "0 in"))),
    "below the floor": b.build(b.item("x", raised=Length("-50 in"))),
    "a name without a blank": b.build(b.item("x", label="unbreakable" * 8)),
    "an outline that crosses itself": b.build(cart=BOW_TIE),
}


@pytest.mark.parametrize("name", BUILDS)
def test_drawings_of(name):
    build = BUILDS[name]
    job = Job(build, analyse(build), UnitSystem.METRIC, "A4", datetime.date(2026, 3, 1))
    for maker in (elevations, plans, set_out):
        assert lay_out(maker(job), job).pages()
    doc = ezdxf.read(io.StringIO(dxf_bytes(job).decode("utf-8")))
    audit = doc.audit()
    assert not audit.errors
    assert not audit.fixes
    (table,) = (part for part in set_out(job).parts if getattr(part, "key", "") == "set-out")
    assert len(table.rows) == len(build.items)
