"""Works out the printed text of a step again, as a person with a pocket calculator would.

The text is read as it stands: numbers, signs, brackets, roots and powers; units are crossed out.
Python's own `eval` is the calculator. Nothing of the notation's own code is used.
"""

import math
import re

from cartlayout.units import UnitSystem
from cartlayout.workings.model import Step
from cartlayout.workings.shown import digits_of, step_parts

RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
WORDS = re.compile(r"the |not below|rounded|arc|sin|cos|tan|\|")
"""Said in words, or with angles: read by people, not by this calculator."""
SIGNS = re.compile(r" [-+×/] |[√²³]")
DUST = 1e-9
"""What sums of binary fractions leave of nothing."""
SEVEN_FIGURES = 1e-7
"""Feet that stand nearly in one line want more of them than anybody keys in."""
NUMBER = r"(?<![\w.])(-?\d[\d,]*(?:\.\d+)?(?:·10[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+)?)"
UNIT = (
    r"(?: ?[°%]| (?:an hour|fl oz/psi|1/(?:inch|[a-z°]\w*)|[A-Za-zµ°Ω](?:\([^()\s]*\)|[^\s(),])*))?"
)
FUNCTIONS = {"sqrt": math.sqrt, "ln": math.log, "lg": math.log10, "exp": math.exp, "pi": math.pi}


def redo(steps: tuple[Step, ...], system: UnitSystem) -> int:
    """Assert that every step gives what is printed; the answer is how many could be read.

    To four figures, and to more where more are printed; then the last one guards the others and
    may be off.
    """
    digits = digits_of(steps, system)
    read = 0
    for step in steps:
        parts = step_parts(step, system, digits)
        if len(parts) < 3 or WORDS.search(parts[1]) or not SIGNS.search(parts[1]):
            continue
        if abs(step.result.si) < DUST:
            continue
        said = f"{step.says}: {' = '.join(parts)}"
        result, last_place, figures = number_of(parts[2])
        found = eval(for_python(parts[1]), {"__builtins__": {}}, FUNCTIONS)
        allowed = (5.5 if figures > 4 else 0.5) * last_place * (1 + 1e-4) + SEVEN_FIGURES * abs(
            result
        )
        assert abs(found - result) <= allowed, f"{said} gives {found}"
        read += 1
    return read


def for_python(printed: str) -> str:
    """The printed arithmetic as Python writes it."""
    text = re.sub(NUMBER + UNIT, _plain, printed)
    text = re.sub(r"√(-?[\d.e+-]+)", r"sqrt(\1)", text).replace("√(", "sqrt(")
    text = re.sub(r"(?<=[\d)π])([⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+(?:·[⁰¹²³⁴⁵⁶⁷⁸⁹]+)?)", _power, text)
    text = re.sub(r"\^\(", "**(", text)
    return text.replace("×", "*").replace("π", "pi")


def _plain(match: "re.Match[str]") -> str:
    number, power = _taken_apart(match.group(1))
    share = "e-2" if match.group().endswith("%") else f"e{power}" if power else ""
    return f"{number}{share}"


def _taken_apart(text: str) -> tuple[str, int]:
    number, _, power = text.replace(",", "").partition("·10")
    return number, int(power.translate(RAISED)) if power else 0


def _power(match: "re.Match[str]") -> str:
    return "**" + match.group(1).replace("·", ".").translate(RAISED)


def number_of(said: str) -> tuple[float, float, int]:
    """A printed number, what one step of its last digit is worth, and how many figures it has."""
    match = re.match(NUMBER + UNIT, said)
    assert match is not None, said
    number, power = _taken_apart(match.group(1))
    size = 10.0**power * (0.01 if match.group().endswith("%") else 1.0)
    last_place = size * 10.0 ** -len(number.partition(".")[2])
    return float(number) * size, last_place, len(number.replace(".", "").lstrip("-0"))
