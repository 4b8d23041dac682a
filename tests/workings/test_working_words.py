"""How a working is written: the trade's notation, units put in, digits. Checked against pint."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pocket_calculator import redo

from cartlayout.units import Phrase, UnitSystem, Value
from cartlayout.units.display import _SHOWN
from cartlayout.workings.arithmetic import ExpressionError, names_in, value_of
from cartlayout.workings.model import Held, Number, Step, Symbol, Working
from cartlayout.workings.notation import filled, formula, symbol_text
from cartlayout.workings.shown import (
    digits_of,
    fine,
    fine_si,
    held_line,
    lines,
    step_text,
    symbol_line,
    text,
)

US, METRIC = UnitSystem.US, UnitSystem.METRIC


# Formulas as handbooks print them: Darcy and Weisbach, Ohm, Torricelli, a mean of squares.
@pytest.mark.parametrize(
    ("expression", "written"),
    [
        ("P / V", "P / V"),
        ("f * L / D * rho * v**2 / 2", "f · L / D · ρ · v² / 2"),
        ("C * sqrt(Delta_p)", "C · √Δp"),
        ("sqrt(x**2 + y**2)", "√(x² + y²)"),
        ("V * (1 - p_0 / p_1)", "V · (1 - p₀ / p₁)"),
        ("a / (b * c)", "a / (b · c)"),
        ("a - (b + c)", "a - (b + c)"),
        ("a - (b - c)", "a - (b - c)"),
        ("-a * b", "-a · b"),
        ("1.25 * (I_1 + I_2) + I_3", "1.25 · (I₁ + I₂) + I₃"),
        ("degrees(atan(d / z))", "arctan(d / z)"),
        ("I_1 * cos(radians(a_1))", "I₁ · cos(a₁)"),
        ("max(a, b)", "the larger of a and b"),
        ("min(a, b, c)", "the least of a, b, c"),
        ("max(I_r - I, 0)", "Iᵣ - I, not below 0"),
        ("max(a, b) + c", "(the larger of a and b) + c"),
        ("c - max(a, b)", "c - (the larger of a and b)"),
        ("max(a - b, 0) + c", "(a - b, not below 0) + c"),
        ("max(a, b) / c", "(the larger of a and b) / c"),
        ("pi * D**2 / 4", "π · D² / 4"),
        ("Q**1.75", "Q¹·⁷⁵"),
        ("log(a / b)", "ln(a / b)"),
    ],
)
def test_the_notation_of_the_trade(expression, written):
    assert formula(expression) == written


@pytest.mark.parametrize(
    ("name", "written"),
    [
        ("p_1", "p₁"),
        ("rho", "ρ"),
        ("Delta_p", "Δp"),
        ("I_L1", "I_L1"),
        ("I_max", "Iₘₐₓ"),
        ("Q", "Q"),
    ],
)
def test_symbols(name, written):
    assert symbol_text(name) == written


def test_numbers_put_in_keep_their_brackets():
    shown = {"a": "2 m", "b": "-3 m", "c": "4"}.__getitem__
    assert filled("a**2 + b", shown) == "(2 m)² + (-3 m)"
    assert filled("a - b * c", shown) == "2 m - (-3 m × 4)"
    assert filled("(a + b) / c", shown) == "(2 m + (-3 m)) / 4"


# --- arithmetic -------------------------------------------------------------------------------

NUMBERS = st.floats(0.1, 100.0)


@given(NUMBERS, NUMBERS, NUMBERS)
def test_it_is_pythons_own_arithmetic(a, b, c):
    names = {"a": a, "b": b, "c": c}
    for expression in ("a + b * c", "(a - b) / c", "a**2 / b - c", "sqrt(a) * max(b, c)", "-a"):
        scope = {**names, "sqrt": math.sqrt}
        assert value_of(expression, names) == pytest.approx(eval(expression, scope))
        assert names_in(expression) <= set(names)


BAD = ["__import__('os')", "a.b", "a if b else c", "[a]", "a <", "z", "'a'"]


@pytest.mark.parametrize("bad", BAD)
def test_nothing_but_arithmetic(bad):
    with pytest.raises(ExpressionError):
        value_of(bad, {"a": 1.0, "b": 2.0, "c": 3.0})


# --- units ------------------------------------------------------------------------------------

UNITS: "pint.UnitRegistry[float]" = pint.UnitRegistry()


_ODD = ("temperature", "starts an hour", "conductor size", "manning", "tape")
"""An offset, a unit that is a word, spellings that pint does not know, sixteenths."""


@given(
    st.sampled_from([name for name in _SHOWN if name not in _ODD]),
    st.floats(1e-3, 1e3),
    st.sampled_from([US, METRIC]),
)
def test_fine_numbers_are_the_same_quantity(dimension, size, system):
    """Read back with pint, what is printed is the number to its four digits."""
    si_unit, us, metric = _SHOWN[dimension]
    unit, _, usual = us if system is US else metric
    value = Value(UNITS.Quantity(size, unit).to(si_unit).magnitude, dimension)
    digits = fine(value, system).split(" ")[0].rstrip("%°").replace(",", "")
    assert float(digits) == pytest.approx(size, rel=6e-4, abs=0.51 * 10.0**-usual)


def test_units_that_go_together_are_the_persons_own():
    watts, volts = Value(1500.0, "power"), Value(120.0, "voltage")
    symbols = (Symbol("P", "watts", watts), Symbol("V", "volts", volts))
    step = Step("amps", "I", "P / V", symbols, Value(12.5, "current"))
    for system in UnitSystem:
        assert step_text(step, system) == "I = P / V = 1,500 W / 120 V = 12.5 A"


# rho v^2 / 2 at 2 m/s: 998.2 x 4 / 2 = 1,996 Pa = 0.2895 psi (1 psi = 6,894.757 Pa).
def test_units_that_do_not_are_worked_in_si():
    symbols = (
        Symbol("rho", "density", Value(998.2, "density")),
        Symbol("v", "velocity", Value(2.0, "velocity")),
    )
    step = Step("head", "p", "rho * v**2 / 2", symbols, Value(1996.4, "pressure"))
    said = step_text(step, US)
    assert said == "p = ρ · v² / 2 = 998.2 kg/m³ × (2 m/s)² / 2 = 1,996 Pa = 0.2896 psi"


def test_very_small_numbers_in_si():
    assert fine_si(Value(6.3e-5, "flow")) == "6.3·10⁻⁵ m³/s"
    assert fine_si(Value(0.0, "flow")) == "0 m³/s"
    assert fine_si(Value(math.inf, "duration")) == "inf h"


# (120 - 119.6796) / 120 = 0.267 %; from "119.7 V" a calculator would give 0.25 %.
def test_what_is_printed_gives_what_is_printed():
    supply = Symbol("V", "of the supply", Value(120.0, "voltage"))
    lost = Symbol("D", "lost", Value(0.3204, "voltage"))
    left = Step("left", "U", "V - D", (supply, lost), Value(119.6796, "voltage"))
    there = Symbol("U", "left", left.result)
    share = Step("lost", "d", "(V - U) / V", (supply, there), Value(0.00267, "percent"))
    steps = (left, share)
    digits = digits_of(steps, US)
    assert step_text(left, US, None, digits) == "U = V - D = 120 V - 0.3204 V = 119.6796 V"
    assert step_text(share, US, None, digits).endswith("(120 V - 119.6796 V) / 120 V = 0.267 %")
    assert redo(steps, US) == 2


def test_the_last_line_says_what_boards_say():
    step = Step("amps", "I", "P / V", _kettle(), Value(3000 / 230, "current"))
    said = step_text(step, METRIC, Value(3000 / 230, "current"))
    assert said.endswith("= 13.04 A, shown as 13.0 A")


def _kettle() -> tuple[Symbol, ...]:
    return (
        Symbol("P", "watts of the kettle", Value(3000.0, "power"), "nameplate"),
        Symbol("V", "volts", Value(230.0, "voltage"), is_typical=True),
    )


# --- the whole --------------------------------------------------------------------------------


def test_a_whole_working_as_text():
    result = Value(3000 / 230, "current")
    limit = Held(Value(13.0, "current"), "no more than the fuse", "BS 1362", False)
    one = Working(
        Number("appliance", "kettle", "counted"),
        Phrase.of("Amps of {item}", item="Kettle"),
        result,
        (Step("at its rated voltage", "I", "P / V", _kettle(), result),),
        (limit,),
        (Phrase("it boils"),),
        (Phrase("Unplug it first."),),
    )
    assert text(one, METRIC).splitlines() == [
        "Amps of Kettle: 13.04 A",
        "  at its rated voltage: I = P / V = 3,000 W / 230 V = 13.04 A",
        "      P = 3,000 W: watts of the kettle (nameplate)",
        "      V = 230 V: volts (typical, not checked)",
        "  over the limit, 13.0 A: no more than the fuse (BS 1362)",
        "  assumed: it boils",
        "  Unplug it first.",
    ]
    assert [line.sort for line in lines(one, METRIC)] == [
        "title",
        "step",
        "where",
        "where",
        "limit",
        "assumed",
        "note",
    ]


def test_a_number_over_its_limit_never_reads_like_it():
    held = Held(Value(20.0, "current"), "rating", "a standard", False)
    result = Value(20.01, "current")
    step = Step("read off", "I", "", (), result)
    one = Working(Number("", "", ""), Phrase("Amps"), result, (step,), (held,))
    assert text(one, US).splitlines()[0] == "Amps: 20.01 A"
    assert held_line(held, result, US).startswith("over the limit, 20.0 A")


def test_a_least_is_told_as_one():
    held = Held(Value(10.0, "angle"), "it stands", "a standard", True, is_least=True)
    assert held_line(held, Value(12.0, "angle"), US).startswith("reaches the least, 10°")


def test_what_is_typical_is_said_with_a_word():
    symbol = Symbol("m", "mass", Value(2.0, "mass"), "typical figure", is_typical=True)
    assert symbol_line(symbol, METRIC) == "m = 2 kg: mass (typical figure)"
