"""The printed rule of a formula: a small arithmetic language that can be evaluated and typeset.

A rule is one expression, or steps divided by semicolons, the last of which is the answer::

    s = aperture_mm / 2 / (focal_length_mm - sagitta_mm); 2 * s * intercept_mm / (1 - s**2)

Only numbers, names, + - * / **, unary signs and the functions of ``FUNCTIONS`` are allowed, so a rule can neither
reach nor change anything. What a rule says is exactly what ``evaluate`` works out.
"""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Mapping
from functools import cache

FUNCTIONS: Mapping[str, Callable[..., float]] = {
    "sqrt": math.sqrt, "cbrt": math.cbrt, "exp": math.exp, "log": math.log, "log10": math.log10,
    "sin": math.sin, "cos": math.cos, "tan": math.tan, "asin": math.asin, "acos": math.acos, "atan": math.atan,
    "abs": abs, "min": min, "max": max, "ceil": math.ceil,
}
CONSTANTS: Mapping[str, float] = {"pi": math.pi}

_OPERATORS: Mapping[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: lambda a, b: a + b, ast.Sub: lambda a, b: a - b, ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b, ast.Pow: lambda a, b: float(a**b),
}


@cache
def steps(rule: str) -> tuple[tuple[str, ast.expr], ...]:
    """The rule as (name, expression) pairs in order; the last pair has an empty name: it is the answer.

    Raises ValueError where the rule is not of this language.
    """
    pieces = [piece.strip() for piece in rule.split(";")]
    parsed = [_step(piece) for piece in pieces]
    if any(not name for name, _ in parsed[:-1]) or parsed[-1][0]:
        raise ValueError(f"only the last step of a rule stands without a name: {rule!r}")
    return tuple(parsed)


def names(rule: str) -> set[str]:
    """The names a rule needs from outside: its inputs and named constants."""
    found: set[str] = set()
    own: set[str] = set()
    for name, expression in steps(rule):
        used = {node.id for node in ast.walk(expression) if isinstance(node, ast.Name)}
        found |= used - own
        own.add(name)
    return found - set(FUNCTIONS) - set(CONSTANTS)


def evaluate(rule: str, values: Mapping[str, float]) -> float:
    """The rule worked out with these values. KeyError where a name has none; ZeroDivisionError and ValueError pass."""
    known = {**CONSTANTS, **values}
    answer = math.nan
    for name, expression in steps(rule):
        answer = value_of(expression, known)
        known[name] = answer
    return answer


def _step(piece: str) -> tuple[str, ast.expr]:
    name, found, text = piece.partition("=")
    if not found:
        name, text = "", piece
    expression = ast.parse(text.strip(), mode="eval").body
    for node in ast.walk(expression):
        if not isinstance(node, (ast.BinOp, ast.UnaryOp, ast.Call, ast.Name, ast.Constant, ast.operator, ast.unaryop,
                                 ast.expr_context)):
            raise ValueError(f"a rule has no {type(node).__name__}: {piece!r}")
    return name.strip(), expression


def value_of(node: ast.expr, known: Mapping[str, float]) -> float:
    """One expression worked out. Raises as ``evaluate``."""
    if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
        return node.value
    if isinstance(node, ast.Name):
        return known[node.id]
    if isinstance(node, ast.UnaryOp):
        inner = value_of(node.operand, known)
        return -inner if isinstance(node.op, ast.USub) else inner
    if isinstance(node, ast.BinOp):
        return _OPERATORS[type(node.op)](value_of(node.left, known), value_of(node.right, known))
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return FUNCTIONS[node.func.id](*(value_of(argument, known) for argument in node.args))
    raise ValueError(f"a rule has no {type(node).__name__}")
