"""The clearance and the weight overlay: what they draw follows from the body's numbers."""

import math

import building as b
import pytest
from msgspec.structs import replace

from cartlayout.analysis import analyse
from cartlayout.build import Build, Caster, Clearance, Item, Strip
from cartlayout.build.file import load
from cartlayout.data import sample_builds
from cartlayout.documents.export import export_plan
from cartlayout.documents.plan import PlanOptions, PlanPicture, plan_picture
from cartlayout.documents.plan.clearance import ClearanceOverlay
from cartlayout.documents.plan.weight import WeightOverlay
from cartlayout.units import Current, Length, Mass, UnitSystem

INCH = 25.4


def picture(build: Build, *overlays: str, level: str | None = None) -> PlanPicture:
    options = PlanOptions(level=level, overlays=frozenset(overlays))  # type: ignore[arg-type]
    return plan_picture(build, analyse(build), options)


def spaces(build: Build, level: str | None = None) -> ClearanceOverlay:
    made = picture(build, "clearance", level=level).clearance
    assert made is not None
    return made


def weight(build: Build) -> WeightOverlay:
    made = picture(build, "weight").weight
    assert made is not None
    return made


def needing(item_id: str, need: Clearance, at: tuple[str, str], **more: object) -> Item:
    return b.item(item_id, at=at, spec={"clearances": (need,), "operated": True}, **more)


def wheeled(*items: Item, **more: object) -> Build:
    casters = tuple(
        Caster(x=Length(x), y=Length(y), rating=Mass("90 kg"))
        for x in ("4 in", "68 in") for y in ("4 in", "26 in")
    )  # fmt: skip
    cart = b.cart(casters=casters, empty_mass=Mass("60 kg"),
                  centre_of_mass_height=Length("20 in"), operator_side="front")  # fmt: skip
    return b.build(*items, cart=cart, **more)


def test_nobody_gets_them_unasked() -> None:
    made = plan_picture(wheeled(), analyse(wheeled()))
    assert made.clearance is None
    assert made.weight is None


def test_each_space_lies_beside_its_body_with_its_letter() -> None:
    need = Clearance(purpose="lid", front=Length("6 in"), top=Length("3 in"))
    made = spaces(wheeled(needing("m", need, ("36 in", "10 in"))))
    (space,) = made.spaces
    assert (space.item, space.letter, space.blocked) == ("m", "L", False)
    ys = [y for _, y in space.corners]
    assert (min(ys), max(ys)) == (pytest.approx(15 * INCH), pytest.approx(21 * INCH))
    assert [one.text for one in made.above] == ["↑L"]


def test_a_space_that_something_stands_in_is_marked() -> None:
    need = Clearance(purpose="work", right=Length("6 in"))
    made = spaces(
        wheeled(needing("m", need, ("36 in", "15 in")), b.item("n", at=("50 in", "15 in")))
    )
    assert [one.blocked for one in made.spaces] == [True]


def test_only_the_shown_level_asks_for_space() -> None:
    need = Clearance(left=Length("2 in"))
    build = wheeled(needing("m", need, ("36 in", "15 in"), level="base"))
    assert spaces(build).spaces == ()
    assert len(spaces(build, "base").spaces) == 1


def test_reach_lines_lie_20_and_25_inches_from_the_operator() -> None:
    # 2010 ADA Standards 308.2.2; the cart is 30 in deep, the operator at its front.
    lines = spaces(wheeled()).reach
    assert [line.a[1] for line in lines] == pytest.approx([10 * INCH, 5 * INCH])
    assert all((line.a[0], line.b[0]) == (0.0, pytest.approx(72 * INCH)) for line in lines)


def test_what_is_far_to_reach_has_its_number() -> None:
    far = needing("m", Clearance(), ("36 in", "3 in"), size=("8 in", "4 in", "8 in"))
    made = picture(wheeled(far), "clearance")
    assert made.clearance is not None
    assert [one.too_far for one in made.clearance.far] == [False]
    texts = {note.text: note.state for note in made.notes}
    assert texts["25.0 in"] == ""  # its front is at 5 of 30 in: exactly the limit


