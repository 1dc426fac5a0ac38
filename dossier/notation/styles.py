"""The two ways to set a formula: HTML spans for page and packet, one line of text for the terminal.

A ``Piece`` is set text with how tightly it binds, so that brackets stand only where they are needed. Both styles offer
the same methods; ``typeset.py`` walks the rule and calls them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from dossier.notation.digits import MINUS, THIN, Written, raised
from dossier.notation.symbols import Symbol

SUM, SIGN, QUOTIENT, PRODUCT, POWER, ATOM = range(6)

_FUNCTIONS: Mapping[str, str] = {"log": "ln", "asin": "arcsin", "acos": "arccos", "atan": "arctan"}
_FENCES: Mapping[str, tuple[str, str]] = {"abs": ("|", "|"), "ceil": ("⌈", "⌉")}
_ROOTS: Mapping[str, str] = {"sqrt": "√", "cbrt": "∛"}
_FRACTION = '<span class="frac">'


@dataclass(frozen=True, slots=True)
class Piece:
    """Text that is set already, and how tightly it binds."""

    text: str
    level: int = ATOM


class Style(Protocol):
    """What a way of setting formulas must know."""

    def number(self, number: Written) -> Piece: ...
    def symbol(self, symbol: Symbol) -> Piece: ...
    def ten_to(self, power: int) -> Piece: ...
    def fraction(self, above: Piece, below: Piece) -> Piece: ...
    def power(self, base: Piece, exponent: Piece, whole: int | None) -> Piece: ...
    def call(self, function: str, arguments: Sequence[Piece]) -> Piece: ...
    def factors(self, left: Piece, right: Piece, sign: str) -> Piece: ...


def bracketed(piece: Piece, least: int) -> str:
    """The piece's text, in brackets where it binds less tightly than it must."""
    return piece.text if piece.level >= least else f"({piece.text})"


def _number(text: str, number: Written) -> Piece:
    return Piece(text, SIGN if number.negative else PRODUCT if number.exponent else ATOM)


class Plain:
    """One line of text: D²/(16 f)."""

    def number(self, number: Written) -> Piece:
        return _number(number.plain, number)

    def symbol(self, symbol: Symbol) -> Piece:
        return Piece(symbol.plain)

    def ten_to(self, power: int) -> Piece:
        return Piece(f"10{raised(power)}", POWER)

    def fraction(self, above: Piece, below: Piece) -> Piece:
        return Piece(f"{bracketed(above, PRODUCT)}/{bracketed(below, POWER)}", QUOTIENT)

    def power(self, base: Piece, exponent: Piece, whole: int | None) -> Piece:
        above = f"^{bracketed(exponent, ATOM)}" if whole is None else raised(whole)
        return Piece(bracketed(base, ATOM) + above, POWER)

    def call(self, function: str, arguments: Sequence[Piece]) -> Piece:
        inside = ", ".join(argument.text for argument in arguments)
        if function in _FENCES:
            return Piece(inside.join(_FENCES[function]))
        if function in _ROOTS:
            bare = arguments[0].level == ATOM and "(" not in inside
            return Piece(_ROOTS[function] + (inside if bare else f"({inside})"))
        name = "log₁₀" if function == "log10" else _FUNCTIONS.get(function, function)
        return Piece(f"{name}({inside})")

    def factors(self, left: Piece, right: Piece, sign: str) -> Piece:
        between = f" {sign} " if sign else " "
        return Piece(bracketed(left, PRODUCT) + between + bracketed(right, POWER), PRODUCT)


class Html:
    """HTML spans: fractions stacked, roots with a bar (``tall`` over a fraction), exponents raised."""

    def number(self, number: Written) -> Piece:
        return _number(number.html, number)

    def symbol(self, symbol: Symbol) -> Piece:
        return Piece(symbol.html)

    def ten_to(self, power: int) -> Piece:
        return Piece(f"10<sup>{power}</sup>", POWER)

    def fraction(self, above: Piece, below: Piece) -> Piece:
        # The spans say by their place what text would say by a bar or brackets. It binds as a product does.
        return Piece(f'{_FRACTION}<span class="num">{above.text}</span>'
                     f'<span class="den">{below.text}</span></span>', PRODUCT)

    def power(self, base: Piece, exponent: Piece, whole: int | None) -> Piece:
        above = str(whole).replace("-", MINUS) if whole is not None else exponent.text
        return Piece(f"{bracketed(base, ATOM)}<sup>{above}</sup>", POWER)

    def call(self, function: str, arguments: Sequence[Piece]) -> Piece:
        inside = ", ".join(argument.text for argument in arguments)
        if function in _FENCES:
            return Piece(inside.join(_FENCES[function]))
        if function in _ROOTS:
            tall = " tall" if _FRACTION in inside else ""
            return Piece(f'<span class="root{tall}"><span class="radix">{_ROOTS[function]}</span>'
                         f'<span class="radicand">{inside}</span></span>')
        name = "log<sub>10</sub>" if function == "log10" else _FUNCTIONS.get(function, function)
        return Piece(f"{name}({inside})")

    def factors(self, left: Piece, right: Piece, sign: str) -> Piece:
        between = f" {sign} " if sign else THIN
        return Piece(bracketed(left, PRODUCT) + between + bracketed(right, PRODUCT), PRODUCT)


PLAIN: Style = Plain()
HTML: Style = Html()
