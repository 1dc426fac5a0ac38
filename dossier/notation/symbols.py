"""Words of the rules as symbols: ``aperture_mm`` is *D*."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from html import escape

from dossier import shelf
from dossier.working import unit_ending

_SUBSCRIPTS = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


@dataclass(frozen=True, slots=True)
class Symbol:
    """How a quantity is written, in HTML and in plain text, and what it means."""

    html: str
    plain: str
    meaning: str


def stem(name: str) -> str:
    """A name without its unit: ``focal_length_mm`` gives ``focal_length``."""
    ending = unit_ending(name)
    return name[: -len(ending) - 1] if ending else name


@lru_cache(maxsize=4096)
def symbol(name: str) -> Symbol:
    """The symbol of a parameter, constant, step or formula, by its whole name or else its name without the unit.

    A name that ``shelf/symbols.yaml`` does not hold is written out in words, upright.
    """
    entry = shelf.symbols().get(name) or shelf.symbols().get(stem(name))
    if entry is None:
        words = stem(name).replace("_", " ")
        return Symbol(escape(words), words, words)
    below = f"<sub>{escape(entry.sub)}</sub>" if entry.sub else ""
    return Symbol(_italic(entry.symbol) + below, entry.symbol + _plain_sub(entry.sub), entry.meaning)


def _italic(letters: str) -> str:
    """A change's Δ stands upright, the quantity itself italic."""
    upright = "Δ" if letters.startswith("Δ") and len(letters) > 1 else ""
    return f"{upright}<i>{escape(letters[len(upright):])}</i>"


def _plain_sub(sub: str) -> str:
    if not sub:
        return ""
    return sub.translate(_SUBSCRIPTS) if sub.isdigit() else f"_{sub}"
