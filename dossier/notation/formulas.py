"""A formula as its rule in symbols, and a result as its rule with the numbers put in.

A rule is an equation between numbers in the units its names tell, so the numbers are put in bare and the answer carries
the unit. Numbers are printed with as many digits as it takes for a reader with a calculator, who uses what is printed
and nothing else, to get the printed answer.
"""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Mapping
from html import escape

from dossier import rules
from dossier.notation.digits import CARRIED, Digits, Written, digits_of, stays_metric, written
from dossier.notation.numbers import METRIC, Readers, Shown, in_metric, show
from dossier.notation.styles import HTML, PLAIN, Piece, Style
from dossier.notation.symbols import symbol
from dossier.notation.typeset import typeset
from dossier.notation.units import CUSTOMARY, joined, unit_text
from dossier.working import AnyFormula, Result, Value, converted, unit_ending

# A number this short is printed whole; a longer one with as many figures as the answer needs.
_SHORT_FIGURES = 6
_FEWEST_FIGURES = 4
_IN_FULL = Digits(figures=CARRIED, trim=True)
# Of a longer list of numbers only the first few are printed.
_LONGEST_LIST, _LIST_BEGINS = 6, 3

Numbers = Mapping[str, Written]


def rule_plain(formula: AnyFormula) -> str:
    """The rule in symbols as text, one step a line; the governing equation where the calculation has a loop."""
    return "\n".join(_rule_lines(formula, PLAIN)) if formula.rule else formula.equation


def rule_html(formula: AnyFormula) -> str:
    """The rule in symbols as HTML spans, one ``span.step`` a step; the equation where the calculation has a loop."""
    if not formula.rule:
        return f'<span class="equation">{escape(formula.equation)}</span>'
    return _steps_html(_rule_lines(formula, HTML))


def working_plain(result: Result, readers: Readers = METRIC) -> str:
    """The rule with this result's numbers put in, as text, one step a line, to the answer."""
    return "\n".join(_working_lines(result, readers, PLAIN, lambda shown: shown.plain))


def working_html(result: Result, readers: Readers = METRIC) -> str:
    """The rule with this result's numbers put in, as HTML spans, to the answer."""
    return _steps_html(_working_lines(result, readers, HTML, lambda shown: shown.html))


def _steps_html(lines: list[str]) -> str:
    return '<span class="steps">' + "".join(f'<span class="step">{line}</span>' for line in lines) + "</span>"


def _rule_lines(formula: AnyFormula, style: Style) -> list[str]:
    def leaf(name: str) -> Piece:
        return style.symbol(symbol(name))

    return [
        f"{style.symbol(symbol(name or formula.name)).text} = {typeset(node, style, leaf, crosses=False).text}"
        for name, node in rules.steps(formula.rule)
    ]


def _working_lines(result: Result, readers: Readers, style: Style, side: Callable[[Shown], str]) -> list[str]:
    values = {name: converted(entry, name) for name, entry in result.inputs.items()}
    answer = side(show(result.value, result.unit, result_id=result.id, readers=in_metric(readers)))
    if readers.units == "inch" and result.unit in CUSTOMARY and not stays_metric(result.id):
        answer += f" = {side(show(result.value, result.unit, result_id=result.id, readers=readers))}"
    head = style.symbol(symbol(result.formula.name)).text
    printed = _printed(result, values) if result.formula.rule else None
    if printed is None:
        inputs = "; ".join(_input(name, value, style) for name, value in values.items())
        return [inputs, f"{head} = {answer}"]
    return _step_lines(result.formula, printed, style, head, answer)


def _step_lines(formula: AnyFormula, printed: Numbers, style: Style, head: str, answer: str) -> list[str]:
    def leaf(name: str) -> Piece:
        return style.number(printed[name])

    lines = []
    for name, node in rules.steps(formula.rule):
        put_in = "" if isinstance(node, ast.Name) else typeset(node, style, leaf, crosses=True).text
        left = style.symbol(symbol(name)).text if name else head
        right = joined(leaf(name).text, unit_text(unit_ending(name))) if name else answer
        lines.append(" = ".join(filter(None, (left, put_in, right))))
    return lines


def _printed(result: Result, values: Mapping[str, Value]) -> Numbers | None:
    """The numbers of the rule, inputs and steps, with the fewest figures that give a reader the printed answer.

    None where no printed numbers do, as when the answer is not a number.
    """
    digits = digits_of(result.id, result.unit)
    wanted = written(_number(result.value), digits)
    constants = {name: written(number, _IN_FULL) for name, number in result.formula.constants.items()}
    for figures in range(_FEWEST_FIGURES, CARRIED + 1):
        inputs = {name: _short(_number(value), figures) for name, value in values.items()}
        try:
            printed, answer = _reckoned(result.formula, {**constants, **inputs}, figures)
        except (ValueError, ArithmeticError):
            continue
        if math.isfinite(answer) and written(answer, digits) == wanted:
            return printed
    return None


def _reckoned(formula: AnyFormula, numbers: Numbers, figures: int) -> tuple[Numbers, float]:
    """What a reader gets who works the rule out step by step, each from the printed numbers alone."""
    known = dict(numbers)
    answer = math.nan
    for name, node in rules.steps(formula.rule):
        answer = rules.value_of(node, {**rules.CONSTANTS, **{key: number.value for key, number in known.items()}})
        if name:
            known[name] = _short(answer, figures)
    return known, answer


def _short(number: float, figures: int) -> Written:
    whole = written(number, Digits(figures=_SHORT_FIGURES, trim=True))
    if math.isclose(whole.value, number, rel_tol=10.0**-CARRIED):
        return whole
    return written(number, Digits(figures=figures, trim=True))


def _number(value: Value) -> float:
    if isinstance(value, tuple):
        raise TypeError("a rule takes no lists")
    return value


def _input(name: str, value: Value, style: Style) -> str:
    """An input of a calculation with a loop: its symbol and number, of a long list only how it begins."""
    many = value if isinstance(value, tuple) else (value,)
    begins = many if len(many) <= _LONGEST_LIST else many[:_LIST_BEGINS]
    numbers = ", ".join(style.number(_short(item, _SHORT_FIGURES)).text for item in begins)
    rest = f", … ({len(many)} in all)" if len(many) > len(begins) else ""
    if not many:
        return f"{style.symbol(symbol(name)).text} = none"
    return f"{style.symbol(symbol(name)).text} = {joined(numbers, unit_text(unit_ending(name)))}{rest}"
