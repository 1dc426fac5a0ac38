"""Refuse what cannot be worked with, in plain words, before it turns into a wrong number."""

from __future__ import annotations

import math


def finite(**values: float) -> None:
    """ValueError naming the first value that is not a finite number."""
    for name, value in values.items():
        if not math.isfinite(value):
            raise ValueError(f"{_words(name)} is not a number")


def positive(**values: float) -> None:
    """ValueError naming the first value that is not a finite number above zero."""
    for name, value in values.items():
        if not (value > 0 and math.isfinite(value)):
            raise ValueError(f"{_words(name)} must be above zero (got {value:g})")


def at_least_zero(**values: float) -> None:
    """ValueError naming the first value that is not a finite number of zero or more."""
    for name, value in values.items():
        if not (value >= 0 and math.isfinite(value)):
            raise ValueError(f"{_words(name)} must not be negative (got {value:g})")


def _words(name: str) -> str:
    return name.replace("_", " ")