def test_a_drip_stands_on_what_it_falls_on() -> None:
    jug = b.tank("jug", at=("36 in", "15 in"), level="counter")
    strip = b.item("strip", electrical=Strip(rating=Current("15 A")), at=("40 in", "15 in"),
                   level="shelf", size=("8 in", "2 in", "2 in"))  # fmt: skip
    (drip,) = spaces(wheeled(jug, strip)).drips
    assert drip.shielded
    # The jug ends at 41 in, 25 mm more are wet, and the strip begins at 36 in.
    assert drip.at == (pytest.approx((36 + 41) / 2 * INCH + 12.5), pytest.approx(15 * INCH))


def test_the_support_is_what_the_wheels_span() -> None:
    made = weight(wheeled())
    corners = {(round(x / INCH, 6), round(y / INCH, 6)) for x, y in made.support}
    assert corners == {(x, y) for x in (4, 68) for y in (4, 26)}


def test_the_safe_area_keeps_the_lean_at_todays_height() -> None:
    # A centre 20 in high and 10 degrees (IEC 60335-1 clause 20.1): 20 x tan(10) = 3.53 in.
    made = weight(wheeled())
    xs = [x / INCH for x, _ in made.safe]
    assert min(xs) == pytest.approx(4 + 20 * math.tan(math.radians(10)), abs=1e-6)
    assert max(xs) == pytest.approx(68 - 3.53, abs=0.005)
    assert made.state == "ok"


def test_the_path_leads_from_fresh_to_waste() -> None:
    fresh = b.tank("fresh", "5 gal", at=("12 in", "15 in"), level="base")
    waste = b.tank("waste", "6 gal", "waste", at=("60 in", "15 in"), level="base")
    made = weight(wheeled(fresh, waste))
    xs = [x for x, _ in made.path]
    assert xs == sorted(xs)
    assert xs[0] < xs[-1]
    assert [one.role for one in made.centres] == ["now", "full", "served", "worst"]


def test_every_wheel_has_its_load_and_rating() -> None:
    notes = picture(wheeled(), "weight").notes
    # 60 kg in the middle of four wheels: 15 kg = 33 lb on each, rated for 90 kg = 198 lb.
    assert [note.text for note in notes if note.key.startswith("foot")] == ["33 / 198 lb"] * 4
    assert {note.state for note in notes if note.key.startswith("foot")} == {"ok"}
    heavy = wheeled(b.item("a", mass="700 kg"))
    assert "stop" in {note.state for note in picture(heavy, "weight").notes}


def test_a_cart_without_wheels_has_no_support_to_draw() -> None:
    made = weight(b.build())
    assert (made.support, made.safe, made.edge, made.centres) == ((), (), None, ())
    assert made.box is None


def test_the_sheet_lists_the_body_and_explains_the_letters(tmp_path) -> None:  # type: ignore[no-untyped-def]
    market = load(sample_builds() / "market_cart.cart")
    plain, full = tmp_path / "plain.svg", tmp_path / "full.svg"
    export_plan(market, analyse(market), plain)
    export_plan(market, analyse(market), full, overlays=("clearance", "weight"))
    for words in ("rear 16°", "reach 20 in", "Worst caster", "H hot or steaming"):
        assert words in full.read_text()
        assert words not in plain.read_text()
    assert "<image" not in full.read_text()


def test_both_read_in_metric() -> None:
    build = replace(wheeled(), units="metric")
    made = plan_picture(
        build,
        analyse(build),
        PlanOptions(overlays=frozenset(("weight", "clearance")), system=UnitSystem.METRIC),
    )
    texts = {note.text for note in made.notes}
    assert {"15 / 90 kg", "reach 508 mm", "farthest 635 mm"} <= texts
