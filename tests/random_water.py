"""Random lines of water for property tests: a source, what may stand in a line, a few taps."""

import building as b
from hypothesis import strategies as st
from msgspec.structs import replace

from cartlayout.build import Build, End, Item, Load, Origin, TubeRun
from cartlayout.build.specification import Basis
from cartlayout.units import Flow, Power, Pressure, Voltage

BORES = [("4.32 mm", "6.35 mm"), ("6.35 mm", "9.53 mm"), ("9.53 mm", "12.7 mm")]
BASES: list[Basis] = ["typical", "nameplate", "measured"]


@st.composite
def lines(draw: st.DrawFn) -> Build:
    """A line that a cart might have, good or bad; the figures of each thing typical or read off."""
    items: list[Item] = []
    runs: list[TubeRun] = []
    last = _source(draw, items, runs)
    for kind in draw(
        st.lists(
            st.sampled_from(["filter", "check", "shut-off", "regulator", "heater"]), max_size=3
        )
    ):
        last = _inline(draw, kind, last, items, runs)
    taps = draw(st.integers(1, 3))
    if taps > 1:
        tee = b.tee("tee", taps + 1)
        items.append(tee)
        ports = [port.id for port in tee.specification.ports]
        runs.append(_tube(draw, last, f"tee.{ports[0]}", "to tee"))
        ends = [f"tee.{port}" for port in ports[1:]]
    else:
        ends = [last]
    for at, end in enumerate(ends):
        items.append(_tap(draw, f"tap{at}"))
        runs.append(_tube(draw, end, f"tap{at}.inlet", f"to tap{at}"))
    if draw(st.booleans()):
        items.append(b.tank("waste", draw(_volumes()), "waste"))
        runs.append(
            TubeRun(
                id="drain",
                a=End(item="tap0", port="drain"),
                b=End(item="waste", port="inlet"),
                tube=b.tube("x", None, bore="19 mm", outer="25 mm").tube,
            )
        )
    marked = tuple(_marked(item, draw(st.sampled_from(BASES))) for item in items)
    return b.build(*marked, *runs)


def _source(draw: st.DrawFn, items: list[Item], runs: list[TubeRun]) -> str:
    if draw(st.booleans()):
        usual = draw(st.integers(15, 70))
        given = draw(st.booleans())
        water = {"least": Pressure(f"{usual - 8} psi"), "greatest": Pressure(f"{usual + 8} psi")}
        residual = b.point("2 gal/min", f"{usual - 5} psi") if draw(st.booleans()) else None
        items.append(
            b.mains(
                "mains",
                f"{usual} psi",
                connector="3/8 push-fit",
                residual=residual,
                water=water if given else None,
            )
        )
        return "mains.outlet"
    fill = draw(st.sampled_from([1.0, 0.5]))
    items.append(b.tank("jug", draw(_volumes()), fill=fill, outlet_height="1 in"))
    cut_in = draw(st.integers(10, 45))
    rows = (("0 psi", f"{draw(st.integers(8, 30)) / 10} gal/min"), ("70 psi", "0.3 gal/min"))
    items.append(b.pump("pump", rows, f"{cut_in} psi", f"{cut_in + 15} psi"))
    runs.append(_tube(draw, "jug.outlet", "pump.inlet", "suction"))
    if not draw(st.booleans()):
        return "pump.outlet"
    charge = draw(st.integers(max(cut_in - 10, 5), cut_in + 4))
    items.append(b.accumulator("vessel", draw(_volumes("L")), f"{charge} psi"))
    runs.append(_tube(draw, "pump.outlet", "vessel.a", "to vessel"))
    return "vessel.b"


def _volumes(unit: str = "gal") -> st.SearchStrategy[str]:
    return st.integers(1, 12).map(lambda one: f"{one} {unit}")


def _inline(draw: st.DrawFn, kind: str, last: str, items: list[Item], runs: list[TubeRun]) -> str:
    name = f"{kind}{len(items)}"
    loss = b.point("1 gal/min", f"{draw(st.integers(1, 60)) / 10} psi")
    ways = ("inlet", "outlet")
    if kind == "filter":
        both = (b.point("0.3 gal/min", "0.5 psi"), loss) if draw(st.booleans()) else (loss,)
        items.append(b.water_filter(name, *both))
    elif kind == "check":
        items.append(b.check_valve(name, loss, draw(st.sampled_from(["0 psi", "0.5 psi"]))))
    elif kind == "shut-off":
        items.append(b.shut_off(name, loss, closed_share=draw(st.sampled_from([0.0, 0.3]))))
        ways = ("a", "b")
    elif kind == "regulator":
        water = {"droop": b.point("2 gal/min", "6 psi"), "creep": Pressure("3 psi")}
        items.append(b.regulator(name, f"{draw(st.integers(15, 45))} psi", water))
    else:
        items.append(b.heater(name, loss=loss, electrical=WATTS, water=RUNS_THROUGH))
    runs.append(_tube(draw, last, f"{name}.{ways[0]}", f"to {name}"))
    return f"{name}.{ways[1]}"


WATTS = Load(voltage=Voltage("240 V"), power=Power("3500 W"))
RUNS_THROUGH = {"least_flow": Flow("0.3 gal/min"), "least_pressure": Pressure("8 psi")}


def _tap(draw: st.DrawFn, name: str) -> Item:
    wanted = f"{draw(st.integers(2, 12)) / 10} gal/min"
    kind = draw(st.sampled_from(["opening", "capped", "drawn", "fill"]))
    behaviour = {
        "opening": lambda: b.opening(wanted, "20 psi", assumed=True),
        "capped": lambda: b.opening(wanted, "20 psi", wanted),
        "drawn": lambda: b.drawn(wanted),
        "fill": lambda: b.fill(wanted, "25 psi", "8 psi"),
    }[kind]()
    return b.tap(
        name,
        behaviour,
        required_flow=wanted,
        least=f"{draw(st.integers(5, 30))} psi",
        greatest=f"{draw(st.integers(40, 90))} psi",
        level=draw(st.sampled_from(["counter", "shelf"])),
        drain="drain 1 in",
        water={"drained_share": 1.0},
    )


def _tube(draw: st.DrawFn, a: str, end: str, run_id: str) -> TubeRun:
    bore, outer = draw(st.sampled_from(BORES))
    length = f"{draw(st.integers(2, 80)) / 10} m"
    fittings = [("elbow", 1.5, draw(st.integers(1, 4)))] if draw(st.booleans()) else []
    made = b.tube(a, end, length, bore, outer=outer, run_id=run_id, fittings=fittings)
    rating = Pressure("120 psi") if draw(st.booleans()) else None
    return replace(made, tube=replace(made.tube, rating=rating))


def _marked(item: Item, basis: Basis) -> Item:
    origins = tuple(
        Origin(of=of, basis=basis)
        for of in (
            "inlet flow",
            "inlet pressure",
            "curve",
            "cut-in, cut-out",
            "loss",
            "pressure",
            "pre-charge",
            "volume",
            "electrical",
            "droop, creep",
        )
    )
    return replace(item, specification=replace(item.specification, origins=origins))
