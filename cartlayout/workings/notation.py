"""Writes an expression as the trade writes formulas: roots, powers, sub-scripts, Greek letters."""

import ast
from collections.abc import Callable
from dataclasses import dataclass

from .arithmetic import parsed

Speak = Callable[[str], str]
"""A symbol's name to what stands in its place."""

_GREEK = {
    "alpha": "α",
    "beta": "β",
    "gamma": "γ",
    "delta": "δ",
    "Delta": "Δ",
    "epsilon": "ε",
    "zeta": "ζ",
    "eta": "η",
    "theta": "θ",
    "kappa": "κ",
    "lam": "λ",
    "mu": "µ",
    "nu": "ν",
    "xi": "ξ",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "phi": "φ",
    "Phi": "Φ",
    "omega": "ω",
}
_LOWERED = str.maketrans("0123456789aehijklmnoprstuvx+-", "₀₁₂₃₄₅₆₇₈₉ₐₑₕᵢⱼₖₗₘₙₒₚᵣₛₜᵤᵥₓ₊₋")
_RAISED = str.maketrans("0123456789-.", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻·")
_CALLED = {
    "atan": "arctan",
    "asin": "arcsin",
    "acos": "arccos",
    "log": "ln",
    "log10": "lg",
    "ceil": "rounded up ",
    "floor": "rounded down ",
}
_EXTREMES = {
    "max": ("the larger of", "the largest of"),
    "min": ("the smaller of", "the least of"),
}
_UNSAID = ("degrees", "radians")
"""Python's functions want angles in radians; the trade says 12° and means it."""

_WORDS, _SUM, _PRODUCT, _SIGN, _POWER, _ATOM = range(6)


def symbol_text(name: str) -> str:
    """A symbol as text: "p_1" as p₁, "rho" as ρ, "Delta_p" as Δp.

    What has no small letters keeps its line: "I_L1".
    """
    head, _, tail = name.partition("_")
    if head in ("Delta", "delta") and tail:
        return _GREEK[head] + symbol_text(tail)
    head = _GREEK.get(head, head)
    if not tail:
        return head
    small = tail.replace("_", "")
    lowered = small.translate(_LOWERED)
    whole = all(a != b for a, b in zip(small, lowered, strict=True))
    return head + (lowered if whole else f"_{tail.replace('_', ',')}")


def raised(power: float) -> str:
    """A power as small raised digits, such as ² or ⁻⁵."""
    return f"{power:g}".translate(_RAISED)


def formula(expression: str) -> str:
    """The expression with its symbols: "f · L / D · ρ · v² / 2"."""
    return _Writer(symbol_text, " · ").write(expression)


def filled(expression: str, speak: Speak) -> str:
    """The expression with numbers put in: "1,500 W / 120 V".

    Args:
        expression: of a step.
        speak: a symbol's number with its unit.
    """
    return _Writer(speak, " × ").write(expression)


@dataclass(frozen=True, slots=True)
class _Writer:
    speak: Speak
    times: str

    def write(self, expression: str) -> str:
        return self._said(parsed(expression))[0]

    def _said(self, node: ast.expr) -> tuple[str, int]:
        """Text, and how tightly it holds together."""
        match node:
            case ast.Constant(value=int() | float() as number):
                return f"{number:g}".replace("e", "·10^") if number != 0 else "0", _ATOM
            case ast.Name(id="pi"):
                return "π", _ATOM
            case ast.Name(id=name):
                text = self.speak(name)
                return text, _SIGN if text.startswith("-") else _ATOM
            case ast.UnaryOp(operand=operand):
                return f"-{self._at_least(operand, _PRODUCT)}", _SIGN
            case ast.BinOp(
                op=ast.Pow(), left=base, right=ast.Constant(value=int() | float() as power)
            ):
                return self._powered(base, float(power))
            case ast.BinOp(op=ast.Pow(), left=base, right=power):
                return f"{self._at_least(base, _ATOM, True)}^({self._said(power)[0]})", _POWER
            case ast.BinOp():
                return self._joined(node)
            case ast.Call(func=ast.Name(id=name), args=args):
                return self._called(name, args)
        return ast.unparse(node), _SUM

    def _at_least(self, node: ast.expr, tightness: int, is_base: bool = False) -> str:
        text, is_held = self._said(node)
        spaced = is_base and " " in text
        return f"({text})" if is_held < tightness or spaced else text

    def _powered(self, base: ast.expr, power: float) -> tuple[str, int]:
        if power == 0.5:
            return self._called("sqrt", [base])
        return self._at_least(base, _ATOM, True) + raised(power), _POWER

    def _joined(self, node: ast.BinOp) -> tuple[str, int]:
        match node.op:
            case ast.Add():
                right = self._at_least(node.right, _PRODUCT)
                return f"{self._at_least(node.left, _SUM)} + {_in_brackets(right)}", _SUM
            case ast.Sub():
                right = self._at_least(node.right, _PRODUCT)
                return f"{self._at_least(node.left, _SUM)} - {_in_brackets(right)}", _SUM
            case ast.Div():
                right = self._at_least(node.right, _POWER)
                return f"{self._at_least(node.left, _PRODUCT)} / {right}", _PRODUCT
        left, right = self._at_least(node.left, _PRODUCT), self._at_least(node.right, _POWER)
        if isinstance(node.right, ast.BinOp) and isinstance(node.right.op, ast.Mult):
            right = right.removeprefix("(").removesuffix(")") if right.startswith("(") else right
        return f"{left}{self.times}{right}", _PRODUCT

    def _called(self, name: str, args: list[ast.expr]) -> tuple[str, int]:
        if name in _UNSAID:
            return self._said(args[0])
        if name == "sqrt":
            text, is_held = self._said(args[0])
            return (f"√{text}" if is_held >= _POWER and " " not in text else f"√({text})"), _POWER
        if name in _EXTREMES:
            return self._extreme(name, args)
        inside = ", ".join(self._said(arg)[0] for arg in args)
        if name == "abs":
            return f"|{inside}|", _ATOM
        return f"{_CALLED.get(name, name)}({inside})", _POWER

    def _extreme(self, name: str, args: list[ast.expr]) -> tuple[str, int]:
        """The larger or smaller of some numbers; against 0 it is only a floor."""
        match name, args:
            case "max", [inner, ast.Constant(value=0)] | [ast.Constant(value=0), inner]:
                return f"{self._said(inner)[0]}, not below 0", _WORDS
        two, more = _EXTREMES[name]
        said = [self._at_least(arg, _SUM + 1) for arg in args]
        if len(said) == 2:
            return f"{two} {said[0]} and {said[1]}", _WORDS
        return f"{more} {', '.join(said)}", _WORDS


def _in_brackets(text: str) -> str:
    return f"({text})" if text.startswith("-") else text
