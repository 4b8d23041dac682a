"""Random builds for property tests: connected as people would, or as nobody should."""

import building as b
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Build, End, Item, Run, TubeRun, Wire
from cartlayout.build.edits import EditError
from cartlayout.network import connect
from cartlayout.stock import stock
from cartlayout.units import Length

LEVELS = ("counter", "shelf", "base", "venue", "nowhere")


@st.composite
def builds(draw: st.DrawFn, most_items: int = 10, most_runs: int = 14) -> Build:
    """A build of stock equipment anywhere, some runs that fit and some that do not."""
    specifications = [entry.specification for entry in stock() if entry.specification is not None]
    chosen = draw(st.lists(st.sampled_from(specifications), max_size=most_items))
    items: list[Item] = []
    for number, specification in enumerate(chosen):
        x, y = draw(st.tuples(st.integers(-20, 90), st.integers(-30, 50)))
        items.append(
            Item(
                id=f"i{number}",
                specification=specification,
                level=draw(st.sampled_from(LEVELS)),
                x=Length(f"{x} in"),
                y=Length(f"{y} in"),
                rotation=draw(st.sampled_from([0.0, 90.0, 33.0])),
                fill=draw(st.sampled_from([0.0, 0.4, 1.0])),
            )
        )
    build = replace(b.build(), items=tuple(items))
    ends = [End(item=item.id, port=port.id) for item in items for port in item.specification.ports]
    if not ends:
        return build
    pairs = draw(st.lists(st.tuples(st.sampled_from(ends), st.sampled_from(ends)), max_size=40))
    for one, other in pairs:
        if len(build.runs) < most_runs:
            build = _joined(build, one, other)
    wild = draw(st.lists(_wild(ends), max_size=3))
    named: list[Run] = [replace(run, id=f"wild{at}") for at, run in enumerate(wild)]
    return replace(build, runs=(*build.runs, *named))


def _joined(build: Build, one: End, other: End) -> Build:
    try:
        return connect(build, one, other)[0]
    except EditError:
        return build


def _wild(ends: list[End]) -> st.SearchStrategy[Run]:
    """A run between any two ports, or none: what a damaged or hand-written file may hold."""
    end = st.sampled_from([*ends, End(item="ghost", port="x"), End(item=ends[0].item, port="?")])
    some_tube = b.tube("a", "b", None).tube

    def tube(a: End, other: End | None) -> Run:
        return TubeRun(id="t", a=a, b=other, tube=some_tube)

    def wire(a: End, other: End | None) -> Run:
        return Wire(id="w", a=a, b=other)

    return st.builds(lambda make, a, z: make(a, z), st.sampled_from([tube, wire]), end,
                     st.one_of(st.none(), end))  # fmt: skip
