"""Pumps on the power side: what their maker's table says where they work, and their nameplate.

The table is that of a five-chamber diaphragm pump at 12 V, owner's manual IMI-160 (2015) pp. 3, 11:
0.8 A at 0 psi, 3.5 A at 35, 3.9 A at 43, 4.4 A at 52 psi. Adapters pass on 85 %: common practice,
no source.
"""

import msgspec
import pytest
from building import accumulator, build, drawn, load, outlet, tank, tap, tube, wire

from cartlayout.analysis import analyse, pumps_running
from cartlayout.build import Load, OperatingCase, edits
from cartlayout.power import EVERYTHING_ON, Running
from cartlayout.power.loads import load_model
from cartlayout.power.running import plug_watts
from cartlayout.stock import entry
from cartlayout.units import Power, UnitSystem, Voltage

ADAPTER = 0.85
AT_43, AT_52 = 12 * 3.9 / ADAPTER, 12 * 4.4 / ADAPTER
"""Watts at the plug; the switch stops it at 50 psi, between the two rows."""


def five_chamber(nameplate: str | None = None, voltage: str | None = "12 V"):
    """The pump as it is in the stock, on the base, by an item id of its own."""
    specification = entry("pump-5-chamber-12").specification
    water = msgspec.structs.replace(
        specification.water, voltage=None if voltage is None else Voltage(voltage)
    )
    electrical = specification.electrical
    if nameplate is not None:
        electrical = msgspec.structs.replace(electrical, power=Power(nameplate))
    specification = msgspec.structs.replace(specification, water=water, electrical=electrical)
    like = load("pump", 1, level="base")
    return msgspec.structs.replace(like, specification=specification)


def cart(pump, draw="0.4 gal/min", length="0.5 m", cases=()):
    return build(
        outlet("outlet", ways=4),
        load("kettle", 1200),
        tank("jug"),
        pump,
        accumulator("vessel", "1 L", "33 psi"),
        tap("machine", drawn(draw), least="0 psi"),
        wire("kettle", "outlet.1"),
        wire("pump", "outlet.2"),
        tube("jug", "pump", "0.3 m", "9 mm"),
        tube("pump", "vessel.a", length, "9 mm"),
        tube("vessel.b", "machine", "0.5 m", "9 mm"),
        cases=tuple(cases),
    )


BREWING = OperatingCase(name="Brewing", loads=("kettle",), taps=("machine",))
HEATING = OperatingCase(name="Heating", loads=("kettle",))


def watts(analysis, case):
    return analysis.power.appliances["pump"][case].watts


def test_a_case_with_its_taps_open_has_the_pump_on():
    analysis = analyse(cart(five_chamber(), cases=(BREWING, HEATING)))
    assert AT_43 < watts(analysis, "Brewing") < AT_52
    assert watts(analysis, "Heating") == 0.0
    circuit = analysis.power.circuit_of("pump")
    extra = circuit.amps["Brewing"] - circuit.amps["Heating"]
    # Its power factor is 0.6; amps are added up as nameplates are, in step.
    assert AT_43 / 120 / 0.6 < extra < AT_52 / 120 / 0.6


def test_the_nameplate_is_held_against_limits():
    analysis = analyse(cart(five_chamber()))
    assert watts(analysis, EVERYTHING_ON) == pytest.approx(62.0, rel=0.005)
    assert analysis.power.above_nameplate == {}


def test_a_case_that_runs_the_pump_harder_takes_more():
    """Open to the full, it runs on its curve far below cut-out: 2 gal/min would need 0 psi."""
    analysis = analyse(cart(five_chamber(), draw="1.35 gal/min", cases=(BREWING,)))
    # 1.35 gal/min is between the rows of 26 and 35 psi: 3.0 to 3.5 A.
    assert 12 * 3.0 / ADAPTER < watts(analysis, "Brewing") < 12 * 3.5 / ADAPTER


def test_a_table_that_asks_for_more_than_the_nameplate_governs():
    analysis = analyse(cart(five_chamber("30 W")))
    assert AT_43 < watts(analysis, EVERYTHING_ON) < AT_52
    table_w, nameplate_w = analysis.power.above_nameplate["pump"]
    assert nameplate_w == pytest.approx(30.0)
    assert AT_43 < table_w < AT_52
    told = next(one for one in analysis.findings if one.code == "power.pump-table")
    assert told.severity == "care"
    assert told.items == ("pump",)
    assert "by its nameplate" in told.title.shown(UnitSystem.US)


def test_where_the_motors_voltage_is_not_known_its_table_goes_by_shares():
    """4.4 A are then what 62 W on the nameplate mean; at 50 psi a share of 4.3 / 4.4 of it."""
    analysis = analyse(cart(five_chamber(voltage=None), cases=(BREWING,)))
    assert 62 * 3.9 / 4.4 < watts(analysis, "Brewing") <= 62.0


def test_without_an_adapter_volts_times_amps():
    plain = Load(voltage=Voltage("12 V"), power=Power("60 W"))
    running = Running(voltage_v=12.0, table_a=4.4, greatest_a=4.4)
    assert plug_watts(plain, running, 60.0, 4.4) == pytest.approx(52.8)
    assert load_model(plain).scaled(0.5).rated_w == pytest.approx(30.0)


def test_a_little_more_tube_leaves_the_power_side_as_it_is():
    first = analyse(cart(five_chamber(), cases=(BREWING,)))
    second = analyse(cart(five_chamber(), length="0.52 m", cases=(BREWING,)), first)
    assert pumps_running(second.build, second.water) == pumps_running(first.build, first.water)
    moved = analyse(edits.move(first.build, ("jug",), 0.01, 0.0), first)
    assert moved.power is first.power
    again = analyse(moved.build)
    assert again.power == moved.power


def test_a_pump_without_a_table_of_currents_counts_by_its_nameplate():
    analysis = analyse(cart(five_chamber(), cases=(BREWING,)))
    bare = msgspec.structs.replace(
        analysis.build,
        items=tuple(edited(item) if item.id == "pump" else item for item in analysis.build.items),
    )
    assert pumps_running(bare, analyse(bare).water) == {}


def edited(item):
    water = item.specification.water
    curve = tuple(msgspec.structs.replace(row, current=None) for row in water.curve)
    return msgspec.structs.replace(
        item,
        specification=msgspec.structs.replace(
            item.specification, water=msgspec.structs.replace(water, curve=curve)
        ),
    )
