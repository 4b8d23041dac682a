"""Worked examples from outside, read back from what a working says.

Sources beside each; those of printed guides as collected in the project's reference tables.
"""

import building as b
import pytest

from cartlayout.analysis import Analysis, analyse
from cartlayout.findings.number import Number
from cartlayout.units import UnitSystem
from cartlayout.workings.find import working
from cartlayout.workings.shown import text

US, METRIC = UnitSystem.US, UnitSystem.METRIC


def told(analysis: Analysis, number: Number, system: UnitSystem = US) -> str:
    one = working(analysis, number)
    assert one is not None
    return text(one, system)


# Ohm's and Watt's laws, any text-book: 1,500 W at 120 V are 12.5 A.
def test_watts_over_volts():
    made = analyse(b.build(b.load("kettle", 1500), b.outlet("o"), b.wire("kettle", "o.1")))
    said = told(made, Number("appliance", "kettle", "counted"))
    assert "Iₙ = Pₙ / Vₙ = 1,500 W / 120 V = 12.5 A" in said
    assert said.startswith("Amps that kettle counts with: 12.5 A")


# A heater of 5,500 W at 240 V on 208 V: 4,131 W and 19.9 A. Resistance is the same: 5500 W x
# (208/240)^2 (general electrical references on water heater elements).
def test_a_heater_on_a_lower_voltage():
    source = b.outlet("o", 208, 30, receptacle="6-30R", electrical={"system": "split-phase"})
    heater = b.load("heater", 5500, volts=240, plug="6-30P", cord=b.cord("10 AWG", "0 ft"))
    made = analyse(b.build(heater, source, b.wire("heater", "o.1")))
    counted = told(made, Number("appliance", "heater", "counted"))
    assert "I = Iₙ · Vₛ / Vₙ = 22.92 A × 208 V / 240 V = 19.86 A, shown as 19.9 A" in counted
    gets = told(made, Number("appliance", "heater", "watts"))
    assert "P = Pₕ · (U / Vᵣ)² = 5,500 W × (208 V / 240 V)² = 4,131 W" in gets


# 1,000 W at 120 V through 100 ft of 16 AWG, 4.0 ohm per 1,000 ft: out and back 0.80 ohm, 113.7 V
# and 897 W at the plug. Wire table: 16 AWG 4.016 ohm/1,000 ft at 20 degC (ASTM B258, printed in
# every wire handbook); 14.4 ohm in series with 0.8032: 120 x 14.4 / 15.2032 = 113.66 V.
def test_a_long_thin_cord_out_and_back():
    lead = b.extension("lead", "16 AWG", "100 ft")
    heater = b.load("heater", 1000, cord=b.cord("16 AWG", "0 ft"))
    wires = (b.wire("lead", "o.1"), b.wire("heater", "lead.1"))
    made = analyse(b.build(heater, lead, b.outlet("o"), *wires))
    said = told(made, Number("appliance", "heater", "volts"))
    assert "ohm/ft × 100 ft = 0.40" in said
    assert "D = 2 · R · I = 2 × 0.40" in said
    assert "U = Vₛ - D = 120 V - 6.33" in said
    assert said.startswith("Volts at heater: 113.7 V")
    assert told(made, Number("appliance", "heater", "watts")).startswith(
        "Watts that heater gets behind its cords: 897 W"
    )
    drop = told(made, Number("appliance", "heater", "drop"))
    assert "d = (Vₛ - U) / Vₛ = (120 V - 113.661 V) / 120 V = 5.28" in drop


# Neutral of a split-phase supply with 16 and 10 A: 6 A; of a wye with 5, 8 and 0 A: 7 A; with 10,
# 15 and 20 A: 8.66 A (worked examples of electrical guides; sqrt(A2+B2+C2-AB-BC-CA)).
@pytest.mark.parametrize(
    ("amps", "system", "volts", "neutral"),
    [
        ((16, 10), "split-phase", 240, "6.0 A"),
        ((5, 8, 0), "three-phase", 208, "7.0 A"),
        ((10, 15, 20), "three-phase", 208, "8.7 A"),
    ],
)
def test_neutrals(amps, system, volts, neutral):
    legs = ("L1", "L2", "L3")[: len(amps)]
    branches = [b.branch(leg, 30, leg, leg) for leg in legs]
    plug, receptacle = ("14-50P", "14-50R") if len(amps) == 2 else ("L21-30P", "L21-30R")
    source = b.outlet("o", volts, 50, receptacle=receptacle, electrical={"system": system})
    box = b.box("box", branches, None, system=system, plug=plug, cord=b.cord("6 AWG", "0 ft", 3))
    loads = [
        b.load(f"at {leg}", None, size, cord=b.cord("10 AWG", "0 ft"))
        for leg, size in zip(legs, amps, strict=True)
        if size
    ]
    wires = [b.wire(load.id, f"box.{load.id[3:]}") for load in loads]
    made = analyse(b.build(*loads, box, source, b.wire("box", "o.1"), *wires))
    said = told(made, Number("circuit", "venue/o", "neutral"))
    assert said.splitlines()[0].endswith(neutral)
    if len(amps) == 2:
        assert "I = I₁ - I₂ = 16 A - 10 A = 6 A" in said
    else:
        assert "√(x² + y²)" in said


