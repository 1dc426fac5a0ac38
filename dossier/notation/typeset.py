"""Walks the arithmetic of a rule and sets it in one of the styles."""

from __future__ import annotations

import ast
from collections.abc import Callable

from dossier.notation.digits import MINUS, Digits, written
from dossier.notation.styles import QUOTIENT, SIGN, SUM, Piece, Style, bracketed

Leaf = Callable[[str], Piece]

# A literal in a rule is printed as it was typed; 1 000 000 and its like as a power of ten.
_AS_TYPED = Digits(figures=17, trim=True, powers=False)
_FIRST_POWER_OF_TEN = 5


def typeset(node: ast.expr, style: Style, leaf: Leaf, *, crosses: bool) -> Piece:
    """One expression of a rule, set. ``leaf`` sets a name; ``crosses`` puts × between all factors."""
    return _Setter(style, leaf, crosses).set(node)


class _Setter:
    def __init__(self, style: Style, leaf: Leaf, crosses: bool) -> None:
        self.style, self.leaf, self.crosses = style, leaf, crosses

    def set(self, node: ast.expr) -> Piece:
        if isinstance(node, ast.Constant):
            return self._literal(node)
        if isinstance(node, ast.Name):
            return Piece("π") if node.id == "pi" else self.leaf(node.id)
        if isinstance(node, ast.UnaryOp):
            return self._signed(node)
        if isinstance(node, ast.BinOp):
            return self._pair(node)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            return self.style.call(node.func.id, [self.set(argument) for argument in node.args])
        raise ValueError(f"a rule has no {type(node).__name__}")

    def _literal(self, node: ast.Constant) -> Piece:
        value = float(str(node.value))
        power = _power_of_ten(value)
        return self.style.ten_to(power) if power else self.style.number(written(value, _AS_TYPED))

    def _signed(self, node: ast.UnaryOp) -> Piece:
        inner = self.set(node.operand)
        return Piece(MINUS + bracketed(inner, QUOTIENT), SIGN) if isinstance(node.op, ast.USub) else inner

    def _pair(self, node: ast.BinOp) -> Piece:
        unsigned = _without_sign(node)
        if unsigned is not None:
            return Piece(MINUS + bracketed(self._pair(unsigned), QUOTIENT), SIGN)
        if isinstance(node.op, ast.Pow):
            return self.style.power(self.set(node.left), self.set(node.right), _whole(node.right))
        left, right = self.set(node.left), self.set(node.right)
        if isinstance(node.op, ast.Div):
            return self.style.fraction(left, right)
        if isinstance(node.op, ast.Mult):
            cross = self.crosses or (right.level > SUM and right.text[0].isdigit())
            return self.style.factors(left, right, "×" if cross else "")
        sign = "+" if isinstance(node.op, ast.Add) else MINUS
        return Piece(f"{left.text} {sign} {bracketed(right, QUOTIENT)}", SUM)


def _without_sign(node: ast.BinOp) -> ast.BinOp | None:
    """A product or quotient that begins with a minus, without it: −x·y is set as −(x·y). None where it has none."""
    if not isinstance(node.op, (ast.Mult, ast.Div)):
        return None
    left = node.left
    if isinstance(left, ast.UnaryOp) and isinstance(left.op, ast.USub):
        return ast.BinOp(left.operand, node.op, node.right)
    inner = _without_sign(left) if isinstance(left, ast.BinOp) else None
    return ast.BinOp(inner, node.op, node.right) if inner is not None else None


def _whole(node: ast.expr) -> int | None:
    """The exponent, where it is a whole number written out."""
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, int) else None


def _power_of_ten(value: float) -> int:
    """6 for 1 000 000, 0 for what is no large power of ten."""
    power = len(f"{value:.0f}") - 1
    return power if power >= _FIRST_POWER_OF_TEN and value == 10.0**power else 0
