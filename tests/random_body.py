"""Carts of any shape with anything on them."""

import building as b
from hypothesis import strategies as st

from cartlayout.build import (
    Build,
    CartLeg,
    Caster,
    Handle,
    Item,
    Leaf,
    Passage,
    Point,
    RearPanel,
    Venue,
    Zone,
)
from cartlayout.stock import stock
from cartlayout.units import Length, Mass

SIDES = ("rear", "front", "left", "right")
SHAPES = ((), ((0, 0), (72, 0), (72, 12), (36, 12), (36, 30), (0, 30)), ((0, 0), (9, 9), (18, 0)))


def inches(least: int, most: int) -> st.SearchStrategy[Length]:
    return st.integers(least, most).map(lambda number: Length(f"{number} in"))


@st.composite
def bodies(draw: st.DrawFn) -> Build:
    """A cart with legs, leaves, a panel, zones and passages, or without; stock items anywhere."""
    specifications = [entry.specification for entry in stock() if entry.specification is not None]
    chosen = draw(st.lists(st.sampled_from(specifications), max_size=9))
    items = [
        Item(
            id=f"i{at}",
            specification=specification,
            level=draw(st.sampled_from(("counter", "shelf", "base", "venue", "nowhere"))),
            x=draw(inches(-5, 80)),
            y=draw(inches(-5, 35)),
            rotation=draw(st.sampled_from([0.0, 90.0, 180.0, 33.0])),
            mount=draw(st.sampled_from(["standing", "hanging", "wall"])),
            raised=draw(inches(-8, 8)),
            fill=draw(st.sampled_from([0.0, 0.4, 1.0])),
            group=draw(st.sampled_from([None, "module"])),
            travels=draw(st.booleans()),
        )
        for at, specification in enumerate(chosen)
    ]
    return b.build(*items, cart=draw(carts()), venue=Venue(passages=tuple(draw(passages()))))


@st.composite
def carts(draw: st.DrawFn):  # type: ignore[no-untyped-def]
    return b.cart(
        draw(st.sampled_from(["72 in", "40 in"])),
        operator_side=draw(st.sampled_from(SIDES)),
        outline=tuple(
            Point(x=Length(f"{x} in"), y=Length(f"{y} in"))
            for x, y in draw(st.sampled_from(SHAPES))
        ),
        corner_radius=draw(inches(0, 6)),
        empty_mass=Mass(f"{draw(st.integers(0, 90))} kg"),
        centre_of_mass_height=draw(inches(0, 30)),
        casters=tuple(
            Caster(x=draw(inches(0, 72)), y=draw(inches(0, 30)), rating=Mass("50 kg"))
            for _ in range(draw(st.integers(0, 6)))
        ),
        legs=tuple(
            CartLeg(x=draw(inches(0, 72)), y=draw(inches(0, 30)), width=draw(inches(0, 3)))
            for _ in range(draw(st.integers(0, 3)))
        ),
        handle=draw(st.sampled_from([None, Handle(side="left", height=Length("40 in"))])),
        rear_panel=draw(
            st.sampled_from([None, RearPanel(bottom=Length("30 in"), top=Length("50 in"))])
        ),
        leaves=tuple(
            Leaf(
                name=f"leaf {at}", side=draw(st.sampled_from(SIDES)), start=draw(inches(0, 20)),
                length=draw(inches(0, 30)), depth=draw(inches(0, 14)), up=draw(st.booleans()),
                mass=Mass("3 kg"), rating=draw(st.sampled_from([None, Mass("10 kg")])),
            )
            for at in range(draw(st.integers(0, 2)))
        ),
        zones=tuple(
            Zone(
                name=f"zone {at}", kind=draw(st.sampled_from(["opening", "no-go", "reserved"])),
                level=draw(st.sampled_from(["counter", "base", "nowhere"])),
                x=draw(inches(-5, 60)), y=draw(inches(-5, 25)), width=draw(inches(0, 20)),
                depth=draw(inches(0, 20)), round=draw(st.booleans()),
            )
            for at in range(draw(st.integers(0, 3)))
        ),
    )  # fmt: skip


@st.composite
def passages(draw: st.DrawFn) -> list[Passage]:
    size = st.one_of(st.none(), inches(0, 90))
    return [
        Passage(
            name=draw(st.sampled_from(["", "Way"])),
            kind=draw(st.sampled_from(["door", "lift", "ramp", "vehicle"])),
            width=draw(inches(0, 90)), height=draw(size), length=draw(size),
            inner_width=draw(size), rise=draw(size),
            load=draw(st.sampled_from([None, Mass("100 kg")])),
        )
        for _ in range(draw(st.integers(0, 3)))
    ]  # fmt: skip
