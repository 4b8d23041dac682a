"""Evaluates the expression of a step: Python's arithmetic on named numbers, and nothing else."""

import ast
import math
import operator
from collections.abc import Callable, Mapping
from functools import lru_cache

_FUNCTIONS: dict[str, Callable[..., float]] = {
    "abs": abs,
    "acos": math.acos,
    "asin": math.asin,
    "atan": math.atan,
    "atan2": math.atan2,
    "ceil": math.ceil,
    "cos": math.cos,
    "degrees": math.degrees,
    "exp": math.exp,
    "floor": math.floor,
    "log": math.log,
    "log10": math.log10,
    "max": max,
    "min": min,
    "radians": math.radians,
    "sin": math.sin,
    "sqrt": math.sqrt,
    "tan": math.tan,
}
_CONSTANTS = {"pi": math.pi, "inf": math.inf}
_BINARY: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}


class ExpressionError(ValueError):
    """An expression that is more than arithmetic, or names a symbol that is not given."""


@lru_cache(maxsize=2048)
def parsed(expression: str) -> ast.expr:
    """The expression as a tree.

    Raises:
        ExpressionError: it does not parse.
    """
    try:
        return ast.parse(expression, mode="eval").body
    except SyntaxError as error:
        raise ExpressionError(f"'{expression}' is no expression") from error


def names_in(expression: str) -> frozenset[str]:
    """The symbols that an expression uses."""
    calls = {
        node.func.id
        for node in ast.walk(parsed(expression))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    used = {node.id for node in ast.walk(parsed(expression)) if isinstance(node, ast.Name)}
    return frozenset(used - calls - set(_CONSTANTS))


def value_of(expression: str, names: Mapping[str, float]) -> float:
    """Evaluate an expression.

    Args:
        expression: in Python's arithmetic, with `sqrt`, `sin`, `log` and the like.
        names: symbols and what is put in for them.

    Raises:
        ExpressionError: a name is not given, or it is more than arithmetic.
        ArithmeticError, ValueError: as Python's own arithmetic says.
    """
    return _value(parsed(expression), names)


def _value(node: ast.expr, names: Mapping[str, float]) -> float:
    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.Name(id=name) if name in names:
            return names[name]
        case ast.Name(id=name) if name in _CONSTANTS:
            return _CONSTANTS[name]
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _BINARY:
            return _BINARY[type(op)](_value(left, names), _value(right, names))
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_value(operand, names)
        case ast.Call(func=ast.Name(id=name), args=args) if name in _FUNCTIONS:
            return float(_FUNCTIONS[name](*(_value(arg, names) for arg in args)))
    raise ExpressionError(f"'{ast.unparse(node)}' is no arithmetic with the symbols given")
