"""A value that the author wrote as an expression over results: known only once those are worked out."""

from __future__ import annotations

import math
from typing import Self

OPENS, CLOSES = "{{", "}}"


class Deferred(float):
    """Stands where a number will stand; it is NaN until then, so that no comparison with it holds.

    ``expression`` is the author's whole text, braces included: ``{{ frame.pole_length }}``.
    """

    expression: str

    def __new__(cls, expression: str) -> Self:
        made = super().__new__(cls, math.nan)
        made.expression = expression
        return made

    def __reduce__(self) -> tuple[type[Self], tuple[str]]:
        return type(self), (self.expression,)

    def __repr__(self) -> str:
        return f"Deferred({self.expression!r})"


def holds_expression(text: str) -> bool:
    """Whether a text holds ``{{ … }}``. ValueError where the braces do not pair."""
    opened, closed = text.count(OPENS), text.count(CLOSES)
    if opened != closed or (opened and text.index(OPENS) > text.index(CLOSES)):
        raise ValueError("has an expression whose {{ and }} do not pair")
    return opened > 0
