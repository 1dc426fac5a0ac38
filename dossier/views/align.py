"""Numbers in a column on their decimal point: how much must follow a shorter one so that the points meet."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

_DECIMAL = re.compile(r"[+−-]?\d+(?:\.(\d+))?")


@dataclass(frozen=True, slots=True)
class Aligned:
    """A number and the figures, unseen, that stand behind it so that the column's decimal points are in one line."""

    number: str
    pad: str


def aligned(numbers: Sequence[str]) -> tuple[Aligned, ...]:
    """The numbers of one column, padded. What is not a plain decimal number ends where the others' figures do."""
    decimals = [_decimals(number) for number in numbers]
    most = max((count for count in decimals if count is not None), default=0)
    return tuple(Aligned(number, _pad(count, most)) for number, count in zip(numbers, decimals, strict=True))


def _decimals(number: str) -> int | None:
    found = _DECIMAL.fullmatch(number)
    return len(found[1] or "") if found else None


def _pad(count: int | None, most: int) -> str:
    if count is None or count == most:
        return ""
    return ("." if count == 0 else "") + "0" * (most - count)