# 16 A continuous take a breaker of 20 A: 1.25 x 16 (guides to NEC 210.20(A)).
def test_continuous_amps():
    urn = b.load("urn", None, 16, plug="5-20P", longest_run="4 h")
    made = analyse(b.build(urn, b.outlet("o"), b.wire("urn", "o.1")))
    said = told(made, Number("circuit", "venue/o", "continuous"))
    assert "I = F · I₁ = 1.25 × 16 A = 20 A" in said
    assert "within the limit, 20.0 A" in said
    assert "NFPA 70 (NEC) 210.20(A)" in said


# One plug-in appliance takes 80 % of a circuit of several receptacles: 16 A of 20 A (NEC
# 210.23(B)(1), 2023).
def test_the_limit_itself_is_worked():
    kettle = b.load("kettle", None, 17, plug="5-20P")
    made = analyse(b.build(kettle, b.outlet("o"), b.wire("kettle", "o.1")))
    said = told(made, Number("circuit", "venue/o", "one appliance"))
    assert "the limit: Iₘₐₓ = n · Iᵣ = 80 % × 20 A = 16 A" in said
    assert "over the limit, 16.0 A" in said


# 1,200 Wh, 80 % usable, efficiency 0.9, 100 W: 864 Wh and 8.64 h (a published run time example).
def test_how_long_a_battery_lasts():
    made = analyse(
        b.build(
            b.load("lamp", 100, cord=b.cord("12 AWG", "0 ft")),
            b.battery("battery", 1200),
            b.wire("lamp", "battery.1"),
        )
    )
    said = told(made, Number("power supply", "battery", "battery hours"))
    assert "Wᵤ = Wₙ · kᵤ · η = 1,200 Wh × 80 % × 90 % = 864 Wh" in said
    assert "= 8.64 h, shown as 8.6 h" in said


# Running 1,150 W, of which a motor runs on 500 W and starts with 2,000 W: 2,650 W (a maker-neutral
# sizing guide: running watts plus the extra of the largest start).
def test_the_largest_start():
    made = analyse(
        b.build(
            b.load("fridge", 500, heater=False, electrical={"start_multiple": 4.0}),
            b.load("urn", 650),
            b.generator("set", [b.branch("1", 20, "L", "1", "2")]),
            b.wire("fridge", "set.1"),
            b.wire("urn", "set.2"),
        )
    )
    said = told(made, Number("power supply", "set", "surge"))
    assert "X = Pₙ · (m - 1) = 500 W × (4 - 1) = 1,500 W" in said
    assert "Pₛ = P + X = 1,150 W + 1,500 W = 2,650 W" in said


# P = sqrt(3) U I: 9 kW at 400 V are 12.99 A on each leg. Any text-book on alternating current.
def test_three_phases():
    heater = b.load(
        "heater",
        9000,
        volts=400,
        plug="IEC 60309 16 A red P",
        cord=b.cord("2.5 mm2", "0 m"),
        electrical={"phases": 3},
    )
    source = b.outlet(
        "o", 400, 16, receptacle="IEC 60309 16 A red R", electrical={"system": "three-phase"}
    )
    made = analyse(b.build(heater, source, b.wire("heater", "o.1"), region="EU"))
    said = told(made, Number("appliance", "heater", "counted"), METRIC)
    assert "Iₙ = Pₙ / (√3 · Vₙ) = 9,000 W / (√3 × 400 V) = 12.99 A" in said


# A typical figure is told by a word, beside the number and once more below.
def test_typical_figures_are_marked_with_a_word():
    from cartlayout.build.specification import Origin

    kettle = b.load("kettle", 1500, spec={"origins": (Origin(of="electrical", basis="typical"),)})
    made = analyse(b.build(kettle, b.outlet("o"), b.wire("kettle", "o.1")))
    said = told(made, Number("circuit", "venue/o", "total"))
    assert "I₁ = 12.5 A: kettle (typical figure)" in said
    assert "assumed: typical figures, to be read off the nameplate: kettle" in said
